"""Why: every number a card has at one place or panel, with rule, model, layer and source behind it."""

from prepadvisor.cards.explain.panel import panel_sections
from prepadvisor.cards.explain.place import place_sections
from prepadvisor.cards.explain.section import Section
from prepadvisor.cards.explain.short import short_panel, short_place
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.records.advice import Advice, PanelAdvice, Place
from prepadvisor.records.job import Job
from prepadvisor.records.nearest import nearest
from prepadvisor.records.trade_words import first_words_of_place
from prepadvisor.standards.house import House
from prepadvisor.wording.json_form import as_data


class NoSuchPlaceError(LookupError):
    """There is no such place on this job; the message says what was probably meant and what there is."""


def explain(job: Job, advice: Advice, house: House, asked: str) -> tuple[Section, ...]:
    """Return everything that stands behind the numbers of a place, a spot or a panel.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: an id (panel, panel/feature or panel/feature/zone), or what the card calls it ("A", "A4").

    Raises:
        NoSuchPlaceError: nothing on this job is called that.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    if isinstance(found, PanelAdvice):
        return panel_sections(papers, found)
    return place_sections(papers, found, zone)


def short(job: Job, advice: Advice, house: House, asked: str) -> list[str]:
    """Return the same in ten lines: what is done there and what decides each answer.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: as in `explain`.

    Raises:
        NoSuchPlaceError: nothing on this job is called that.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    return short_panel(papers, found) if isinstance(found, PanelAdvice) else short_place(papers, found, zone)


def because(job: Job, advice: Advice, house: House, asked: str) -> list[dict[str, object]]:
    """Return every reason behind a place, a spot or a panel as data, each with its spot and its kind.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: as in `explain`.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    places = [found] if isinstance(found, Place) else papers.of_panel(found.id)
    spots = [spot for place in places for spot in papers.spots_of(place) if zone in {None, spot.zone}]
    return [
        {
            "spot": spot.id,
            "kind": "rule" if isinstance(reason.says, str) else reason.says.kind,
            **as_data(reason, papers.words),
        }
        for spot in spots
        for reason in spot.because
    ]


def _found(papers: Papers, asked: str) -> tuple[PanelAdvice | Place, str | None]:
    """Return the panel or place that is meant, and the zone if one is."""
    names = _names(papers)
    meant = next((one for one in (asked, asked.upper(), first_words_of_place(asked)) if one in names), None)
    if meant is None:
        raise NoSuchPlaceError(_unknown(papers, asked, names))
    return names[meant], meant.split("/")[2] if meant.count("/") == 2 else None


def _names(papers: Papers) -> dict[str, PanelAdvice | Place]:
    names: dict[str, PanelAdvice | Place] = {}
    for panel in papers.advice.panels:
        names[papers.letter_of[panel.id]] = names[panel.id] = panel
    for place in papers.advice.places:
        if place.kind != "face":
            names[papers.number(place)] = place
        names[place.id] = place
        names.update(dict.fromkeys(place.spots, place))
    return names


def _unknown(papers: Papers, asked: str, names: dict[str, PanelAdvice | Place]) -> str:
    near = nearest(asked, names)
    meant = f', did you mean "{near}"?' if near else ""
    places = ", ".join(f"{papers.number(place)} = {place.id}" for place in papers.advice.places[:8])
    more = ", …" if len(papers.advice.places) > 8 else ""
    return f'there is no place "{asked}" on this job{meant}; there are {places}{more}'
