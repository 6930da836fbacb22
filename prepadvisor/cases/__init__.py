"""What a spot is: the colour as judged, the zones and places of a panel, the facts that rules ask about.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.cases.colour import COARSEST_UNDER_FINE as COARSEST_UNDER_FINE
    from prepadvisor.cases.colour import STAGES_IF_UNKNOWN as STAGES_IF_UNKNOWN
    from prepadvisor.cases.colour import TONE_IF_UNKNOWN as TONE_IF_UNKNOWN
    from prepadvisor.cases.colour import FlakeNumbers as FlakeNumbers
    from prepadvisor.cases.colour import JudgedColour as JudgedColour
    from prepadvisor.cases.colour import Measured as Measured
    from prepadvisor.cases.colour import finer_by_measure as finer_by_measure
    from prepadvisor.cases.colour import flake_numbers as flake_numbers
    from prepadvisor.cases.colour import is_fine as is_fine
    from prepadvisor.cases.colour import judged as judged
    from prepadvisor.cases.colour import judged_flake as judged_flake
    from prepadvisor.cases.colour import may_stay as may_stay
    from prepadvisor.cases.colour import numbers_of_class as numbers_of_class
    from prepadvisor.cases.fact import NO_KINDS as NO_KINDS
    from prepadvisor.cases.fact import OTHER as OTHER
    from prepadvisor.cases.fact import CaseSpot as CaseSpot
    from prepadvisor.cases.fact import Category as Category
    from prepadvisor.cases.fact import Kinds as Kinds
    from prepadvisor.cases.fact import Names as Names
    from prepadvisor.cases.fact import NumberFact as NumberFact
    from prepadvisor.cases.fact import Sensible as Sensible
    from prepadvisor.cases.fact import Value as Value
    from prepadvisor.cases.facts import CATEGORIES as CATEGORIES
    from prepadvisor.cases.facts import CATEGORY as CATEGORY
    from prepadvisor.cases.facts import FACT as FACT
    from prepadvisor.cases.facts import FACTS as FACTS
    from prepadvisor.cases.facts import NUMBER as NUMBER
    from prepadvisor.cases.facts import NUMBERS as NUMBERS
    from prepadvisor.cases.facts import ORDER as ORDER
    from prepadvisor.cases.facts import PANEL_KINDS as PANEL_KINDS
    from prepadvisor.cases.facts import TABLE as TABLE
    from prepadvisor.cases.facts import Facts as Facts
    from prepadvisor.cases.facts import facts_of as facts_of
    from prepadvisor.cases.places import WHOLE as WHOLE
    from prepadvisor.cases.places import Ring as Ring
    from prepadvisor.cases.places import Standing as Standing
    from prepadvisor.cases.places import Subject as Subject
    from prepadvisor.cases.places import lines_aside as lines_aside
    from prepadvisor.cases.places import standing as standing
    from prepadvisor.cases.places import subjects as subjects
    from prepadvisor.cases.places import with_lines as with_lines
    from prepadvisor.cases.places import with_usual_lines as with_usual_lines
    from prepadvisor.cases.surfaces import LINE_MODEL_ASKS as LINE_MODEL_ASKS
    from prepadvisor.cases.surfaces import silence as silence
    from prepadvisor.cases.world import Group as Group
    from prepadvisor.cases.world import groups as groups
    from prepadvisor.cases.world import spot_facts as spot_facts
    from prepadvisor.cases.zones import LEAST_MM as LEAST_MM
    from prepadvisor.cases.zones import PanelShapes as PanelShapes
    from prepadvisor.cases.zones import Zoning as Zoning
    from prepadvisor.cases.zones import areas_m2 as areas_m2
    from prepadvisor.cases.zones import blend_layout as blend_layout
    from prepadvisor.cases.zones import lengths_mm as lengths_mm
    from prepadvisor.cases.zones import panel_shapes as panel_shapes
    from prepadvisor.cases.zones import patch_rect as patch_rect
    from prepadvisor.cases.zones import path_mm as path_mm
    from prepadvisor.cases.zones import stated_rect as stated_rect
    from prepadvisor.cases.zones import zoning as zoning

_PARTS = {
    "colour": (
        "COARSEST_UNDER_FINE FlakeNumbers JudgedColour Measured STAGES_IF_UNKNOWN TONE_IF_UNKNOWN "
        "finer_by_measure flake_numbers is_fine judged judged_flake may_stay numbers_of_class"
    ),
    "fact": "CaseSpot Category Kinds NO_KINDS Names NumberFact OTHER Sensible Value",
    "facts": ("CATEGORIES CATEGORY FACT FACTS Facts NUMBER NUMBERS ORDER PANEL_KINDS TABLE facts_of"),
    "places": "Ring Standing Subject WHOLE lines_aside standing subjects with_lines with_usual_lines",
    "surfaces": "LINE_MODEL_ASKS silence",
    "world": "Group groups spot_facts",
    "zones": (
        "LEAST_MM PanelShapes Zoning areas_m2 blend_layout lengths_mm panel_shapes patch_rect path_mm "
        "stated_rect zoning"
    ),
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
