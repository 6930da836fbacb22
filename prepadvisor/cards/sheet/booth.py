"""From the last look to the clear coat: ticks before paint, the order in the booth, what to mix."""

from prepadvisor.cards.sheet.answers import bed_stretch, coats
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import BoothStep, Fact, Tick
from prepadvisor.records.advice import PanelAdvice
from prepadvisor.records.job import Panel
from prepadvisor.wording import trade as words
from prepadvisor.wording.units import minutes


def before_sanding(papers: Papers) -> tuple[Tick, ...]:
    """Return the ticks that come before any abrasive."""
    blank = "  ".join(f"{papers.letter_of[panel.id]} ____" for panel in papers.advice.panels)
    bed = any(panel.wet_bed.need != "no" for panel in papers.advice.panels)
    cleaned = [papers.box(panel.id, "cleaned") for panel in papers.advice.panels]
    clean = Tick("degreased twice", "done" if all(box == "done" for box in cleaned) else "open")
    return (
        Tick("washed", clean.box),
        clean,
        Tick(f"gauge, lowest:  {blank} {papers.units.film_unit}"),
        Tick("spray-out matched" + (", made WITH the wet bed" if bed else "")),
        Tick("trim off"),
        Tick("neighbours taped"),
    )


def before_paint(papers: Papers) -> tuple[Tick, ...]:
    """Return the ticks between the last look and the gun."""
    wiped = all(papers.box(panel.id, "wiped") == "done" for panel in papers.advice.panels)
    return (
        Tick("no gloss left anywhere, gaps and clear-only zones too"),
        Tick("powder all out: blown, wiped twice, white cloth stays clean", "done" if wiped else "open"),
        Tick("masked"),
        Tick("tack cloth"),
    )


def booth_steps(papers: Papers) -> tuple[BoothStep, ...]:
    """Return the steps in the booth in order, with the wet bed's moment and a last look in its wet gloss."""
    steps = [BoothStep("NOT BEFORE all that blocks this job is cleared")] if papers.advice.holds else []
    steps += _undercoats(papers)
    panels = papers.advice.panels
    coloured = [panel for panel in panels if panel.role != "clear-only" and _next(papers, panel) == "base"]
    beds = [panel for panel in coloured if panel.wet_bed.need != "no" and not papers.panel_held(panel)]
    if coloured:
        steps += _full_colour(papers, coloured)
        steps += [_wet_bed(papers, beds)] if beds else []
        steps += _blend(papers, coloured, beds)
    cleared = [panel for panel in panels if _next(papers, panel) in {"base", "clear"}]
    if cleared:
        names = words.listed([papers.letter_of[panel.id] for panel in cleared])
        past = "; clear goes past all wet bed" if beds else ""
        steps.append(BoothStep(f"clear {names} edge to edge{past}"))
    return tuple(steps)


def _next(papers: Papers, panel: PanelAdvice) -> str:
    source = papers.job_panels.get(panel.id)
    return source.next if source else "base"


def _undercoats(papers: Papers) -> list[BoothStep]:
    steps = []
    for coat in ("primer", "sealer"):
        found = [papers.letter_of[panel.id] for panel in papers.advice.panels if _next(papers, panel) == coat]
        for place in papers.advice.places:
            panel: Panel | None = papers.job_panels.get(place.panel)
            patches = {patch.id: patch for patch in panel.patch} if panel else {}
            if place.kind == "patch" and place.feature in patches and patches[place.feature].next == coat:
                found.append(papers.label(place))
        if found and coat == "primer":
            then = "cure; then a new card for the primer, BEFORE colour"
            steps.append(BoothStep(f"primer over {words.listed(found)}; {then}"))
        elif found:
            then = "full colour only, never in a fade; colour goes on inside its window"
            steps.append(BoothStep(f"sealer over {words.listed(found)}, {then}"))
    return steps


def _full_colour(papers: Papers, coloured: list[PanelAdvice]) -> list[BoothStep]:
    primed = [
        papers.label(papers.places[f"{panel.id}/{patch.id}"])
        for panel in coloured
        for patch in papers.job_panels[panel.id].patch
        if patch.next == "base"
        and f"{panel.id}/{patch.id}" in papers.places
        and f"{panel.id}/{patch.id}" not in papers.held
    ]
    repair = [
        f"{papers.letter_of[panel.id]} where it is full colour"
        for panel in coloured
        if panel.role == "repair" and _fades(panel)
    ]
    over = words.listed(primed or repair)
    ground = papers.advice.job.stages == 3 or papers.advice.job.flake == "vapour"
    says = []
    if ground:
        says.append(BoothStep("ground coat by the paint maker's sheet, faded out as the sheet says; flash"))
    if over:
        says.append(BoothStep(f"colour over {over} until it hides; flash"))
    return says


def _wet_bed(papers: Papers, beds: list[PanelAdvice]) -> BoothStep:
    overlap = papers.house.shop.wet_bed.overlap_mm
    parts = []
    for panel in beds:
        stretch = bed_stretch(panel.wet_bed, panel.bands, overlap, papers.units)
        need = "" if panel.wet_bed.need == "required" else " (advised)"
        words_of_bed = (papers.letter_of[panel.id], stretch, coats(panel.wet_bed.coats) + need)
        parts.append(" ".join(part for part in words_of_bed if part))
    most = max(panel.wet_bed.coats for panel in beds)
    last = "coat 1, flash, coat 2, LEAVE IT WET" if most > 1 else "one wet coat, LEAVE IT WET"
    return BoothStep(
        f"wet bed, uncoloured: {words.listed(parts)}: {last}",
        (Tick("LOOK in the wet gloss: lines show now? STOP, dry, sand, start again"),),
    )


def _blend(papers: Papers, coloured: list[PanelAdvice], beds: list[PanelAdvice]) -> list[BoothStep]:
    solid = papers.advice.job.flake == "solid"
    fades = [panel for panel in coloured if _fades(panel)]
    look = () if beds else (Tick("LOOK once more with the lamp before the first colour"),)
    drop = "" if solid else "; drop coat to even the flakes"
    if not fades:
        return [BoothStep(f"colour on {_names(papers, coloured)} until it hides{drop}", look)]
    stage = "translucent coats" if papers.advice.job.stages == 3 else "colour"
    how = "blend the {} into it while wet" if beds else "blend the {} out over the fade"
    return [BoothStep(f"{how.format(stage)}, {_names(papers, fades)}, each coat a hand further{drop}", look)]


def _fades(panel: PanelAdvice) -> bool:
    return any(band.zone == "fade" for band in panel.bands)


def _names(papers: Papers, panels: list[PanelAdvice]) -> str:
    return words.listed([papers.letter_of[panel.id] for panel in panels])


def materials(papers: Papers) -> tuple[Fact, ...]:
    """Return what to mix, which discs to lay out and how long it takes."""
    advice = papers.advice
    facts = []
    if advice.mix_ml:
        held = any(papers.panel_held(panel) for panel in advice.panels if panel.wet_bed.need != "no")
        wait = ", not before what blocks it is cleared" if held else ""
        facts.append(Fact("MIX", f"wet bed {papers.units.volume(advice.mix_ml)} ready to spray{wait}"))
    else:
        facts.append(Fact("MIX", "no wet bed"))
    discs = ", ".join(f"{grade} {count}" for grade, count in advice.discs.items())
    facts.append(Fact("DISCS", discs or "none"))
    each = ", ".join(f"{papers.letter_of[panel.id]} {minutes(panel.minutes)}" for panel in advice.panels)
    by_panel = f": {each}" if len(advice.panels) > 1 else ""
    rest = " without what is on hold" if advice.holds else ""
    facts.append(Fact("TIME", f"prep {minutes(advice.minutes)}{rest}{by_panel}"))
    return tuple(facts)
