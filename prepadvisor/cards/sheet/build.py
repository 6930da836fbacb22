"""Makes the sheet of a card from a job, its advice and the house it was advised by."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.sheet.end import ending
from prepadvisor.cards.sheet.panel import panel_sheet
from prepadvisor.cards.sheet.record import CardSheet, FoundNote, HoldNote, JobLine, ToDecide
from prepadvisor.records import RANK, Advice, Hold, Offer, Place, RingOf, RuleNote, Spot, TooCoarse
from prepadvisor.standards import House, tally
from prepadvisor.version import __version__
from prepadvisor.wording import (
    FLAKE,
    TONE,
    ZONE_SHORT,
    caution_says,
    done_ways,
    estimate_short,
    hold_mend,
    hold_why,
    house_lines,
    listed,
    minutes,
    note_says,
    offer_as_it_is,
    offer_says,
    rests_on,
    sure_of,
)

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers

SHEET_FIRST: Final = "The paint maker's sheet beats this card."
STANDING: Final = f"{SHEET_FIRST} LOOK: lamp, clean hands, about 600 mm, not flatter than 30°."
STANDING_IMPERIAL: Final = f"{SHEET_FIRST} LOOK: lamp, clean hands, about 24 in, not flatter than 30°."
SIGNATURES: Final = ("prep", "painter", "time", "lead")
SAFETY: Final = (
    "DUST: extraction, dust mask, eye protection, gloves; by hand too.",
    "SANDER: hearing protection; turns of 30 to 60 min (vibration).",
    "SPRAYING: isocyanates: air-fed hood, gloves, booth running; no one in, hood on, until it is cleared.",
    "OLD PAINT may hold lead or chromate: test first.",
    "ALUMINIUM DUST explodes: own vacuum and discs, no sparks.",
    "Makers' sheets, local codes and licensed practice come first.",
)
"""The usual cautions, printed on every card."""

SAID_BY_THE_CARD: Final = frozenset(
    {"clean-first", "clear-zone-no-gloss", "crest-light-passes", "guide-coat-powder", "hand-only-first",
     "bed-coarse", "bed-three-stages"}
)  # fmt: skip
"""Rules of the base whose notes the card says in its own place: order of work, legend, ticks, booth."""

_COUNTS: Final = ("nothing", "one thing", "two things", "three things", "four things", "five things")


def card_sheet(papers: "Papers") -> CardSheet:
    """Return every fact of a job's card in printing order, in words and in the job's units."""
    advice, house = papers.advice, papers.house
    holds, choices = hold_notes(papers), _choices(papers)
    found, accepted = _logged(papers)
    shared, own = _notes(papers)
    told: set[str] = set()
    end = ending(papers)
    return CardSheet(
        head=_job_line(advice),
        stage=_stage(papers),
        headline=headline(found, holds, choices),
        found=found,
        holds=holds,
        choices=choices,
        taken=tuple(dict.fromkeys(caution_says(each, papers.words) for each in advice.cautions)),
        house=house_lines(advice.standards),
        accepted=accepted,
        standing=STANDING_IMPERIAL if papers.units.imperial else STANDING,
        before_sanding=end.before_sanding,
        panels=tuple(panel_sheet(papers, panel, own, told) for panel in advice.panels),
        notes=shared,
        drills=end.drills,
        ticks_title=end.ticks_title,
        before_paint=end.before_paint,
        booth_title=end.booth_title,
        booth=end.booth,
        materials=end.materials,
        clear=end.clear,
        signatures=SIGNATURES,
        why=_why(papers),
        rests_on=(
            f"{rests_on(advice.standards, house.digest, __version__)}; {_passports(house)}",
            estimate_short(house.constants.measured_here),
        ),
        cautions=SAFETY,
    )


def _job_line(advice: Advice) -> JobLine:
    head = advice.job
    paint = f"{FLAKE[head.flake]}, {TONE.get(head.tone, head.tone)}"
    stages = ", three-stage" if head.stages == 3 else ""
    return JobLine(
        number=head.number,
        colour=head.colour,
        paint=paint + stages,
        vehicle=head.vehicle,
        date=head.date or "",
        by=head.by,
    )


def _stage(papers: "Papers") -> str:
    if papers.stage == "primer":
        return "THIS CARD IS FOR PRIMER; the one for paint follows when it is logged as primed."
    return ""


def headline(found: tuple[FoundNote, ...], holds: tuple[HoldNote, ...], choices: tuple[ToDecide, ...]) -> str:
    """Return the first sentence of a card: what was found, what blocks, and how much there is to decide."""
    says = []
    if found:
        says.append(f"STOP: {_count(len(found))} found and not mended.")
    if holds:
        says.append(f"STOP: {_count(len(holds))} block{'s' if len(holds) == 1 else ''} this job.")
    if not says:
        says.append("NOTHING BLOCKS THIS JOB.")
    if choices:
        says.append(f"{_count(len(choices)).capitalize()} to decide.")
    return " ".join(says)


def _count(number: int) -> str:
    return _COUNTS[number] if number < len(_COUNTS) else f"{number} things"


def _logged(papers: "Papers") -> tuple[tuple[FoundNote, ...], tuple[str, ...]]:
    """Return what the log found and what a lead accepted; a card without a log need not load their words."""
    if papers.gate is None:
        return (), ()
    from prepadvisor.cards.sheet.logged import accepted, found_notes

    return found_notes(papers.gate, papers.words), accepted(papers.gate, papers.words)


def hold_notes(papers: "Papers") -> tuple[HoldNote, ...]:
    """Return every hold of the advice; those that say the same of one panel become one naming all spots."""
    groups: dict[tuple[str, Hold, str], list[str]] = {}
    for hold in papers.advice.holds:
        alike = hold._replace(spot="")
        mend = hold_mend(hold, papers.words)
        spots = groups.setdefault((hold.spot.split("/")[0], alike, mend), [])
        if hold.spot not in spots:
            spots.append(hold.spot)
    return tuple(
        HoldNote(
            spots=tuple(spots),
            where=_where(papers, panel, spots),
            why=hold_why(alike, papers.words),
            mend=mend,
            rules=alike.rules,
            lacks=alike.lacks,
        )
        for (panel, alike, mend), spots in groups.items()
    )


def _where(papers: "Papers", panel: str, spots: list[str]) -> str:
    every = {spot.id for spot in papers.advice.spots if spot.panel == panel}
    if len(every) > 1 and every <= set(spots):
        return f"{papers.words.panel(panel)}, every place"
    by_place: dict[str, list[Spot]] = {}
    loose: list[str] = []
    for spot in spots:
        place = papers.place_of_spot.get(spot)
        if place is None or spot not in papers.spots:
            loose.append(papers.words.where(spot))
        else:
            by_place.setdefault(place, []).append(papers.spots[spot])
    label = papers.words.label
    named = [
        f"{label(papers.places[place])} ({'+'.join(ZONE_SHORT[spot.zone] for spot in found)})"
        for place, found in by_place.items()
    ]
    return listed([*named, *loose])


def _choices(papers: "Papers") -> tuple[ToDecide, ...]:
    """Return what a person decides before work starts: cheaper ways, re-cuts, too fine scuffs, borderline."""
    return (
        *(_offer(papers, offer) for offer in papers.advice.offers),
        *_scuffs(papers),
        *_borderline(papers),
    )


def _offer(papers: "Papers", offer: Offer) -> ToDecide:
    places = [papers.places[place] for place in offer.places if place in papers.places]
    title = listed([papers.words.label(place) for place in places]) or "A cheaper way"
    saves = []
    if offer.saves_minutes > 0:
        saves.append(minutes(offer.saves_minutes))
    if offer.saves_ml > 0:
        saves.append(papers.units.volume(offer.saves_ml))
    gain = f" Saves {listed(saves)}." if saves else ""
    ways = (f"{offer_as_it_is(offer)}.", f"{offer_says(offer, papers.words)}{gain}")
    return ToDecide(tuple(offer.places), title, ways)


def _scuffs(papers: "Papers") -> list[ToDecide]:
    """Return recorded scuffs with two ways to mend them; one way is no choice and stands at its row."""
    return [
        ToDecide((place.id,), papers.words.label(place), done_ways(place.done))
        for place in papers.advice.places
        if isinstance(place.done.fact, TooCoarse) and place.done.fact.bed == "lead"
    ]


def _borderline(papers: "Papers") -> list[ToDecide]:
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
        ways = (f"spray a test panel: risk {risk:.2f}{limit}", "or ask the lead")
        says.append(ToDecide((place,), f"{papers.words.where(worst.id)}: {verdict}", ways))
    return says


def _notes(papers: "Papers") -> tuple[tuple[str, ...], dict[str, tuple[str, ...]]]:
    """Return notes for the whole card, each said once, and those of lines and patches by place id.

    What a rule says of several places stands once for the card; what is so of a place alone stands there.
    """
    holders: dict[tuple[str, bool], list[Place]] = {}
    for place in papers.advice.places:
        if place.id not in papers.at:
            continue
        for note in dict.fromkeys(place.notes):
            if not (
                isinstance(note, RingOf) or (isinstance(note, RuleNote) and note.rule in SAID_BY_THE_CARD)
            ):
                holders.setdefault((note_says(note, papers.words), isinstance(note, RuleNote)), []).append(
                    place
                )
    shared: list[str] = []
    own: dict[str, tuple[str, ...]] = {}
    for (says, of_rule), places in holders.items():
        if of_rule and (len(places) > 1 or places[0].kind == "face"):
            shared.append(says)
            continue
        for place in places:
            own[place.id] = (*own.get(place.id, ()), says)
    return tuple(shared), own


def _why(papers: "Papers") -> tuple[str, ...]:
    """Return why in one line: the place that decides, its risk, and the rules behind it."""
    spot = _deciding(papers)
    flake = FLAKE[papers.advice.job.flake]
    if spot is None or spot.finish is None:
        return (f"{flake}.",)
    says = f"{papers.words.where(spot.id)} decides: {spot.finish.chosen}"
    if spot.line:
        limit = f" of {spot.risk_limit:.2f} allowed" if spot.risk_limit is not None else ""
        says += f", risk of a line {spot.line.risk:.2f}{limit}, {sure_of(spot)}"
    rules = dict.fromkeys(
        item.rule for item in spot.because if item.output.startswith(("finish_coarsest", "hand_last"))
    )
    return (f"{says} ({', '.join(rules)})." if rules else f"{says}.",)


def _deciding(papers: "Papers") -> Spot | None:
    """Return the spot whose grade stands at its place and that is nearest to its limit."""

    def weight(spot: Spot) -> tuple[float, int]:
        near = spot.line.risk / spot.risk_limit if spot.line and spot.risk_limit else 0.0
        return near, RANK[spot.finish.chosen] if spot.finish else -1

    worked = {
        spot: papers.places[place].finish
        for place in papers.at
        if place in papers.places
        for spot in papers.places[place].spots
    }
    found = [spot for spot in papers.advice.spots if spot.finish and spot.id in worked]
    decides = [spot for spot in found if spot.finish and spot.finish.chosen == worked[spot.id]]
    return max(decides or found, key=weight, default=None)


def _passports(house: House) -> str:
    """Return how the numbers behind the card are known, counted."""
    told = tally(house)
    return f"numbers {told.total}: " + ", ".join(
        f"{count} {known}" for known, count in told.counts.items() if count
    )
