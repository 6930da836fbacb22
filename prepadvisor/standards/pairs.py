"""Two rules that meet in a case: of two outputs, where the one decides, or where both do."""

from collections.abc import Callable, Iterator

from prepadvisor.named import NamedTuple
from prepadvisor.standards.audited import Audited
from prepadvisor.standards.covers import values_of
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.ranking import Ranking
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.space import shared


class Pair(NamedTuple):
    """Two rules with the box they share, and a living case in it that both decide."""

    one: Rule
    other: Rule
    box: Masks
    case: tuple[int, ...]


def deciding_pairs(
    audited: Audited,
    one: Ranking,
    other: Ranking,
    matters: Callable[[float, float], bool],
    where: Masks | None = None,
) -> Iterator[Pair]:
    """Yield the pairs of rules that both decide some case in which both outputs are read.

    Args:
        audited: the standards.
        one: the rules of an output.
        other: those of another.
        matters: says of two strengths whether such a pair is looked for; asked once for each two.
        where: a box to look in; everywhere without it.
    """
    outside = tuple(dict.fromkeys((*one.outside, *other.outside)))
    covers = audited.space.covers([*one.boxes, *other.boxes], outside, one.supports)
    first = len(one.rules)
    uncounted = ((1 << len(outside)) - 1) << first + len(other.rules)
    wanted = {
        strength: [own for own in dict.fromkeys(other.strengths) if matters(strength, own)]
        for strength in dict.fromkeys(one.strengths)
    }
    for place, rule in enumerate(one.rules):
        partners = wanted[one.strengths[place]]
        if not partners or one.case_decided(place) is None:
            continue
        own = one.boxes[place] if where is None else shared(one.boxes[place], where)
        if not all(own):
            continue
        for bit in values_of(covers.touching(own, other.everyone << first)):
            rival = bit - first
            if other.strengths[rival] not in partners or other.case_decided(rival) is None:
                continue
            box = shared(own, other.boxes[rival])
            among = one.ahead(place) | other.ahead(rival) << first | uncounted
            case = Outside(covers, box, among).case()
            if case is not None:
                yield Pair(rule, other.rules[rival], box, case)
