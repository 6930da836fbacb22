"""The cases that a card can meet: found by judging every kind of colour, panel and place a job can state.

Nothing is listed here that judging decides. Facts that judging ties together (a face is always seen, three
stages are very fine at least) show up as rows that never occur; facts that vary freely are in no group.
"""

from collections.abc import Collection, Iterator, Sequence
from functools import cache
from itertools import product
from typing import Any, Final, NamedTuple, get_args

from prepadvisor.cases.colour import judged
from prepadvisor.cases.fact import CaseSpot, NumberFact, Value
from prepadvisor.cases.facts import FACT, NUMBER, Facts, facts_of
from prepadvisor.cases.places import Subject, subjects
from prepadvisor.cases.zones import zoning
from prepadvisor.records import FLAKES, TONES, Colour, Feature, LineKind, Panel, Reach, Zone

_REACHES: Final = (*get_args(Reach), None)
_SEEN: Final = (True, False, None)


class Group(NamedTuple):
    """Facts that judging ties together, with every row of values they have together.

    Of a number only this is told: whether it is known.
    """

    facts: tuple[str, ...]
    rows: frozenset[tuple[Value, ...]]


@cache
def groups() -> tuple[Group, ...]:
    """Return the facts that do not vary freely: those of the colour, and those of panel and place."""
    colours = [judged(colour) for colour in _colours()]
    places = list(_places())
    subject, zone, amount = places[0]
    of_colour = [facts_of(CaseSpot(colour, subject, zone, amount)) for colour in colours]
    of_place = [facts_of(CaseSpot(colours[0], *place)) for place in places]
    always = {name for name in NUMBER if all(getattr(case, name) is not None for case in of_place)}
    found = (_group(of_colour, frozenset()), _group(of_place, always))
    return tuple(group for group in found if group.facts)


@cache
def spot_facts() -> tuple[str, ...]:
    """Return the facts that differ between the spots of one place: those that its zones settle."""
    by_place: dict[int, set[Facts]] = {}
    places = list(_places())
    colour = judged(Colour())
    for subject, zone, amount in places:
        by_place.setdefault(id(subject), set()).add(facts_of(CaseSpot(colour, subject, zone, amount)))
    return tuple(
        name
        for at, name in enumerate(Facts._fields)
        if any(len({case[at] for case in cases}) > 1 for cases in by_place.values())
    )


def _group(cases: Sequence[Facts], always: Collection[str]) -> Group:
    """Return the facts that differ between cases, and the numbers that are always known, with their rows."""
    known = [tuple(map(_known, Facts._fields, case)) for case in cases]
    tied = [
        at
        for at, name in enumerate(Facts._fields)
        if name in always or any(row[at] != known[0][at] for row in known)
    ]
    rows = frozenset(tuple(row[at] for at in tied) for row in known)
    return _without_free(Group(tuple(Facts._fields[at] for at in tied), rows))


def _known(name: str, value: Any) -> Any:
    return value is not None if name in NUMBER else value


def _without_free(group: Group) -> Group:
    """Leave out facts that have every value with whatever the others have."""
    facts, rows = group
    for name in facts:
        at = facts.index(name)
        fact = FACT[name]
        values: Sequence[Value] = (False, True) if isinstance(fact, NumberFact) else fact.values
        others = {row[:at] + row[at + 1 :] for row in rows}
        if len(rows) == len(others) * len(values):
            facts, rows = facts[:at] + facts[at + 1 :], frozenset(others)
    return Group(facts, rows)


def _colours() -> Iterator[Colour]:
    for flake, stages, tone in product((*FLAKES, "unknown"), (2, 3, None), (*TONES, None)):
        yield Colour.model_validate({"flake": flake, "stages": stages, "tone": tone})


def _places() -> Iterator[tuple[Subject, Zone, float]]:
    """Yield every kind of place in every zone of every kind of panel, with a film reading and without."""
    for layout, film in product(_LAYOUTS, ([], [100.0])):
        panel = Panel.model_validate({**_PANEL, **layout, "film_um": film})
        panel = panel.model_copy(update={"feature": _lines()})
        for subject in subjects(panel, zoning(panel, 0.0)):
            for zone, amount in subject.amounts:
                yield subject, zone, amount


@cache
def _lines() -> tuple[Feature, ...]:
    """Return a line of each kind, as reached and seen in every way, from the front to the rear."""
    ways = product(get_args(LineKind), _REACHES, _SEEN)
    return tuple(
        Feature(id=f"L{number}", kind=kind, path=((0.0, 0.1), (1.0, 0.1)), reach=reach, seen=seen)
        for number, (kind, reach, seen) in enumerate(ways)
    )


_PATCH: Final = {"id": "R", "surface": "aged-clear", "at": (0.5, 0.5), "size_mm": (1000, 200)}
_PANEL: Final[dict[str, Any]] = {
    "id": "p",
    "kind": "front-door",
    "surface": "aged-clear",
    "length_mm": 1000,
    "height_mm": 500,
    "patch": [_PATCH],
}
_BLENDED: Final[dict[str, Any]] = {"colour_from": ["front"], "colour_mm": 200, "fade_mm": 300}
_LAYOUTS: Final[tuple[dict[str, Any], ...]] = (
    {"role": "repair"},
    {"role": "repair", **_BLENDED},
    {"role": "blend", **_BLENDED},
    {"role": "clear-only"},
)
