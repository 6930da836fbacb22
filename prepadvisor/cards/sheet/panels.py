"""One panel of a card: heading, zones in words, answers, ladders, order of work, rows and notes."""

from prepadvisor.cards.sheet.answers import four_answers
from prepadvisor.cards.sheet.ladders import face_ladder, patch_ladder
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Ladder, PanelSheet, Row
from prepadvisor.cards.sheet.rows import rows_of
from prepadvisor.cards.sheet.work_order import work_order
from prepadvisor.records.advice import PanelAdvice, Place
from prepadvisor.records.job import Panel
from prepadvisor.wording import trade as words
from prepadvisor.wording.names import heading
from prepadvisor.wording.remarks import exception_says
from prepadvisor.wording.units import minutes

_GLOSSY = frozenset({"aged-clear", "cured-clear"})


def panel_sheet(papers: Papers, panel: PanelAdvice, notes: dict[str, tuple[str, ...]]) -> PanelSheet:
    """Return everything a card says of one panel.

    Args:
        papers: job, advice and house.
        panel: the panel.
        notes: what is said at single places, by place id.
    """
    places = papers.of_panel(panel.id)
    source = papers.job_panels.get(panel.id)
    stop = papers.panel_held(panel)
    rows = tuple(row for place in places for row in _rows(papers, place, notes.get(place.id, ())))
    faces = [place for place in places if place.kind == "face"]
    return PanelSheet(
        letter=papers.letter_of[panel.id],
        id=panel.id,
        kind=panel.kind,
        heading=_heading(panel),
        role=words.ROLE[panel.role],
        condition=_condition(source),
        zones=_zones(papers, panel, source),
        stop=stop,
        answers=four_answers(papers, panel),
        ladders=_ladders(papers, panel, places, faces[0] if faces else None),
        order=() if stop else work_order(papers, panel, places),
        rows=rows,
        legend=_legend(rows),
        notes=tuple(exception_says(each, papers.words) for each in panel.exceptions),
        film=_film(papers, panel),
        minutes="" if stop else minutes(panel.minutes),
    )


def _heading(panel: PanelAdvice) -> str:
    """Return a panel's id as a heading, with what kind of panel it is where the id does not say so."""
    said, kind = heading(panel.id), words.OUTLINE[panel.kind].upper()
    return said if kind in said else f"{said}, {kind}"


def _condition(panel: Panel | None) -> str:
    if panel is None:
        return ""
    says = [words.SURFACE[panel.surface]]
    if panel.now and panel.now.grade:
        says.append(f"sanded {panel.now.grade} ({words.TOOL[panel.now.tool]}) so far")
    elif panel.surface in _GLOSSY:
        says.append("full gloss")
    if panel.special != "none":
        says.append(words.SPECIAL[panel.special].upper())
    if panel.patch:
        count = len(panel.patch)
        says.append("a patch in it" if count == 1 else f"{count} patches in it")
    if panel.next != "base":
        says.append(f"next coat: {words.NEXT[panel.next]}")
    return ", ".join(says)


def _zones(papers: Papers, panel: PanelAdvice, source: Panel | None) -> tuple[str, ...]:
    bands = panel.bands
    if len(bands) < 2 or source is None or not source.colour_from:
        zone = bands[0].zone if bands else "clear" if panel.role == "clear-only" else "colour"
        return (f"all over: {words.ZONE[zone]}",)
    parts = [f"{papers.units.span(band.from_mm, band.to_mm)} {words.ZONE[band.zone]}" for band in bands]
    says = [f"from {_sources(papers, source)}: {', '.join(parts)}"]
    mist = papers.house.shop.mist_mm
    if mist and source.fade_mm is not None and any(band.zone == "fade" for band in bands):
        says.append(f"the last {papers.units.length(mist)} of the fade is mist")
    return tuple(says)


def _sources(papers: Papers, panel: Panel) -> str:
    patches = {patch.id for patch in panel.patch}
    sides = [
        f"{words.side(panel.kind, side).upper()} edge" for side in panel.colour_from if side not in patches
    ]
    rims = [
        f"the rim of {papers.number(papers.places[f'{panel.id}/{patch}'])}"
        if f"{panel.id}/{patch}" in papers.places
        else f"the rim of {patch}"
        for patch in panel.colour_from
        if patch in patches
    ]
    return words.listed([*sides, *rims])


def _ladders(
    papers: Papers, panel: PanelAdvice, places: list[Place], face: Place | None
) -> tuple[Ladder, ...]:
    patches = [patch_ladder(papers, place) for place in places if place.kind == "patch"]
    whole = face_ladder(papers, panel, face)
    return (*patches, *((whole,) if whole else ()))


def _rows(papers: Papers, place: Place, notes: tuple[str, ...]) -> list[Row]:
    """Return the rows of a place, its own notes at the first of them."""
    first, *rest = rows_of(papers, place)
    return [first._replace(notes=(*first.notes, *notes)), *rest]


def _legend(rows: tuple[Row, ...]) -> tuple[str, ...]:
    says = []
    if any(row.hand_or_finer for row in rows):
        says.append("* or finer.")
    if any(row.mark == "!" for row in rows):
        says.append("! crest or edge, rubs through first: pad flat, two light passes.")
    return tuple(says)


def _film(papers: Papers, panel: PanelAdvice) -> str:
    film, units = panel.film, papers.units
    if film.reading_um is None:
        return "film: no gauge reading; measure first, the card cannot check what is left"
    says = f"film: {units.film(film.reading_um)} at the lowest"
    if film.off_um:
        says += f"; steps take {units.film(film.off_um)}"
        says += f" of {units.film(film.off_max_um)} allowed" if film.off_max_um is not None else ""
    return says + (f"; {units.film(film.left_um)} left" if film.left_um is not None else "")
