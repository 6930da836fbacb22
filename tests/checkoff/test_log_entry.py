"""Entries as a person asks for them: made, or refused with every reason at once."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from prepadvisor.checkoff import EntryRefusedError, Wanted, bases, changed, lacking, log_entries, parts_of
from prepadvisor.logbook import is_reason, person
from prepadvisor.records import Check, Grade
from prepadvisor.records.log_refusals import NotRead, UnknownWord
from prepadvisor.standards import House
from prepadvisor.wording import refusal_says
from tests.checkoff.shopfloor import DOOR, START, Shopfloor

E1, H1 = f"{DOOR}/E1", f"{DOOR}/H1"


def made(floor: Shopfloor, *wanted: str, **stated: object) -> tuple[Check, ...]:
    """Return the entries that are made."""
    where, step = wanted
    given: dict[str, Any] = {"by": "KM", **stated}
    return log_entries(floor.job, floor.advice, Wanted(where, step, **given), START, floor.house)


def refused(floor: Shopfloor, *wanted: str, **stated: object) -> str:
    """Return why an entry is refused."""
    with pytest.raises(EntryRefusedError) as error:
        made(floor, *wanted, **stated)
    return "; ".join(map(refusal_says, error.value.faults))


def test_every_fault_is_told_at_once(fresh: Shopfloor) -> None:
    """One run is enough to mend an entry."""
    says = refused(fresh, "left-front-dor/E1", "scufed", tool="hand-pd", grade="1000")
    for each in ('did you mean "left-front-door"', 'did you mean "scuffed"', 'did you mean "hand-pad"', "P"):
        assert each in says


@pytest.mark.parametrize("by", ["", " ", "\u200b", "...", "—"])
def test_initials_that_cannot_be_read_are_refused(fresh: Shopfloor, by: str) -> None:
    """Somebody stands for each entry."""
    assert "whose entry is it" in refused(fresh, f"{DOOR}/panel", "cleaned", by=by)


@pytest.mark.parametrize("where", ["", " ", "/", " /E1", f"{DOOR} /E1", DOOR.upper() + "/E1"])
def test_a_panel_that_is_not_there_is_refused(fresh: Shopfloor, where: str) -> None:
    """Blank, in capitals, with a blank behind."""
    assert "this job has no panel" in refused(fresh, where, "scuffed")


def test_lines_stand_for_every_line_that_owes_the_step(fresh: Shopfloor) -> None:
    """One entry for each, with the basis of each; hand-only places get no powder."""
    entries = made(fresh, "A/lines", "guide-coated")
    assert {entry.feature for entry in entries} == {
        task.place.partition("/")[2]
        for task in fresh.advice.work.tasks
        if task.place.startswith(f"{DOOR}/") and task.do == "powder" and not task.place.endswith("/face")
    }
    based = bases(fresh.job, fresh.advice, fresh.house)
    assert all(entry.basis == based[f"{DOOR}/{entry.feature}"] for entry in entries)
    assert "its own look" in refused(fresh, "A/lines", "inspected", result="clear")


def test_a_grade_for_all_lines_is_read_as_for_one(fresh: Shopfloor) -> None:
    """However it is spelled it picks the same lines; what is no grade is refused, as elsewhere."""
    one = {entry.feature for entry in made(fresh, "A/lines", "scuffed", tool="hand-pad", grade="P1000")}
    other = {entry.feature for entry in made(fresh, "A/lines", "scuffed", tool="hand-pad", grade=" p 1000")}
    assert one == other
    for word in ("1000", "P850", "red"):
        assert word in refused(fresh, "A/lines", "scuffed", tool="hand-pad", grade=word)


def test_all_never_stands_for_a_first_look(fresh: Shopfloor) -> None:
    """Nor with --again, as long as a place was not looked at."""
    assert "its own look" in refused(fresh, "A/all", "inspected", result="clear")
    assert "never looked at" in refused(fresh, "A/all", "inspected", result="clear", again=True)


def test_all_may_renew_but_not_find(floor: Shopfloor) -> None:
    """What is seen is seen at a place."""
    assert made(floor, "A/all", "inspected", result="clear", again=True)[0].feature == "all"
    assert "say where it was seen" in refused(floor, "A/all", "inspected", result="lines", again=True)


@pytest.mark.parametrize(
    ("step", "stated", "says"),
    [
        ("inspected", {}, "a look needs its result"),
        ("scuffed", {"result": "clear"}, "has no result"),
        ("inspected", {"result": "clear", "grade": "P800"}, "has no tool and no grade"),
        ("accepted", {"note": "x"}, "a reason in words"),
        ("struck", {"note": "slip"}, "--of and its id"),
        ("struck", {"of": "k-99", "note": "slip"}, 'no entry "k-99"'),
        ("struck", {"of": "k-1"}, "say why"),
        ("scuffed", {"of": "k-1"}, "belongs to struck and accepted"),
        ("scuffed", {"tool": "da"}, "is a machine"),
        ("sanded", {"tool": "hand-pad"}, "is a hand tool"),
        ("inspected", {"result": "low"}, "is seen on fill"),
        ("scuffed", {"at": dt.datetime(2027, 1, 1, tzinfo=dt.UTC)}, "ahead of now"),
    ],
)
def test_what_makes_no_sense_is_refused(
    floor: Shopfloor, step: str, stated: dict[str, object], says: str
) -> None:
    """With the reason."""
    assert says in refused(floor, E1, step, **stated)


def test_a_place_for_the_hand_alone_takes_no_powder_and_no_machine(fresh: Shopfloor) -> None:
    """Powder stays in it as specks."""
    assert "specks" in refused(fresh, H1, "guide-coated")
    assert "no machine is used" in refused(fresh, H1, "sanded", tool="da", grade="P1500")


def test_what_left_the_job_may_still_be_accepted_and_struck(floor: Shopfloor) -> None:
    """By its old name, where the log has it."""
    floor.without_line("E2")
    assert made(floor, f"{DOOR}/E2", "accepted", note="no such edge here")[0].feature == "E2"
    assert "has no place" in refused(floor, f"{DOOR}/E2", "scuffed")
    assert "has no place" in refused(floor, f"{DOOR}/E9", "accepted", note="no such edge here")


def test_a_panels_entries_are_tied_to_the_jobs_number(fresh: Shopfloor) -> None:
    """So that a copied log starts over as a whole."""
    assert set(parts_of(made(fresh, "A", "cleaned")[0].basis)) == {"number"}


def test_a_basis_is_compared_part_by_part(fresh: Shopfloor) -> None:
    """What an older version did not write is told, not held against."""
    now = bases(fresh.job, fresh.advice, fresh.house)[E1]
    kept = {"colour", "panel", "zones", "asks"}
    older = " ".join(part for part in now.split() if part.partition(":")[0] in kept)
    assert changed(older, now) == ()
    assert lacking(older) == ("number", "name", "paths", "patches", "scope")
    assert changed(older.replace("asks:", "asks:x"), now) == ("asks",)


def test_a_line_elsewhere_changes_the_face_and_itself_alone(fresh: Shopfloor) -> None:
    """The face rests on all lines of its panel, a line on its own path."""
    before = bases(fresh.job, fresh.advice, fresh.house)
    fresh.with_line("E3", path=[[1.0, 0.05], [1.0, 0.55], [0.97, 0.86], [0.93, 1.0]])
    after = bases(fresh.job, fresh.advice, fresh.house)
    moved = {place for place in before if changed(before[place], after[place])}
    assert moved == {f"{DOOR}/E3", f"{DOOR}/face"}


@pytest.mark.parametrize(
    ("note", "is_one"),
    [
        ("customer agreed", True), ("agreed", True), ("x", False), ("ok", False), ("...", False), ("", False),
        ("aaaaaaa", False), ("客户同意", True), ("согласен", True), ("12345678", False),
        ("\u200b\u200b", False),
    ],
)  # fmt: skip
def test_a_reason_is_in_words(note: str, is_one: bool) -> None:
    """In any script."""
    assert is_reason(note) is is_one


def test_initials_are_compared_as_people_read_them() -> None:
    """Dots, blanks and capitals make nobody else."""
    assert person("K. M.") == person("km") == person(" K\u200bM ") == "km"
    assert person("K. M.") != person("J. M.")


@pytest.mark.parametrize(
    ("where", "step", "stated", "says"),
    [
        (
            DOOR,
            "scuffed",
            {"tool": "hand-pad"},
            f'"scuffed" is for a place: write {DOOR}/ and one of face, E1, E2',
        ),
        (f"{DOOR}/E1", "wiped", {}, f'"wiped" is for the whole panel: write {DOOR}/panel'),
        (f"{DOOR}/lines", "cleaned", {}, f'"cleaned" is for the whole panel: write {DOOR}/panel'),
        (f"{DOOR}/all", "accepted", {"note": "agreed by phone"}, '"accepted" cannot be logged for all'),
        (
            f"{DOOR}/E1",
            "scuffed",
            {"tool": "brush"},
            'no tool "brush"; there are: hand-paper, hand-pad, hand-foam',
        ),
        (f"{DOOR}/E1", "scuffed", {"pad": "grey"}, "the shop file names no pads; give the grade with its P"),
        (
            f"{DOOR}/E1",
            "scuffed",
            {"pad": "grey", "grade": "P800"},
            "give the grade or the pad's name, not both",
        ),
        (f"{DOOR}/E1", "wiped", {"grade": "P800"}, "has no tool and no grade"),
        (f"{DOOR}/E1", "inspected", {"result": "low"}, f"low is seen on fill, and {DOOR}/E1 is a line"),
        (f"{DOOR}/face", "sanded", {"tool": "hand-pad"}, "hand-pad is a hand tool: log it as scuffed"),
        (f"{DOOR}/E1", "scuffed", {"again": True}, "--again belongs to a look at all places of a panel"),
        (f"{DOOR}/E1", "scuffed", {"at": dt.datetime(2026, 3, 2, 7)}, "the time has no offset"),  # noqa: DTZ001
    ],
)
def test_a_refusal_says_what_to_write_instead(
    fresh: Shopfloor, where: str, step: str, stated: dict[str, object], says: str
) -> None:
    """The sentence a person reads at the bench."""
    assert says in refused(fresh, where, step, **stated)


@pytest.mark.parametrize(
    ("where", "step", "stated"),
    [
        ("left-front-wing/R1", "sanded", {"tool": "block", "grade": "P500"}),
        ("left-front-wing/R1", "inspected", {"result": "pinhole"}),
        (f"{DOOR}/face", "inspected", {"result": "low"}),
        (f"{DOOR}/E1", "scuffed", {"tool": "Hand_Pad", "grade": "P1000"}),
        (f"{DOOR}/E1", "sanded", {"tool": "da-soft", "grade": "P1000"}),
        (f"{DOOR}/panel", "primed", {}),
        (DOOR, "bedded", {}),
        (f"{DOOR}/E1", "scuffed", {"at": START - dt.timedelta(hours=1)}),
    ],
)
def test_what_makes_sense_is_made_as_it_was_asked_for(
    fresh: Shopfloor, where: str, step: str, stated: dict[str, object]
) -> None:
    """One entry, its place, step, tool, grade, result and time."""
    (entry,) = made(fresh, where, step, **stated)
    panel, _, feature = where.partition("/")
    assert (entry.panel, entry.feature, entry.step) == (panel, feature or "panel", step)
    assert entry.at == stated.get("at", START)
    assert entry.tool == (str(stated["tool"]).lower().replace("_", "-") if "tool" in stated else None)
    assert (entry.grade, entry.result) == (stated.get("grade"), stated.get("result"))


def test_a_pad_of_the_shop_stands_for_the_coarse_end_of_its_range(
    fresh: Shopfloor, shipped_house: House
) -> None:
    """As the shop file has it; another pad is asked back with what there is, and the pad is noted."""
    shop = shipped_house.shop.model_copy(update={"pads": {"grey": Grade("P800"), "gold": Grade("P1500")}})
    floor = Shopfloor(fresh.job, replace(shipped_house, shop=shop))
    (entry,) = made(floor, E1, "scuffed", tool="hand-pad", pad="gold", note="at last")
    assert (entry.grade, entry.note) == ("P1500", "at last (pad gold)")
    assert 'no pad "gray"; did you mean "grey"?' in refused(floor, E1, "scuffed", tool="hand-pad", pad="gray")


def test_lines_are_never_the_face_or_a_patch(fresh: Shopfloor) -> None:
    """Nor what only the hand reaches, where a machine is logged."""
    wing = "left-front-wing"
    made = log_entries(
        fresh.job,
        fresh.advice,
        Wanted(f"{wing}/lines", "sanded", "KM", "da-soft", "P1000"),
        fresh.now,
        fresh.house,
    )
    sanded = {task.place for task in fresh.advice.work.tasks if task.do == "sand"}
    assert {f"{wing}/face", f"{wing}/R1"} <= sanded
    assert {f"{wing}/{check.feature}" for check in made} == {
        place
        for place in sanded
        if place.startswith(f"{wing}/") and place[-4:] != "face" and place[-2:] != "R1"
    }


def test_a_text_that_no_file_takes_is_refused_by_its_name(fresh: Shopfloor) -> None:
    """A note of a hundred thousand letters, and initials with a control character: each with its field."""
    with pytest.raises(EntryRefusedError) as error:
        made(fresh, E1, "guide-coated", note="a" * 100_000, by="K\x00M")
    faults = error.value.faults
    assert all(isinstance(fault, NotRead) for fault in faults)
    said = [refusal_says(fault) for fault in faults]
    assert [each.partition(":")[0] for each in said] == ["by", "note"]
    assert all(each.partition(": ")[2] for each in said)
    assert str(error.value) == "not-read, not-read"


@pytest.mark.parametrize(
    ("where", "what", "word", "known"),
    [
        ("A99", "place", "A99", "A1"),
        ("b77", "place", "b77", "B1"),
        ("Z9", "panel", "Z9", ""),
        ("A1x", "panel", "A1x", ""),
        ("left-front-dor/E1", "panel", "left-front-dor", ""),
    ],
)
def test_a_number_like_those_of_the_card_is_asked_back_with_its_panels_numbers(
    fresh: Shopfloor, where: str, what: str, word: str, known: str
) -> None:
    """A letter of a panel and a figure too high; any other word is taken for a panel's."""
    with pytest.raises(EntryRefusedError) as error:
        made(fresh, where, "guide-coated")
    (fault,) = error.value.faults
    assert isinstance(fault, UnknownWord)
    assert (fault.what, fault.word) == (what, word)
    panels = [panel.id for panel in fresh.job.panel]
    if what == "panel":
        assert list(fault.known) == panels
    else:
        owner = panels["AB".index(where[0].upper())]
        assert fault.panel == owner
        assert known in fault.known
        assert {each[0] for each in fault.known} == {where[0].upper()}


def test_a_card_number_stands_for_its_place_whatever_its_case(fresh: Shopfloor) -> None:
    """A1 is the first line of the first panel, A its face for work and the panel for cleaning."""
    numbers = {place.id: place.number for place in fresh.advice.places if place.panel == DOOR}
    first = next(place for place, number in numbers.items() if number == 1)
    for word in ("A1", "a1"):
        (entry,) = made(fresh, word, "scuffed", tool="hand-pad", grade="P1000")
        assert f"{entry.panel}/{entry.feature}" == first
    (face,) = made(fresh, "A", "sanded", tool="da-soft", grade="P1000")
    (clean,) = made(fresh, "a", "cleaned")
    assert (face.feature, clean.feature) == ("face", "panel")
    assert "is for the whole panel" in refused(fresh, "A1", "wiped")
