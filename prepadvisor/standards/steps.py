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
    rule of the output tells apart are left out, and so are boxes in which one of the two does not count.
    Numbers that are not known are no neighbours of any.
    """
    values = where[level] & ~UNKNOWN if ORDER[level] in NUMBER else where[level]
    asking = [box for box in ranking.outside if box[level] != audited.diagrams.full[level]]
    asked = [(box[level], freed(box, level, audited.diagrams)) for box in dict.fromkeys(asking)]
    told_apart = _told_apart(ranking, level)
    rising = values_of(values)
    cannot_be = {value: [box for mask, box in asked if mask >> value & 1] for value in rising}
    for place, low in enumerate(rising):
        contexts = _counting({freed(where, level, audited.diagrams)}, cannot_be[low])
        before: list[Masks] | None = None
        for high in rising[place + 1 :]:
            if not contexts:
                break
            if cannot_be[high] == before:
                continue  # nothing counts there either in what is left of the contexts
            before = cannot_be[high]
            if high > low + 1 or told_apart >> low & 1:
                for context in sorted(_counting(contexts, before)):
                    yield low, high, context
            contexts = _counting(_between(contexts, before), cannot_be[low])


def _told_apart(ranking: Ranking, level: int) -> int:
    """Return the values that some rule tells apart from the next one."""
    apart = 0
    for box in ranking.boxes:
        apart |= box[level] ^ box[level] >> 1
    return apart


def _counting(contexts: set[Masks], impossible: list[Masks]) -> set[Masks]:
    """Leave out the contexts in which nothing counts, as one box of what cannot be holds all of them."""
    return {context for context in contexts if not any(shared(context, box) == context for box in impossible)}


def _between(contexts: set[Masks], impossible: list[Masks]) -> set[Masks]:
    """Return the parts of the contexts in which one more value in between cannot be."""
    both = (shared(context, box) for context in contexts for box in impossible)
    return _largest({box for box in both if all(box)})


def _largest(boxes: set[Masks]) -> set[Masks]:
    """Leave out boxes that lie in another one."""
    return {box for box in boxes if not any(other != box and shared(other, box) == box for other in boxes)}
