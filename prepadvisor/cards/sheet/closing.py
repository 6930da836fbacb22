"""The foot of a card: drills, signatures, why, what it rests on, and the cautions."""

from typing import Final

from prepadvisor import __version__
from prepadvisor.cards.sheet.answers import coats
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Drill
from prepadvisor.records.advice import Spot
from prepadvisor.surface import grades
from prepadvisor.wording import trade as words

STANDING: Final = (
    "The paint maker's sheet beats this card. At every LOOK: lamp, clean hands, from about 600 mm, "
    "not flatter than 30°."
)
SIGNATURES: Final = ("prep", "painter", "time", "lead")
ESTIMATE: Final = (
    "The line model is an estimate: its numbers for tools and flakes are assumptions until this shop's own "
    "test panels confirm them. Rules without a published source are common practice."
)
SAFETY: Final = (
    "DUST: extraction on the sander, dust mask and eye protection; also when sanding by hand.",
    "SPRAYING: isocyanates: air-fed hood, gloves, booth running; no one in, hood on, until it is cleared.",
    "SANDER: its vibration reaches the daily action value in 30 to 60 min: take turns.",
    "OLD PAINT may hold lead or chromate: test first, no dry sanding until you know.",
    "ALUMINIUM DUST burns and explodes: own vacuum, own discs, no sparks.",
    "Makers' sheets, local codes and licensed practice come first.",
)
"""The usual cautions, printed on every card."""


def drills(papers: Papers) -> tuple[Drill, ...]:
    """Return what to do when lines are left at a look, and when it is rubbed through."""
    final = [panel.face for panel in papers.advice.panels if panel.face and panel.face in grades.RANK]
    last = grades.finest(*final) if final else None
    again = f"powder, {last} again" if last else "powder, the same grade again"
    back = _one_coarser(papers, last) if last else None
    then = f" Still there: {back}, powder, {last}." if back else " Still there: ask the lead."
    return (
        Drill("LINES LEFT at a LOOK?", f"{again}.{then}"),
        Drill("RUBBED THROUGH?", "STOP, ring it, tell the painter. A wet bed does not mend it."),
    )


def _one_coarser(papers: Papers, grade: str) -> str | None:
    shelf = [name for name in papers.house.shop.shelf if grades.RANK[name] < grades.RANK[grade]]
    return grades.finest(*shelf) if shelf else None


def accepted(papers: Papers) -> tuple[str, ...]:
    """Return the places a lead accepted as they are, with initials, day and reason; the last word counts."""
    found = {}
    for check in papers.job.check:
        place = papers.places.get(f"{check.panel}/{check.feature}")
        if check.step == "accepted" and place:
            if papers.ticks_known and "accepted" not in papers.ticks.get(place.id, ()):
                continue
            day = f"{check.at:%Y-%m-%d}"
            found[place.id] = f"{papers.label(place)}: accepted by {check.by}, {day}: {check.note}"
    return tuple(found.values())


def why(papers: Papers) -> tuple[str, ...]:
    """Return the two lines of why: the place that decides, and the rules behind it."""
    spot = _deciding(papers)
    flake = words.FLAKE[papers.advice.job.flake]
    if spot is None or spot.finish is None:
        return (f"{flake}.",)
    finish = f"{spot.finish.chosen} with {words.TOOL[spot.finish.tool]}"
    says = f"{flake}; decided by {papers.where(spot.id)}: {finish}"
    if spot.line:
        limit = f" of {spot.risk_limit:.2f} allowed" if spot.risk_limit is not None else ""
        bed = f" over {coats(spot.wet_bed.coats)} of wet bed" if spot.wet_bed.need == "required" else ""
        says += f", risk that a line shows {spot.line.risk:.2f}{limit}{bed} (estimate)"
    rules = dict.fromkeys(
        f"{item.rule} ({item.layer}, {item.source})"
        for item in spot.because
        if item.output.startswith(("finish", "hand"))
    )
    return (f"{says}.", *((f"rules: {', '.join(rules)}.",) if rules else ()))


def _deciding(papers: Papers) -> Spot | None:
    def weight(spot: Spot) -> tuple[float, int]:
        near = spot.line.risk / spot.risk_limit if spot.line and spot.risk_limit else 0.0
        return near, grades.RANK[spot.finish.chosen] if spot.finish else -1

    return max((spot for spot in papers.advice.spots if spot.finish), key=weight, default=None)


def rests_on(papers: Papers) -> tuple[str, ...]:
    """Return versions and digests of what the card rests on, and that the line model is an estimate."""
    used = papers.advice.standards
    name = f"{used.name} {used.version}".strip() or "without a name"
    count = f"{len(used.files)} rule file{'' if len(used.files) == 1 else 's'}"
    digest = f", digest {papers.house.digest[:8]}" if papers.house.digest else ""
    house = f", house folder {papers.house.folder}" if papers.house.folder else ""
    return (
        f"standards {name}, {count}{digest}{house}; prepadvisor {__version__}",
        ESTIMATE,
    )
