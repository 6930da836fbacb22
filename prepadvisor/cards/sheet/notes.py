"""Notes of rules, each said once: at its row where it is about one line or patch, else for the whole card."""

from typing import NamedTuple

from prepadvisor.cards.sheet.papers import Papers, numbers
from prepadvisor.records.advice import Place
from prepadvisor.wording.remarks import note_says


class Notes(NamedTuple):
    """Notes for the whole card, each with the places it is about, and notes of single places by place id."""

    shared: tuple[str, ...]
    own: dict[str, tuple[str, ...]]


def notes_of(papers: Papers) -> Notes:
    """Sort the notes of all places: what several places share is said once and names them."""
    holders: dict[str, list[Place]] = {}
    for panel in papers.advice.panels:
        for place in papers.of_panel(panel.id):
            for note in dict.fromkeys(note_says(each, papers.words) for each in place.notes):
                holders.setdefault(note, []).append(place)
    shared: list[str] = []
    own: dict[str, tuple[str, ...]] = {}
    for note, places in holders.items():
        if len(places) > 1 or places[0].kind == "face":
            shared.append(f"{note.rstrip('.')} ({numbers(papers, places)}).")
        else:
            own[places[0].id] = (*own.get(places[0].id, ()), note)
    return Notes(tuple(shared), own)
