"""Ticks before sanding and paint, the booth, what to mix, discs and time: once a card."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.sheet.record import BoothStep, DrillText, Fact, Tick
from prepadvisor.records import TRIM_KINDS, NamedTuple, Panel, Place
from prepadvisor.wording import Brief, drill_brief, drill_case, listed, minutes, turn_says, turns

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers


class Ending(NamedTuple):
    """What a card says of the whole job before, between and after its panels; named as on the sheet."""

    before_sanding: tuple[Tick, ...]
    drills: tuple[DrillText, ...]
    ticks_title: str
    before_paint: tuple[Tick, ...]
    booth_title: str
    booth: tuple[BoothStep, ...]
    materials: tuple[Fact, ...]
    clear: str


def ending(papers: "Papers") -> Ending:
    """Return what is ticked before sanding and before the coat, what follows, and what it takes."""
    primer = papers.stage == "primer"
    return Ending(
        before_sanding=_before_sanding(papers),
        drills=_rubbed_through(papers),
        ticks_title="BEFORE PRIMER" if primer else "BEFORE PAINT",
        before_paint=_before_paint(papers),
        booth_title="THEN" if primer else "IN THE BOOTH",
        booth=_booth_steps(papers),
        materials=_materials(papers),
        clear=papers.work.clear,
    )


def _rubbed_through(papers: "Papers") -> tuple[DrillText, ...]:
    """Return what to do when it is rubbed through, which is the same on all panels but plastic."""
    if all(panel.id in papers.work.unplanned for panel in papers.advice.panels):
        return ()
    plastic = any(panel.surface == "primed-plastic" for panel in papers.job.panel)
    says = drill_brief("cut-through", Brief(papers.words, {}, plastic))
    return (DrillText(drill_case("cut-through"), says),)


_NAMED_MOST = 2


def _before_sanding(papers: "Papers") -> tuple[Tick, ...]:
    """Return the ticks that come before any abrasive, with readings and trim by name."""
    bed = papers.stage == "paint" and any(panel.wet_bed.need != "no" for panel in papers.advice.panels)
    ticks = [Tick(f"gauge, lowest: {gauge}")] if (gauge := _gauge(papers)) else []
    if papers.stage == "paint":
        ticks.append(Tick("spray-out matched" + (" WITH wet bed" if bed else "")))
    return (*ticks, Tick(_trim(papers)), Tick("neighbours taped"))


def _gauge(papers: "Papers") -> str:
    read = []
    for panel in papers.job.panel:
        if panel.id in papers.ungauged or (panel.id in papers.work.unplanned and not panel.film_um):
            continue
        letter = papers.letter_of.get(panel.id, panel.id)
        known = papers.units.film(min(panel.film_um)) if panel.film_um else f"____ {papers.units.film_unit}"
        read.append(f"{letter} {known}")
    return ", ".join(read)


def _trim(papers: "Papers") -> str:
    worked = {task.place for task in papers.work.tasks} | (papers.hand_only & papers.held.keys())
    round_trim = [place for place in papers.advice.places if place.kind in TRIM_KINDS and place.id in worked]
    off = [place for place in round_trim if place.id not in papers.hand_only]
    stays = [place for place in round_trim if place.id in papers.hand_only]
    says = f"trim off{f': {_named(papers, off)}' if off else ''}"
    verb = "stays" if len(stays) == 1 else "stay"
    return f"{says} ({_named(papers, stays)} {verb} on)" if stays else says


def _named(papers: "Papers", places: list[Place]) -> str:
    """Return one or two places by number and name, more of them by their numbers."""
    if len(places) > _NAMED_MOST:
        return papers.words.numbers(places)
    return listed([papers.words.label(place) for place in places])


def _before_paint(papers: "Papers") -> tuple[Tick, ...]:
    """Return the ticks between the last look and the gun."""
    if papers.stage == "primer":
        return (Tick("only what gets primer is open"), Tick("tack cloth"))
    return (Tick("no gloss anywhere, gaps and returns too"), Tick("tack cloth"))


_NOT_BEFORE: Final = BoothStep("NOT BEFORE all that blocks this job is cleared")


def _booth_steps(papers: "Papers") -> tuple[BoothStep, ...]:
    """Return the turns in the booth in order; the look in the wet gloss stands at its turn."""
    if papers.stage == "primer":
        return _priming(papers)
    steps = [_NOT_BEFORE] if papers.advice.holds else []
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
    first = [_NOT_BEFORE] if papers.advice.holds else []
    if not over:  # all that gets primer is on hold
        return tuple(first)
    return (
        *first,
        BoothStep(f"primer over {listed(over)} by its sheet; cure"),
        BoothStep(
            "log primed, then print this card again: it is the one for paint. Lines may be done while the "
            "primer cures; they count"
        ),
    )


def _primed_whole(papers: "Papers", panel: Panel) -> bool:
    return panel.next == "primer" and panel.id not in papers.work.unplanned


def _materials(papers: "Papers") -> tuple[Fact, ...]:
    """Return what to mix, which discs to lay out and how long it takes."""
    advice = papers.advice
    facts = []
    if advice.mix_ml and papers.stage == "paint":
        held = any(panel.id in papers.part_held for panel in advice.panels if panel.wet_bed.need != "no")
        wait = ", not before what blocks it is cleared" if held else ""
        facts.append(Fact("MIX", f"wet bed {papers.units.volume(advice.mix_ml)} ready to spray{wait}"))
    discs = ", ".join(f"{grade} {count}" for grade, count in advice.discs.items())
    both = ", both stages" if len(papers.work.stages) > 1 else ""
    facts.append(Fact("DISCS", f"{discs or 'none'}{both}"))
    took = sum(task.minutes for task in papers.tasks.values())
    rest = f"{', this stage' if both else ''}{' without what is on hold' if advice.holds else ''}"
    masking = papers.house.shop.mask_minutes * sum(task.do == "mask" for task in papers.tasks.values())
    then = f"; mask {minutes(masking)}" if masking else ""
    facts.append(Fact("TIME", f"prep {minutes(took)}{rest}{then}"))
    return tuple(facts)
