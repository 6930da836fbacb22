"""What rows cannot say by themselves, whether they agree with the numbers, and how well chances were told."""

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from operator import attrgetter
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.records import (
    DS50_UM,
    FLAKES,
    LUX_LEAST,
    Agreement,
    Alike,
    Calibration,
    ClassesDiffer,
    Contradictory,
    DimLight,
    FitCheck,
    KeptUnused,
    NoRows,
    NotBlind,
    OneAnswerOnly,
    PanelRow,
    ReliabilityBin,
    RowFitted,
    Separable,
    ToldOfFit,
    WrongWayRound,
)

if TYPE_CHECKING:
    from prepadvisor.records import Grade
    from prepadvisor.surface import Array

# How well chances were predicted: Brier score and reliability, with exact intervals.

_BINS_MOST = 10
_BISECTIONS = 60


def calibration(chances: Sequence[float], showed: Sequence[float]) -> Calibration | None:
    """Set predicted chances beside what was seen.

    Args:
        chances: predicted chance of showing, 0 to 1.
        showed: 1 shows, 0 does not, 0.5 barely; same length.

    Returns:
        Score and bands of equal numbers of rows, at most ten; None without rows.

    References: Brier 1950, Mon. Weather Rev. 78 1; Clopper & Pearson 1934, Biometrika 26 404 (memory).
    """
    if not chances:
        return None
    p, y = np.array(chances), np.array(showed)
    order = np.argsort(p, kind="stable")
    bands = np.array_split(order, min(_BINS_MOST, max(1, len(p) // 5)))
    return Calibration(
        brier=float(np.mean((p - y) ** 2)),
        chance_brier=float(np.mean((y.mean() - y) ** 2)),
        bins=tuple(_bin(p[band], y[band]) for band in bands if len(band)),
    )


def _bin(p: "Array", y: "Array") -> ReliabilityBin:
    low, high = exact_interval(float(y.sum()), len(y))
    return ReliabilityBin(float(p.mean()), float(y.mean()), len(y), low, high)


def exact_interval(hits: float, of: int, level: float = 0.90) -> tuple[float, float]:
    """Return the interval of Clopper and Pearson for a share: hits of so many, at a level.

    A half hit (barely) counts as the wider of its neighbours on each side.
    """
    tail = (1.0 - level) / 2.0
    low_hits, high_hits = math.floor(hits), math.ceil(hits)
    low = 0.0 if low_hits == 0 else _where(lambda p: _at_least(low_hits, of, p) < tail)
    high = 1.0 if high_hits == of else _where(lambda p: 1.0 - _at_least(high_hits + 1, of, p) > tail)
    return low, high


def _where(is_below: Callable[[float], bool]) -> float:
    low, high = 0.0, 1.0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if is_below(middle) else (low, middle)
    return (low + high) / 2.0


def _at_least(hits: int, of: int, p: float) -> float:
    """Return the chance of `hits` or more of `of`, each with chance p."""
    if p <= 0.0:
        return 1.0 if hits == 0 else 0.0
    if p >= 1.0:
        return 1.0
    k = np.arange(hits, of + 1)
    logs = _log_ways(of)[k] + k * math.log(p) + (of - k) * math.log1p(-p)
    return min(1.0, float(np.exp(logs).sum()))


@lru_cache(maxsize=64)
def _log_ways(of: int) -> "Array":
    """Return the logarithm of how many ways there are to choose 0 … `of` of so many."""
    up_to = np.concatenate([[0.0], np.cumsum(np.log(np.arange(1.0, of + 1.0)))])
    found: Array = up_to[of] - up_to - up_to[::-1]
    return found


# Whether what is seen agrees with the numbers in force: as many lines as the risks let one expect?

_SURE: Final = 0.025
"""Chance of so many or more (or so few) by the numbers in force, below which all rows together disagree."""
_SURE_OF_ONE: Final = 0.005
"""Likewise of one group of rows: there are several, and one of them is always the oddest."""
_LEAST_ROWS: Final = 4
_SHOWED: Final = {"yes": 1.0, "barely": 0.5, "no": 0.0}

_GROUPS: Final[dict[str, Callable[[PanelRow], str]]] = {
    "kind": lambda row: row.kind,
    "flake": lambda row: row.colour or row.flake or "",
    "tool": lambda row: row.pad or row.tool,
    "grade": lambda row: row.grade,
    "coats": lambda row: str(row.coats),
    "zone": lambda row: row.zone,
    "light": lambda row: row.light if row.lux is None else "dim" if row.lux < LUX_LEAST else "500 lux up",
}


def checked(rows: Sequence[RowFitted]) -> FitCheck:
    """Set what was seen beside what the numbers in force expect, over all rows and by what they share.

    Args:
        rows: rows with `chance_before` by the numbers in force.

    Returns:
        `Check`: all rows, and every group that disagrees.
    """
    whole = _agreement("all", "all rows", rows, _SURE)
    groups = [
        _agreement(by, word, own, _SURE_OF_ONE)
        for by, of in _GROUPS.items()
        for word, own in _grouped(rows, of).items()
        if len(own) >= _LEAST_ROWS and word
    ]
    return FitCheck(whole, tuple(each for each in groups if not each.agrees))


def _grouped(rows: Iterable[RowFitted], of: Callable[[PanelRow], str]) -> dict[str, list[RowFitted]]:
    found: dict[str, list[RowFitted]] = {}
    for each in rows:
        found.setdefault(of(each.row), []).append(each)
    return found


def _agreement(by: str, word: str, rows: Sequence[RowFitted], sure: float) -> Agreement:
    chances = [each.chance_before for each in rows]
    seen = sum(_SHOWED[each.row.shows] for each in rows)
    more = _chance_of_more(chances, math.ceil(seen))
    fewer = 1.0 - _chance_of_more(chances, math.floor(seen) + 1)
    agrees = min(more, fewer) >= sure
    return Agreement(
        by=by,
        word=word,
        rows=len(rows),
        expected=sum(chances),
        showed=seen,
        chance=min(1.0, 2.0 * min(more, fewer)),
        agrees=agrees,
    )


def _chance_of_more(chances: Sequence[float], hits: int) -> float:
    """Return the chance of `hits` or more, each row with its own: exact (Poisson's binomial)."""
    spread = [1.0]
    for p in chances:
        spread = [
            (spread[k] if k < len(spread) else 0.0) * (1.0 - p) + (spread[k - 1] * p if k else 0.0)
            for k in range(len(spread) + 1)
        ]
    return min(1.0, math.fsum(spread[hits:])) if hits > 0 else 1.0


_OFTEN = 2.0
"""Standard deviations above what scatter makes likely from which contradictions are too many."""


def data_told(rows: Sequence[PanelRow], fitted: Sequence[RowFitted]) -> list[ToldOfFit]:
    """Return what is told about rows, given their fit."""
    if not rows:
        return [NoRows()]
    told: list[ToldOfFit] = []
    answers = {row.shows for row in rows}
    if len(answers) == 1 and answers != {"barely"}:
        told.append(OneAnswerOnly(rows[0].shows))
    elif _separable(fitted):
        told.append(Separable())
    told.extend(_contradictions(rows, fitted))
    told.extend(_wrong_way_round(rows))
    told.extend(_alike(rows))
    told.extend(_classes(rows))
    panels = [row for row in rows if row.kind == "panel"]
    known, unsaid = (sum(row.blind is value for row in panels) for value in (False, None))
    if known or unsaid:
        told.append(NotBlind(known, unsaid))
    told.extend(_kept(panels))
    return told


def _kept(panels: Sequence[PanelRow]) -> list[ToldOfFit]:
    """Tell what stands in the rows and is not used, and rows that were read by too little light."""
    found: list[ToldOfFit] = []
    light, film, photo = (
        (
            sum(bool(said) for said in each)
            for each in zip(*((row.light, row.film_um, row.photo) for row in panels), strict=True)
        )
        if panels
        else (0, 0, 0)
    )
    if light or film or photo:
        found.append(KeptUnused(light, film, photo))
    dim = [row.lux for row in panels if row.lux is not None and row.lux < LUX_LEAST]
    if dim:
        found.append(DimLight(len(dim), min(dim)))
    return found


def _separable(fitted: Sequence[RowFitted]) -> bool:
    """Say whether one line strength parts all that show from all that do not."""
    shows = [each.margin for each in fitted if each.row.shows == "yes"]
    hidden = [each.margin for each in fitted if each.row.shows == "no"]
    return bool(shows and hidden) and min(shows) > max(hidden)


def _setting(row: PanelRow) -> PanelRow:
    return row._replace(
        shows="yes", by="", blind=None, date=None, note="", file="", line=0, light="", film_um=None, photo=""
    )


def _contradictions(rows: Sequence[PanelRow], fitted: Sequence[RowFitted]) -> list[ToldOfFit]:
    """Tell settings answered yes and no, with how many the fit itself expects by chance."""
    alike: dict[PanelRow, list[int]] = defaultdict(list)
    for place, row in enumerate(rows):
        alike[_setting(row)].append(place)
    both = [places for places in alike.values() if {"yes", "no"} <= {rows[place].shows for place in places}]
    if not both:
        return []
    split, expected, variance = 0.0, 0.0, 0.0
    for places in alike.values():
        if len(places) > 1:
            p = min(max(fitted[places[0]].chance, 1e-6), 1 - 1e-6)
            odds = 1.0 - p ** len(places) - (1.0 - p) ** len(places)
            expected, variance = expected + odds, variance + odds * (1.0 - odds)
            split += {"yes", "no"} <= {rows[place].shows for place in places}
    often = split - expected > _OFTEN * max(variance, 1e-9) ** 0.5
    lines = tuple(sorted((rows[place].file, rows[place].line) for places in both for place in places))
    return [Contradictory(lines, len(both), often)]


_FAR_APART: Final = 1.6
"""Grains this many times apart are hardly ever answered the wrong way round by scatter alone: some 2 %."""


def _wrong_way_round(rows: Sequence[PanelRow]) -> list[ToldOfFit]:
    """Tell where, of grades far apart, the finer shows and the coarser does not more often than not."""
    alike: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for place, row in enumerate(rows):
        if row.shows != "barely":
            alike[_but_grade(row)].append(place)
    found: list[int] = []
    for places in alike.values():
        if len(places) < 2:
            continue
        shows, hidden = (
            Counter(rows[at].grade for at in places if rows[at].shows == said) for said in ("yes", "no")
        )
        turned, right = _pairs(shows, hidden), _pairs(hidden, shows)
        if sum(turned.values()) > sum(right.values()):
            odd = {("yes", fine) for fine, _ in turned} | {("no", coarse) for _, coarse in turned}
            found += [at for at in places if (rows[at].shows, rows[at].grade) in odd]
    lines = tuple(sorted((rows[at].file, rows[at].line) for at in found))
    return [WrongWayRound(lines)] if lines else []


_but_grade = attrgetter(
    *("kind", "flake", "flake_um", "tilt_deg", "log_sd", "colour", "tool", "pad", "coats", "zone"),
    "distance_mm",
)
"""How a row was made and looked at, its grade left out."""


def _pairs(fine: Counter["Grade"], coarse: Counter["Grade"]) -> dict[tuple["Grade", "Grade"], int]:
    """Return how many pairs of rows have the one far finer than the other, by their grades."""
    return {
        (one, other): many * more
        for one, many in fine.items()
        for other, more in coarse.items()
        if DS50_UM[other] >= _FAR_APART * DS50_UM[one]
    }


def _alike(rows: Sequence[PanelRow]) -> list[ToldOfFit]:
    """Tell rows of one judge and day with one note or photo that say the same twice; else nothing is told."""
    seen: dict[PanelRow, list[int]] = defaultdict(list)
    for place, row in enumerate(rows):
        if row.kind == "panel" and row.by and (row.note or row.photo):
            seen[row._replace(line=0)].append(place)
    twice = [places for places in seen.values() if len(places) > 1]
    return (
        [Alike(tuple((rows[at].file, rows[at].line) for places in twice for at in places))] if twice else []
    )


def _classes(rows: Sequence[PanelRow]) -> list[ToldOfFit]:
    found: list[ToldOfFit] = []
    for colour in dict.fromkeys(row.colour for row in rows if row.colour):
        classes = {row.flake for row in rows if row.colour == colour and row.flake}
        if len(classes) > 1:
            found.append(ClassesDiffer(colour, tuple(sorted(classes, key=FLAKES.index))))
    return found
