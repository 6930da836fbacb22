"""The work at one place replayed: sequences of passes worked out by hand, each rule in words."""

import datetime as dt
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any, Final

import pytest

from prepadvisor.checkoff.replay import Replay, out_of_limits
from prepadvisor.logbook import Entry
from prepadvisor.logbook.entries import Id
from prepadvisor.records import Check, Task
from prepadvisor.records.gate import TooEarly
from tests.recompute.house import GRAIN

START: Final = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)
STEPS: Final = {"powder": "guide-coated", "sand": "sanded", "scuff": "scuffed"}
RATIO: Final = 0.6
"""The least next grain over the last. Mean grains in µm: P320 46.2, P500 30.2, P600 25.8, P800 21.8, P1000
18.3, P1500 12.6; P80 201, P180 82, P400 35."""


def task(name: str, *after: str, grades: str = "", grade: str = "") -> Task:
    """Return a task such as "sand.1", with its range "P800 P1500"; the coarsest is as planned."""
    do = name.split(".")[0]
    low, high = [*grades.split(), ""][:2] if grades else ("", "")
    stated: dict[str, Any] = {
        "id": name, "stage": "paint", "place": "p/E1", "do": do, "after": after,
        "tool": {"sand": "da-soft", "scuff": "hand-pad"}.get(do),
        "grade": (grade or low) or None, "range": (low, high) if low else None,
    }  # fmt: skip
    return Task(**stated)


def entry(number: int, do: str, grade: str = "", **more: Any) -> Entry:
    """Return an entry of a log; it knew all before it."""
    tool = {"sand": "da-soft", "scuff": "hand-pad"}.get(do) if grade else None
    check = Check.model_validate(
        {
            "at": START + dt.timedelta(minutes=number), "by": "KM", "panel": "p", "feature": "E1",
            "step": STEPS[do], "tool": tool, "grade": grade or None,
        }
    )  # fmt: skip
    upto = more.pop("upto", number - 1)
    return Entry(number, check, check.at, f"n{number}", "km", Id("", None), upto, **more)


def ground_of(ratio: float = RATIO) -> Any:
    """Return what a place is judged by: grades and order alone, as no flake comes over it."""
    return SimpleNamespace(grain=None, ratio=ratio, spots=(), floor=None)


def replayed(
    chain: Sequence[Task], log: Sequence[Entry], accepted: Sequence[int] = (), ratio: float = RATIO
) -> Replay:
    """Replay a log."""
    replay = Replay(chain, ground_of(ratio), accepted)
    replay.enter(log)
    return replay


def log_of(words: str) -> list[Entry]:
    """Return a log written as "sand P800, powder, scuff P500"."""
    return [entry(number, *each.split()) for number, each in enumerate(words.split(", "), 1)]


def states(replay: Replay) -> dict[str, str]:
    """Return for each task the kind of what holds it, or the number of the entry that did it."""
    told = {}
    for each in replay.chain:
        fact = replay.fact(each)
        told[each.id] = str(replay.done[each.id].number) if fact is None else fact.kind
    return told


FACE: Final = (task("sand.1", grades="P800 P1500"),)


@pytest.mark.parametrize(
    ("log", "state"),
    [
        ("sand P800", "1"),
        ("sand P1500", "1"),
        ("sand P600", "cut-too-coarse"),
        ("sand P2000", "cut-too-fine"),
        ("sand", "not-recorded"),
        # a coarse cut stays till passes near enough took it out
        ("sand P500, sand P1500", "still-coarse"),
        ("sand P500, sand P1000", "2"),
        ("sand P500, sand P800, sand P1500", "3"),
        ("sand P500, sand P1500, sand P1000", "3"),
        ("sand P500, sand P2000, sand P1500", "still-coarse"),
        ("sand P320, sand P800", "still-coarse"),
        ("sand P320, sand P500, sand P800", "3"),
        ("sand P320, sand P600, sand P800", "still-coarse"),
        ("sand P500, sand P320, sand P800", "still-coarse"),
        ("sand P320, sand P320, sand P500, sand P800", "4"),
        # one coarse by hand in a place that has no hand work is owed to the last cut
        ("sand P800, scuff P800", "not-asked"),
        ("sand P800, scuff P800, sand P800", "3"),
        # powder over finished work is sanded out once more
        ("sand P800, powder", "not-done"),
        ("sand P800, powder, sand P1000", "3"),
    ],
)
def test_passes_at_a_face_worked_out_by_hand(log: str, state: str) -> None:
    """One pass P800 to P1500 with the soft pad; each next grain at least 0.6 of the last."""
    assert states(replayed(FACE, log_of(log))) == {"sand.1": state}


EDGE: Final = (
    task("scuff.1", grades="P800 P2000"),
    task("powder.1", "scuff.1"),
    task("sand.1", "powder.1", grades="P1000 P1500"),
)


@pytest.mark.parametrize(
    ("log", "scuff", "powder", "sand"),
    [
        ("scuff P800", "1", "not-done", "not-done"),
        ("scuff P800, powder, sand P1000", "1", "2", "3"),
        ("powder", "not-done", "too-early", "not-done"),
        ("sand P1000", "not-done", "not-done", "too-early"),
        ("scuff P800, sand P1000", "1", "not-done", "too-early"),
        ("scuff P800, sand P1000, powder", "1", "3", "not-done"),
        # what is done again undoes all that follows, and nothing before
        ("scuff P800, powder, sand P1000, scuff P1000", "4", "not-done", "not-done"),
        ("scuff P800, powder, sand P1000, sand P1500", "1", "2", "4"),
        ("scuff P800, powder, sand P1000, powder", "1", "2", "not-done"),
        ("scuff P800, powder, sand P1000, powder, sand P1000", "1", "2", "5"),
        # what is refused undoes what follows as well
        ("scuff P800, powder, sand P1000, scuff P400", "cut-too-coarse", "not-done", "not-done"),
        ("scuff P800, powder, sand P1000, sand P600", "1", "2", "cut-too-coarse"),
        ("scuff P800, powder, sand P1000, sand P600, sand P1000", "1", "2", "5"),
        ("scuff P400, scuff P800, powder, sand P1000", "2", "3", "4"),
        ("scuff P800, scuff P400, powder", "cut-too-coarse", "too-early", "not-done"),
        ("scuff P320, scuff P1000, powder, sand P1000", "still-coarse", "too-early", "still-coarse"),
    ],
)
def test_passes_at_an_edge_worked_out_by_hand(log: str, scuff: str, powder: str, sand: str) -> None:
    """Scuffed by hand, powdered, sanded: each after the one before."""
    found = states(replayed(EDGE, log_of(log)))
    assert found == {"scuff.1": scuff, "powder.1": powder, "sand.1": sand}


def test_who_did_not_know_of_what_came_before_is_told() -> None:
    """A pass by someone who did not know of the powder under it counts for nothing."""
    log = [entry(1, "scuff", "P800"), entry(2, "powder"), entry(3, "sand", "P1000", upto=1)]
    replay = replayed(EDGE, log)
    assert states(replay) == {"scuff.1": "1", "powder.1": "2", "sand.1": "unordered"}
    replay.enter([entry(4, "sand", "P1000")])
    assert states(replay)["sand.1"] == "4"


def test_what_is_dated_ahead_counts_for_nothing_and_undoes() -> None:
    """It speaks for the first task of its kind that is open, else for the last."""
    ahead = entry(1, "scuff", "P800", ahead=True)
    assert states(replayed(EDGE, [ahead])) == {
        "scuff.1": "dated-ahead", "powder.1": "not-done", "sand.1": "not-done",
    }  # fmt: skip
    log = [*log_of("scuff P800, powder, sand P1000"), entry(4, "scuff", "P800", ahead=True)]
    assert states(replayed(EDGE, log)) == {
        "scuff.1": "dated-ahead", "powder.1": "not-done", "sand.1": "not-done",
    }  # fmt: skip
    two = (task("sand.1", grades="P320 P320"), task("sand.2", "sand.1", grades="P500 P500"))
    log = [entry(1, "sand", "P320"), entry(2, "sand", "P500", ahead=True)]
    assert states(replayed(two, log)) == {"sand.1": "1", "sand.2": "dated-ahead"}


def test_what_the_lead_accepted_counts_as_it_is() -> None:
    """Too coarse or too fine, and nothing else of the log."""
    assert states(replayed(FACE, log_of("sand P500"), accepted=[1])) == {"sand.1": "1"}
    assert states(replayed(FACE, log_of("sand P500, sand P500"), accepted=[1])) == {
        "sand.1": "cut-too-coarse"
    }


CLIMB: Final = (
    task("sand.1", grades="P80 P80"),
    task("sand.2", "sand.1", grades="P150 P180", grade="P180"),
    task("sand.3", "sand.2", grades="P240 P320", grade="P320"),
)


@pytest.mark.parametrize(
    ("log", "state"),
    [
        ("sand P80, sand P180, sand P320", ("1", "2", "3")),
        ("sand P180", ("not-done", "too-early", "not-done")),
        ("sand P80, sand P320", ("1", "not-done", "too-early")),
        # a pass between two of the plan's undoes what is finer than it
        ("sand P80, sand P180, sand P320, sand P220", ("1", "2", "not-done")),
        ("sand P80, sand P180, sand P220, sand P320", ("1", "2", "4")),
        ("sand P80, sand P120, sand P180", ("1", "3", "not-done")),
        ("sand P80, sand P180, sand P120", ("1", "not-done", "not-done")),
        # coarser than all is for the first of them, finer than all for the last
        ("sand P80, sand P180, sand P60", ("cut-too-coarse", "not-done", "not-done")),
        ("sand P80, sand P180, sand P400", ("1", "2", "cut-too-fine")),
    ],
)
def test_passes_of_a_climb_worked_out_by_hand(log: str, state: tuple[str, ...]) -> None:
    """Filler cut P80, P180, P320."""
    assert tuple(states(replayed(CLIMB, log_of(log))).values()) == state


SPLIT: Final = (
    task("sand.1", grades="P800 P1500", grade="P800"),
    task("sand.2", grades="P800 P1500", grade="P1000"),
)


@pytest.mark.parametrize(
    ("log", "state"),
    [
        ("sand P800", ("1", "not-done")),
        ("sand P1000", ("not-done", "1")),
        ("sand P1000, sand P1000", ("2", "1")),
        ("sand P1200, sand P1200", ("1", "2")),
        ("sand P1200, sand P1200, sand P800", ("3", "2")),
        ("sand P1200, sand P1200, sand P1200", ("1", "3")),
        ("sand P800, sand P1000, sand P500", ("cut-too-coarse", "not-done")),
        ("sand P800, sand", ("1", "not-recorded")),
        ("sand P1000, sand", ("not-recorded", "1")),
        ("sand P800, sand P1000, sand", ("1", "not-recorded")),
    ],
)
def test_a_split_place_has_the_grade_as_planned_first(log: str, state: tuple[str, str]) -> None:
    """Then what is open, then what is done again."""
    assert tuple(states(replayed(SPLIT, log_of(log))).values()) == state


def test_the_first_time_stays_and_what_undid_is_named() -> None:
    """Whether it was undone since or not."""
    replay = replayed(EDGE, log_of("scuff P800, powder, sand P1000, scuff P1000"))
    assert {name: each.number for name, each in replay.first.items()} == {
        "scuff.1": 1, "powder.1": 2, "sand.1": 3,
    }  # fmt: skip
    assert {name: each.number for name, each in replay.undone.items()} == {"powder.1": 4, "sand.1": 4}
    assert [replay.is_last_touch(each) for each in EDGE] == [False, False, True]
    assert [(each and each.number) for each in map(replay.entry, EDGE)] == [4, None, None]


@pytest.mark.parametrize(
    ("chain", "log", "found"),
    [
        (FACE, "sand P500, sand P800, sand P2000", {1: "cut-too-coarse", 3: "cut-too-fine"}),
        (EDGE, "scuff P400, powder, sand P1000, sand P600", {1: "cut-too-coarse", 4: "cut-too-coarse"}),
        (
            CLIMB,
            "sand P60, sand P120, sand P220, sand P400, sand P180",
            {1: "cut-too-coarse", 4: "cut-too-fine"},
        ),
        (FACE, "scuff P80", {}),
        (FACE, "sand", {1: "not-recorded"}),
        # in the limits of one of them is in the limits
        ((task("sand.1", grades="P800 P1500"), task("sand.2", grades="P1000 P1500")), "sand P800", {}),
        # of a tool that is wrong for one pass and a cut too coarse for the other, the cut counts
        (
            (
                task("sand.1", grades="P800 P1500")._replace(tool="block"),
                task("sand.2", grades="P1000 P1500"),
            ),
            "sand P500",
            {1: "cut-too-coarse"},
        ),
    ],
)
def test_a_cut_is_out_of_limits_by_itself(chain: Sequence[Task], log: str, found: dict[int, str]) -> None:
    """Whatever came before it; one between two passes of the plan is not."""
    facts = out_of_limits(log_of(log), chain, ground_of())
    assert {number: fact.kind for number, fact in facts.items()} == found


JOINED: Final = (
    task("scuff.1", grades="P500 P500"),
    task("scuff.2", grades="P800 P800"),
    task("powder.1", "scuff.1", "scuff.2"),
    task("powder.2", "scuff.2"),
    task("sand.1", "scuff.1", "scuff.2", grades="P1000 P1500"),
    task("sand.2", "scuff.2", grades="P1000 P1500", grade="P1200"),
)


@pytest.mark.parametrize(
    ("log", "task_id", "state"),
    [
        # whose turn it is goes first
        ("scuff P800, powder", "powder.2", "2"),
        ("scuff P800, sand P1000", "sand.2", "2"),
        ("scuff P800, scuff P500, powder", "powder.1", "3"),
        ("scuff P800, scuff P500, sand P1000", "sand.1", "3"),
        ("scuff P500, sand P1000", "sand.1", "too-early"),
        # where it is the turn of none, the one of the grade as planned
        ("sand P1200", "sand.2", "too-early"),
        ("sand P1200", "sand.1", "not-done"),
        ("sand P1500", "sand.1", "too-early"),
    ],
)
def test_work_is_for_the_task_whose_turn_it_is(log: str, task_id: str, state: str) -> None:
    """Two lines of work side by side, one of which needs both hands' work."""
    assert states(replayed(JOINED, log_of(log)))[task_id] == state


def test_one_dated_ahead_speaks_for_one_task() -> None:
    """The first that is open, else the last."""
    ahead = entry(9, "sand", "P180", ahead=True)
    assert tuple(states(replayed(CLIMB, [ahead])).values()) == ("dated-ahead", "not-done", "not-done")
    log = [*log_of("sand P80, sand P180, sand P320"), ahead]
    assert tuple(states(replayed(CLIMB, log)).values()) == ("1", "2", "dated-ahead")


def test_what_came_too_early_is_told_with_what_it_lacks() -> None:
    """The first of it, with the entry that came too early."""
    early = replayed(EDGE, log_of("scuff P800, sand P1000"))
    fact = early.fact(EDGE[2])
    assert isinstance(fact, TooEarly)
    assert (fact.said.number, fact.do, fact.place) == (2, "powder", "p/E1")
    wrong = early.entry(EDGE[2])
    assert wrong is not None
    assert wrong.number == 2


def test_what_undid_a_task_is_forgotten_once_it_was_done_again() -> None:
    """Redone, refused, and undone as refused: nothing that was done was undone then."""
    log = "scuff P800, powder, sand P1000, scuff P800, powder, sand P1000, sand P600, scuff P800"
    replay = replayed(EDGE, log_of(log))
    assert {name: each.number for name, each in replay.undone.items()} == {"powder.1": 8}


@pytest.mark.parametrize("first", ["P240", "P280", "P320", "P360", "P400"])
def test_a_step_of_just_the_share_that_is_allowed_is_no_jump(first: str) -> None:
    """Between two coarse cuts, and on to the plan's own."""
    up = {"P240": "P320", "P280": "P400", "P320": "P500", "P360": "P500", "P400": "P600"}[first]
    share = GRAIN[up] / GRAIN[first]
    chain = (task("sand.1", grades="P800 P800"),)
    log = f"sand {first}, sand {up}, sand P800"
    reached = GRAIN["P800"] >= share * GRAIN[up]
    assert states(replayed(chain, log_of(log), ratio=share)) == {"sand.1": "3" if reached else "still-coarse"}
    own = (task("sand.1", grades=f"{up} {up}"),)
    assert states(replayed(own, log_of(f"sand {first}, sand {up}"), ratio=share)) == {"sand.1": "2"}
    assert states(replayed(own, log_of(f"sand {first}, sand {up}"), ratio=share + 1e-6)) == {
        "sand.1": "still-coarse"
    }
