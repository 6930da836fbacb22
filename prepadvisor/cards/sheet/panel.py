"""One panel of a card: what it is, order of work, four big answers, rows with boxes, drills, film."""

from typing import TYPE_CHECKING

from prepadvisor.cards.sheet.record import BigAnswer, DrillText, PanelSheet, PlaceRow
from prepadvisor.cards.sheet.rows import NOTHING, STOP, work_on
from prepadvisor.planning import budget, cut_um
from prepadvisor.records import (
    AREA_KINDS,
    CLEAR_SURFACES,
    RANK,
    Drill,
    Grade,
    LeadDecides,
    Look,
    Panel,
    PanelAdvice,
    PanelWetBed,
    Place,
    Task,
    ZoneBand,
    finest,
)
from prepadvisor.wording import (
    NEXT,
    ROLE,
    SPECIAL,
    SURFACE,
    TOOL,
    ZONE,
    Brief,
    Units,
    coats,
    drill_brief,
    drill_case,
    exception_says,
    heading,
    hold_mend,
    hold_why,
    listed,
    minutes,
    side,
)

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers

FACE, HAND, HAND_ONLY, BED = "WHOLE FACE, DA", "LINES BY HAND FIRST", "HAND-ONLY PLACES", "WET BED"


def panel_sheet(
    papers: "Papers", panel: PanelAdvice, notes: dict[str, tuple[str, ...]], told: set[str]
) -> PanelSheet:
    """Return everything a card says of one panel in its stage.

    Args:
        papers: job, advice and house.
        panel: the panel.
        notes: what is said at single places, by place id.
        told: signs explained on this card already; added to.
    """
    source = papers.job_panels.get(panel.id)
    stop = panel.id in papers.held_panels
    places = [] if stop else [place for place in papers.places_of[panel.id] if _is_worked(papers, place)]
    order, steps, rows = work_on(papers, panel, places, notes)
    return PanelSheet(
        letter=papers.letter_of[panel.id],
        id=panel.id,
        kind=panel.kind,
        heading=_heading(panel),
        role=ROLE[panel.role],
        condition=_condition(source),
        zones=_zones(papers, panel, source),
        stop=stop,
        instead=_instead(papers, panel, stop=stop) if not rows else (),
        order=order,
        answers=four_answers(papers, panel),
        ladders=steps,
        rows=rows,
        legend=_legend(rows, told),
        notes=tuple(exception_says(each, papers.words) for each in panel.exceptions) if rows else (),
        drills=_drills(papers, panel) if rows else (),
        film=_film(papers, panel) if rows else "",
        minutes="" if not order else minutes(sum(task.minutes for task in _tasks(papers, panel))),
    )


def _is_worked(papers: "Papers", place: Place) -> bool:
    """Say whether a place stands on the card: it has work in this stage, or is held."""
    return place.id in papers.at or place.id in papers.held


def _tasks(papers: "Papers", panel: PanelAdvice) -> list[Task]:
    return papers.tasks_of.get(panel.id, [])


def _heading(panel: PanelAdvice) -> str:
    """Return a panel's id as a heading, with what kind of panel it is where the id does not say so."""
    said, kind = heading(panel.id), panel.name.upper()
    return said if kind in said else f"{said}, {kind}"


def _condition(panel: Panel | None) -> str:
    if panel is None:
        return ""
    says = [SURFACE[panel.surface]]
    if panel.now and panel.now.grade:
        says.append(f"sanded {panel.now.grade} ({TOOL[panel.now.tool]}) so far")
    elif panel.surface in CLEAR_SURFACES:
        says.append("full gloss")
    if panel.special != "none":
        says.append(SPECIAL[panel.special].upper())
    if panel.next != "base":
        says.append(f"next coat: {NEXT[panel.next]}")
    return ", ".join(says)


def _zones(papers: "Papers", panel: PanelAdvice, source: Panel | None) -> tuple[str, ...]:
    bands = panel.bands
    if len(bands) < 2 or source is None or not source.colour_from:
        zone = bands[0].zone if bands else "clear" if panel.role == "clear-only" else "colour"
        return (f"all over: {ZONE[zone]}",)
    units = papers.units
    parts = [f"{units.bare_span(band.from_mm, band.to_mm)} {ZONE[band.zone]}" for band in bands]
    fade = next((at for at, band in enumerate(bands) if band.zone == "fade"), None)
    blends = [entry for entry in papers.work.booth if entry.panel == panel.id and entry.do == "blend"]
    misted = max((entry.past_mm for entry in blends), default=0.0)
    if fade is not None and misted > 0:
        parts[fade] += f" (last {units.bare_length(misted)} mist)"
    return (f"from {_sources(papers, panel, source)}, {units.length_unit}: {', '.join(parts)}",)


def _sources(papers: "Papers", advised: PanelAdvice, panel: Panel) -> str:
    patches = {patch.id for patch in panel.patch}
    sides = [
        f"{side(advised.seen_as, source).upper()} edge"
        for source in panel.colour_from
        if source not in patches
    ]
    rims = [
        f"rim of {papers.words.numbers_of([f'{panel.id}/{patch}'])}"
        for patch in panel.colour_from
        if patch in patches
    ]
    return listed([*sides, *rims])


def _instead(papers: "Papers", panel: PanelAdvice, *, stop: bool) -> tuple[str, ...]:
    """Return why there is nothing to work by on a panel: each hold once, or that its work comes later."""
    if not stop:
        return ("Nothing to do here before primer; its work is on the card for paint.",)
    says = []
    for hold in papers.advice.holds:
        if hold.spot.split("/")[0] == panel.id:
            mend = hold_mend(hold, papers.words)
            why = hold_why(hold, papers.words).rstrip(".")
            says.append(f"STOP: {why}" + (f" -> {mend}" if mend else ""))
    return tuple(dict.fromkeys(says))


def four_answers(papers: "Papers", panel: PanelAdvice) -> tuple[BigAnswer, BigAnswer, BigAnswer, BigAnswer]:
    """Return the four answers of a panel; with nothing to be done on it all four say STOP."""
    if panel.id in papers.held_panels:
        return BigAnswer(FACE, STOP), BigAnswer(HAND, STOP), BigAnswer(HAND_ONLY, STOP), BigAnswer(BED, STOP)
    places = [place for place in papers.places_of[panel.id] if _is_worked(papers, place)]
    return (
        _face(papers, panel, [place for place in places if place.kind == "face"]),
        _hand(papers, [place for place in places if _scuffed_ahead(papers, place)]),
        _hand_only(papers, [place for place in places if place.id in papers.hand_only]),
        _bed(papers, panel),
    )


def _scuffed_ahead(papers: "Papers", place: Place) -> bool:
    return place.kind not in AREA_KINDS and place.id not in papers.hand_only


def _face(papers: "Papers", panel: PanelAdvice, faces: list[Place]) -> BigAnswer:
    if any(place.id in papers.held for place in faces):
        return BigAnswer(FACE, STOP)
    cuts = [task for place in faces for task in papers.at.get(place.id, ()) if task.do == "sand"]
    if not cuts:
        return BigAnswer(FACE, NOTHING, ("not in this stage",) if panel.face else ("not sanded",))
    small = [TOOL[cuts[-1].tool]] if cuts[-1].tool else []
    for place in faces:
        small += [f"{grade} in {ZONE[zone]}" for zone, grade in place.split]
    if len(cuts) > 1 and not faces[0].split:
        small.append("last of " + ">".join(task.grade or "" for task in cuts))
    return BigAnswer(FACE, finest(*(Grade(task.grade) for task in cuts if task.grade)), tuple(small))


def _hand(papers: "Papers", places: list[Place]) -> BigAnswer:
    return _scuffed(papers, HAND, places)


def _hand_only(papers: "Papers", places: list[Place]) -> BigAnswer:
    return _scuffed(papers, HAND_ONLY, places)


def _scuffed(papers: "Papers", title: str, places: list[Place]) -> BigAnswer:
    """Return the grade of hand work; STOP where any of its places is held, with what the others get."""
    tasks = [task for place in places for task in papers.at.get(place.id, ()) if task.do == "scuff"]
    held = any(place.id in papers.held for place in places)
    grades_used = sorted({task.grade for task in tasks if task.grade}, key=RANK.__getitem__)
    if not grades_used:
        return BigAnswer(title, STOP if held else NOTHING, () if held else ("none here",))
    big = STOP if held else grades_used[-1]
    others = [task for task in tasks if task.grade != big]
    tools = sorted({task.tool for task in tasks if task.tool})
    usual = papers.house.shop.hand_tool
    small = [TOOL[tool] for tool in tools if title == HAND or tool != usual]
    if others and len(others) < 4:
        small.append(", ".join(f"{papers.words.number(papers.places[t.place])} {t.grade}" for t in others))
    elif others:
        small.append("see the rows")
    return BigAnswer(title, big, tuple(small))


def _bed(papers: "Papers", panel: PanelAdvice) -> BigAnswer:
    bed = panel.wet_bed
    if bed.need == "no":
        return BigAnswer(BED, "none", ())
    if papers.stage != "paint":
        return BigAnswer(BED, NOTHING, ("not in this stage",))
    need = "NEEDED" if bed.need == "required" else "advised"
    stretch = bed_stretch(bed, panel.bands, papers.house.shop.wet_bed.overlap_mm, papers.units)
    return BigAnswer(BED, coats(bed.coats), (need, *((stretch,) if stretch else ())))


def bed_stretch(bed: PanelWetBed, bands: tuple[ZoneBand, ...], overlap_mm: float, units: Units) -> str:
    """Return how far a wet bed reaches, measured as the zones are: "50-800 mm", empty where not laid out.

    It goes over its zones and runs on past the fade by the overlap, but never past the panel.
    """
    zones = bed.zones or ("fade",)
    over = [band for band in bands if band.zone in zones]
    if not over:
        return ""
    start, end = min(band.from_mm for band in over), max(band.to_mm for band in over)
    first, last = min(band.from_mm for band in bands), max(band.to_mm for band in bands)
    end = min(last, end + overlap_mm) if "fade" in zones else end
    return "the whole panel" if (start, end) == (first, last) else units.span(start, end)


def _legend(rows: tuple[PlaceRow, ...], told: set[str]) -> tuple[str, ...]:
    """Explain each sign where it first stands on the card."""
    says = []
    if any(row.hand_or_finer for row in rows):
        says.append("* or finer.")
    if any(row.mark == "!" for row in rows):
        says.append("! rubs through first: pad flat, two light passes.")
    if any(row.powder != "none" for row in rows):
        says.append("Powder dry, never sprayed mist.")
    if any("held" in {row.scuffed, row.powder, row.sanded, row.look} for row in rows):
        says.append("[!] logged, but may not stand: see the top.")
    new = [text for text in says if text not in told]
    told.update(new)
    return tuple(new)


def _drills(papers: "Papers", panel: PanelAdvice) -> tuple[DrillText, ...]:
    """Return what to do where a look finds lines on this panel, and on fill low spots and pinholes."""
    at = {place.id: papers.drills.get(place.id, {}) for place in papers.places_of[panel.id]}
    lines = {place: known["lines"] for place, known in at.items() if "lines" in known}
    low = [{place: known["low"]} for place, known in at.items() if "low" in known]
    groups: list[tuple[Look, dict[str, Drill | LeadDecides]]] = [
        ("lines", lines),
        *(("low", one) for one in low),
    ]
    return tuple(
        DrillText(drill_case(result), drill_brief(result, Brief(papers.words, group)))
        for result, group in groups
        if group
    )


def _film(papers: "Papers", panel: PanelAdvice) -> str:
    if panel.id in papers.ungauged:
        return "film: no gauge reads it here; stop where another colour shows"
    film, units = panel.film, papers.units
    off = {
        place.id: cut_um(papers.at.get(place.id, ()))
        for place in papers.places_of[panel.id]
        if place.kind != "patch"
    }
    takes = [
        f"{what} {_of_most(papers, panel, most)}"
        for what, most in (
            ("face takes", {at: um for at, um in off.items() if um and papers.places[at].kind == "face"}),
            ("lines", {at: um for at, um in off.items() if um and papers.places[at].kind != "face"}),
        )
        if most
    ]
    if not takes:
        return ""
    reading = "not gauged, measure first" if film.reading_um is None else units.film(film.reading_um)
    return f"film: {reading}; {', '.join(takes)} {units.film_unit}"


def _of_most(papers: "Papers", panel: PanelAdvice, off: dict[str, float]) -> str:
    """Return what comes off the place that is nearest to its most, and that most: "1.3 of 5"."""
    units, caps = papers.units, {at: budget(papers.spots_at[at], panel) for at in off}
    at = max(off, key=lambda each: (off[each] / (caps[each] or float("inf")), off[each]))
    most = caps[at]
    return units.bare_film(off[at]) + (f" of {units.bare_film(most)}" if most is not None else "")
