"""What is wrong with the tool and grade of a logged step: every tool for every tool that is asked."""

import datetime as dt
from itertools import product
from types import SimpleNamespace
from typing import Any, Final, get_args

import pytest

from prepadvisor.cases import flake_numbers
from prepadvisor.checkoff import gate
from prepadvisor.checkoff.bench import JudgedBy, would_show, wrong
from prepadvisor.planning import LineModel
from prepadvisor.records import Check, Grade, Reason, Task, Tool
from prepadvisor.records import gate as g
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, START, Shopfloor
from tests.recompute.house import finer

TOOLS: Final[tuple[Tool, ...]] = get_args(Tool)
BY_HAND: Final = ("hand-paper", "hand-pad", "hand-foam", "block")
ASKED: Final[tuple[Tool, ...]] = ("da-soft", "hand-pad")


def said(tool: str | None, grade: str | None, do: str = "sand") -> g.Said:
    """Return an entry as facts name it."""
    check = Check.model_validate({
        "at": START + dt.timedelta(minutes=1), "by": "KM", "panel": "p", "feature": "E1",
        "step": "scuffed" if do == "scuff" else "sanded", "tool": tool, "grade": grade,
    })  # fmt: skip
    return g.Said(1, check)


def task(do: str, tool: str | None, grades: tuple[str, str] | None = ("P800", "P1500")) -> Task:
    """Return a task."""
    stated: dict[str, Any] = {
        "id": "p/E1.x.1", "stage": "paint", "place": "p/E1", "do": do, "tool": tool,
        "grade": grades and grades[0], "range": grades,
    }  # fmt: skip
    return Task(**stated)


NO_FLAKE: Final[Any] = SimpleNamespace(grain=None, spots=(), floor=None, ratio=0.6)


def fits(do: str, asked: str, used: str) -> bool:
    """Say whether a tool does for another: hand for hand, a soft sander for any, a block for itself alone."""
    if used == asked:
        return True
    if do == "sand" and asked == "block":
        return False
    if do == "scuff" or asked in BY_HAND:
        return used in BY_HAND
    return used in ("da", "da-soft")


@pytest.mark.practice
def test_a_tool_does_for_another_as_at_the_bench() -> None:
    """All seven for all seven, scuffing and sanding; where no tool is asked any does."""
    for do, asked, used in product(("scuff", "sand"), TOOLS, TOOLS):
        entry = said(used, "P1000", do)
        expected = None if fits(do, asked, used) else g.WrongTool(entry, asked)
        assert wrong(entry, task(do, asked), NO_FLAKE, last_touch=True) == expected, (do, asked, used)
    for used in TOOLS:
        assert wrong(said(used, "P1000"), task("sand", None), NO_FLAKE, last_touch=True) is None


@pytest.mark.parametrize("grade", ["P600", "P800", "P1000", "P1500", "P2000"])
@pytest.mark.parametrize("tool", ["da-soft", "hand-pad", None])
def test_what_is_wrong_is_told_in_the_order_in_which_it_counts(tool: str | None, grade: str) -> None:
    """Not recorded, then the tool, then the grade; without a range any grade does."""
    entry, asked = said(tool, grade), task("sand", "da-soft")
    found = wrong(entry, asked, NO_FLAKE, last_touch=False)
    if tool is None:
        assert found == g.NotRecorded(entry, ("tool",))
    elif tool == "hand-pad":
        assert found == g.WrongTool(entry, "da-soft")
    elif finer("P800", grade):
        assert found == g.CutTooCoarse(entry, Grade("P800"))
    else:
        assert found == (g.CutTooFine(entry, Grade("P1500")) if finer(grade, "P1500") else None)
    if tool == "da-soft":
        assert wrong(entry, task("sand", "da-soft", None), NO_FLAKE, last_touch=False) is None


def test_what_was_not_recorded_is_named() -> None:
    """Tool, grade or both."""
    cases: list[tuple[str | None, str | None, tuple[Any, ...]]] = [
        (None, None, ("tool", "grade")), (None, "P800", ("tool",)), ("da", None, ("grade",)),
    ]  # fmt: skip
    for tool, grade, lacks in cases:
        entry = said(tool, grade)
        assert wrong(entry, task("sand", "da"), NO_FLAKE, last_touch=True) == g.NotRecorded(entry, lacks)


@pytest.mark.parametrize("flake", ["very-fine", "solid"])
def test_a_deeper_tool_shows_where_the_line_model_says_so_for_a_spot(
    fresh: Shopfloor, shipped_house: House, flake: str
) -> None:
    """Every place and tool, P800 and P1500; what the advice took as borderline may be so here."""
    fresh.with_job(flake=flake, stages=2)
    constants, shown = shipped_house.constants, 0
    grain = flake_numbers(constants, shipped_house.judged(fresh.job.colour))
    depth = {tool: constants.groove.depth_per_grain[tool].value for tool in TOOLS}
    model, solids = LineModel(constants), shipped_house.shop.wet_bed.set_solids
    for place in fresh.advice.places:
        spots = tuple(spot for spot in fresh.advice.spots if spot.id in place.spots)
        for spots_now in (spots, tuple(each._replace(risk_limit=0.01) for each in spots)):
            ground = JudgedBy(spots_now, grain, shipped_house, 0.6)
            for asked, used, grade in product(ASKED, TOOLS, ("P800", "P1500")):
                entry = said(used, grade)
                expected = None
                for spot in spots_now if depth[used] > depth[asked] else ():
                    if grain is None or spot.line is None or spot.risk_limit is None:
                        continue
                    coats = spot.wet_bed.coats if spot.wet_bed.need == "required" else 0
                    risk = model.estimate(grain, used, Grade(grade), spot.zone, coats, solids).risk
                    limit = max(spot.risk_limit, spot.line.risk)
                    if risk > limit and expected is None:
                        expected = g.ShowsLines(entry, asked, risk, limit, spot.zone)
                assert would_show(entry, task("sand", asked), ground) == expected
                shown += expected is not None
    assert (shown > 50) is (flake != "solid")


def test_a_deeper_tool_is_judged_only_as_the_last_touch(fresh: Shopfloor, shipped_house: House) -> None:
    """What a pass after it cuts out shows nothing; nor does a tool that is not named."""
    grain = flake_numbers(shipped_house.constants, shipped_house.judged(fresh.job.colour))
    spots = tuple(spot for spot in fresh.advice.spots if spot.id.startswith(f"{DOOR}/face/"))
    ground, entry = JudgedBy(spots, grain, shipped_house, 0.6), said("da", "P800")
    kinds = [wrong(entry, task("sand", "da-soft"), ground, last_touch=last) for last in (True, False)]
    assert [each and each.kind for each in kinds] == ["shows-lines", None]
    for one, other in ((said(None, "P800"), "da-soft"), (said("da", None), "da-soft"), (entry, None)):
        assert would_show(one, task("sand", other), ground) is None


@pytest.mark.parametrize(
    ("ratios", "kinds"),
    [((), []), ((0.6, 0.6, 0.6), []), ((0.5, 0.63, 0.5), ["still-coarse"]), ((0.5, 0.5, 0.5), [])],
)
def test_a_step_may_jump_as_far_as_the_strictest_zone_of_its_place_lets_it(
    floor: Shopfloor, ratios: tuple[float, ...], kinds: list[str]
) -> None:
    """P500 is 30.2 µm, P1000 18.3: 0.606 of it. Where no standard says anything 0.6 is near enough."""
    face = f"{DOOR}/face"
    for grade in ("P500", "P1000"):
        floor.put(face, "sanded", tool="da-soft", grade=grade)
    told = Reason(
        output="step_ratio_min",
        value=0.0,
        rule="r",
        layer="base",
        file="f",
        line=1,
        says="s",
        source="practice",
    )
    spots = []
    for number, spot in enumerate(floor.advice.spots):
        because = tuple(each for each in spot.because if each.output != "step_ratio_min")
        if spot.feature == "face" and ratios:
            because = (*because, told._replace(value=ratios[number % 3]))
        spots.append(spot._replace(because=because))
    assert sum(spot.panel == DOOR and spot.feature == "face" for spot in spots) == 3
    holds = gate(floor.job, floor.advice._replace(spots=tuple(spots)), floor.house, floor.now).holds
    found = [hold.fact.kind for hold in holds if hold.place == face and hold.fact.kind != "looked-before"]
    assert found == kinds
