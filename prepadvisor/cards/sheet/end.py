"""Drills at their panel, ticks before sanding and paint, the booth, what to mix, discs and time."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.cards.sheet.record import BoothStep, DrillText, Fact, Tick
from prepadvisor.planning.work.drills import DrillGround, drill
from prepadvisor.records import Look, Panel, PanelAdvice, Place
from prepadvisor.records import work as d
from prepadvisor.wording import minutes, turn_says, turns
from prepadvisor.wording import names as trade

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers

# Drills at their panel: what to do where a look finds something, by machine, by hand and on fill.

FILL = frozenset({"filler", "feather-edge"})
"""Surfaces on which a look also finds low spots and pinholes."""


def drills(papers: "Papers", panel: PanelAdvice) -> tuple[DrillText, ...]:
    """Return what to do where a look finds lines on this panel, and on fill low spots and pinholes."""
    lines = {place.id: _of(papers, place, "lines") for place in papers.of_panel(panel.id)}
    known = {place: one for place, one in lines.items() if one is not None}
    found = [DrillText("LINES LEFT?", _lines(papers, known))] if known else []
    for place in papers.of_panel(panel.id):
        if place.surface in FILL and (low := _of(papers, place, "low")):
            back = _asks(low.first)
            says = f"{papers.number(place)}: fill it, cure, then {back}."
            found.append(DrillText("LOW SPOT or PINHOLE?", says))
    return tuple(found)


def _of(papers: "Papers", place: Place, result: Look) -> d.Drill | None:
    """Return the drill of a place; None where nothing is cut there."""
    chain = [task for task in papers.at.get(place.id, ()) if task.do != "look"]
    if not any(task.do in {"sand", "scuff"} for task in chain):
        return None
    zones = tuple(spot.zone for spot in papers.spots_of(place))
    ground = DrillGround(chain, place.surface, zones, papers.advice.job.flake, papers.house.shop.shelf)
    made = drill(result, ground)
    return made if isinstance(made, d.Drill) else None


def _lines(papers: "Papers", known: dict[str, d.Drill]) -> str:
    """Join the drills of all places: the same pass again, then the passes back, by hand apart.

    Where something that is sanded in one go must ask the lead, all of it does: nobody drills a line apart.
    """
    machine: dict[str, None] = {}
    back: dict[str, list[Place]] = {}
    by_hand: dict[str, None] = {}
    for name, one in known.items():
        place = papers.places[name]
        if all(ask.do != "sand" for ask in one.first):
            by_hand[" or ".join(ask.grade or "" for ask in one.first)] = None
            continue
        machine[_asks(one.first)] = None
        back.setdefault(_asks(one.then), []).append(place)
    says = [f"{' or '.join(machine)} again"] if machine else []
    worked = sum(map(len, back.values()))
    if back.pop("", []):
        back = {chain: patches for chain, some in back.items() if (patches := _patches(some))}
    for chain, places in back.items():
        everywhere = len(places) == worked
        says.append(f"then {chain}" if everywhere else f"{papers.words.numbers(places)} then {chain}")
    if by_hand:
        says.append(f"by hand {' or '.join(by_hand)} again")
    return f"{'; '.join(says)}; then the lead."


def _patches(places: Sequence[Place]) -> list[Place]:
    return [place for place in places if place.kind == "patch"]


def _asks(asks: Sequence[d.Ask]) -> str:
    return ", ".join("powder" if ask.do == "powder" else ask.grade or ask.do for ask in asks)


_NAMED_MOST = 2
_TRIM = frozenset({"recess", "cut-out"})
"""Lines round trim."""


def before_sanding(papers: "Papers") -> tuple[Tick, ...]:
    """Return the ticks that come before any abrasive, with readings and trim by name."""
    bed = papers.stage == "paint" and any(panel.wet_bed.need != "no" for panel in papers.advice.panels)
    ticks = [Tick(f"gauge, lowest: {gauge}")] if (gauge := _gauge(papers)) else []
    if papers.stage == "paint":
        ticks.append(Tick("spray-out matched" + (" WITH wet bed" if bed else "")))
    return (*ticks, Tick(_trim(papers)), Tick("neighbours taped"))


def _gauge(papers: "Papers") -> str:
    read = []
    for panel in papers.job.panel:
        if panel.surface == "primed-plastic":
            continue
        letter = papers.letter_of.get(panel.id, panel.id)
        known = papers.units.film(min(panel.film_um)) if panel.film_um else f"____ {papers.units.film_unit}"
        read.append(f"{letter} {known}")
    return ", ".join(read)


def _trim(papers: "Papers") -> str:
    worked = {task.place for task in papers.work.tasks}
    round_trim = [place for place in papers.advice.places if place.kind in _TRIM and place.id in worked]
    off = [place for place in round_trim if not papers.is_hand_only(place)]
    stays = [place for place in round_trim if papers.is_hand_only(place)]
    says = f"trim off{f': {_named(papers, off)}' if off else ''}"
    verb = "stays" if len(stays) == 1 else "stay"
    return f"{says} ({_named(papers, stays)} {verb} on)" if stays else says


def _named(papers: "Papers", places: list[Place]) -> str:
    """Return one or two places by number and name, more of them by their numbers."""
    if len(places) > _NAMED_MOST:
        return papers.words.numbers(places)
    return trade.listed([papers.label(place) for place in places])


def before_paint(papers: "Papers") -> tuple[Tick, ...]:
    """Return the ticks between the last look and the gun."""
    if papers.stage == "primer":
        return (Tick("only what gets primer is open"), Tick("tack cloth"))
    return (Tick("no gloss anywhere, gaps and returns too"), Tick("tack cloth"))


def booth_steps(papers: "Papers") -> tuple[BoothStep, ...]:
    """Return the turns in the booth in order; the look in the wet gloss stands at its turn."""
    if papers.stage == "primer":
        return _priming(papers)
    steps = [BoothStep("NOT BEFORE all that blocks this job is cleared")] if papers.advice.holds else []
    for turn in turns(papers.work.booth):
        says = turn_says(turn, papers.words, papers.advice)
        if turn[0].do == "look":
            steps.append(BoothStep("", (Tick(says),)))
        else:
            steps.append(BoothStep(says))
    return tuple(steps)


def _priming(papers: "Papers") -> tuple[BoothStep, ...]:
    """Return what ends the primer stage: primer by its sheet, cure, and the card of the paint stage."""
    over = [
        papers.words.where(f"{panel.id}/{patch.id}")
        for panel in papers.job.panel
        for patch in panel.patch
        if patch.next == "primer" and f"{panel.id}/{patch.id}" not in papers.held
    ]
    over += [papers.words.panel(panel.id) for panel in papers.job.panel if _primed_whole(papers, panel)]
    return (
        BoothStep(f"primer over {trade.listed(over)} by its sheet; cure"),
        BoothStep(
            "log primed, then print this card again: it is the one for paint. Lines may be done while the "
            "primer cures; they count"
        ),
    )


def _primed_whole(papers: "Papers", panel: Panel) -> bool:
    return panel.next == "primer" and panel.id not in papers.work.unplanned


def materials(papers: "Papers") -> tuple[Fact, ...]:
    """Return what to mix, which discs to lay out and how long it takes."""
    advice = papers.advice
    facts = []
    if advice.mix_ml and papers.stage == "paint":
        held = any(papers.any_held(panel) for panel in advice.panels if panel.wet_bed.need != "no")
        wait = ", not before what blocks it is cleared" if held else ""
        facts.append(Fact("MIX", f"wet bed {papers.units.volume(advice.mix_ml)} ready to spray{wait}"))
    discs = ", ".join(f"{grade} {count}" for grade, count in advice.discs.items())
    both = ", both stages" if len(papers.work.stages) > 1 else ""
    facts.append(Fact("DISCS", f"{discs or 'none'}{both}"))
    took = sum(task.minutes for task in papers.tasks.values())
    rest = " without what is on hold" if advice.holds else ""
    facts.append(Fact("TIME", f"prep {minutes(took)}{rest}"))
    return tuple(facts)
