"""Neighbouring cases along one fact: pairs of values with nothing possible between them."""

from collections.abc import Iterator

from prepadvisor.cases.facts import NUMBER, ORDER
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.axes import UNKNOWN
from prepadvisor.standards.covers import values_of
from prepadvisor.standards.diagram import Diagrams, Masks
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.space import shared


def freed(box: Masks, level: int, diagrams: Diagrams) -> Masks:
    """Return a box without what it asks of one axis."""
    return (*box[:level], diagrams.full[level], *box[level + 1 :])


def steps(audited: Audited, ranking: Ranking, level: int, where: Masks) -> Iterator[tuple[int, int, Masks]]:
    """Yield pairs of values of an axis, lower first, with the box in which they are neighbours.

    Next values are neighbours everywhere; farther ones where nothing between them counts. Pairs that no
    rule of the output tells apart are left out. Numbers that are not known are no neighbours of any.
    """
    values = where[level] & ~UNKNOWN if ORDER[level] in NUMBER else where[level]
    asking = [box for box in ranking.outside if box[level] != audited.diagrams.full[level]]
    told_apart = _told_apart(ranking, level)
    rising = values_of(values)
    for place, low in enumerate(rising):
        contexts = {freed(where, level, audited.diagrams)}
        for high in rising[place + 1 :]:
            if high > low + 1 or told_apart >> low & 1:
                for context in sorted(contexts):
                    yield low, high, context
            contexts = _between(contexts, [box for box in asking if box[level] >> high & 1], level, audited)
            if not contexts:
                break


def _told_apart(ranking: Ranking, level: int) -> int:
    """Return the values that some rule tells apart from the next one."""
    apart = 0
    for box in ranking.boxes:
        apart |= box[level] ^ box[level] >> 1
    return apart


def _between(contexts: set[Masks], impossible: list[Masks], level: int, audited: Audited) -> set[Masks]:
    """Return the parts of the contexts in which one more value in between cannot be."""
    both = (
        shared(context, freed(box, level, audited.diagrams)) for context in contexts for box in impossible
    )
    return _largest({box for box in both if all(box)})


def _largest(boxes: set[Masks]) -> set[Masks]:
    """Leave out boxes that lie in another one."""
    return {box for box in boxes if not any(other != box and shared(other, box) == box for other in boxes)}
