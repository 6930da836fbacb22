"""The grit steps from what is on the surface now to the finish: least minutes within a film budget.

Each step takes out the scratches of the one before it, so it costs the time to cut their depth and that
depth in film. A step may only be so much finer than the last as the standards allow. Going through the
shelf from coarse to fine this is a shortest path with a budget; labels that are beaten in both minutes and
film are dropped, which is exact.
"""

from collections.abc import Sequence

from prepadvisor.named import NamedTuple
from prepadvisor.planning.rates import WorkRates, sanding_minutes
from prepadvisor.records.advice import LadderStep
from prepadvisor.records.words import Tool
from prepadvisor.surface.grades import DS50_UM, RANK, Grade

TIE = 1.02
"""Ways within 2 % of the least minutes count as equal; the one that cuts less film is taken."""


class Climb(NamedTuple):
    """What is to be climbed: from a surface as it is now, over an area, to a finish.

    `now` is (tool, grade), None for unsanded; `opening` is (tool, grade) that an unsanded surface is first
    cut with, if it is. `film_max_um` None where film does not count. `guide_coat` as in the standards;
    where it goes on at every change it does so before the opening too, never on gloss.
    """

    now: tuple[Tool, Grade] | None
    opening: tuple[Tool, Grade] | None
    finish: Grade
    finish_tool: Tool
    between_tool: Tool
    area_m2: float
    step_ratio_min: float
    film_max_um: float | None
    guide_coat: str
    surface: str = "aged-clear"


class _Label(NamedTuple):
    minutes: float
    film_um: float
    steps: tuple[LadderStep, ...]


def ladder(climb: Climb, shelf: Sequence[Grade], rates: WorkRates) -> tuple[LadderStep, ...] | None:
    """Return the steps to do, the start not among them, or None where the shelf or the film has no way.

    Args:
        climb: start, finish, area and limits.
        shelf: the grades there are.
        rates: the shop's speeds and its tools' depths.
    """
    start = climb.now
    label = _Label(0.0, 0.0, ())
    if start is None and climb.opening and RANK[climb.opening[1]] < RANK[climb.finish]:
        tool, grade = climb.opening
        label = _taken(label, _step(climb, rates, None, (tool, grade), final=False, opens=True))
        start = climb.opening
    final = (climb.finish_tool, climb.finish)
    if start is None or RANK[start[1]] >= RANK[climb.finish]:
        only = _taken(label, _step(climb, rates, start, final, final=True))
        return only.steps if _within(only, climb) else None
    return _climbed(climb, shelf, rates, start, label)


def _climbed(
    climb: Climb, shelf: Sequence[Grade], rates: WorkRates, start: tuple[Tool, Grade], label: _Label
) -> tuple[LadderStep, ...] | None:
    low, high = RANK[start[1]], RANK[climb.finish]
    between = sorted({grade for grade in shelf if low < RANK[grade] < high}, key=RANK.__getitem__)
    states = [start, *((climb.between_tool, grade) for grade in between), (climb.finish_tool, climb.finish)]
    labels: list[list[_Label]] = [[] for _ in states]
    labels[0] = [label]
    for here, state in enumerate(states):
        for ahead in range(here + 1, len(states)):
            if DS50_UM[states[ahead][1]] < climb.step_ratio_min * DS50_UM[state[1]] - 1e-9:
                break
            step = _step(climb, rates, state, states[ahead], final=ahead == len(states) - 1)
            for known in labels[here]:
                _keep(labels[ahead], _taken(known, step), climb)
    return _best(labels[-1])


def _step(
    climb: Climb,
    rates: WorkRates,
    state: tuple[Tool, Grade] | None,
    to: tuple[Tool, Grade],
    *,
    final: bool,
    opens: bool = False,
) -> LadderStep:
    tool, grade = to
    below_um = rates.depth_um[state] if state else 0.0
    coarser_below = opens or (state is not None and RANK[state[1]] < RANK[grade])
    asked = climb.guide_coat == "every-change" or (climb.guide_coat == "before-final" and final)
    coated = asked and coarser_below
    work = sanding_minutes(climb.area_m2, below_um, grade, climb.surface, rates, new_disc=True)
    return LadderStep(
        grade=Grade(grade),
        tool=tool,
        guide_coat=coated,
        minutes=work + (rates.guide_coat_minutes if coated else 0.0),
        film_off_um=below_um if state else rates.depth_um[to],
    )


def _taken(label: _Label, step: LadderStep) -> _Label:
    return _Label(label.minutes + step.minutes, label.film_um + step.film_off_um, (*label.steps, step))


def _within(label: _Label, climb: Climb) -> bool:
    return climb.film_max_um is None or label.film_um <= climb.film_max_um + 1e-9


def _keep(known: list[_Label], new: _Label, climb: Climb) -> None:
    if not _within(new, climb):
        return
    if any(old.minutes <= new.minutes and old.film_um <= new.film_um for old in known):
        return
    known[:] = [old for old in known if not (new.minutes <= old.minutes and new.film_um <= old.film_um)]
    known.append(new)


def _best(labels: list[_Label]) -> tuple[LadderStep, ...] | None:
    if not labels:
        return None
    least = min(label.minutes for label in labels)
    near = [label for label in labels if label.minutes <= least * TIE]
    return min(near, key=lambda label: (label.film_um, label.minutes)).steps
