"""Promises held against every possible case: the ways each could be broken, and the cases that do."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import ORDER
from prepadvisor.standards.engine import BASE, OUTPUTS, Promise
from prepadvisor.standards.language.as_words import in_words
from prepadvisor.standards.proof.audited import (
    Audited,
    Ranking,
    RegionPart,
    fineness,
    place_of,
    told,
    unset_strength,
)
from prepadvisor.standards.proof.covers import Covers, Support, values_of
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.pairs import freed, steps
from prepadvisor.standards.proof.space import cells, shared
from prepadvisor.standards.proof.told import largest_outside

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.diagram import Masks

# The ways in which a promise could be broken, each as a box and the boxes that would keep it whole.
#
# A promise compares a strict answer with a later one. The strict answer is that of the rule that decides
# it; the promise is broken in those cases of its box where no rule makes the later answer as strict. Which
# steps and rules to look at follows from the boxes, so nothing is tried that cannot break it.


class Claim(NamedTuple):
    """A box in which a promise is broken wherever none of the boxes `among` lies over it.

    `free` are those among them that nobody meets, `step` has the value numbers of the
    strict and of the later case where the promise runs along a fact; the axis of that fact does not matter
    in the box then.
    """

    covers: Covers
    box: "Masks"
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
    boxes: Sequence["Masks"]
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
    box: "Masks"

    def broken(self) -> Iterator[tuple["Masks", int]]:
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

    def _coarser(self, box: "Masks", level: float, decided: int, new: int) -> Iterator[tuple["Masks", int]]:
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


def _at(supports: Sequence[Support], level: int, *values: int) -> Iterator[Support]:
    """Yield for each value of an axis the supports of cases that have one there, the axis then left out."""
    for covers, among in supports:
        for value in values:
            holding = covers.accepting(level, value) | ~covers.asks[level]
            yield Support(covers.ignoring(level), among & holding)


def _than(audited: Audited, promise: Promise, than: "OutputName") -> Iterator[Claim]:
    later, strict = audited.ranking(promise.output), audited.ranking(than)
    world = audited.world
    nobody = dict.fromkeys((*world.outside(promise.output), *world.outside(than)))
    outside = tuple(dict.fromkeys((*nobody, *world.held)))
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
        if covers.supports:
            at_both = covers.supported(*_at(covers.supports, level, first, second))
        comparison = _Comparison(
            at_both,
            _Side(ranking, boxes, 0, at_first & ranking.everyone),
            _Side(ranking, boxes, 0, at_second & ranking.everyone),
            (at_first | at_second) & ranking.cannot_be,
            context,
        )
        for box, among in comparison.broken():
            yield Claim(at_both, box, among, (at_first | at_second) & ranking.free, (first, second))


_MOST: Final = 5
"""Findings told at most for one promise: mending the largest often mends the rest."""
_ENOUGH: Final = 100
"""Broken steps looked for at most: a promise that breaks more often is told as broken in many more."""
_RULES_MANY: Final = 300
_ENOUGH_OF_MANY: Final = 25
"""With more rules of its output than this, so many."""


def broken_promises(audited: Audited) -> list[Finding]:
    """Return findings for each promise that some case breaks, or that speaks of no possible case."""
    found = []
    for promise in audited.engine.promises:
        if audited.space.region(audited.space.masks(promise.where)) == audited.diagrams.no:
            found.append(_about_nothing(audited, promise, "no possible case"))
        elif not _is_read(audited, promise):
            found.append(_about_nothing(audited, promise, f"no case in which a card reads {promise.output}"))
        elif promise.layer != BASE and _is_held(audited, promise):
            about = _about_nothing(
                audited, promise, "cases that are always held, so it is never put to the test"
            )
            found.append(replace(about, kind="dead"))
        else:
            found.extend(_of_promise(audited, promise))
    return found


def _of_promise(audited: Audited, promise: Promise) -> list[Finding]:
    is_many = len(audited.ranking(promise.output).rules) > _RULES_MANY
    enough = _ENOUGH_OF_MANY if is_many else _ENOUGH
    broken = list(islice((claim for claim in claims(audited, promise) if claim.is_broken()), enough))
    broken.sort(key=lambda claim: -cells(claim.box))
    found = []
    for number, claim in enumerate(broken[:_MOST], start=1):
        grown = largest_outside(claim.covers, claim.box, claim.among, claim.free)
        if grown is None:
            raise RuntimeError("a broken promise has a case")
        masks, case = grown
        rest = _rest(len(broken), enough) if number == _MOST else ""
        part = _part(audited, promise, claim, masks)
        if promise.than is not None:
            found.append(_of_two_outputs(audited, promise, promise.than, case=case, part=part, rest=rest))
        else:
            found.append(_of_a_step(audited, promise, claim, case=case, part=part, rest=rest))
    return sorted(found, key=lambda finding: -finding.cases)


def _rest(broken: int, enough: int) -> str:
    """Return what to say of the broken steps that are not told one by one."""
    if broken <= _MOST:
        return ""
    at_least = "At least " if broken == enough else ""
    return f" {at_least}{broken - _MOST} more steps between rules break it."


def _part(audited: Audited, promise: Promise, claim: Claim, masks: "Masks") -> RegionPart:
    """Return the box with both values of the step; cases are counted once for each pair."""
    space, diagrams = audited.space, audited.diagrams
    if promise.along is None or claim.step is None:
        return RegionPart(masks, space.axes.limits(masks), diagrams.count(space.region(masks)))
    level = ORDER.index(promise.along)
    first, both = 1 << claim.step[0], 1 << claim.step[0] | 1 << claim.step[1]
    pair = (*masks[:level], both, *masks[level + 1 :])
    one = (*masks[:level], first, *masks[level + 1 :])
    return RegionPart(pair, space.axes.limits(pair), diagrams.count(space.region(one)))


def _of_two_outputs(
    audited: Audited, promise: Promise, than: "OutputName", case: tuple[int, ...], part: RegionPart, rest: str
) -> Finding:
    one, rules = _answer(audited, promise.output, case)
    other, rules_other = _answer(audited, than, case)
    return _finding(
        audited,
        promise,
        f"{promise.output} is {one} and {than} is {other}",
        part=part,
        rest=rest,
        rules=(*rules, *rules_other),
    )


def _of_a_step(
    audited: Audited, promise: Promise, claim: Claim, case: tuple[int, ...], part: RegionPart, rest: str
) -> Finding:
    along, at = promise.along or "", list(case)
    answers: list[str] = []
    rules: list[str] = []
    for value in claim.step or ():
        at[ORDER.index(along)] = value
        answer, deciding = _answer(audited, promise.output, tuple(at))
        answers.append(f"{answer} at {along} {audited.space.axes.one(along, 1 << value)}")
        rules.extend(deciding)
    return _finding(
        audited,
        promise,
        f"{promise.output} is {' and '.join(answers)}",
        part=part,
        rest=rest,
        rules=tuple(rules),
    )


def _answer(audited: Audited, output: "OutputName", case: tuple[int, ...]) -> tuple[str, tuple[str, ...]]:
    """Return an output of one case in words with the rule that decides it, and the rule's id."""
    ranking = audited.ranking(output)
    place = ranking.decider(case)
    if place is None:
        return told(output, unset_strength(output)), ()
    rule = ranking.rules[place]
    return f'{told(output, ranking.strengths[place])} by "{rule.id}"', (rule.id,)


def _finding(
    audited: Audited, promise: Promise, says: str, part: RegionPart, rest: str, rules: tuple[str, ...]
) -> Finding:
    """Tell it at the house's rule where one takes part: nobody is to change a file that is not his."""
    own = [rule for rule in audited.engine.rules if rule.id in rules and rule.layer != BASE]
    named = " or ".join(f'"{rule}"' for rule in dict.fromkeys([rule.id for rule in own] or rules))
    file, line = place_of(own) if own else (promise.file, promise.line)
    return Finding(
        "promise",
        f'Broken promise: "{promise.says}" But {says}, for: {in_words(part.limits)}.{rest}',
        f"Change {named} so that both agree, or write a rule that tightens the laxer case.",
        rules=tuple(dict.fromkeys(rules)),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )


def _is_read(audited: Audited, promise: Promise) -> bool:
    """Say whether a card can read the output of a promise in some case of it, held or not."""
    read = shared(*map(audited.space.masks, (promise.where, OUTPUTS[promise.output].read)))
    return audited.diagrams.both(audited.diagrams.box(read), audited.world.judged) != audited.diagrams.no


def _is_held(audited: Audited, promise: Promise) -> bool:
    """Say whether every case of a promise is held by some rule."""
    cases = audited.diagrams.box(audited.space.masks(promise.where))
    return audited.diagrams.both(cases, audited.world.living) == audited.diagrams.no


def _about_nothing(audited: Audited, promise: Promise, nothing: str) -> Finding:
    limits = audited.space.axes.limits(audited.space.masks(promise.where))
    return Finding(
        "unreachable",
        f'The promise "{promise.says}" speaks of {nothing} ({in_words(limits)}).',
        "Correct its `where`, or take the promise away.",
        limits=limits,
        file=promise.file,
        line=promise.line,
    )
