"""Grit steps by listing every way there is over the shelf, as a graph of grades."""

import itertools
from collections.abc import Mapping, Sequence
from typing import Any, Final, NamedTuple

import networkx as nx

from tests.recompute.house import GRAIN, House, finer

TIE: Final = 1.02


class Step(NamedTuple):
    """One grit step."""

    tool: str
    grade: str
    powder: bool
    minutes: float
    film_um: float


class Way(NamedTuple):
    """What is climbed."""

    start: tuple[str, str] | None
    opening: tuple[str, str] | None
    finish: tuple[str, str]
    between: str
    area_m2: float
    ratio: float
    film_max_um: float | None
    guide_coat: str
    surface: str
    scuffed_um: float = 0.0


def depth_um(house: House, tool: str, grade: str) -> float:
    """Return how deep a tool scratches with a grade."""
    return float(house.constants["groove"]["depth_per_grain"][tool]["value"]) * GRAIN[grade]


def rate(house: House, grade: str) -> float:
    """Return what a DA cuts off old clear in µm a minute over 1 dm²."""
    removal = {key: each["value"] for key, each in house.constants["removal"].items()}
    grain = min(GRAIN[grade], removal["flat_above_ds50_um"]) / removal["reference_ds50_um"]
    return float(removal["rate_um_dm2_per_minute"] * grain ** removal["exponent"])


def sanding(house: House, area_m2: float, below_um: float, grade: str, surface: str, disc: bool) -> float:
    """Return minutes: a pass over the area, or longer to cut the grooves below out; a disc change."""
    faster = house.shop.get("cut_faster", {}).get(surface, 1.0)
    cutting = 100 * area_m2 * below_um / (rate(house, grade) * faster)
    disc_minutes = float(house.shop["disc_minutes"]) if disc else 0.0
    return float(max(area_m2 / house.shop["pass_m2_per_minute"], cutting)) + disc_minutes


def steps(house: House, way: Way, shelf: Sequence[str]) -> list[Step] | None:
    """Return the steps of least minutes within the film, ties within 2 % to the least film.

    None for no way.
    """
    start, head = way.start, []
    if start is None and way.opening and finer(way.finish[1], way.opening[1]):
        head, start = [_step(house, way, None, way.opening, opens=True)], way.opening
    if start is None or not finer(way.finish[1], start[1]):
        only = [*head, _step(house, way, start, way.finish)]
        return only if _fits(only, way) else None
    ways = [[*head, *found] for found in _ways(house, way, start, shelf)]
    fitting = [each for each in ways if _fits(each, way)]
    if not fitting:
        return None
    least = min(sum(step.minutes for step in each) for each in fitting)
    near = [each for each in fitting if sum(step.minutes for step in each) <= TIE * least + 1e-12]
    return min(near, key=lambda each: (sum(s.film_um for s in each), sum(s.minutes for s in each)))


def _ways(house: House, way: Way, start: tuple[str, str], shelf: Sequence[str]) -> list[list[Step]]:
    graph: Any = nx.DiGraph()
    between = [
        (way.between, grade) for grade in shelf if finer(grade, start[1]) and finer(way.finish[1], grade)
    ]
    nodes = [("now", *start), *(("on", *state) for state in between), ("end", *way.finish)]
    graph.add_nodes_from(nodes)
    for one in nodes:
        for other in nodes:
            if finer(other[2], one[2]) and GRAIN[other[2]] >= way.ratio * GRAIN[one[2]] - 1e-9:
                graph.add_edge(one, other)
    found = []
    for path in nx.all_simple_paths(graph, nodes[0], nodes[-1]):
        pairs = itertools.pairwise(path)
        found.append([_step(house, way, one[1:], other[1:], final=other[0] == "end") for one, other in pairs])
    return found


def _step(
    house: House,
    way: Way,
    state: tuple[str, str] | None,
    to: tuple[str, str],
    *,
    opens: bool = False,
    final: bool = True,
) -> Step:
    below = depth_um(house, *state) if state else 0.0
    if final and not opens:
        below = max(below, way.scuffed_um)
    coarser = opens or (state is not None and finer(to[1], state[1]))
    last = final and not opens
    powder = coarser and (way.guide_coat == "every-change" or (way.guide_coat == "before-final" and last))
    minutes = sanding(house, way.area_m2, below, to[1], way.surface, disc=True)
    minutes += house.shop["guide_coat_minutes"] if powder else 0.0
    return Step(to[0], to[1], powder, minutes, below if state else depth_um(house, *to))


def _fits(way: Sequence[Step], limits: Way) -> bool:
    return limits.film_max_um is None or sum(step.film_um for step in way) <= limits.film_max_um + 1e-9


def facts_of_ladder(written: Sequence[Mapping[str, Any]]) -> tuple[float, float]:
    """Return the minutes and film of grit steps as the advice writes them."""
    return sum(step["minutes"] for step in written), sum(step["film_off_um"] for step in written)
