"""Advice and gate of a job in one step, with the re-cut of what was really scuffed."""

import datetime as dt

from prepadvisor.checkoff import Gate, gate
from prepadvisor.checkoff.recorded import with_recorded_scuffs
from prepadvisor.planning import advise
from prepadvisor.records.card_number import letters
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House


def gate_of(job: Job, house: House, now: dt.datetime) -> Gate:
    """Return the gate of a job by the standards of a house.

    Args:
        job: the job with its log.
        house: the standards.
        now: the present time, with its zone.
    """
    return gate(job, advise(with_recorded_scuffs(job, house), house), house, now)


def place_titles(gate: Gate) -> dict[str, str]:
    """Return what the card calls each place and panel, such as "A4 handle recess", by its id."""
    titles: dict[str, str] = {}
    for index, panel in enumerate(gate.panels):
        letter = letters(index)
        titles[panel.id] = letter
        for place in panel.places:
            number = letter if place.kind == "face" else f"{letter}{place.number}"
            name = place.name or ("the face" if place.kind == "face" else place.kind.replace("-", " "))
            titles[place.id] = f"{number} {name}"
    return titles
