"""What must be known of a log either way and holds nothing."""

from collections.abc import Iterator, Mapping, Sequence

from prepadvisor.checkoff.basis import lacking, parts_of, scope_of
from prepadvisor.checkoff.bench import Bench
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.judged import Judged
from prepadvisor.checkoff.looks import TOLD_HOURS
from prepadvisor.checkoff.replay import said
from prepadvisor.checkoff.spoken import Spoken
from prepadvisor.logbook import Entry
from prepadvisor.named import NamedTuple
from prepadvisor.records import gate as g
from prepadvisor.records.advice import Advice
from prepadvisor.records.job import Job

_CREST_KINDS = frozenset({"edge", "body-line", "wheel-arch"})
"""Lines whose look a later sanding of the face re-opens: the sander runs over them."""


class Heard(NamedTuple):
    """What remarks are made of: job, advice and shop, the entries, the places and their verdicts.

    `of_panel` has the places by panel, `verdicts` what each came to by place id.
    """

    job: Job
    advice: Advice
    floor: ShopFloor
    standing: Sequence[Entry]
    spoken: Spoken
    of_panel: Mapping[str, Sequence[Bench]]
    verdicts: Mapping[str, Judged]


def remarks(heard: Heard) -> Iterator[g.CheckRemark]:
    """Give every remark on the log of a job as a whole."""
    aged = {
        name: verdict.seen.age
        for name, verdict in heard.verdicts.items()
        if verdict.seen.fact is None and verdict.seen.age >= TOLD_HOURS
    }
    if aged:
        yield g.LooksAged(tuple(aged), max(aged.values()))
    yield from _bases(heard.standing)
    yield from _scope(heard)
    yield from _faces(heard)
    yield from _lines(heard)
    for entry in heard.spoken.nowhere:
        yield g.CountsNowhere(said(entry))
    for panel in heard.advice.panels:
        if panel.wet_bed.need != "no":
            yield g.BedTold(panel.id, panel.wet_bed.coats)
    for spot in heard.advice.spots:
        if spot.finish and spot.finish.verdict == "borderline":
            yield g.BorderlineTold(spot.id)


def _bases(standing: Sequence[Entry]) -> Iterator[g.CheckRemark]:
    """Tell looks that rest on nothing, or on less than is written today."""
    looks = [each for each in standing if each.check.step == "inspected" and each.check.feature != "all"]
    bare = tuple(entry.number for entry in looks if not entry.check.basis)
    if bare:
        yield g.NoBasis(bare)
    by_parts: dict[tuple[g.BasisPart, ...], list[int]] = {}
    for entry in looks:
        parts = lacking(entry.check.basis) if entry.check.basis else ()
        if parts:
            by_parts.setdefault(parts, []).append(entry.number)
    for parts, numbers in by_parts.items():
        yield g.BasisLacks(tuple(numbers), parts)


def _scope(heard: Heard) -> Iterator[g.CheckRemark]:
    """Tell where panels came or went since looks that count."""
    now = scope_of(heard.job)
    moved = tuple(
        verdict.seen.entry.number
        for verdict in heard.verdicts.values()
        if verdict.seen.fact is None and verdict.seen.entry is not None
        and parts_of(verdict.seen.entry.check.basis).get("scope", now) != now
    )  # fmt: skip
    if moved:
        yield g.ScopeMoved(moved)


def _faces(heard: Heard) -> Iterator[g.CheckRemark]:
    """Tell where a face was sanded after lines were looked at that this does not re-open."""
    for panel in heard.of_panel.values():
        for face in (each for each in panel if each.kind == "face"):
            sanded = [each for each in heard.spoken.at(face.place) if each.check.step == "sanded"]
            later = tuple(
                bench.place.id
                for bench in panel
                if bench.kind not in {"face", *_CREST_KINDS} and sanded
                and (verdict := heard.verdicts.get(bench.place.id)) is not None
                and verdict.seen.fact is None and verdict.seen.entry is not None
                and not verdict.seen.entry.knew(sanded[-1])
            )  # fmt: skip
            if later:
                yield g.FaceAfterLines(said(sanded[-1]), later)


def _lines(heard: Heard) -> Iterator[g.CheckRemark]:
    """Tell where usual lines of an outline are not asked for, or a panel has none at all."""
    for panel in heard.job.panel:
        outline = heard.floor.outlines.get(panel.kind)
        usual = outline.feature if outline else ()
        own = {line.id for line in panel.feature}
        aside = tuple(line.id for line in usual if line.id not in own)
        if own and aside:
            yield g.UsualLinesAside(panel.id, aside)
        if not own and not usual:
            yield g.NoLines(panel.id)
