"""The gate, one rule a test: what holds, what re-opens, what is only told."""

import datetime as dt
from collections import Counter
from cProfile import Profile
from pathlib import Path

import pytest

from prepadvisor.files import load_house
from prepadvisor.logbook import Writer
from tests.checkoff.shopfloor import DOOR, Shopfloor, by_hand, commands

WING = "left-front-wing"
E1, E2, H1, FACE, R1 = f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/H1", f"{DOOR}/face", f"{WING}/R1"


def without(floor: Shopfloor, where: str, step: str) -> Shopfloor:
    """Take the entries of a step at a place out of a log by hand."""
    panel, _, feature = where.partition("/")
    return floor.with_log(
        check
        for check in by_hand(floor.log)
        if (check.panel, check.feature, check.step) != (panel, feature, step)
    )


def test_an_empty_log_holds_every_place_and_both_panels(fresh: Shopfloor) -> None:
    """Without a log nothing is done, in no zone."""
    assert fresh.gate().held == {place.id for place in fresh.advice.places} | {DOOR, WING}


def test_taking_any_entry_out_of_the_shortest_log_holds_the_gate(floor: Shopfloor) -> None:
    """Each entry is needed, and none is spare."""
    log = by_hand(floor.log)
    spare = [n for n in range(len(log)) if floor.with_log(log[:n] + log[n + 1 :]).gate().clear]
    assert spare == []


def test_the_states_of_tasks_say_what_is_open_done_and_held(floor: Shopfloor) -> None:
    """A scuff again re-opens what comes after it; one too coarse is held."""
    assert set(floor.gate().states(E1).values()) == {"done"}
    again = floor.copy().put(E1, "scuffed", tool="hand-pad", grade="P1000").gate().states(E1)
    assert again == {"scuff.1": "done", "powder.1": "open", "sand.1": "open", "look.1": "open"}
    coarse = floor.copy().put(E1, "scuffed", tool="hand-pad", grade="P320").gate().states(E1)
    assert coarse["scuff.1"] == "held"


def test_each_task_names_the_entry_that_speaks_for_it(floor: Shopfloor) -> None:
    """By its id."""
    by_id = {check.id: check for check in floor.log}
    for task in floor.gate().gate.work.tasks:
        if task.owed:
            assert task.entry is not None
            assert by_id[task.entry].panel == task.place.partition("/")[0]


@pytest.mark.parametrize(
    ("where", "step", "tool", "grade", "kind"),
    [
        (E1, "scuffed", "hand-pad", "P600", "cut-too-coarse"),
        (E1, "scuffed", None, "P1000", "not-recorded"),
        (E1, "scuffed", "hand-pad", None, "not-recorded"),
        (E1, "scuffed", "da-soft", "P1000", "wrong-tool"),
        (H1, "scuffed", "hand-pad", "P2000", "cut-too-fine"),
        (H1, "scuffed", "hand-pad", "P1000", "cut-too-coarse"),
        (FACE, "sanded", "da", "P1000", "shows-lines"),
        (FACE, "sanded", "da-soft", "P800", "cut-too-coarse"),
        (FACE, "sanded", "da-soft", "P2000", "cut-too-fine"),
        (FACE, "sanded", "hand-pad", "P1000", "wrong-tool"),
        (FACE, "sanded", "da-hard", "P1000", "wrong-tool"),
        (R1, "sanded", "da-soft", "P1500", "cut-too-fine"),
    ],
)
def test_work_outside_its_limits_holds_though_it_was_seen_clear(
    floor: Shopfloor, where: str, step: str, tool: str | None, grade: str | None, kind: str
) -> None:
    """A number that is wrong is not made right by a look."""
    log = list(floor.log)
    panel, _, feature = where.partition("/")
    at = max(n for n, c in enumerate(log) if (c.panel, c.feature, c.step) == (panel, feature, step))
    log[at] = log[at].model_copy(update={"tool": tool, "grade": grade})
    said = floor.with_log(log).gate()
    assert kind in said.kinds(where)
    assert where in {found.place for found in said.gate.found}


def test_hand_ahead_of_a_machine_may_be_finer_than_asked(floor: Shopfloor) -> None:
    """Only the last touch has a fine end: the DA comes after this scuff."""
    log = [
        check.model_copy(update={"grade": "P2000"})
        if (check.panel, check.feature, check.step) == (DOOR, "E1", "scuffed") else check
        for check in floor.log
    ]  # fmt: skip
    assert floor.with_log(log).gate().clear


def test_a_coarse_scuff_is_over_once_it_was_cut_out_step_by_step(floor: Shopfloor) -> None:
    """P320, P500, P800 and then as planned; leaving a step out leaves its scratches."""
    for grades, clear in ((("P500", "P800"), True), ((), False)):
        one = floor.copy().put(E2, "scuffed", tool="hand-pad", grade="P320")
        for grade in grades:
            one.put(E2, "scuffed", tool="hand-pad", grade=grade)
        one.put(E2, "scuffed", tool="hand-pad", grade="P1000")
        said = one.put(E2, "guide-coated").put(E2, "sanded", tool="da-soft", grade="P1000").gate()
        assert ("cut-too-coarse" in said.kinds(E2) or "still-coarse" in said.kinds(E2)) is not clear


def test_the_mend_of_a_coarse_scuff_takes_its_hold_away(fresh: Shopfloor) -> None:
    """Doing what it says, in its order, ends it."""
    floor = fresh.run(step for step in commands(fresh.advice) if step[0] != E2)
    floor.put(E2, "scuffed", tool="hand-pad", grade="P500")
    hold = next(hold for hold in floor.gate().gate.holds if hold.place == E2)
    steps = {"scuff": "scuffed", "powder": "guide-coated", "sand": "sanded"}
    for ask in hold.mend.asks:  # type: ignore[union-attr]
        floor.put(E2, steps[ask.do], tool=ask.tool or "", grade=ask.grade or "")
    floor.put(E2, "inspected", result="clear")
    assert not {"cut-too-coarse", "still-coarse", "not-done", "too-early"} & set(floor.gate().kinds(E2))


def test_work_before_the_cleaning_holds_until_it_is_done_again(floor: Shopfloor) -> None:
    """Sanding over dirt rubs it in."""
    log = by_hand(floor.log)
    first = next(n for n, check in enumerate(log) if (check.panel, check.step) == (DOOR, "cleaned"))
    later = next(n for n, check in enumerate(log) if (check.panel, check.feature) == (DOOR, "H1"))
    log.insert(later + 1, log.pop(first))
    said = floor.with_log(log).gate()
    assert said.kinds(H1)[0] == "too-early"
    assert "cleaned" in said.why(H1)


def test_wiping_comes_last(floor: Shopfloor) -> None:
    """A look after the wipe is one more hand on the panel."""
    said = floor.put(E1, "inspected", result="clear").gate()
    assert said.held == {DOOR}
    assert said.kinds(DOOR) == ["wiped-before"]


def test_clear_says_until_when_and_expires_by_itself(floor: Shopfloor) -> None:
    """24 hours after the wipe that is oldest (practice)."""
    said = floor.gate()
    wipes = [check.at for check in floor.log if check.step == "wiped"]
    assert said.gate.expires == min(wipes) + dt.timedelta(hours=24)
    assert floor.gate(said.gate.expires - floor.now).clear
    assert not floor.gate(said.gate.expires - floor.now + dt.timedelta(seconds=1)).clear


def test_bad_news_from_the_future_holds_as_well(floor: Shopfloor) -> None:
    """A wrong clock must not hide what was found."""
    look = next(check for check in floor.log if check.feature == "E1" and check.step == "inspected")
    ahead = look.model_copy(
        update={"result": "lines", "at": floor.now + dt.timedelta(days=2), "id": "", "knew": ""}
    )
    assert E1 in floor.add(Writer("z").stamp(ahead, floor.log)).gate().held


def test_one_entry_for_all_covers_the_work_of_every_place_that_it_fits(fresh: Shopfloor) -> None:
    """Nobody logs sixty entries in gloves; looks are still each for itself."""
    fresh.put(f"{WING}/panel", "cleaned").put(f"{DOOR}/panel", "cleaned")
    fresh.put(f"{DOOR}/all", "scuffed", tool="hand-pad", grade="P1500").put(f"{DOOR}/all", "guide-coated")
    fresh.put(f"{DOOR}/all", "sanded", tool="da-soft", grade="P1000")
    said = fresh.gate()
    assert {kind for place in said.held if place.startswith(f"{DOOR}/") for kind in said.kinds(place)} == {
        "not-looked"
    }


def test_a_required_wet_bed_is_told_and_holds_nothing(floor: Shopfloor) -> None:
    """It comes after masking."""
    said = floor.gate()
    assert said.clear
    assert "wet bed, 2 coats, after masking" in said.told


def test_done_in_the_job_counts_for_nothing(fresh: Shopfloor) -> None:
    """It starts the planning; the gate goes by the log alone."""
    fresh.with_line("E1", done={"tool": "hand-pad", "grade": "P1000"})
    assert "not scuffed" in fresh.gate().why(E1)


def test_hand_work_on_a_line_reopens_the_look_at_the_face(floor: Shopfloor) -> None:
    """A pad in an edge runs out over the face."""
    floor.put(f"{DOOR}/F1", "scuffed", tool="hand-pad", grade="P1500")
    assert FACE in floor.gate().held


def house(folder: Path, **files: str) -> Path:
    """Write a house folder."""
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


def test_a_house_that_tightens_the_hand_limit_after_the_looks(floor: Shopfloor, tmp_path: Path) -> None:
    """HELD: P1000 is too coarse there now."""
    rule = """\
[standards]
name = "Ours"
version = "1"

[[rule]]
id = "ours-hand"
says = "Very fine flake: P1200 by hand ahead of the DA."
when = { flake = ">= very-fine", zone = ["colour", "fade"], reach = "machine" }
set = { hand_coarsest = "P1200" }
source = "practice"
"""
    floor.house = load_house(house(tmp_path / "h", ours=rule))
    floor._advice = None
    assert E1 in floor.gate().held


def test_a_house_that_adds_a_hold_after_the_looks(floor: Shopfloor, tmp_path: Path) -> None:
    """HELD."""
    rule = """\
[standards]
name = "Ours"
version = "1"

[[rule]]
id = "ours-hold"
says = "No doors on Fridays."
when = { panel = "front-door" }
set = { holds = ["No doors on Fridays."] }
source = "practice"
"""
    floor.house = load_house(house(tmp_path / "h", ours=rule))
    floor._advice = None
    said = floor.gate()
    assert E1 in said.held
    assert "No doors on Fridays" in said.why(E1)


def test_a_rate_changed_reopens_nothing(floor: Shopfloor, tmp_path: Path) -> None:
    """Only what the shop decides at a place is what a look rests on."""
    floor.house = load_house(house(tmp_path / "h", shop="disc_minutes = 0.7\n"))
    floor._advice = None
    assert floor.gate().clear


@pytest.mark.parametrize("step", ["sealed", "bedded", "coloured", "cleared"])
def test_booth_entries_never_shut_the_gate(floor: Shopfloor, step: str) -> None:
    """They come after it."""
    assert floor.put(f"{DOOR}/panel", step).gate().clear


@pytest.mark.parametrize(
    ("result", "holds"),
    [("clear", False), ("gloss", False), ("lines", True), ("cut-through", True)],
)
@pytest.mark.parametrize("where", [f"{DOOR}/panel", E1])
def test_what_was_seen_wet_shuts_it_where_it_is_lines_or_a_rub_through(
    floor: Shopfloor, where: str, result: str, holds: bool
) -> None:
    """Colour over lines shows them for good."""
    said = floor.put(where, "seen-wet", result=result).gate()
    assert said.clear is not holds
    assert bool(said.gate.found) is holds


def test_a_struck_slip_of_the_key_counts_nowhere(floor: Shopfloor) -> None:
    """A scuff logged at the wrong place is taken back by who logged it, and it is told."""
    floor.put(E1, "scuffed", tool="hand-pad", grade="P80")
    assert not floor.gate().clear
    floor.put(E1, "struck", of=floor.log[-1].id, note="meant the wing")
    said = floor.gate()
    assert said.clear
    assert "was taken back" in said.told


def test_kinds_and_sentences_stand_side_by_side(floor: Shopfloor) -> None:
    """Whatever is done to a log, each hold has a reason and a mend in words."""
    for done in ("reversed", "nothing"):
        log = reversed(floor.log) if done == "reversed" else ()
        said = floor.with_log(log).gate()
        for place in said.held:
            assert said.why(place)
            assert said.mend(place)


@pytest.mark.practice
def test_what_was_seen_wet_ends_by_work_there_and_a_look_that_knew(floor: Shopfloor) -> None:
    """Dry, sanded out, laid again, seen wet once more; another look alone ends nothing."""
    floor.put(f"{DOOR}/panel", "coloured").put(f"{DOOR}/panel", "seen-wet", result="lines")
    assert "lay no further coat over it" in floor.gate().mend(DOOR)
    assert not floor.copy().put(f"{DOOR}/panel", "seen-wet", result="clear").gate().clear
    floor.put(f"{DOOR}/panel", "coloured").put(f"{DOOR}/panel", "seen-wet", result="clear")
    assert floor.gate().clear


def test_a_log_of_very_many_entries_at_one_place_is_judged_in_time_linear_in_it(floor: Shopfloor) -> None:
    """Ten thousand looks, sandings and acceptances at one edge: as many steps for each as for a few."""
    look = next(check for check in floor.log if check.feature == "E2" and check.step == "inspected")
    sand = next(check for check in floor.log if check.feature == "E2" and check.step == "sanded")
    kinds = (
        look.model_copy(update={"result": "lines"}),
        sand,
        look.model_copy(update={"result": "cut-through"}),
        look.model_copy(update={"step": "accepted", "result": None, "note": "whatever it is", "by": "J. B."}),
    )
    many = [
        kinds[n % 4].model_copy(update={"id": f"m{n % 3}-{n}", "knew": floor.log[-1].id})
        for n in range(10_000)
    ]
    steps = Counter[int]()
    for count in (1_000, 10_000):
        profiler = Profile()
        profiler.enable()
        floor.copy().add(*many[:count]).gate()
        profiler.disable()
        steps[count] = sum(entry.callcount for entry in profiler.getstats())
    assert steps[10_000] < 15 * steps[1_000]
