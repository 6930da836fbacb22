"""The ways in which a promise could be broken, each as a box and the boxes that would keep it whole.

A promise compares a strict answer with a later one. The strict answer is that of the rule that decides it;
the promise is broken in those cases of its box where no rule makes the later answer as strict. Which steps
and rules to look at follows from the boxes, so nothing is tried that cannot break it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from prepadvisor.cases.facts import ORDER
from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.covers import Covers, values_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import Promise
from prepadvisor.standards.space import shared
from prepadvisor.standards.steps import freed, steps
from prepadvisor.standards.strengths import fineness, unset_strength


class Claim(NamedTuple):
    """A box in which a promise is broken wherever none of the boxes `among` lies over it.

    `free` are those among them that nobody meets, `step` has the value numbers of the
    strict and of the later case where the promise runs along a fact; the axis of that fact does not matter
    in the box then.
    """

    covers: Covers
    box: Masks
    among: int
    free: int
    step: tuple[int, int] | None = None

    def is_broken(self) -> bool:
        """Say whether some possible case breaks the promise in this way."""
        return Outside(self.covers, self.box, self.among).case() is not None


@dataclass(frozen=True)
class _Side:
    """One answer of a comparison.

    Its rules with their boxes, where their bits begin, and which are present.
    """

    ranking: Ranking
    boxes: Sequence[Masks]
    first: int
    present: int

    def ahead(self, place: int) -> int:
        return self.ranking.ahead(place) << self.first & self.present

    def at_least(self, level: float) -> int:
        return self.ranking.at_least(level) << self.first & self.present

    def level(self, place: int) -> float:
        return fineness(self.ranking.output, self.ranking.strengths[place])


@dataclass(frozen=True)
class _Comparison:
    """Both sides of a promise over one list of boxes, in one box, with the cases that cannot be."""

    covers: Covers
    strict: _Side
    later: _Side
    cannot_be: int
    box: Masks

    def broken(self) -> Iterator[tuple[Masks, int]]:
        """Yield boxes and what keeps the promise in them; no case is outside in two of them."""
        output = self.later.ranking.output
        coarsest_wins = OUTPUTS[output].kind == "grade coarsest"
        bare = fineness(output, unset_strength(output))
        new = self.later.present & ~self.strict.present
        for bit in values_of(self.strict.present if coarsest_wins and new else self._gone):
            place = bit - self.strict.first
            level = self.strict.level(place)
            if level <= bare or self.strict.ranking.case_decided(place) is None:
                continue
            box = shared(self.box, self.strict.boxes[place])
            decided = self.strict.ahead(place) | self.cannot_be
            if self._gone >> bit & 1:
                yield box, decided | (self.later.present if coarsest_wins else self.later.at_least(level))
            if coarsest_wins:
                yield from self._coarser(box, level, decided, new)

    @property
    def _gone(self) -> int:
        """The rules of the strict side that are not on the later one."""
        return self.strict.present & ~self.later.present

    def _coarser(self, box: Masks, level: float, decided: int, new: int) -> Iterator[tuple[Masks, int]]:
        """Where the coarsest rule wins, each coarser rule of the later side breaks the promise by itself."""
        for bit in values_of(new):
            place = bit - self.later.first
            if self.later.level(place) >= level:
                break
            if not decided >> bit & 1 and self.later.ranking.case_decided(place) is not None:
                yield shared(box, self.later.boxes[place]), decided | self.later.ahead(place)


def claims(audited: Audited, promise: Promise) -> Iterator[Claim]:
    """Yield the claims of a promise; it is kept if and only if none of them has a case."""
    if promise.than is not None:
        yield from _than(audited, promise, promise.than)
    elif promise.along is not None:
        yield from _along(audited, promise, ORDER.index(promise.along))


def _at(supports: Sequence[Masks], level: int, value: int) -> list[Masks]:
    """Return the boxes of the cases that have a support at a value of an axis, whatever the axis says."""
    holding = (box for box in supports if box[level] >> value & 1)
    return list(dict.fromkeys((*box[:level], -1, *box[level + 1 :]) for box in holding))


def _than(audited: Audited, promise: Promise, than: OutputName) -> Iterator[Claim]:
    later, strict = audited.ranking(promise.output), audited.ranking(than)
    world = audited.world
    nobody = dict.fromkeys((*world.outside(promise.output), *world.outside(than)))
    outside = tuple(dict.fromkeys((*nobody, *world.held(promise.output))))
    covers = audited.space.covers([*later.boxes, *strict.boxes], outside, later.supports)
    first = len(later.rules)
    comparison = _Comparison(
        covers,
        _Side(strict, strict.boxes, first, strict.everyone << first),
        _Side(later, later.boxes, 0, later.everyone),
        ((1 << len(outside)) - 1) << first + len(strict.rules),
        audited.space.masks(promise.where),
    )
    free = ((1 << len(nobody)) - 1) << first + len(strict.rules)
    for box, among in comparison.broken():
        yield Claim(covers, box, among, free)


def _along(audited: Audited, promise: Promise, level: int) -> Iterator[Claim]:
    ranking = audited.ranking(promise.output)
    covers = ranking.covers.ignoring(level)
    boxes = [freed(box, level, audited.diagrams) for box in ranking.boxes]
    where = audited.space.masks(promise.where)
    for low, high, context in steps(audited, ranking, level, where):
        first, second = (high, low) if promise.falling else (low, high)
        at_first, at_second = (ranking.covers.accepting(level, value) for value in (first, second))
        at_both = covers
        if ranking.supports:
            at_both = covers.supported(*(_at(ranking.supports, level, value) for value in (first, second)))
        comparison = _Comparison(
            at_both,
            _Side(ranking, boxes, 0, at_first & ranking.everyone),
            _Side(ranking, boxes, 0, at_second & ranking.everyone),
            (at_first | at_second) & ranking.cannot_be,
            context,
        )
        for box, among in comparison.broken():
            yield Claim(at_both, box, among, (at_first | at_second) & ranking.free, (first, second))
