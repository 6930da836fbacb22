"""The one record all cards are printed from: every fact is there, worded, and on the safe side."""

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

import pytest

from prepadvisor.cards.page.text import write_text
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet, PanelSheet, PlaceRow
from prepadvisor.checkoff import gate as gate_of
from prepadvisor.records import (
    Check,
    Deviation,
    Grade,
    Hold,
    HouseChange,
    Laxer,
    LayerUsed,
    RuleHold,
    RuleNote,
    TooCoarse,
)
from prepadvisor.records.gate import Gate

DOOR, WING = "left-front-door", "left-front-wing"


def sheet_of(worked: Any, gate: Gate | None = None) -> CardSheet:
    """Build the sheet of a worked job."""
    return card_sheet(Papers(worked.job, worked.advice, worked.house, gate))


def row(sheet: CardSheet, number: str) -> PlaceRow:
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
    assert row(sheet_of(worked), "A2").zones == "all"
    assert row(sheet_of(worked), "A1").zones == "colour"


def test_a_split_place_prints_one_row_for_each_grade(worked: Any) -> None:
    """Two grades on one line are two rows, each with the box of its own pass."""
    split = (("colour", "P800"), ("fade", "P1000"))
    line = f"{DOOR}/L1"
    places = tuple(
        place._replace(split=split) if place.id == line else place for place in worked.advice.places
    )
    (last,) = (task for task in worked.advice.work.tasks if task.place == line and task.do == "sand")
    coarser = last._replace(id=f"{line}.sand.9", grade="P800")
    work = worked.advice.work._replace(tasks=(*worked.advice.work.tasks, coarser))
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(places=places, work=work)))
    shown = [(one.zones, one.machine, one.sanded) for one in sheet.panels[0].rows if one.number == "A2"]
    assert shown == [("colour", "P800", "open"), ("fade", "P1000", "open")]


def test_a_scuff_too_coarse_stands_at_its_row_with_its_re_cut(worked: Any) -> None:
    """One way is no choice: it stands at the row alone, and that no wet bed saves it."""
    sheet = sheet_of(worked)
    (note,) = (note for note in row(sheet, "A2").notes if note.startswith("scuffed"))
    assert note.startswith("scuffed P600: TOO COARSE, RE-CUT ")
    assert note.endswith("no wet bed saves it")
    assert [choice.title for choice in sheet.choices] == ["A3 handle recess"]


def test_a_scuff_that_a_wet_bed_may_save_is_a_choice_of_two(worked: Any) -> None:
    """The re-cut first, the lead's initials second."""
    places = tuple(
        place._replace(done=place.done._replace(fact=TooCoarse(Grade("P800"), "lead")))
        if place.id == f"{DOOR}/L1"
        else place
        for place in worked.advice.places
    )
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(places=places)))
    (choice,) = (choice for choice in sheet.choices if choice.title == "A2 body line")
    assert choice.ways[0].startswith("P800 is too coarse: re-cut with ")
    assert choice.ways[1] == "only with the lead's initials: leave it to the wet bed"


def test_trim_that_could_come_off_is_offered_as_a_choice(worked: Any) -> None:
    """As it is, and what taking the trim off changes and saves."""
    offer = sheet_of(worked).choices[0]
    assert offer.title == "A3 handle recess"
    assert offer.ways[0] == "trim left on: wet bed needed (2 coats)."
    assert offer.ways[1].startswith("Trim off at handle recess: a DA reaches it, wet bed only advised")


def test_the_four_answers_of_a_panel(worked: Any) -> None:
    """Face, lines by hand first, hand-only places, wet bed, in this order."""
    door = sheet_of(worked).panels[0]
    assert [answer.big for answer in door.answers] == ["P1000", "P1000", "P1500", "2 coats"]


def test_the_wet_bed_runs_past_the_fade_by_the_overlap(worked: Any) -> None:
    """Fade 150 to 700 mm and an overlap of 100 mm end at 800."""
    assert "150-800 mm" in sheet_of(worked).panels[0].answers[3].small


def test_a_patch_has_its_steps_from_what_is_on_it_now_with_a_box_for_powder_and_pass(worked: Any) -> None:
    """All but the last pass, whose boxes stand at its row."""
    (ladder,) = sheet_of(worked).panels[1].ladders
    assert ladder.steps == ("P320", "P500", "P800", "P1000")
    assert [box.says for box in ladder.boxes] == ["powder", "P500 DA", "powder", "P800 DA"]
    patch = row(sheet_of(worked), "B2")
    assert (patch.powder, patch.sanded, patch.look) == ("open", "open", "open")


def test_zones_are_told_from_where_the_colour_comes_in(worked: Any) -> None:
    """A side by its name, a patch by its number; the mist as far as it lands on the panel."""
    sheet = sheet_of(worked)
    door = "from FRONT edge, mm: 0-150 full colour, 150-700 fade (last 150 mist), 700-1050 clear"
    assert sheet.panels[0].zones == (door,)
    assert sheet.panels[1].zones[0].startswith("from rim of B2, mm: 0-100 full colour")


def test_nothing_blocks_is_said_first(worked: Any) -> None:
    """With the number of things to decide."""
    assert sheet_of(worked).headline == "NOTHING BLOCKS THIS JOB. One thing to decide."


def test_a_hold_names_place_reason_mend_rules_and_what_the_shelf_lacks(held: Any) -> None:
    """In words, with the number on the card."""
    (hold,) = sheet_of(held).holds
    assert hold.where == "B1 edge E1 (fade)"
    assert (hold.why, hold.mend) == (
        "the shelf has no grade to step from P800 to P1500",
        "buy P1000 and P1200, or start finer",
    )
    assert (hold.rules, hold.lacks) == (("clear-hand",), ("P1000", "P1200"))


def test_a_panel_on_hold_tells_why_and_has_no_rows_and_the_other_stays_complete(worked: Any) -> None:
    """No number to work by, no empty row, no drill where everything is blocked."""
    places = [place for place in worked.advice.places if place.panel == WING]
    holds = tuple(Hold(spot=place.spots[0], fact=RuleHold("Matt is not covered.")) for place in places)
    work = worked.advice.work._replace(
        tasks=tuple(task for task in worked.advice.work.tasks if not task.place.startswith(WING)),
        steps=(),
        unplanned=(WING,),
    )
    door, wing = sheet_of(worked._replace(advice=worked.advice._replace(holds=holds, work=work))).panels
    assert wing.stop
    assert wing.instead == ("STOP: Matt is not covered",)
    assert (wing.rows, wing.order, wing.drills) == ((), (), ())
    assert [answer.big for answer in wing.answers] == ["STOP"] * 4
    assert door.answers[0].big == "P1000"
    assert door.rows


def test_a_place_on_hold_stops_alone_and_its_panel_keeps_its_answers(held: Any) -> None:
    """A grade missing for one line does not stop every box."""
    wing = sheet_of(held).panels[1]
    assert not wing.stop
    assert [answer.big for answer in wing.answers] == ["P1000", "-", "STOP", "2 coats"]
    assert wing.order


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
    """The wet bed comes after full colour, its look before the colour is blended out."""
    booth = sheet_of(worked).booth
    bed = next(place for place, step in enumerate(booth) if step.says.startswith("wet bed"))
    assert "LEAVE IT WET" in booth[bed].says
    assert booth[bed + 1].ticks[0].says.startswith("LOOK at A and B in the wet gloss")
    assert "B2" in booth[bed - 1].says
    assert booth[bed + 2].says.startswith("blend the colour out")


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


def test_deviations_of_the_house_stand_on_top_in_one_line(worked: Any) -> None:
    """A replaced base rule with the house's words; a layer that does not count says why."""
    changed = Deviation(rule="fade-foam", kind="replaced", by="house-foam", says="Foam pads in the fade. JB")
    later = LayerUsed(layer="spring", state="not yet", valid_from="2026-05-01")
    used = worked.advice.standards._replace(deviations=(changed,), layers=(later,))
    assert sheet_of(worked._replace(advice=worked.advice._replace(standards=used))).house == (
        "1 deviation from the base: fade-foam (Foam pads in the fade. JB)",
        "spring is not in force before 2026-05-01",
    )


def test_what_is_laxer_than_the_base_stands_at_its_place(worked: Any) -> None:
    """Who works there sees that the house lets it go."""
    laxer = Laxer("hand_coarsest", Grade("P1000"), Grade("P800"), "hand-very-fine", "house-hand", "house")
    spots = tuple(
        spot._replace(laxer=(laxer,)) if spot.feature == "E1" and spot.panel == DOOR else spot
        for spot in worked.advice.spots
    )
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(spots=spots)))
    says = "HOUSE: coarsest by hand ahead of the DA P800, base P1000 (by house-hand)"
    assert says in row(sheet, "A1").notes


def test_numbers_of_the_house_that_differ_stand_in_one_line(worked: Any) -> None:
    """With unit, shipped and own value."""
    changes = (HouseChange("mist_mm", "mm", 150, 0), HouseChange("hand_tool", "", "hand-pad", "hand-foam"))
    used = worked.advice.standards._replace(changes=changes)
    assert sheet_of(worked._replace(advice=worked.advice._replace(standards=used))).house == (
        "own numbers: mist 150 → 0 mm, hand tool non-woven pad → foam pad",
    )


def logged(worked: Any, *entries: dict[str, Any]) -> tuple[Any, Gate]:
    """Return the worked job with a log, and its gate."""
    at = dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC)
    log = [
        Check.model_validate({"at": at + dt.timedelta(minutes=minute), "by": "K. M.", **entry})
        for minute, entry in enumerate(entries)
    ]
    job = worked.job.model_copy(update={"check": tuple(log)})
    now = at + dt.timedelta(hours=1)
    return worked._replace(job=job), gate_of(job, worked.advice, worked.house, now)


def test_steps_that_are_logged_are_ticked_and_the_others_are_open(worked: Any) -> None:
    """Boxes follow the state of their tasks."""
    clean = [{"panel": panel, "feature": "panel", "step": "cleaned"} for panel in (DOOR, WING)]
    scuff = {"panel": DOOR, "feature": "E1", "step": "scuffed", "tool": "hand-pad", "grade": "P1000"}
    sheet = sheet_of(*logged(worked, *clean, scuff))
    edge = row(sheet, "A1")
    assert (edge.scuffed, edge.sanded) == ("done", "open")
    assert [panel.order[0].box for panel in sheet.panels] == ["done", "done"]


def test_what_a_look_found_stands_on_top_and_then_nothing_is_said_to_block_nothing(worked: Any) -> None:
    """A reprinted card hides no rub-through."""
    found = {"panel": DOOR, "feature": "E1", "step": "inspected", "result": "cut-through"}
    sheet = sheet_of(*logged(worked, found))
    (note,) = sheet.found
    assert note.where == "A1 front edge"
    assert "rub" in note.says
    assert note.mend
    assert row(sheet, "A1").look == "held"
    assert any(says.startswith("[!]") for says in sheet.panels[0].legend)
    assert sheet.headline.startswith("STOP: one thing found and not mended.")
    assert "NOTHING BLOCKS" not in write_text(sheet)


def test_what_a_lead_accepted_is_printed_with_initials_and_reason(worked: Any) -> None:
    """While it counts; an acceptance without a reason is none."""
    before = (
        {"panel": DOOR, "feature": "panel", "step": "cleaned"},
        {"panel": DOOR, "feature": "E1", "step": "scuffed", "tool": "hand-pad", "grade": "P1000"},
        {"panel": DOOR, "feature": "E1", "step": "inspected", "result": "lines"},
    )
    accept = {"panel": DOOR, "feature": "E1", "step": "accepted", "by": "J. B.", "note": "owner told"}
    (said,) = sheet_of(*logged(worked, *before, accept)).accepted
    assert "J. B." in said
    assert "owner told" in said
    assert sheet_of(*logged(worked, *before, {**accept, "note": ""})).accepted == ()


def test_inches_and_mils_where_the_job_asks_for_them(worked_imperial: Any) -> None:
    """No metric unit is left on an imperial card, but the ml beside the ounces."""
    sheet = sheet_of(worked_imperial)
    assert sheet.panels[0].zones[0].startswith("from FRONT edge, in: 0 to 5-7/8 full colour")
    assert sheet.panels[0].film.startswith("film: 4.4 mil")
    text = write_text(sheet)
    assert re.findall(r"\d ?(?:mm|um|µm|m2)\b", text) == []


def test_what_decides_is_told_with_its_risk_and_its_rule(worked: Any) -> None:
    """One line of why: the place nearest to its limit, its risk, the rule there."""
    (why,) = sheet_of(worked).why
    assert re.fullmatch(
        r"A.* decides: P\d+, risk of a line 0\.\d\d of 0\.25 allowed, estimate \(.*very-fine.*\)\.", why
    )


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", "דלת קדמית", "🚗" * 40, "x" * 300, "{0} %s [/b]"]
)
def test_a_hostile_name_changes_nothing_but_itself(renamed: Callable[[str], Any], name: str) -> None:
    """Names are carried as they are; no row is lost."""
    panels: tuple[PanelSheet, ...] = sheet_of(renamed(name)).panels
    assert panels[0].rows[0].name == name
    assert [len(panel.rows) for panel in panels] == [4, 3]


def test_a_note_that_several_places_share_is_said_once(worked: Any) -> None:
    """A note about one line stands at its row; what the card says in its own place is not said again."""
    both, own = RuleNote("Both.", "both"), RuleNote("Own.", "own")
    known = RuleNote("Clean first.", "clean-first")
    notes = {"E1": (both, own, known), "L1": (both,), "H1": (both,)}
    places = tuple(
        place._replace(notes=notes.get(place.feature, ()) if place.panel == DOOR else ())
        for place in worked.advice.places
    )
    sheet = sheet_of(worked._replace(advice=worked.advice._replace(places=places)))
    assert sheet.notes == ("Both.",)
    assert "Own." in row(sheet, "A1").notes
