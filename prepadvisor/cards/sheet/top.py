"""The top of a card: what blocks the job, what has to be decided, and what was taken for granted."""

from prepadvisor.cards.sheet.answers import coats
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Choice, HoldNote
from prepadvisor.cards.sheet.rows import done_words
from prepadvisor.records.advice import Hold, Offer, PanelWetBed, Spot, WetBedAdvice
from prepadvisor.wording import trade as words
from prepadvisor.wording.holds import hold_mend, hold_why
from prepadvisor.wording.names import heading
from prepadvisor.wording.remarks import caution_says
from prepadvisor.wording.scuffs import done_ways, offer_says
from prepadvisor.wording.units import minutes

_COUNTS = ("nothing", "one thing", "two things", "three things", "four things", "five things")


def headline(holds: tuple[HoldNote, ...], choices: tuple[Choice, ...]) -> str:
    """Return the first sentence of a card: whether anything blocks, and how much there is to decide."""
    blocks = f"STOP: {_count(len(holds))} block{'s' if len(holds) == 1 else ''} this job."
    first = blocks if holds else "NOTHING BLOCKS THIS JOB."
    return first + (f" {_count(len(choices)).capitalize()} to decide." if choices else "")


def _count(number: int) -> str:
    return _COUNTS[number] if number < len(_COUNTS) else f"{number} things"


def hold_notes(papers: Papers) -> tuple[HoldNote, ...]:
    """Return every hold of the advice; those that say the same of one panel become one naming all spots."""
    groups: dict[tuple[str, Hold], list[str]] = {}
    for hold in papers.advice.holds:
        alike = hold._replace(spot="")
        spots = groups.setdefault((hold.spot.split("/")[0], alike), [])
        if hold.spot not in spots:
            spots.append(hold.spot)
    return tuple(
        HoldNote(
            tuple(spots),
            _where(papers, panel, spots),
            hold_why(alike, papers.words),
            hold_mend(alike, papers.words),
            alike.rules,
            alike.lacks,
        )
        for (panel, alike), spots in groups.items()
    )


def _where(papers: Papers, panel: str, spots: list[str]) -> str:
    every = {spot.id for spot in papers.advice.spots if spot.panel == panel}
    if len(every) > 1 and every <= set(spots):
        return f"{papers.letter_of.get(panel, '')} {heading(panel)}, every place".strip()
    by_place: dict[str, list[Spot]] = {}
    loose: list[str] = []
    for spot in spots:
        place = papers.place_of_spot.get(spot)
        if place is None or spot not in papers.spots:
            loose.append(papers.where(spot))
        else:
            by_place.setdefault(place, []).append(papers.spots[spot])
    named = [
        f"{papers.label(papers.places[place])} ({'+'.join(words.ZONE_SHORT[spot.zone] for spot in found)})"
        for place, found in by_place.items()
    ]
    return words.listed([*named, *loose])


def choices(papers: Papers) -> tuple[Choice, ...]:
    """Return what a person decides before work starts: cheaper ways, re-cuts, too fine scuffs, borderline."""
    return (
        *(_offer(papers, offer) for offer in papers.advice.offers),
        *_scuffs(papers),
        *_borderline(papers),
    )


def _offer(papers: Papers, offer: Offer) -> Choice:
    places = [papers.places[place] for place in offer.places if place in papers.places]
    title = words.listed([papers.label(place) for place in places]) or "A cheaper way"
    now = _worst_bed(papers, offer)
    saves = []
    if offer.saves_minutes > 0:
        saves.append(minutes(offer.saves_minutes))
    if offer.saves_ml > 0:
        saves.append(papers.units.volume(offer.saves_ml))
    gain = f" Saves {words.listed(saves)}." if saves else ""
    as_it_is = f"as it is: hand-only work decides the wet bed: {_bed(now)}."
    return Choice(tuple(offer.places), title, (as_it_is, f"{offer_says(offer, papers.words)}{gain}"))


def _worst_bed(papers: Papers, offer: Offer) -> WetBedAdvice | PanelWetBed:
    panels = {place.split("/")[0] for place in offer.places}
    beds = [panel.wet_bed for panel in papers.advice.panels if panel.id in panels]
    rank = {"no": 0, "advised": 1, "required": 2}
    return max(beds, key=lambda bed: (rank[bed.need], bed.coats), default=WetBedAdvice())


def _bed(bed: WetBedAdvice | PanelWetBed) -> str:
    if bed.need == "no":
        return "no wet bed"
    return f"wet bed {'NEEDED' if bed.need == 'required' else 'only advised'}, {coats(bed.coats)}"


def _scuffs(papers: Papers) -> list[Choice]:
    found = [place for place in papers.advice.places if place.done.verdict in {"too-coarse", "too-fine"}]
    return [
        Choice(
            (place.id,),
            papers.label(place),
            done_ways(place.done) or (done_words(place.done),),
        )
        for place in found
    ]


def _borderline(papers: Papers) -> list[Choice]:
    groups: dict[str, list[Spot]] = {}
    for spot in papers.advice.spots:
        if spot.finish and spot.finish.verdict != "safe" and spot.line:
            groups.setdefault(papers.place_of_spot.get(spot.id, spot.id), []).append(spot)
    says = []
    for place, spots in groups.items():
        worst = max(spots, key=lambda spot: spot.line.risk if spot.line else 0.0)
        risk = worst.line.risk if worst.line else 0.0
        limit = f" where {worst.risk_limit:.2f} is allowed" if worst.risk_limit is not None else ""
        verdict = worst.finish.verdict.upper() if worst.finish else ""
        way = f"risk {risk:.2f}{limit}: spray a test panel or ask the lead."
        says.append(Choice((place,), f"{papers.where(worst.id)}: {verdict}", (way,)))
    return says


def taken(papers: Papers) -> tuple[str, ...]:
    """Return what was not stated and how it was judged, always the strict way, and the rules' cautions."""
    return tuple(dict.fromkeys(caution_says(each, papers.words) for each in papers.advice.cautions))
