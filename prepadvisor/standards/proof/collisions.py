"""Collisions: a finish finer than another rule lets it be, a wet bed where another lets no coat be laid."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.records import OutputName, is_finer
from prepadvisor.standards.engine import BASE, OUTPUTS, Box, Rule, box_of, grade_set
from prepadvisor.standards.language.as_words import in_words
from prepadvisor.standards.proof.audited import Audited, Ranking, RegionPart, named, place_of
from prepadvisor.standards.proof.covers import Support, values_of
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.pairs import FoundPairs, Pair, deciding_pairs
from prepadvisor.standards.proof.space import cells, shared

if TYPE_CHECKING:
    from prepadvisor.standards.proof.diagram import Masks

# Collisions: possible cases where one rule asks a finish finer than another rule lets it be.

BOUNDS: Final[dict[OutputName, Box]] = {
    "finish_coarsest": box_of({"reach": ("machine",)}),
    "hand_last_coarsest": box_of({"reach": ("hand",)}),
}
"""The coarse end of the grit range, each with the cases where it is the one that counts."""


_MOST_COLLISIONS: Final = 200
"""Pairs told one by one at most; the rest is told together."""


class _Pair(NamedTuple):
    """Two rules that contradict one another in all of a box."""

    output: OutputName
    fine_rule: Rule
    key_rule: Rule
    box: "Masks"


def collisions(audited: Audited) -> list[Finding]:
    """Return a finding for each pair of rules that together leave no grade in some case they decide.

    Its box is all that both rules share: in every possible case of it they contradict one another.
    """
    key = audited.ranking("finish_finest")
    pairs = [
        _Pair(output, *pair)
        for output, reach in BOUNDS.items()
        for pair in _deciding_pairs(audited, audited.ranking(output), key, audited.space.masks(reach))
    ]
    pairs.sort(key=lambda pair: (-cells(pair.box), pair.fine_rule.id, pair.key_rule.id))
    found = [_collision_finding(audited, pair) for pair in pairs[:_MOST_COLLISIONS]]
    if len(pairs) > _MOST_COLLISIONS:
        found.append(_rest(pairs[_MOST_COLLISIONS:]))
    return found


def _deciding_pairs(
    audited: Audited, coarse: Ranking, key: Ranking, reach: "Masks"
) -> Iterator[tuple[Rule, Rule, "Masks"]]:
    """Yield the pairs that contradict one another in a case which no rule before either of them decides."""
    covers = audited.space.covers([*coarse.boxes, *key.boxes], coarse.outside, coarse.supports)
    first = len(coarse.rules)
    cannot_be = coarse.cannot_be << len(key.rules)
    known = FoundPairs()
    for place, fine_rule in enumerate(coarse.rules):
        own = shared(coarse.boxes[place], reach)
        if not all(own) or coarse.case_decided(place) is None:
            continue
        for bit in values_of(covers.touching(own, key.everyone << first)):
            key_place = bit - first
            key_rule = key.rules[key_place]
            if not is_finer(grade_set(fine_rule, coarse.output), grade_set(key_rule, key.output)):
                break  # the key rules after it allow finer grades still
            if known.is_enough(place, bit) or key.case_decided(key_place) is None:
                continue
            box = shared(own, key.boxes[key_place])
            among = coarse.ahead(place) | key.ahead(key_place) << first | cannot_be
            if Outside(covers, box, among).case() is not None:
                known.add(place, bit)
                yield fine_rule, key_rule, box


def _collision_finding(audited: Audited, pair: _Pair) -> Finding:
    output, fine_rule, key_rule, box = pair
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    rules = sorted({fine_rule.id: fine_rule, key_rule.id: key_rule}.values(), key=lambda rule: rule.id)
    file, line = place_of(rules)
    limits = audited.space.axes.limits(box)
    return Finding(
        "collision",
        f"{named([fine_rule])} asks {wanted} or finer ({output}), {named([key_rule])} nothing finer than "
        f"{allowed} (finish_finest): no grade is left for {in_words(limits)}.",
        _mend(pair),
        rules=tuple(rule.id for rule in rules),
        limits=limits,
        file=file,
        line=line,
        cases=audited.diagrams.count(audited.space.region(box)),
    )


def _mend(pair: _Pair) -> str:
    """Say what to change; of the base nothing, where a house's rule takes part."""
    output, fine_rule, key_rule, _ = pair
    wanted, allowed = fine_rule.set[output], key_rule.set["finish_finest"]
    finer = f'Make "{fine_rule.id}" ask {allowed} at most or leave these cases out of it'
    key = f'let "{key_rule.id}" end at {wanted}'
    if key_rule.layer == BASE != fine_rule.layer:
        return f"{finer}."
    if fine_rule.layer == BASE != key_rule.layer:
        return f"{key[0].upper()}{key[1:]} or leave these cases out of it."
    return f"{finer}; only if the finer grade is known to key there, {key}."


def _rest(pairs: list[_Pair]) -> Finding:
    rules = {rule.id: rule for pair in pairs for rule in (pair.fine_rule, pair.key_rule)}
    file, line = place_of(rules.values())
    return Finding(
        "collision",
        f"{FoundPairs.number(len(pairs))} more pairs of rules leave no grade in smaller groups of cases.",
        "Mend the pairs above first.",
        rules=tuple(sorted(rules)),
        file=file,
        line=line,
    )


_ADVISED: Final = float(OUTPUTS["wet_bed"].strength("advised"))
_NO_COAT: Final = float(OUTPUTS["bed_coats_max"].strength(0))
_MOST_BEDS: Final = 40


def forbidden_beds(audited: Audited) -> list[Finding]:
    """Return a finding for each pair of rules of which one asks for a bed where the other forbids it."""
    pairs = list(
        deciding_pairs(
            audited,
            audited.ranking("wet_bed"),
            audited.ranking("bed_coats_max"),
            lambda bed, coats: bed >= _ADVISED and coats == _NO_COAT,
        )
    )
    pairs = [pair for pair in pairs if pair.one.set["wet_bed"] == "required" or _advised_in_vain(pair)]
    pairs.sort(key=lambda pair: -cells(pair.box))
    return [
        *(_bed_finding(audited, pair) for pair in pairs[:_MOST_BEDS]),
        *_rest_of_beds(pairs[_MOST_BEDS:]),
    ]


def _advised_in_vain(pair: Pair) -> bool:
    """Say whether a house advises a bed where the base lets none be laid; the other way round it is meant."""
    return pair.one.layer != BASE and pair.other.layer == BASE


def beds_too_thin(audited: Audited) -> list[Finding]:
    """Return a finding for each two rules that ask for more coats of a bed than may be laid."""
    beds = audited.ranking("wet_bed")
    least, most = audited.ranking("bed_coats_min"), audited.ranking("bed_coats_max")
    asked = [box for box, own in zip(beds.boxes, beds.strengths, strict=True) if own >= _ADVISED]
    if not asked:
        return []
    within = audited.space.support(asked)
    pairs = [
        pair._replace(box=_largest_within(pair, within))
        for pair in deciding_pairs(audited, least, most, lambda few, many: 0 < -many < few, within=within)
    ]
    pairs.sort(key=lambda pair: -cells(pair.box))
    return [*(_too_thin(audited, pair) for pair in pairs[:_MOST_BEDS]), *_rest_of_beds(pairs[_MOST_BEDS:])]


def beds_nowhere(audited: Audited) -> list[Finding]:
    """Return a finding for each house rule that asks for coats of a bed where none is ever asked for."""
    beds, least = audited.ranking("wet_bed"), audited.ranking("bed_coats_min")
    own = [place for place, rule in enumerate(least.rules) if rule.layer != BASE]
    if not own:
        return []
    asked = [box for box, strength in zip(beds.boxes, beds.strengths, strict=True) if strength >= _ADVISED]
    covers = least.covers.supported(*least.covers.supports, audited.space.support(asked))
    found = []
    for place in own:
        rule, box = least.rules[place], least.boxes[place]
        if Outside(least.covers, box, least.cannot_be).case() is None:
            continue  # told as meeting no case
        if not asked or Outside(covers, box, least.cannot_be).case() is None:
            limits = audited.space.axes.limits(box)
            says = (
                f"{named([rule])} asks for {rule.set['bed_coats_min']} coats of wet bed at least, where no "
                f"rule asks for a bed: {in_words(limits)}. None is laid there."
            )
            mend = 'Let it set wet_bed = "advised" too, or leave these cases out.'
            found.append(
                Finding("bed", says, mend, (rule.id,), limits=limits, file=rule.file, line=rule.line)
            )
    return found


def _largest_within(pair: Pair, beds: Support) -> "Masks":
    """Return the largest part of a pair's box in one of the boxes that hold its case."""
    holding = values_of(beds.covers.holding_case(pair.case))
    return max((shared(pair.box, beds.covers.boxes[place]) for place in holding), key=cells)


def _rest_of_beds(pairs: Sequence[Pair]) -> Iterator[Finding]:
    """Yield one finding for the pairs that are not told one by one."""
    if pairs:
        rules = {rule.id: rule for pair in pairs for rule in (pair.one, pair.other)}
        file, line = place_of(rules.values())
        says = (
            f"{FoundPairs.number(len(pairs))} more pairs of rules ask for beds that may not be laid, in "
            "smaller groups of cases."
        )
        mend = "Mend the pairs above first."
        yield Finding("bed", says, mend, rules=tuple(sorted(rules)), file=file, line=line)


def _too_thin(audited: Audited, pair: Pair) -> Finding:
    file, line = place_of([pair.one, pair.other])
    part: RegionPart = audited.part(audited.world.living, pair.box)
    few, many = pair.one.set["bed_coats_min"], pair.other.set["bed_coats_max"]
    return Finding(
        "bed",
        f"{named([pair.one])} asks for {few} coats of wet bed at least, {named([pair.other])} for {many} at "
        f"most, for: {in_words(part.limits)}. Where a bed is required such places are held.",
        f'Ask for fewer coats in "{pair.one.id}", or leave these cases out of it.',
        rules=(pair.one.id, pair.other.id),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )


def _bed_mend(pair: Pair) -> str:
    """Return what mends a forbidden bed, in a file of the house where one is at fault."""
    bed, none = pair.one, pair.other
    if none.layer == BASE != bed.layer and none.when.covers(bed.when):
        return f'Take "{bed.id}" away, or its wet_bed: a bed would not hold on there.'
    if none.layer == BASE:
        return f'Leave these cases out of "{bed.id}": a bed would not hold on there.'
    if bed.layer != BASE:
        return f'Leave these cases out of "{bed.id}" or out of "{none.id}".'
    return (
        f'Leave these cases out of "{none.id}", or write a rule of yours that replaces "{bed.id}" and leaves '
        "them out."
    )


def _bed_finding(audited: Audited, pair: Pair) -> Finding:
    file, line = place_of([pair.one, pair.other])
    part: RegionPart = audited.part(audited.world.living, pair.box)
    required = pair.one.set["wet_bed"] == "required"
    asks, then = ("requires", "Such places are held.") if required else ("advises", "None is laid there.")
    return Finding(
        "bed",
        f"{named([pair.one])} {asks} a wet bed, {named([pair.other])} lets no coat of it be laid "
        f"(bed_coats_max 0), for: {in_words(part.limits)}. {then}",
        _bed_mend(pair),
        rules=(pair.one.id, pair.other.id),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )
