"""Facts into sentences: units, names of places, holds, mends, remarks.

The only room that makes them, but for what an audit finds: its words stand in `standards.proof`.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.wording.drills import Brief as Brief
    from prepadvisor.wording.drills import ask_says as ask_says
    from prepadvisor.wording.drills import drill_brief as drill_brief
    from prepadvisor.wording.drills import drill_case as drill_case
    from prepadvisor.wording.fit import agreement_says as agreement_says
    from prepadvisor.wording.fit import code_says as code_says
    from prepadvisor.wording.fit import colour_says as colour_says
    from prepadvisor.wording.fit import fixed_says as fixed_says
    from prepadvisor.wording.fit import next_panel_says as next_panel_says
    from prepadvisor.wording.fit import number_name as number_name
    from prepadvisor.wording.fit import record_says as record_says
    from prepadvisor.wording.fit import row_says as row_says
    from prepadvisor.wording.fit import rows_says as rows_says
    from prepadvisor.wording.fit import told_says as told_says
    from prepadvisor.wording.flake_class import flakes_guide as flakes_guide
    from prepadvisor.wording.flake_class import sizes_told as sizes_told
    from prepadvisor.wording.gate import due_says as due_says
    from prepadvisor.wording.gate import gate_why as gate_why
    from prepadvisor.wording.gate import mend_says as mend_says
    from prepadvisor.wording.gate_told import remark_says as remark_says
    from prepadvisor.wording.json_form import advice_json as advice_json
    from prepadvisor.wording.json_form import advice_schema as advice_schema
    from prepadvisor.wording.json_form import as_data as as_data
    from prepadvisor.wording.json_form import attributes as attributes
    from prepadvisor.wording.log_refusals import refusal_says as refusal_says
    from prepadvisor.wording.names import FLAKE as FLAKE
    from prepadvisor.wording.names import KIND as KIND
    from prepadvisor.wording.names import NEXT as NEXT
    from prepadvisor.wording.names import OUTLINE as OUTLINE
    from prepadvisor.wording.names import OUTPUT as OUTPUT
    from prepadvisor.wording.names import ROLE as ROLE
    from prepadvisor.wording.names import SPECIAL as SPECIAL
    from prepadvisor.wording.names import SURFACE as SURFACE
    from prepadvisor.wording.names import TONE as TONE
    from prepadvisor.wording.names import TOOL as TOOL
    from prepadvisor.wording.names import ZONE as ZONE
    from prepadvisor.wording.names import ZONE_SHORT as ZONE_SHORT
    from prepadvisor.wording.names import Words as Words
    from prepadvisor.wording.names import coats as coats
    from prepadvisor.wording.names import face_name as face_name
    from prepadvisor.wording.names import factor_says as factor_says
    from prepadvisor.wording.names import flake_short as flake_short
    from prepadvisor.wording.names import heading as heading
    from prepadvisor.wording.names import is_hand_only as is_hand_only
    from prepadvisor.wording.names import line_name as line_name
    from prepadvisor.wording.names import listed as listed
    from prepadvisor.wording.names import outline_words as outline_words
    from prepadvisor.wording.names import panel_name as panel_name
    from prepadvisor.wording.names import patch_name as patch_name
    from prepadvisor.wording.names import side as side
    from prepadvisor.wording.panels_guide import GUIDE as GUIDE
    from prepadvisor.wording.paragraphs import paragraph as paragraph
    from prepadvisor.wording.remarks import caution_says as caution_says
    from prepadvisor.wording.remarks import exception_says as exception_says
    from prepadvisor.wording.remarks import hold_mend as hold_mend
    from prepadvisor.wording.remarks import hold_why as hold_why
    from prepadvisor.wording.remarks import model_says as model_says
    from prepadvisor.wording.remarks import note_says as note_says
    from prepadvisor.wording.remarks import reason_says as reason_says
    from prepadvisor.wording.remarks import silence_says as silence_says
    from prepadvisor.wording.standards import answer_says as answer_says
    from prepadvisor.wording.standards import deviation_says as deviation_says
    from prepadvisor.wording.standards import estimate_short as estimate_short
    from prepadvisor.wording.standards import estimate_word as estimate_word
    from prepadvisor.wording.standards import house_lines as house_lines
    from prepadvisor.wording.standards import laxer_says as laxer_says
    from prepadvisor.wording.standards import rests_on as rests_on
    from prepadvisor.wording.standards import sure_of as sure_of
    from prepadvisor.wording.units import METRIC as METRIC
    from prepadvisor.wording.units import Units as Units
    from prepadvisor.wording.units import counted as counted
    from prepadvisor.wording.units import minutes as minutes
    from prepadvisor.wording.units import thousands as thousands
    from prepadvisor.wording.work import done_says as done_says
    from prepadvisor.wording.work import done_ways as done_ways
    from prepadvisor.wording.work import offer_as_it_is as offer_as_it_is
    from prepadvisor.wording.work import offer_says as offer_says
    from prepadvisor.wording.work import step_says as step_says
    from prepadvisor.wording.work import steps_words as steps_words
    from prepadvisor.wording.work import tool_short as tool_short
    from prepadvisor.wording.work import turn_says as turn_says
    from prepadvisor.wording.work import turns as turns

_PARTS = {
    "drills": "Brief ask_says drill_brief drill_case",
    "fit": (
        "agreement_says code_says colour_says fixed_says next_panel_says number_name record_says "
        "row_says rows_says told_says"
    ),
    "flake_class": "flakes_guide sizes_told",
    "gate": "due_says gate_why mend_says",
    "gate_told": "remark_says",
    "json_form": "advice_json advice_schema as_data attributes",
    "log_refusals": "refusal_says",
    "names": (
        "FLAKE KIND NEXT OUTLINE OUTPUT ROLE SPECIAL SURFACE TONE TOOL Words ZONE ZONE_SHORT coats "
        "face_name factor_says flake_short heading is_hand_only line_name listed outline_words "
        "panel_name patch_name side"
    ),
    "panels_guide": "GUIDE",
    "paragraphs": "paragraph",
    "remarks": "caution_says exception_says hold_mend hold_why model_says note_says reason_says silence_says",
    "standards": (
        "answer_says deviation_says estimate_short estimate_word house_lines laxer_says rests_on sure_of"
    ),
    "units": "METRIC Units counted minutes thousands",
    "work": "done_says done_ways offer_as_it_is offer_says step_says steps_words tool_short turn_says turns",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
