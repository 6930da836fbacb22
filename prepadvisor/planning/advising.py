"""From a job and a house to the whole advice."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import JudgedColour, standing
from prepadvisor.planning.assumed import assumptions
from prepadvisor.planning.materials import discs, mix_ml
from prepadvisor.planning.offers import LINES_WITH_OFFERS, offers
from prepadvisor.planning.pieces import Asked, KeptPieces, PanelOffer, PanelPiece
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.work.plan import job_work, sanded_dm2
from prepadvisor.records import (
    Advice,
    Caution,
    Colour,
    HeldAfterPrimer,
    HoldKind,
    Job,
    JobSummary,
    Offer,
    RuleCaution,
    Shop,
    TrimOff,
)

if TYPE_CHECKING:
    from prepadvisor.standards import House

# A job as it stands by its log: patches and panels that primer is on.


def primed_places(job: Job) -> dict[str, set[str]]:
    """Return the patches, or "panel", that the log has as primed, by panel."""
    if not job.check:
        return {}
    from prepadvisor.logbook import primed  # only a job with a log pays for reading one

    on: dict[str, set[str]] = {}
    for one in primed(job.check, job.job.number):
        on.setdefault(one.panel, set()).add(one.feature)
    return on


def as_primed(job: Job, shop: Shop) -> Job:
    """Return a job with what is primed as primer surfacer, not yet sanded, grown by the lap.

    Args:
        job: the job with its log.
        shop: how far primer laps, and is keyed past that.
    """
    on = primed_places(job)
    if not on:
        return job
    panels = tuple(
        standing(panel, on.get(panel.id, set()), shop.lap_mm, shop.ring_mm).now for panel in job.panel
    )
    return job.model_copy(update={"panel": panels})


_KEPT = 16
_planners: dict[tuple[int, JudgedColour], Planner] = {}


def advise(job: Job, house: "House", *, seek_offers: bool = True, kept: KeptPieces | None = None) -> Advice:
    """Advise on a job: every spot, place and panel, materials, holds, offers and cautions.

    Args:
        job: a job whose panels fit (the file layer has checked it).
        house: the standards, shop, constants and outlines it is judged by.
        seek_offers: look for cheaper ways too, which plans a panel again for each; `offers` is empty without.
        kept: what is known of panels advised on before; nothing without. It never changes what is advised.

    Returns:
        The advice. Places without a safe finish stand in `holds`; none is left out.
    """
    house = house.on(job)
    kept, on = kept or KeptPieces(), primed_places(job)
    primed = [frozenset(on.get(panel.id, ())) for panel in job.panel]
    asked = Asked(
        head=job.job,
        colour=job.colour,
        panels=job.panel,
        primed=tuple(primed),
        house=house,
        seek_offers=seek_offers,
    )
    known = kept.advice(asked)
    if known is None:
        known = _advised(job, house, primed, kept, seek_offers=seek_offers)
        kept.keep(asked, known)
    return known


def _advised(
    job: Job, house: "House", primed: Sequence[frozenset[str]], kept: KeptPieces, *, seek_offers: bool
) -> Advice:
    planner = _planner(house, job.colour)
    pieces = [kept.piece(panel, done, planner) for panel, done in zip(job.panel, primed, strict=True)]
    advice = _joined(job, house, pieces)
    if seek_offers:
        found = [
            _offers_on(job, piece, done, planner, kept) for piece, done in zip(pieces, primed, strict=True)
        ]
        advice = advice._replace(offers=_with_ml(found, pieces, advice.mix_ml, house))
    kept.forget(len(job.panel))
    return advice


def _joined(job: Job, house: "House", pieces: Sequence[PanelPiece]) -> Advice:
    """Join what the panels of a job bring to its advice."""
    work = job_work({one.advice.id: one.work for one in pieces})
    return Advice(
        job=_summary(job, house),
        standards=house.used,
        spots=tuple(spot for one in pieces for spot in one.spots),
        places=tuple(place for one in pieces for place in one.places),
        panels=tuple(one.advice for one in pieces),
        mix_ml=mix_ml((one.bed_ml for one in pieces), house.constants.mixing),
        discs=discs(sanded_dm2(one.work for one in pieces), house.shop),
        minutes=sum(stage.minutes for stage in work.stages),
        work=work,
        holds=tuple(hold for one in pieces for hold in one.holds),
        offers=(),
        cautions=_cautions(job, house, pieces),
    )


def _offers_on(
    job: Job, piece: PanelPiece, primed: frozenset[str], planner: Planner, kept: KeptPieces
) -> tuple[PanelOffer, ...]:
    """Return what is offered on a panel: it is looked at alone, since other panels change nothing of it."""
    if not any(line.kind in LINES_WITH_OFFERS for line in piece.panel.feature):
        return ()

    def find() -> tuple[PanelOffer, ...]:
        alone = job.model_copy(update={"panel": (piece.panel,), "check": (), "outcome": ()})
        beds: list[float] = []

        def again(changed: Job) -> Advice:
            after = kept.piece(changed.panel[0], primed, planner)
            beds.append(after.bed_ml)
            return _joined(changed, planner.house, [after])

        found = offers(alone, _joined(alone, planner.house, [piece]), again)
        return tuple(PanelOffer(one, beds[-1] if isinstance(one.fact, TrimOff) else None) for one in found)

    return kept.offers(piece, find)


def _with_ml(
    found: Sequence[Sequence[PanelOffer]], pieces: Sequence[PanelPiece], mix: int, house: "House"
) -> tuple[Offer, ...]:
    """Say how much less wet bed is mixed for the job with each offer, where it lifts no stop."""
    beds = [one.bed_ml for one in pieces]
    told = []
    for at, of_panel in enumerate(found):
        for offer, bed in of_panel:
            less = 0
            if bed is not None and not (isinstance(offer.fact, TrimOff) and offer.fact.stops):
                less = mix - mix_ml((*beds[:at], bed, *beds[at + 1 :]), house.constants.mixing)
            told.append(offer._replace(saves_ml=max(0, less)))
    return tuple(told)


def _planner(house: "House", colour: Colour) -> Planner:
    """Return the planner of a colour, kept for the next job: its risks and windows are worked out once.

    What a colour is called changes nothing in how it is judged.
    """
    judged = house.judged(colour)
    key = (id(house), judged)
    found = _planners.get(key)
    if found is None:  # a kept planner holds its house, so that its id stays its own
        while len(_planners) >= _KEPT:
            del _planners[next(iter(_planners))]
        found = _planners[key] = Planner(house, judged)
    return found


def _summary(job: Job, house: "House") -> JobSummary:
    head, colour = job.job, house.judged(job.colour)
    return JobSummary(
        number=head.number,
        vehicle=head.vehicle,
        by=head.by,
        date=head.date.isoformat() if head.date else None,
        units=head.units,
        colour=house.colour_name(job.colour),
        flake=colour.flake,
        flake_stated=job.colour.flake,
        stages=colour.stages,
        tone=colour.tone,
    )


def _cautions(job: Job, house: "House", pieces: Sequence[PanelPiece]) -> tuple[Caution, ...]:
    after: dict[HoldKind, tuple[str, ...]] = {}
    for one in pieces:
        for fact, places in one.after_primer.items():
            after[fact] = (*after.get(fact, ()), *places)
    return tuple(
        dict.fromkeys(
            (
                *assumptions(job.colour, house, (one.assumed for one in pieces)),
                *(HeldAfterPrimer(places, fact) for fact, places in after.items()),
                *_of_rules(pieces),
            )
        )
    )


def _of_rules(pieces: Sequence[PanelPiece]) -> Iterator[RuleCaution]:
    """Give what rules caution of, each once, with the panels where it is not all that are worked."""
    worked = sum(bool(one.work.steps) for one in pieces)
    about: dict[str, list[str]] = {}
    for one in pieces:
        for says in one.of_rules:
            about.setdefault(says, []).append(one.advice.id)
    for says, panels in about.items():
        yield RuleCaution(says, tuple(panels) if len(panels) < worked else ())
