"""Neighbouring cases along one fact: pairs of values with nothing between them that counts."""

from collections.abc import Iterator, Sequence
from functools import reduce
from operator import or_

from prepadvisor.cases.facts import NUMBER, ORDER
from prepadvisor.named import NamedTuple
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.axes import UNKNOWN
from prepadvisor.standards.diagram import Diagrams, Masks
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.space import shared


class _Uncounted(NamedTuple):
    """Cases that do not count: the values they have on the axis in question, and their box without it."""

    values: int
    box: Masks


def freed(box: Masks, level: int, diagrams: Diagrams) -> Masks:
    """Return a box without what it asks of one axis."""
    return (*box[:level], diagrams.full[level], *box[level + 1 :])


def steps(audited: Audited, ranking: Ranking, level: int, where: Masks) -> Iterator[tuple[int, int, Masks]]:
    """Yield pairs of values of an axis, lower first, with the box in which they are neighbours.

    Next values are neighbours everywhere; farther ones where nothing between them counts. Pairs that no
    rule of the output tells apart are left out, and so are boxes in which one of the two does not count.
    Numbers that are not known are no neighbours of any.
    """
    diagrams = audited.diagrams
    values = where[level] & ~UNKNOWN if ORDER[level] in NUMBER else where[level]
    asking = dict.fromkeys(box for box in ranking.outside if box[level] != diagrams.full[level])
    uncounted = [_Uncounted(box[level], freed(box, level, diagrams)) for box in asking]
    runs = _runs(values, [box[level] for box in (*ranking.boxes, *asking)])
    cannot_be = {run: [each for each in uncounted if each.values >> run[0] & 1] for run in runs}
    rules = {run: ranking.covers.accepting(level, run[0]) & ranking.everyone for run in runs}
    for place, low in enumerate(runs):
        contexts = _counting({freed(where, level, diagrams)}, cannot_be[low])
        before: list[_Uncounted] | None = None
        for high in runs[place + 1 :]:
            if not contexts:
                break
            if cannot_be[high] == before:
                continue  # nothing counts there either in what is left of the contexts
            before = cannot_be[high]
            counting = _counting(contexts, before)
            if not counting:
                continue
            if rules[low] != rules[high]:
                for context in sorted(counting):
                    yield low[1], high[0], context
            narrowed = _counting(_between(counting, before), cannot_be[low])
            contexts = _largest(contexts - counting | narrowed)


def _runs(values: int, masks: Sequence[int]) -> list[tuple[int, int]]:
    """Return the first and last of neighbouring values of a set that no mask tells apart, rising."""
    apart = reduce(or_, (mask ^ mask >> 1 for mask in masks), 0) | values & ~(values >> 1)
    runs, rest = [], values
    while rest:
        low = rest & -rest
        last = apart & ~(low - 1)
        last &= -last
        runs.append((low.bit_length() - 1, last.bit_length() - 1))
        rest &= ~((last << 1) - 1)
    return runs


def _counting(contexts: set[Masks], uncounted: Sequence[_Uncounted]) -> set[Masks]:
    """Leave out the contexts in which nothing counts, as one box of what does not holds all of them."""
    return {
        context for context in contexts if not any(shared(context, each.box) == context for each in uncounted)
    }


def _between(contexts: set[Masks], uncounted: Sequence[_Uncounted]) -> set[Masks]:
    """Return the parts of the contexts in which one more value in between does not count."""
    both = {shared(context, each.box) for context in contexts for each in uncounted}
    return {box for box in both if all(box)}


def _largest(boxes: set[Masks]) -> set[Masks]:
    """Leave out boxes that lie in another one."""
    return {box for box in boxes if not any(other != box and shared(other, box) == box for other in boxes)}
