"""Wet beds that one rule asks for where another lets no coat be laid; a required one holds the place."""

from typing import Final

from prepadvisor.standards.audited import Audited, RegionPart, named, place_of
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.pairs import Pair, deciding_pairs
from prepadvisor.standards.rules import BASE
from prepadvisor.standards.space import cells

_ADVISED: Final = float(OUTPUTS["wet_bed"].strength("advised"))
_NO_COAT: Final = float(OUTPUTS["bed_coats_max"].strength(0))
_MOST: Final = 40


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
    return [_finding(audited, pair) for pair in pairs[:_MOST]]


def _advised_in_vain(pair: Pair) -> bool:
    """Say whether a house advises a bed where the base lets none be laid; the other way round it is meant."""
    return pair.one.layer != BASE and pair.other.layer == BASE


def beds_too_thin(audited: Audited) -> list[Finding]:
    """Return a finding for each two rules that ask for more coats of a bed than may be laid."""
    beds = audited.ranking("wet_bed")
    least, most = audited.ranking("bed_coats_min"), audited.ranking("bed_coats_max")
    found: dict[tuple[str, str], Pair] = {}
    for box, strength in zip(beds.boxes, beds.strengths, strict=True):
        if strength < _ADVISED or not least.rules:
            continue
        pairs = deciding_pairs(audited, least, most, lambda few, many: 0 < -many < few, box)
        for pair in pairs:
            known = found.get((pair.one.id, pair.other.id))
            if known is None or cells(pair.box) > cells(known.box):
                found[pair.one.id, pair.other.id] = pair
    return [_too_thin(audited, pair) for pair in list(found.values())[:_MOST]]


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


def _mend(pair: Pair) -> str:
    """Return what mends a forbidden bed, in a file of the house where one is at fault."""
    bed, none = pair.one, pair.other
    if none.layer == BASE:
        return f'Leave these cases out of "{bed.id}": a bed would not hold on there.'
    if bed.layer != BASE:
        return f'Leave these cases out of "{bed.id}" or out of "{none.id}".'
    return (
        f'Leave these cases out of "{none.id}", or write a rule of yours that replaces "{bed.id}" and leaves '
        "them out."
    )


def _finding(audited: Audited, pair: Pair) -> Finding:
    file, line = place_of([pair.one, pair.other])
    part: RegionPart = audited.part(audited.world.living, pair.box)
    required = pair.one.set["wet_bed"] == "required"
    asks, then = ("requires", "Such places are held.") if required else ("advises", "None is laid there.")
    return Finding(
        "bed",
        f"{named([pair.one])} {asks} a wet bed, {named([pair.other])} lets no coat of it be laid "
        f"(bed_coats_max 0), for: {in_words(part.limits)}. {then}",
        _mend(pair),
        rules=(pair.one.id, pair.other.id),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )
