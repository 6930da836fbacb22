"""Film at a place as a ledger, by plain sums: 0.039 of the mean grain by soft pad, 0.07 by hand pad.

Mean grains in µm (FEPA 43): P320 46.2, P500 30.2, P800 21.8, P1000 18.3, P1500 12.6.
"""

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, Final, Literal

import pytest

from prepadvisor.planning.work.film import (
    Ledger,
    Overrun,
    budget,
    cut_um,
    once_planned,
    once_worked,
    overrun,
    planned,
    spend,
)
from prepadvisor.records import Advice, Ask, Do, Grade, Reason, Task, Tool
from prepadvisor.standards import House

SOFT: Final = 0.039
PAD: Final = 0.07
GRAIN: Final = {"P320": 46.2, "P500": 30.2, "P800": 21.8, "P1000": 18.3, "P1500": 12.6}
Cut = tuple[Do, Tool | None, str | None]


@pytest.fixture
def door(advise_on: Callable[..., Advice]) -> Advice:
    """Return the advice of a plain door."""
    return advise_on()


def task(name: str, *after: str, grades: str = "", film: float | None = None) -> Task:
    """Return a task such as "sand.1" with its range, the coarsest of which is the plan's."""
    low, _, high = grades.partition(" ")
    tool: dict[str, Tool] = {"sand": "da-soft", "scuff": "hand-pad"}
    do = name.split(".")[0]
    stated: dict[str, Any] = {
        "id": name, "stage": "paint", "place": "p/E1", "do": do, "tool": tool.get(do), "after": after,
        "grade": low or None, "range": (low, high) if low else None, "film_off_um": film,
    }  # fmt: skip
    return Task(**stated)


EDGE: Final = (
    task("scuff.1", grades="P800 P2000", film=0.0),
    task("powder.1", "scuff.1"),
    task("sand.1", "powder.1", grades="P1000 P1500", film=1.5),
)


def spent(house: House, cuts: list[Cut], most: float | None = 5.0) -> Ledger:
    """Return the ledger of the edge after cuts."""
    film = planned(EDGE, most)
    for do, tool, grade in cuts:
        film = spend(film, (do, tool, Grade(grade) if grade else None), EDGE, house.constants)
    return film


SCUFF: Final[Cut] = ("scuff", "hand-pad", "P800")
SAND: Final[Cut] = ("sand", "da-soft", "P1000")


@pytest.mark.parametrize(
    ("cuts", "passes", "off", "below"),
    [
        ([], 0, 1.5, None),
        ([SCUFF], 0, 1.5, PAD * 21.8),
        ([SCUFF, SAND], 0, 1.5, SOFT * 18.3),
        ([SCUFF, SAND, SAND], 1, 1.5 + SOFT * 18.3, SOFT * 18.3),
        ([SCUFF, SCUFF, SAND], 1, 1.5 + PAD * 21.8, SOFT * 18.3),
        ([SCUFF, ("scuff", "hand-pad", "P320"), SAND], 1, 1.5 + PAD * 21.8, SOFT * 18.3),
        ([SCUFF, SAND, ("sand", "da-soft", "P500"), SAND], 2, 1.5 + SOFT * (18.3 + 30.2), SOFT * 18.3),
        # a cut outside the plan's range that comes first finds nothing that is counted
        ([("scuff", "hand-pad", "P320")], 0, 1.5, PAD * 46.2),
        ([("scuff", "hand-pad", "P320"), SCUFF, SAND], 0, 1.5, SOFT * 18.3),
        # without tool or grade nothing is known of its depth
        ([SCUFF, SAND, ("sand", None, "P1000"), SAND], 2, 1.5 + SOFT * 18.3, SOFT * 18.3),
        ([SCUFF, SAND, ("sand", "da-soft", None), SAND], 2, 1.5 + SOFT * 18.3, SOFT * 18.3),
    ],
)
def test_each_pass_beyond_the_plan_takes_off_the_scratches_it_finds(
    shipped_house: House, cuts: list[Cut], passes: int, off: float, below: float | None
) -> None:
    """The first pass of each task is the plan's own."""
    film = spent(shipped_house, cuts)
    assert film.passes == passes
    assert film.off_um == pytest.approx(off)
    assert film.below_um == (below if below is None else pytest.approx(below))


@pytest.mark.parametrize(
    ("chain", "off"),
    [
        (EDGE, 1.5),
        ((), 0.0),
        ((task("sand.1", film=0.7), task("sand.2", "sand.1", film=0.4)), 1.1),
        # a split place: one pass for all of it, then one of two side by side
        ((task("sand.1", film=0.7), task("sand.2", "sand.1", film=0.4),
          task("sand.3", "sand.1", film=0.9)), 1.6),
        ((task("sand.1", film=0.4), task("sand.2", film=0.9)), 0.9),
        # what it must follow at other places takes nothing off here
        ((task("sand.1", "q/E1.sand.1", film=0.4),), 0.4),
    ],
)  # fmt: skip
def test_a_point_loses_one_part_of_a_split_pass(chain: tuple[Task, ...], off: float) -> None:
    """Parts lie side by side."""
    assert cut_um(chain) == pytest.approx(off)
    assert planned(chain, 5.0).off_um == pytest.approx(off)


def test_film_that_the_plan_does_not_count_is_never_over(shipped_house: House) -> None:
    """On plastic and filler; where it is counted, what is exactly allowed is no more than that."""
    bare = tuple(each._replace(film_off_um=None) for each in EDGE)
    assert planned(bare, 5.0).off_max_um is None
    assert planned(EDGE, None).off_max_um is None
    assert [Ledger(off, 5.0).is_over for off in (4.9, 5.0, 5.001)] == [False, False, True]
    assert not Ledger(99.0, None).is_over
    assert overrun(planned(bare, 5.0), [Ask(*SAND)] * 20, EDGE, shipped_house.constants) is None  # type: ignore[arg-type]


def asks(*cuts: Cut) -> list[Ask]:
    """Return cuts as they are asked for."""
    return [Ask(do, tool, Grade(grade) if grade else None) for do, tool, grade in cuts]


@pytest.mark.parametrize(
    ("cuts", "most", "gone"),
    [
        ([SAND], 5.0, None),
        ([SAND], 2.2, (2.2137, "P1000")),
        ([SAND], 2.3, None),
        ([("powder", None, None), SAND], 2.2, (2.2137, "P1000")),
        ([("powder", None, None)], 0.1, None),
        # the pass that goes over is named, and what all of them take
        ([("sand", "da-soft", "P500"), SAND], 2.3, (1.5 + SOFT * (18.3 + 30.2), "P1000")),
        ([("sand", "da-soft", "P500"), SAND], 2.2, (1.5 + SOFT * (18.3 + 30.2), "P500")),
    ],
)
def test_passes_that_take_off_more_than_may_come_off(
    shipped_house: House, cuts: list[Cut], most: float, gone: tuple[float, str] | None
) -> None:
    """1.5 µm planned and done; 0.7137 for each pass over a P1000."""
    film = spent(shipped_house, [SCUFF, SAND], most)
    found = overrun(film, asks(*cuts), EDGE, shipped_house.constants)
    expected = gone and Overrun(pytest.approx(gone[0]), most, Grade(gone[1]))  # type: ignore[arg-type]
    assert found == expected


def test_a_plan_that_is_over_by_itself_stops_no_pass_of_its_own(shipped_house: House) -> None:
    """That is the plan's own hold; the first pass beyond it is stopped."""
    film = planned(EDGE, 1.0)
    assert overrun(film, asks(SCUFF, SAND), EDGE, shipped_house.constants) is None
    assert overrun(film, asks(SCUFF, SAND, SAND), EDGE, shipped_house.constants) is not None


def test_what_a_logged_pass_ran_over_stays_over_with_its_grade(shipped_house: House) -> None:
    """Whatever is asked for then; without a cut nothing is asked for."""
    log: Any = SimpleNamespace(check=SimpleNamespace(grade=Grade("P500")))
    film = spent(shipped_house, [SCUFF, SAND])._replace(over=log)
    found = overrun(film, asks(SAND), EDGE, shipped_house.constants)
    assert found == Overrun(pytest.approx(1.5 + SOFT * 18.3), 5.0, Grade("P500"))  # type: ignore[arg-type]
    assert overrun(film, asks(("powder", None, None)), EDGE, shipped_house.constants) is None


def test_once_all_is_done_as_planned_the_next_pass_finds_the_last_cut(shipped_house: House) -> None:
    """Nothing more came off; what was done already stays as it was done."""
    full = once_planned(planned(EDGE, 5.0), EDGE, shipped_house.constants)
    assert (full.off_um, full.passes, sorted(full.used)) == (1.5, 0, ["sand.1", "scuff.1"])
    assert full.below_um == pytest.approx(SOFT * 18.3)
    finer = spent(shipped_house, [SCUFF, ("sand", "da-soft", "P1500")])
    assert once_planned(finer, EDGE, shipped_house.constants) == finer
    half = once_planned(spent(shipped_house, [SCUFF, SCUFF]), EDGE, shipped_house.constants)
    assert half.passes == 1
    assert half.below_um == pytest.approx(SOFT * 18.3)


def _reason(output: Literal["film_off_max_um", "film_left_min_um"], value: float) -> Reason:
    return Reason(
        output=output, value=value, rule="r", layer="base", file="f", line=1, says="s", source="practice"
    )


@pytest.mark.parametrize(
    ("offs", "lefts", "reading", "most"),
    [
        ((10.0, 5.0), (), None, 5.0),
        ((10.0,), (85.0, 60.0), 92.0, 7.0),
        ((4.0,), (85.0,), 92.0, 4.0),
        ((10.0,), (85.0,), None, 10.0),
        ((), (85.0,), 92.0, None),
    ],
)
def test_what_may_come_off_is_the_least_of_its_limits(
    door: Advice,
    offs: tuple[float, ...],
    lefts: tuple[float, ...],
    reading: float | None,
    most: float | None,
) -> None:
    """The rules' least over the spots, and what the reading leaves above the most that must stay."""
    spot, panel = door.spots[0], door.panels[0]
    spots = [spot._replace(because=(_reason("film_off_max_um", value),)) for value in offs]
    spots += [spot._replace(because=(_reason("film_left_min_um", value),)) for value in lefts]
    read = panel._replace(film=panel.film._replace(reading_um=reading))
    assert budget(spots, read) == (most if most is None else pytest.approx(most))


def test_a_place_that_was_worked_as_planned_has_its_own_budget(door: Advice, shipped_house: House) -> None:
    """Of its rules and its panel's reading."""
    spots, panel = [door.spots[0]._replace(because=(_reason("film_off_max_um", 4.0),))], door.panels[0]
    full = once_worked(EDGE, spots, panel, shipped_house.constants)
    assert full == once_planned(planned(EDGE, 4.0), EDGE, shipped_house.constants)
