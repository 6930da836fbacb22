"""The one record all cards are printed from: every fact is there, worded, and on the safe side."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.record import CardSheet, PanelSheet, Row
from prepadvisor.records.advice import Hold
from prepadvisor.records.job import Job
from prepadvisor.records.kinds import RuleHold, RuleNote

DOOR, WING = "left-front-door", "left-front-wing"


def sheet_of(worked: Any, ticks: dict[str, set[str]] | None = None) -> CardSheet:
    """Build the sheet of a worked job."""
    return card_sheet(worked.job, worked.advice, worked.house, ticks)


def row(sheet: CardSheet, number: str) -> Row:
    """Find a row by its number on the card."""
    return next(row for panel in sheet.panels for row in panel.rows if row.number == number)


def test_every_place_of_the_advice_has_a_row(worked: Any) -> None:
    """No row is ever dropped, the face has one too."""
    shown = {row.place for panel in sheet_of(worked).panels for row in panel.rows}
    assert shown == {place.id for place in worked.advice.places}


def test_places_are_numbered_by_panel_letter(worked: Any) -> None:
    """Lines first, then patches, the face last with the letter alone."""
    sheet = sheet_of(worked)
    assert [row.number for row in sheet.panels[0].rows] == ["A1", "A2", "A3", "A"]
    assert [row.number for row in sheet.panels[1].rows] == ["B1", "B2", "B"]


def test_a_hand_only_place_has_no_grade_for_the_da(worked: Any) -> None:
    """Its grade stands under "by hand", exact, and it owes no DA pass."""
    recess = row(sheet_of(worked), "A3")
    assert (recess.hand, recess.machine, recess.hand_or_finer) == ("P1500", "-", False)
    assert (recess.scuffed, recess.powder, recess.sanded, recess.look) == ("open", "none", "none", "open")


def test_a_line_a_da_reaches_is_scuffed_first_and_powdered_where_asked(worked: Any) -> None:
    """The hand grade ahead of a DA is a limit: that or finer."""
    edge = row(sheet_of(worked), "A1")
    assert (edge.hand, edge.machine, edge.hand_or_finer) == ("P1000", "P1000", True)
    assert (edge.scuffed, edge.powder, edge.sanded, edge.look) == ("open", "open", "open", "open")


def test_a_crest_is_marked_and_explained(worked: Any) -> None:
    """A crest rubs through first; the sign is in the legend."""
    sheet = sheet_of(worked)
    assert row(sheet, "A2").mark == "!"
    assert any(says.startswith("!") for says in sheet.panels[0].legend)


def test_a_face_owes_sanding_and_a_look_but_no_scuff(worked: Any) -> None:
    """What the gate asks of a face."""
    face = row(sheet_of(worked), "A")
    assert (face.scuffed, face.sanded, face.look) == ("none", "open", "open")


def test_a_line_over_three_zones_says_so_in_short(worked: Any) -> None:
    """Zones in short so that the boxes keep their column."""
    assert row(sheet_of(worked), "A2").zones == "all zones"
    assert row(sheet_of(worked), "A1").zones == "colour"


def test_a_split_place_prints_one_row_for_each_grade(worked: Any) -> None:
    """Two grades on one line are two rows with boxes of their own."""
    split = (("colour", "P800"), ("fade", "P1000"), ("clear", "P1000"))
    places = tuple(
        place._replace(split=split) if place.feature == "L1" else place for place in worked.advice.places
    )
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(places=places)))
    shown = [(row.zones, row.machine) for row in sheet.panels[0].rows if row.number == "A2"]
    assert shown == [("colour", "P800"), ("fade", "P1000"), ("clear", "P1000")]


def test_a_scuff_too_coarse_stands_at_its_row_and_on_top(worked: Any) -> None:
    """The re-cut comes first, with its time."""
    sheet = sheet_of(worked)
    says = "scuffed P600: TOO COARSE, RE-CUT P800, powder, P1000 (8 min)"
    assert says in row(sheet, "A2").notes
    again = "P600 is too coarse: re-cut with P800 by DA, guide coat, P1000 by DA, look again (8 min)"
    assert any(again in choice.ways for choice in sheet.choices)


def test_trim_that_could_come_off_is_offered_as_a_choice(worked: Any) -> None:
    """With what it saves."""
    offer = sheet_of(worked).choices[0]
    assert offer.title == "A3 handle recess"
    assert "Saves 4 min and 100 ml." in offer.ways[1]


def test_the_four_answers_of_a_panel(worked: Any) -> None:
    """Face, lines by hand first, hand-only places, wet bed, in this order."""
    door = sheet_of(worked).panels[0]
    assert [answer.big for answer in door.answers] == ["P1000", "P1000", "P1500", "2 coats"]


def test_the_wet_bed_runs_past_the_fade_by_the_overlap_but_not_past_the_panel(worked: Any) -> None:
    """Fade 150 to 700 mm and an overlap of 100 mm end at 800; on the wing, where 650 is short of 700."""
    sheet = sheet_of(worked)
    assert "150-800 mm" in sheet.panels[0].answers[3].small
    assert "100-650 mm" in sheet.panels[1].answers[3].small


def test_a_patch_has_its_steps_from_what_is_on_it_now_with_powder_at_each_change(worked: Any) -> None:
    """A filled or primed patch is judged by powder, not by eye."""
    (ladder,) = sheet_of(worked).panels[1].ladders
    assert ladder.steps == "P320>P500>P800>P1000"
    assert [tick.says for tick in ladder.powder] == ["before P500", "before P800", "before P1000"]


def test_zones_are_told_from_where_the_colour_comes_in(worked: Any) -> None:
    """A side by its name, a patch by its number."""
    sheet = sheet_of(worked)
    assert sheet.panels[0].zones[0].startswith("from FRONT edge: 0-150 mm full colour, 150-700 mm fade")
    assert sheet.panels[1].zones[0].startswith("from the rim of B2: 0-100 mm full colour")


def test_nothing_blocks_is_said_first(worked: Any) -> None:
    """With the number of things to decide."""
    assert sheet_of(worked).headline == "NOTHING BLOCKS THIS JOB. Two things to decide."


def test_a_hold_names_place_reason_mend_rules_and_what_the_shelf_lacks(held: Any) -> None:
    """In words, with the number on the card."""
    (hold,) = sheet_of(held).holds
    assert hold.where == "B1 edge E1 (clear)"
    assert (hold.why, hold.mend) == (
        "the shelf has no grade to step from P800 to P1500",
        "buy P1000 and P1200, or start finer",
    )
    assert (hold.rules, hold.lacks) == (("clear-hand",), ("P1000", "P1200"))


def test_a_panel_on_hold_answers_stop_and_the_other_panel_stays_complete(held: Any) -> None:
    """No number to work by where something blocks."""
    door, wing = sheet_of(held).panels
    assert [answer.big for answer in wing.answers] == ["STOP"] * 4
    assert wing.order == ()
    assert door.answers[0].big == "P1000"
    assert door.order


def test_a_place_on_hold_has_no_grade_and_no_box(held: Any) -> None:
    """There is nothing to tick where nothing may be done."""
    edge = row(sheet_of(held), "B1")
    assert (edge.hand, edge.machine) == ("STOP", "-")
    assert {edge.scuffed, edge.powder, edge.sanded, edge.look} == {"none"}


def test_the_booth_does_not_start_before_a_hold_is_cleared(held: Any) -> None:
    """The booth order says so in its first line."""
    assert sheet_of(held).booth[0].says.startswith("NOT BEFORE")


def test_holds_that_say_the_same_of_every_place_become_one(worked: Any) -> None:
    """A panel that is not covered has one hold in words, which stands for all its spots."""
    spots = [spot.id for spot in worked.advice.spots if spot.panel == DOOR]
    holds = tuple(Hold(spot=spot, fact=RuleHold("matt finish is not covered")) for spot in spots)
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(holds=holds)))
    (hold,) = sheet.holds
    assert hold.where == "A LEFT FRONT DOOR, every place"
    assert set(hold.spots) == set(spots)


def test_the_last_look_is_in_the_wet_gloss_of_the_wet_bed(worked: Any) -> None:
    """The wet bed comes after full colour and before the colour is blended into it, wet."""
    booth = sheet_of(worked).booth
    bed = next(place for place, step in enumerate(booth) if step.says.startswith("wet bed"))
    assert "LEAVE IT WET" in booth[bed].says
    assert booth[bed].ticks[0].says.startswith("LOOK in the wet gloss")
    assert booth[bed - 1].says.startswith("colour over B2")
    assert booth[bed + 1].says.startswith("blend the colour into it while wet")


def test_every_card_has_the_usual_cautions(worked: Any) -> None:
    """Dust, isocyanates, lead and chromate, aluminium dust; makers' sheets, codes and licences first."""
    said = " ".join(sheet_of(worked).cautions).lower()
    for word in (
        "extraction",
        "mask",
        "isocyanate",
        "air-fed hood",
        "lead",
        "chromate",
        "aluminium",
        "local codes",
    ):
        assert word in said, word


def test_deviations_of_the_house_are_named(worked: Any) -> None:
    """A replaced base rule with the house's words."""
    assert sheet_of(worked).deviations == ("fade-foam replaced by house-foam: Foam pads in the fade. JB",)


def test_steps_that_are_logged_are_ticked_and_the_others_are_open(worked: Any) -> None:
    """Boxes follow the check-off that is passed in."""
    sheet = sheet_of(worked, {f"{DOOR}/E1": {"scuffed"}, DOOR: {"cleaned"}, WING: {"cleaned"}})
    edge = row(sheet, "A1")
    assert (edge.scuffed, edge.sanded) == ("done", "open")
    assert [tick.box for tick in sheet.before_sanding[:2]] == ["done", "done"]


def test_inches_and_mils_where_the_job_asks_for_them(worked_imperial: Any) -> None:
    """No millimetre is left on the panel's part of an imperial card."""
    door = sheet_of(worked_imperial).panels[0]
    assert "0 to 5-7/8 in full colour" in door.zones[0]
    assert "4.4 mil" in door.film
    assert "mm" not in " ".join(door.zones)


def test_what_decides_is_told_with_its_risk_and_its_rule(worked: Any) -> None:
    """Two lines of why: the place nearest to its limit, and the rules there."""
    why = sheet_of(worked).why
    assert "decided by A3 handle recess, fade: P1500" in why[0]
    assert "0.22 of 0.25 allowed" in why[0]
    assert "hand-last-very-fine (base, practice)" in why[1]


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", "דלת קדמית", "🚗" * 40, "x" * 300, "{0} %s [/b]"]
)
def test_a_hostile_name_changes_nothing_but_itself(renamed: Callable[[str], Any], name: str) -> None:
    """Names are carried as they are; no row is lost."""
    panels: tuple[PanelSheet, ...] = sheet_of(renamed(name)).panels
    assert panels[0].rows[0].name == name
    assert [len(panel.rows) for panel in panels] == [4, 3]


def test_a_place_a_lead_accepted_is_printed_with_initials_and_reason(worked: Any) -> None:
    """While it stands; an acceptance that the check-off has re-opened is left out."""
    entry = {
        "at": dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC), "by": "J. B.", "panel": DOOR, "feature": "H1",
        "step": "accepted", "note": "Old repair, owner told.",
    }  # fmt: skip
    job = Job.model_validate({**worked.job.model_dump(), "check": [entry]})
    logged = worked._replace(job=job)
    said = "A3 handle recess: accepted by J. B., 2026-03-02: Old repair, owner told."
    assert sheet_of(logged).accepted == (said,)
    assert sheet_of(logged, {f"{DOOR}/H1": {"accepted"}}).accepted == (said,)
    assert sheet_of(logged, {f"{DOOR}/H1": {"scuffed"}}).accepted == ()


def test_a_note_that_several_places_share_is_said_once_with_their_numbers(worked: Any) -> None:
    """A note about one line stands at its row."""
    both, own = RuleNote("Both."), RuleNote("Own.")
    notes = {"E1": (both, own), "L1": (both,), "H1": (both,)}
    places = tuple(
        place._replace(notes=notes.get(place.feature, ()) if place.panel == DOOR else ())
        for place in worked.advice.places
    )
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(places=places)))
    assert sheet.notes == ("Both (A1-A3).",)
    assert "Own." in row(sheet, "A1").notes
