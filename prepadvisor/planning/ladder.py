"""Grit steps from the surface now to the finish: least minutes within a film budget, by the shop's own rates.

Each step takes out the scratches of the one before it, so it costs the time to cut their depth and that
depth in film. A step may only be so much finer than the last as the standards allow. Going through the
shelf from coarse to fine this is a shortest path with a budget; labels that are beaten in both minutes and
film are dropped, which is exact.
"""

from collections.abc import Mapping, Sequence
from typing import cast

import numpy as np

from prepadvisor.records import DS50_UM, RANK, Constants, Grade, LadderStep, NamedTuple, Shop, Tool, finest
from prepadvisor.surface import depth_um, rate_um_dm2_per_minute, step_minutes

# How fast a shop works and how deep its tools scratch, looked up by tool and grade.


class WorkRates(NamedTuple):
    """Groove depths and speeds.

    `depth_um` maps (tool, grade) to groove depth in µm, `rate_um` a grade to what a DA cuts in µm per
    minute over 1 dm² of clear, `cut_faster` a surface to how many times faster it is cut than clear; a pass
    covers `pass_m2` per minute; a disc change and a guide coat take minutes.
    """

    depth_um: Mapping[tuple[str, str], float]
    rate_um: Mapping[str, float]
    pass_m2: float
    disc_minutes: float
    guide_coat_minutes: float
    cut_faster: Mapping[str, float] = {}


def rates_of(constants: Constants, shop: Shop) -> WorkRates:
    """Work out a shop's rates.

    Args:
        constants: groove depth by tool, and the removal law.
        shop: pass rate, disc change and guide coat.
    """
    grains = np.array(list(DS50_UM.values()))
    removal = constants.removal
    cut = rate_um_dm2_per_minute(
        grains,
        removal.rate_um_dm2_per_minute.value,
        removal.reference_ds50_um.value,
        removal.exponent.value,
        removal.flat_above_ds50_um.value,
    )
    depths: dict[tuple[str, str], float] = {
        (tool, grade): depth
        for tool, k in constants.groove.depth_per_grain.items()
        for grade, depth in zip(DS50_UM, np.atleast_1d(depth_um(grains, k.value)).tolist(), strict=True)
    }
    return WorkRates(
        depth_um=depths,
        rate_um=dict(zip(DS50_UM, np.atleast_1d(cut).tolist(), strict=True)),
        pass_m2=shop.pass_m2_per_minute,
        disc_minutes=shop.disc_minutes,
        guide_coat_minutes=shop.guide_coat_minutes,
        cut_faster=dict(shop.cut_faster.items()),
    )


def sanding_minutes(
    area_m2: float, below_um: float, grade: Grade, surface: str, rates: WorkRates, *, new_disc: bool
) -> float:
    """Return the minutes of one sanding by DA or block.

    Args:
        area_m2: the area; of a line its length times the strip that is worked along it.
        below_um: depth of the grooves that are cut out, in µm; 0 on gloss.
        grade: what it is sanded with.
        surface: what is sanded: primer and filler are cut faster than clear.
        rates: the shop's speeds.
        new_disc: whether a disc is changed for it.
    """
    rate = rates.rate_um[grade] * rates.cut_faster.get(surface, 1.0)
    disc = rates.disc_minutes if new_disc else 0.0
    return float(step_minutes(area_m2, below_um, rate, rates.pass_m2, disc))


# How long each kind of work takes, by the shop's own rates.
#
# Sanding is timed by what has to come off and by passes, hand work by the metre, the
# rest by the piece.


def hand_work(length_mm: float, kind: str, shop: Shop) -> float:
    """Return the minutes of scuffing one line by hand once.

    Args:
        length_mm: its length in mm.
        kind: what kind of line it is: a recess takes longer than an edge.
        shop: minutes per metre by kind, and the least for one place.
    """
    rates = cast("Mapping[str, float]", shop.hand_minutes_per_metre)
    per_metre = rates[kind] if kind in rates else max(rates.values())
    return max(shop.hand_minutes_least, length_mm / 1000 * per_metre)


def cleaning(area_m2: float, shop: Shop) -> float:
    """Return the minutes of washing and degreasing a panel of an area in m²."""
    return shop.clean_minutes + shop.clean_minutes_per_m2 * area_m2


# How coarse a line may be scuffed by hand ahead of the final DA pass.
#
# The tightest of what the standards say and the coarsest grade whose groove the chosen pass cuts out in the
# time a line gets and within the film that may come off it.


def clears(
    tool: str, grade: Grade, chosen: Grade, rates: WorkRates, minutes_max: float, film_max_um: float | None
) -> bool:
    """Say whether one pass of the chosen grade takes a hand groove out.

    Args:
        tool: the hand tool.
        grade: its grade.
        chosen: the grade of the final DA pass.
        rates: groove depths and removal rates.
        minutes_max: minutes per dm² that a line gets.
        film_max_um: film in µm that may come off, None where film does not count.
    """
    depth_um = rates.depth_um[tool, grade]
    if film_max_um is not None and depth_um > film_max_um + 1e-9:
        return False
    return depth_um / rates.rate_um[chosen] <= minutes_max + 1e-9


def hand_limit(
    by_rule: Grade | None,
    chosen: Grade,
    tool: str,
    shelf: tuple[Grade, ...],
    rates: WorkRates,
    minutes_max: float,
    film_max_um: float | None,
) -> Grade | None:
    """Return the coarsest hand grade on the shelf ahead of the chosen pass, None if none will do.

    Args:
        by_rule: the standards' limit, if there is one.
        chosen: the grade of the final DA pass.
        tool: the hand tool of the shop.
        shelf: the grades there are, coarse to fine.
        rates: groove depths and removal rates.
        minutes_max: minutes per dm² that a line gets.
        film_max_um: film in µm that may come off.
    """
    cleared = next(
        (
            grade
            for grade in shelf
            if clears(tool, grade, chosen, rates=rates, minutes_max=minutes_max, film_max_um=film_max_um)
        ),
        None,
    )
    if cleared is None:
        return None
    if by_rule is None:
        return cleared
    limit = finest(cleared, by_rule)
    return next((grade for grade in shelf if RANK[grade] >= RANK[limit]), None)


TIE = 1.02
"""Ways within 2 % of the least minutes count as equal; the one that cuts less film is taken."""


class Climb(NamedTuple):
    """What is to be climbed: from a surface as it is now, over an area, to a finish.

    `now` is (tool, grade), None for unsanded; `opening` is (tool, grade) that an unsanded surface is first
    cut with, if it is. `film_max_um` None where film does not count. `guide_coat` as in the standards;
    where it goes on at every change it does so before the opening too, never on gloss. `scuffed_um` is how
    deep a scuff goes that is laid on ahead of the last step, 0 for none: that step cuts it out too.
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
    scuffed_um: float = 0.0


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
    if start is None:
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
            ways = [_taken(known, step) for known in labels[here]]
            labels[ahead] = _unbeaten([*labels[ahead], *(way for way in ways if _within(way, climb))])
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
    below_um = max(rates.depth_um[state] if state else 0.0, climb.scuffed_um if final else 0.0)
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


def _unbeaten(ways: list[_Label]) -> list[_Label]:
    """Return the ways that no other one beats in both minutes and film, the fastest first."""
    kept: list[_Label] = []
    for way in sorted(ways):
        if not kept or way.film_um < kept[-1].film_um:
            kept.append(way)
    return kept


def _best(labels: list[_Label]) -> tuple[LadderStep, ...] | None:
    if not labels:
        return None
    least = min(label.minutes for label in labels)
    near = [label for label in labels if label.minutes <= least * TIE]
    return min(near, key=lambda label: (label.film_um, label.minutes)).steps
