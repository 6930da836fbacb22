"""A sentence for every key of the files a person writes, and the other words that they may be written in.

A key's sentence stands once: under "Record.key" where records mean different things, else under the key.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from prepadvisor.cases import FACT, NumberFact
from prepadvisor.records import KEY_WORDS, MEANS, OTHER_WORDS, OUTLINES
from prepadvisor.standards.engine import OUTPUTS

SENTENCES: Final[dict[str, str]] = {
    # a job
    "job": "What the job is called and who wrote it.",
    "colour": "The colour that is sprayed.",
    "panel": "One panel of the job.",
    "check": "An entry of the check-off; entries are only ever added.",
    "outcome": "What was seen at a place weeks after delivery.",
    "number": "The job's number.",
    "vehicle": "The vehicle in words; no make is needed.",
    "by": "Initials of who wrote it or did it.",
    "date": "The day of the job, without quotes: 2026-03-02. Standards with dates are judged by it.",
    "JobHead.customer": "Whose standards it is done by beside the shop's own, as their [standards] name it.",
    "units": "How lengths and film are shown; files are always metric.",
    "format": "The form of the file, counted up with every change of it; the program writes it.",
    "Colour.name": "What the colour is called.",
    "Colour.book": "The entry of the house's colour book that this colour takes its numbers from.",
    "BookColour.book": "The word that jobs call the colour by.",
    "BookColour.name": "What the colour is called.",
    "BookColour.code": "The shop's own or the maker's code.",
    "BookColour.notes": "Bed and blend notes, printed on the card.",
    "sealed_by": "The lead who stands for the entry; without one it makes nothing looser.",
    "sealed_on": "The day it was sealed.",
    "Book.colour": "The colours, one a table.",
    "flake": "Flake class, coarse to fine; unknown is judged as very fine.",
    "stages": "2: base and clear; 3: ground, translucent and clear, judged as very fine at least.",
    "tone": "How light the colour is; scratches show most in light ones.",
    "flake_um": "Measured median diameter of the flakes, by area, in µm.",
    "tilt_deg": "Measured spread of the flakes' tilt in degrees.",
    "log_sd": "Spread (standard deviation) of the logarithm of the value or flake diameter.",
    "tool": "The tool used.",
    "grade": "A grade of the P series with its P, such as P1000.",
    "pad": "A pad by the shop's own name for it, as in [pads] of the shop file.",
    "Feature.id": "The line's id on this panel, such as E1.",
    "Feature.kind": "What kind of line it is.",
    "Panel.kind": "An outline of panels.toml.",
    "Outline.kind": "The kind of panel this is an outline of: a shipped one, or one of your own.",
    "like": "The shipped kind that one of your own is seen and judged as: rules for it count too.",
    "Outline.colour_from": "Sides that the colour usually comes in from on a new blend panel.",
    "Outline.colour_mm": "Full colour on a new blend panel, in mm.",
    "Outline.fade_mm": "Fade-out on a new blend panel, in mm.",
    "name": "What it is called.",
    "path": "The line as places on the panel, each [along, down] from 0 to 1 from its front top corner.",
    "reach": "machine: by hand, then DA; hand: hand is the last touch. Left out it is judged as hand.",
    "Feature.seen": "Whether anybody sees the line; left out a flange or cut-out is not seen.",
    "Outcome.seen": "Whether lines were seen there.",
    "done": "What the line was scuffed with, where that is done already.",
    "Panel.id": "The panel's id in this job, such as left-front-door.",
    "role": "repair gets full colour, blend takes the fade, clear-only gets clear alone.",
    "surface": "What is on it now.",
    "next": "What goes on next.",
    "special": "What needs a word of its own before paint, such as matt or radar.",
    "length_mm": "Length in mm.",
    "height_mm": "Height in mm.",
    "colour_from": "Where the colour comes in from: sides, and ids of patches.",
    "colour_mm": "How far full colour reaches from there, in mm.",
    "fade_mm": "How wide the fade-out is beyond it, in mm.",
    "film_um": "Gauge readings of the total film in µm.",
    "now": "What it was sanded with last; left out the face is gloss.",
    "patch": "A repaired area inside the panel.",
    "feature": "An edge or line; without any the outline's usual ones are taken.",
    "Patch.id": "The patch's id on this panel, such as R1.",
    "Patch.at": "Its centre on the panel, each 0 to 1 from the front top corner.",
    "size_mm": "Its length and height in mm.",
    "at": "When it was, a day and time with its zone: 2026-03-02T09:40:00Z.",
    "Check.panel": "Id of the panel.",
    "Check.feature": "Id of a line or patch, face, all for every place of the panel, or panel for cleaning.",
    "Outcome.panel": "Id of the panel.",
    "Outcome.feature": "Id of the line or patch, face, or all.",
    "step": "What was done.",
    "result": "What was seen when it was looked at.",
    "note": "A word of explanation.",
    "basis": "What the entry rested on; the program writes it.",
    "Check.id": "Name of the entry; the program writes it.",
    "knew": "The last entry its writer knew; the program writes it.",
    "newer": "Nothing that stands in a file: keys of a newer version, found when it was read.",
    "of": "The entry that this one strikes or accepts.",
    # rules
    "standards": "What the standards of this folder are called, and when and for whom they count.",
    "rule": "A rule: where all of `when` holds, `set` applies.",
    "withdraw": "A rule of a layer below that the house does without.",
    "example": "A worked case: with these facts, these answers.",
    "promise": "A statement that must hold over every case a card can meet.",
    "impossible": "Cases that cannot be; in the shipped rules only.",
    "given": "The facts of the case; what is not given is as most jobs have it.",
    "expect": "What must come out.",
    "when": "The cases it is for; every condition must hold.",
    "because": "Why, in one sentence.",
    "says": "What it demands, in a sentence for the painter or lead.",
    "output": "The answer that is promised.",
    "never": "coarser for grades, weaker for the rest.",
    "along": "A fact with an order, or a number: of two cases that differ in it the higher is never laxer.",
    "than": "Another answer of the same case, to compare with.",
    "where": "The cases it is kept in.",
    "RuleEntry.id": "The rule's name, the same on card, in why and here.",
    "set": "What it demands there; of several rules the tightest wins.",
    "RuleEntry.source": "Where it comes from in your words; practice if it is only habit.",
    "replaces": "The rule of a layer below that this one stands in for.",
    "lets_go": "What guards now, where a hold goes.",
    "StandardsEntry.name": "What the standards are called on the card.",
    "version": "Give every change a new one.",
    "valid_from": "The first day they count, without quotes.",
    "valid_to": "The last day they count, without quotes.",
    "approved_by": "Who approved them.",
    "StandardsEntry.customer": "They count for jobs of this customer alone.",
    "WithdrawEntry.rule": "The id of the rule.",
    # the shop
    "shelf": "The grades there are; replaces the shipped list as a whole.",
    "finishing_tool": "The sander of the last pass.",
    "hand_tool": "What edges and lines are scuffed with by hand.",
    "mist_mm": "How far mist of the colour lands beyond the fade, in mm.",
    "fade_least_mm": "The narrowest fade that hides the change of colour, in mm.",
    "interface_pad": "Whether the shop has a soft interface pad.",
    "lap_mm": "How far primer laps past a patch, in mm.",
    "ring_mm": "How wide the keyed ring round a primed patch is, in mm.",
    "ring_grade": "The grade that ring is keyed with.",
    "pass_m2_per_minute": "Face that one DA pass covers, in m² a minute.",
    "cut_faster": "How many times as fast a surface is cut as clear.",
    "hand_minutes_per_metre": "Minutes to scuff a metre of each kind of line by hand.",
    "hand_minutes_least": "Least minutes for any line by hand.",
    "clean_minutes": "Minutes to clean a panel, beside its area.",
    "clean_minutes_per_m2": "Minutes of cleaning for each m².",
    "look_minutes": "Minutes to look at a place under the lamp.",
    "wipe_minutes": "Minutes of the last wipe of a panel.",
    "mask_minutes": "Minutes to mask a panel.",
    "clearing_minutes_per_dm2_max": "DA time that hand scratches may cost to clear, in minutes for each dm².",
    "edge_strip_mm": "Width that is sanded along a line, in mm.",
    "disc_minutes": "Minutes to change a disc and wipe.",
    "guide_coat_minutes": "Minutes to put guide coat on.",
    "disc_dm2": "Face that one disc lasts for, in dm².",
    "gate_hours": "How long a wipe counts, in hours.",
    "look_hours": "How long a look counts, in hours.",
    "leads": "Initials of those who may accept work outside its limits.",
    "wet_bed": "The uncoloured base that is laid as wet bed.",
    "rates": "What work and material cost, in the shop's own money.",
    "first_grade": "What an unsanded surface is first cut with, on a block.",
    "pads": "Pads known by a name, each with the coarse end of its range.",
    "passport": "Unit, source and how it is known, for each number.",
    "unit": "What it counts in.",
    "source": "An id of sources.toml, or house.",
    "known": "How it is known: " + "; ".join(f"{word}: {says}" for word, says in MEANS.items()),
    "low": "Low end of the range it was measured to.",
    "high": "High end of the range it was measured to.",
    "rows": "From how many test panels.",
    "measured_on": "The day it was measured.",
    "currency": "What money counts in.",
    "labour_per_hour": "An hour of work.",
    "wet_bed_per_litre": "A litre of wet bed, ready to spray.",
    "per_disc": "One disc.",
    "volume_solids": "Share of solids in the ready-mixed material, by volume.",
    "set_solids": "Share of solids at which the coat stops levelling, by volume.",
    "dry_um_per_coat": "Dry film of one coat in µm.",
    "transfer_efficiency": "Share of what leaves the gun that lands on the panel.",
    "overlap_mm": "How far the wet bed is laid past the fade, in mm.",
    # numbers of the line model
    "groove": "Grain to groove: how deep and wide a scratch is.",
    "film": "What the coats leave of a groove.",
    "Constants.flake": "Diameter, spread and tilt by flake class.",
    "sight": "The eye that looks.",
    "uncertainty": "How unsure the model is of each number.",
    "removal": "How fast a DA cuts.",
    "mixing": "How much is mixed.",
    "colour_d50_um": "Median flake diameter of single colours of the book, in µm.",
    "depth_per_grain": "Scratch depth as a share of the mean grain size, by tool.",
    "Uncertainty.depth_per_grain": "Spread of the logarithm of the depth.",
    "width_per_depth": "Scratch width as a multiple of its depth.",
    "colour_set_solids": "Share of solids at which the colour coat stops levelling.",
    "earlier_colour_coats_colour": "Colour coats under the flakes one sees, in full colour.",
    "earlier_colour_coats_fade": "The same in the fade.",
    "d50_um": "Median diameter by area in µm.",
    "viewing_distance_mm": "How far the eye is away, in mm.",
    "thinnest_line_arcsec": "The thinnest line seen in bright light, in arcseconds.",
    "straight_line_factor": "How a straight line counts.",
    "short_arc_factor": "How a sander's short arcs count.",
    "d50": "Spread of the logarithm of the flake diameter.",
    "tilt": "Spread of the logarithm of the tilt.",
    "thinnest_line": "Spread of the logarithm of the thinnest line seen.",
    "borderline_risk": "Risk up to which a place is borderline, 0 to 1.",
    "rate_um_dm2_per_minute": "Cut at the reference grain, in µm over 1 dm² a minute.",
    "reference_ds50_um": "The reference grain in µm.",
    "exponent": "How the cut grows with the grain.",
    "flat_above_ds50_um": "Grain in µm above which the cut grows no more.",
    "factor": "What the computed amount is multiplied by.",
    "extra_ml": "Added for cup, line and overspray, in ml.",
    "step_ml": "Mixed in steps of so many ml.",
    "least_ml": "Mixed at least, in ml.",
    "value": "The number.",
    # outlines and the record
    "outline": "One outline of a panel.",
    "shape": "The outline as places, each [along, down] from 0 to 1.",
    "in_force": "One version that was in force; the program writes it.",
    "since": "The day it came into force.",
    "digest": "SHA-256 of what its files say.",
    "id": "The name it is found by.",
    "title": "Its title.",
    "read": "What of it was read.",
}

_STEMS: Final = {"Register.source": "One source.", "Shop.name": "What the shop is called."}


def add_sentences(schema: dict[str, Any]) -> None:
    """Give every key of a file's schema its sentence, in place. A key without one stays without."""
    _of(schema, schema.get("title", ""))
    for name, record in schema.get("$defs", {}).items():
        _of(record, name)


def _of(record: dict[str, Any], name: str) -> None:
    for key, part in record.get("properties", {}).items():
        says = _STEMS.get(f"{name}.{key}") or SENTENCES.get(f"{name}.{key}") or SENTENCES.get(_first(key))
        if says is not None and isinstance(part, dict):
            record["properties"][key] = {**part, "description": says}
    for key in ("when", "where", "given", "set", "expect"):
        inner = record.get("properties", {}).get(key)
        if inner is not None:
            _facts_and_outputs(inner)


def _facts_and_outputs(part: dict[str, Any]) -> None:
    for name, each in part.get("properties", {}).items():
        if name in FACT:
            each["description"] = fact_says(name)
        elif name in OUTPUTS:
            each["description"] = OUTPUTS[name].says


def fact_says(name: str) -> str:
    """Return what a fact is, in a sentence."""
    fact = FACT[name]
    if isinstance(fact, NumberFact):
        return f"{fact.explains[0].upper()}{fact.explains[1:]}."
    words = (" < " if fact.ordered else ", ").join(map(_word, fact.stated))
    return fact.explains.format(words) + "."


def _word(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _first(key: str) -> str:
    return key.replace("color", "colour")


# Adds to a JSON Schema what files may be written in as well: other words, other spellings of keys.

_KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    **{kind: (kind,) for kind in OTHER_WORDS},
    "kind": ("panel", "feature"),
    "finishing_tool": ("tool",),
    "hand_tool": ("tool",),
    "first_grade": ("surface",),
}
"""A key to the kinds of words that its value may be."""


def add_other_words(schema: dict[str, Any]) -> None:
    """Extend the schema of a file in place.

    Args:
        schema: of a whole file, with its records by their names under "$defs".
    """
    _add_keys(schema, "")
    for name, record in schema.get("$defs", {}).items():
        _add_keys(record, name.lower())
    _add_values(schema, "")


def add_kinds(part: Any, kinds: Sequence[str], key: str = "") -> None:
    """Extend every list of panel kinds in a schema by those of a house; what a kind is like stays shipped."""
    if not kinds or key == "like":
        return
    if isinstance(part, list):
        for each in part:
            add_kinds(each, kinds)
    elif isinstance(part, dict):
        known = part.get("enum")
        if isinstance(known, list) and set(OUTLINES) <= set(known):
            part["enum"] = [*known, *kinds]
        for name, each in part.items():
            add_kinds(each, kinds, name)


def _add_keys(record: dict[str, Any], table: str) -> None:
    properties = record.get("properties", {})
    for other, first in KEY_WORDS.get(table, {}).items():
        if first in properties:
            properties[other] = properties[first]
            record.setdefault("allOf", []).append({"not": {"required": [other, first]}})


def _add_values(part: Any, key: str) -> None:
    if isinstance(part, list):
        for each in part:
            _add_values(each, key)
    elif isinstance(part, dict):
        if isinstance(part.get("enum"), list):
            known = part["enum"]
            words = {
                other: first for kind in _KINDS.get(key, ()) for other, first in OTHER_WORDS[kind].items()
            }
            part["enum"] = known + [
                other for other, first in words.items() if first in known and other not in known
            ]
        for name, each in part.items():
            if name in {"properties", "$defs"}:
                for inner, schema in each.items():
                    _add_values(schema, inner)
            elif name != "enum":
                _add_values(each, key)
