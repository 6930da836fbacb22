"""Two rules that meet in a case, and neighbouring cases along one fact."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import NUMBER, ORDER
from prepadvisor.standards.proof.covers import values_of
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.space import UNKNOWN, shared

if TYPE_CHECKING:
    from prepadvisor.standards.engine import Rule
    from prepadvisor.standards.proof.audited import Audited, Ranking
    from prepadvisor.standards.proof.covers import Support
    from prepadvisor.standards.proof.diagram import Diagrams, Masks


class Pair(NamedTuple):
    """Two rules with the box they share, and a living case in it that both decide."""

    one: "Rule"
    other: "Rule"
    box: "Masks"
    case: tuple[int, ...]


_PAIRS_MOST: Final = 400
_ROUNDS_MOST: Final = 3


class FoundPairs:
    """Pairs found so far: after very many, two rules that both stand in some of them are not asked again.

    So each rule at fault is named, and the work grows with the rules and not with their square.
    """

    def __init__(self) -> None:
        """Begin with none."""
        self._found: Counter[object] = Counter()
        self._pairs = 0

    def is_enough(self, one: object, other: object) -> bool:
        """Say whether both stand in enough of very many pairs."""
        return (
            self._pairs >= _PAIRS_MOST
            and self._found[one] >= _ROUNDS_MOST
            and self._found[other] >= _ROUNDS_MOST
        )

    def add(self, one: object, other: object) -> None:
        """Count a pair."""
        self._pairs += 1
        self._found[one] += 1
        self._found[other] += 1

    @staticmethod
    def number(pairs: int) -> str:
        """Return how many more pairs there are in words, "at least" where some were not asked about."""
        return f"{pairs}" if pairs < _PAIRS_MOST // 2 else f"At least {pairs}"


def deciding_pairs(
    audited: "Audited",
    one: "Ranking",
    other: "Ranking",
    matters: Callable[[float, float], bool],
    where: "Masks | None" = None,
    within: "Support | None" = None,
) -> Iterator[Pair]:
    """Yield the pairs of rules that both decide some case in which both outputs are read.

    Args:
        audited: the standards.
        one: the rules of an output.
        other: those of another.
        matters: says of two strengths whether such a pair is looked for; asked once for each two.
        where: a box to look in; everywhere without it.
        within: boxes of which one must hold the case; without them no such demand.
    """
    outside = tuple(dict.fromkeys((*one.outside, *other.outside)))
    covers = audited.space.covers([*one.boxes, *other.boxes], outside, one.supports)
    if within is not None:
        covers = covers.supported(*covers.supports, within)
    first = len(one.rules)
    uncounted = ((1 << len(outside)) - 1) << first + len(other.rules)
    wanted = {
        strength: [own for own in dict.fromkeys(other.strengths) if matters(strength, own)]
        for strength in dict.fromkeys(one.strengths)
    }
    known = FoundPairs()
    for place, rule in enumerate(one.rules):
        partners = wanted[one.strengths[place]]
        if not partners or one.case_decided(place) is None:
            continue
        own = one.boxes[place] if where is None else shared(one.boxes[place], where)
        if not all(own):
            continue
        for bit in values_of(covers.touching(own, other.everyone << first)):
            rival = bit - first
            if (
                other.strengths[rival] not in partners
                or known.is_enough(place, bit)
                or other.case_decided(rival) is None
            ):
                continue
            box = shared(own, other.boxes[rival])
            among = one.ahead(place) | other.ahead(rival) << first | uncounted
            case = Outside(covers, box, among).case()
            if case is not None:
                known.add(place, bit)
                yield Pair(rule, other.rules[rival], box, case)


# Neighbouring cases along one fact: pairs of values with nothing between them that counts.

_UNCOUNTED_MOST: Final = 150
"""With more boxes of cases that do not count, only next values are compared."""
_WEIGHED_MOST: Final = 200_000
"""So often are two boxes weighed against each other for one promise; then only next values are compared."""
NEXT_ONLY: Final = (
    "Of promises along a fact only next values were compared, not farther ones with nothing but held or "
    "impossible cases between them: there are too many of those."
)


class _Uncounted(NamedTuple):
    """Cases that do not count: the values they have on the axis in question, and their box without it."""

    values: int
    box: "Masks"


class _Run(NamedTuple):
    """Neighbouring values of an axis that nothing tells apart."""

    first: int
    last: int


class _Weighed:
    """How often boxes were weighed against each other for one promise."""

    def __init__(self, audited: "Audited") -> None:
        """Begin with never."""
        self._audited = audited
        self._times = 0

    def is_too_often(self, more: int) -> bool:
        """Count so many times more; say whether these are too many, and note what is then not judged."""
        self._times += more
        if self._times <= _WEIGHED_MOST:
            return False
        self._audited.not_judged.add(NEXT_ONLY)
        return True


def freed(box: "Masks", level: int, diagrams: "Diagrams") -> "Masks":
    """Return a box without what it asks of one axis."""
    return (*box[:level], diagrams.full[level], *box[level + 1 :])


def steps(
    audited: "Audited", ranking: "Ranking", level: int, where: "Masks"
) -> Iterator[tuple[int, int, "Masks"]]:
    """Yield pairs of values of an axis, lower first, with the box in which they are neighbours.

    Next values are neighbours everywhere; farther ones where nothing between them counts. Pairs that no
    rule of the output tells apart are left out, and so are boxes in which one of the two does not count.
    Numbers that are not known are no neighbours of any.
    """
    diagrams = audited.diagrams
    values = where[level] & ~UNKNOWN if ORDER[level] in NUMBER else where[level]
    asking = dict.fromkeys(box for box in ranking.outside if box[level] != diagrams.full[level])
    uncounted = [_Uncounted(box[level], freed(box, level, diagrams)) for box in asking]
    if len(uncounted) > _UNCOUNTED_MOST:
        audited.not_judged.add(NEXT_ONLY)
        uncounted, asking = [], {}
    runs = _runs(values, [box[level] for box in (*ranking.boxes, *asking)])
    cannot_be = {run: [each for each in uncounted if each.values >> run.first & 1] for run in runs}
    rules = {run: ranking.covers.accepting(level, run.first) & ranking.everyone for run in runs}
    weighed = _Weighed(audited)
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
                    yield low.last, high.first, context
            between = _between(counting, before)
            if weighed.is_too_often(len(counting) * len(before) + len(between) * len(cannot_be[low])):
                break
            contexts = contexts - counting | _counting(between, cannot_be[low])
            if weighed.is_too_often(len(contexts) ** 2):
                break
            contexts = _largest(contexts)


def _runs(values: int, masks: Sequence[int]) -> list[_Run]:
    """Return the runs of neighbouring values of a set that no mask tells apart, rising."""
    apart = reduce(or_, (mask ^ mask >> 1 for mask in masks), 0) | values & ~(values >> 1)
    runs, rest = [], values
    while rest:
        low = rest & -rest
        last = apart & ~(low - 1)
        last &= -last
        runs.append(_Run(low.bit_length() - 1, last.bit_length() - 1))
        rest &= ~((last << 1) - 1)
    return runs


def _counting(contexts: set["Masks"], uncounted: Sequence[_Uncounted]) -> set["Masks"]:
    """Leave out the contexts in which nothing counts, as one box of what does not holds all of them."""
    return {
        context for context in contexts if not any(shared(context, each.box) == context for each in uncounted)
    }


def _between(contexts: set["Masks"], uncounted: Sequence[_Uncounted]) -> set["Masks"]:
    """Return the parts of the contexts in which one more value in between does not count."""
    both = {shared(context, each.box) for context in contexts for each in uncounted}
    return {box for box in both if all(box)}


def _largest(boxes: set["Masks"]) -> set["Masks"]:
    """Leave out boxes that lie in another one."""
    return {box for box in boxes if not any(other != box and shared(other, box) == box for other in boxes)}
