"""The open job as pure records: edits with names, undo, selection and what-if. Never imports textual.

A part's code is loaded when a screen first asks for it.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.tui.model.answers import Plate as Plate
    from prepadvisor.tui.model.answers import SaidLine as SaidLine
    from prepadvisor.tui.model.answers import answer as answer
    from prepadvisor.tui.model.answers import four_answers as four_answers
    from prepadvisor.tui.model.answers import reasons as reasons
    from prepadvisor.tui.model.booth import booth_rows as booth_rows
    from prepadvisor.tui.model.booth import booth_wanted as booth_wanted
    from prepadvisor.tui.model.check_off import logging as logging
    from prepadvisor.tui.model.colour_sheet import FLAKE_HELP as FLAKE_HELP
    from prepadvisor.tui.model.colour_sheet import colour_fields as colour_fields
    from prepadvisor.tui.model.colour_sheet import one_finer as one_finer
    from prepadvisor.tui.model.drawn_cells import raster as raster
    from prepadvisor.tui.model.fields import Field as Field
    from prepadvisor.tui.model.fields import number as number
    from prepadvisor.tui.model.fields import pad_of as pad_of
    from prepadvisor.tui.model.fields import pad_text as pad_text
    from prepadvisor.tui.model.gate_kept import Only as Only
    from prepadvisor.tui.model.gate_view import LOOK_WORDS as LOOK_WORDS
    from prepadvisor.tui.model.gate_view import STEP_WORDS as STEP_WORDS
    from prepadvisor.tui.model.gate_view import gate_for_card as gate_for_card
    from prepadvisor.tui.model.gate_view import gate_of as gate_of
    from prepadvisor.tui.model.grade_ruler import GradeTick as GradeTick
    from prepadvisor.tui.model.grade_ruler import ruler as ruler
    from prepadvisor.tui.model.grade_ruler import shelf_risks as shelf_risks
    from prepadvisor.tui.model.grade_ruler import with_more_coats as with_more_coats
    from prepadvisor.tui.model.house_files.constants import constants_form as constants_form
    from prepadvisor.tui.model.house_files.form import HouseForm as HouseForm
    from prepadvisor.tui.model.house_files.shop import shop_form as shop_form
    from prepadvisor.tui.model.lead.desk import Effect as Effect
    from prepadvisor.tui.model.lead.desk import LeadDesk as LeadDesk
    from prepadvisor.tui.model.lead.desk import Preview as Preview
    from prepadvisor.tui.model.lead.example_form import PLAIN as PLAIN
    from prepadvisor.tui.model.lead.example_form import ExampleForm as ExampleForm
    from prepadvisor.tui.model.lead.example_form import answer_of as answer_of
    from prepadvisor.tui.model.lead.example_form import example_says as example_says
    from prepadvisor.tui.model.lead.example_form import is_number as is_number
    from prepadvisor.tui.model.lead.example_form import kept_case as kept_case
    from prepadvisor.tui.model.lead.example_form import typed_answer as typed_answer
    from prepadvisor.tui.model.lead.example_form import ungiven as ungiven
    from prepadvisor.tui.model.lead.example_form import values_of as values_of
    from prepadvisor.tui.model.lead.promises import OwnPromise as OwnPromise
    from prepadvisor.tui.model.lead.promises import promise_entry as promise_entry
    from prepadvisor.tui.model.lead.promises import promised_facts as promised_facts
    from prepadvisor.tui.model.lead.promises import promised_outputs as promised_outputs
    from prepadvisor.tui.model.lead.promises import promised_where as promised_where
    from prepadvisor.tui.model.lead.promises import usual_words as usual_words
    from prepadvisor.tui.model.lead.rule_form import RuleForm as RuleForm
    from prepadvisor.tui.model.lead.rule_form import RuleText as RuleText
    from prepadvisor.tui.model.lead.rule_form import beside as beside
    from prepadvisor.tui.model.lead.rule_form import blank as blank
    from prepadvisor.tui.model.lead.rule_form import finer as finer
    from prepadvisor.tui.model.lead.rule_form import form_of as form_of
    from prepadvisor.tui.model.lead.rule_form import grades_of as grades_of
    from prepadvisor.tui.model.lead.rule_form import unasked as unasked
    from prepadvisor.tui.model.lead.rule_form import unset as unset
    from prepadvisor.tui.model.lead.rule_rows import answer_label as answer_label
    from prepadvisor.tui.model.lead.rule_rows import fact_label as fact_label
    from prepadvisor.tui.model.lead.rule_rows import setting_words as setting_words
    from prepadvisor.tui.model.lead.rule_rows import value_words as value_words
    from prepadvisor.tui.model.lead.words import check_words as check_words
    from prepadvisor.tui.model.lead.words import desk_words as desk_words
    from prepadvisor.tui.model.lead.words import draft_words as draft_words
    from prepadvisor.tui.model.lead.words import effect_words as effect_words
    from prepadvisor.tui.model.lead.words import preview_words as preview_words
    from prepadvisor.tui.model.line_edits import WHOLE as WHOLE
    from prepadvisor.tui.model.line_edits import Corners as Corners
    from prepadvisor.tui.model.line_edits import PanelPart as PanelPart
    from prepadvisor.tui.model.line_edits import ZoneBorder as ZoneBorder
    from prepadvisor.tui.model.line_edits import add_line as add_line
    from prepadvisor.tui.model.line_edits import add_patch as add_patch
    from prepadvisor.tui.model.line_edits import moved as moved
    from prepadvisor.tui.model.line_edits import moved_patch as moved_patch
    from prepadvisor.tui.model.line_edits import moved_to as moved_to
    from prepadvisor.tui.model.line_edits import nudged_patch as nudged_patch
    from prepadvisor.tui.model.line_edits import part_of as part_of
    from prepadvisor.tui.model.line_edits import remove_part as remove_part
    from prepadvisor.tui.model.line_edits import room_mm as room_mm
    from prepadvisor.tui.model.line_edits import set_borders as set_borders
    from prepadvisor.tui.model.line_edits import sized_patch as sized_patch
    from prepadvisor.tui.model.line_edits import usual_layout as usual_layout
    from prepadvisor.tui.model.line_edits import with_part as with_part
    from prepadvisor.tui.model.open_job import History as History
    from prepadvisor.tui.model.open_job import OpenJob as OpenJob
    from prepadvisor.tui.model.open_job import RefusedError as RefusedError
    from prepadvisor.tui.model.open_job import bare as bare
    from prepadvisor.tui.model.open_job import revised as revised
    from prepadvisor.tui.model.panel_edits import add_panel as add_panel
    from prepadvisor.tui.model.panel_edits import put_panel as put_panel
    from prepadvisor.tui.model.panel_edits import remove_panel as remove_panel
    from prepadvisor.tui.model.panel_edits import with_colour as with_colour
    from prepadvisor.tui.model.panel_edits import with_head as with_head
    from prepadvisor.tui.model.picture import Frame as Frame
    from prepadvisor.tui.model.picture import NumberedLine as NumberedLine
    from prepadvisor.tui.model.picture import Picture as Picture
    from prepadvisor.tui.model.picture import depth_at as depth_at
    from prepadvisor.tui.model.picture import frame as frame
    from prepadvisor.tui.model.picture import nearest_border as nearest_border
    from prepadvisor.tui.model.picture import nearest_part as nearest_part
    from prepadvisor.tui.model.plain_text import flowing as flowing
    from prepadvisor.tui.model.plain_text import plain as plain
    from prepadvisor.tui.model.plain_text import shortened as shortened
    from prepadvisor.tui.model.rows import BED_SIGN as BED_SIGN
    from prepadvisor.tui.model.rows import drawn as drawn
    from prepadvisor.tui.model.rows import held_words as held_words
    from prepadvisor.tui.model.rows import length_words as length_words
    from prepadvisor.tui.model.rows import part_rows as part_rows
    from prepadvisor.tui.model.rows import place_label as place_label
    from prepadvisor.tui.model.rows import place_numbers as place_numbers
    from prepadvisor.tui.model.rows import place_rows as place_rows
    from prepadvisor.tui.model.rows import shape_of as shape_of
    from prepadvisor.tui.model.rows import zone_words as zone_words
    from prepadvisor.tui.model.says import head_parts as head_parts
    from prepadvisor.tui.model.says import job_title as job_title
    from prepadvisor.tui.model.says import panel_answer as panel_answer
    from prepadvisor.tui.model.says import place_name as place_name
    from prepadvisor.tui.model.scale_rows import SCALE_ROWS as SCALE_ROWS
    from prepadvisor.tui.model.scale_rows import scale as scale
    from prepadvisor.tui.model.session import Session as Session
    from prepadvisor.tui.model.session import place_of as place_of
    from prepadvisor.tui.model.session import spots_of as spots_of
    from prepadvisor.tui.model.tints import GROUNDS as GROUNDS
    from prepadvisor.tui.model.tints import Mode as Mode
    from prepadvisor.tui.model.tints import Stretch as Stretch
    from prepadvisor.tui.model.typing import Pointing as Pointing
    from prepadvisor.tui.model.typing import TypedNumber as TypedNumber
    from prepadvisor.tui.model.what_if import WhatIf as WhatIf
    from prepadvisor.tui.model.what_if import changes as changes

_PARTS = {
    "answers": "Plate SaidLine answer four_answers reasons",
    "booth": "booth_rows booth_wanted",
    "check_off": "logging",
    "colour_sheet": "FLAKE_HELP colour_fields one_finer",
    "drawn_cells": "raster",
    "fields": "Field number pad_of pad_text",
    "gate_kept": "Only",
    "gate_view": "LOOK_WORDS STEP_WORDS gate_for_card gate_of",
    "grade_ruler": "GradeTick ruler shelf_risks with_more_coats",
    "house_files.constants": "constants_form",
    "house_files.form": "HouseForm",
    "house_files.shop": "shop_form",
    "lead.desk": "Effect LeadDesk Preview",
    "lead.example_form": (
        "ExampleForm PLAIN answer_of example_says is_number kept_case typed_answer ungiven values_of"
    ),
    "lead.promises": "OwnPromise promise_entry promised_facts promised_outputs promised_where usual_words",
    "lead.rule_form": "RuleForm RuleText beside blank finer form_of grades_of unasked unset",
    "lead.rule_rows": "answer_label fact_label setting_words value_words",
    "lead.words": "check_words desk_words draft_words effect_words preview_words",
    "line_edits": (
        "Corners PanelPart WHOLE ZoneBorder add_line add_patch moved moved_patch moved_to "
        "nudged_patch part_of remove_part room_mm set_borders sized_patch usual_layout with_part"
    ),
    "open_job": "History OpenJob RefusedError bare revised",
    "panel_edits": "add_panel put_panel remove_panel with_colour with_head",
    "picture": "Frame NumberedLine Picture depth_at frame nearest_border nearest_part",
    "plain_text": "flowing plain shortened",
    "rows": (
        "BED_SIGN drawn held_words length_words part_rows place_label place_numbers place_rows "
        "shape_of zone_words"
    ),
    "says": "head_parts job_title panel_answer place_name",
    "scale_rows": "SCALE_ROWS scale",
    "session": "Session place_of spots_of",
    "tints": "GROUNDS Mode Stretch",
    "typing": "Pointing TypedNumber",
    "what_if": "WhatIf changes",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
