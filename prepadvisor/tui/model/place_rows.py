"""All places of a job as rows, numbered as on the card, with the sign of the advice and of a what-if."""

from prepadvisor.records.advice import Advice, Place
from prepadvisor.records.card_number import card_numbers, letters
from prepadvisor.records.job import Job
from prepadvisor.tui.model.part_rows import PartRow
from prepadvisor.tui.model.says import place_name, place_sign
from prepadvisor.tui.model.what_if import changes
from prepadvisor.wording.holds import hold_why
from prepadvisor.wording.names import Words

BED_SIGN = "+"
"""After a grade: a wet bed is needed there."""


def place_rows(job: Job, advice: Advice | None, before: Advice | None = None) -> list[PartRow]:
    """Return a row for each place, panel by panel, the face first: its grade or HOLD, and a needed wet bed.

    Args:
        job: the job, for the order of its panels.
        advice: the advice shown.
        before: the job's own advice while a what-if is shown; places that differ are marked ▲.
    """
    if advice is None:
        return []
    return [
        _row(letters(at), advice, before, place)
        for at, panel in enumerate(job.panel)
        for place in sorted(
            (place for place in advice.places if place.panel == panel.id),
            key=lambda place: (place.feature != "face", place.number),
        )
    ]


def held_words(job: Job, advice: Advice | None) -> str:
    """Return which places hold, by their numbers: "× HOLD: A8, B1"; empty where none does."""
    if advice is None or not advice.holds:
        return ""
    held = {"/".join(hold.spot.split("/")[:2]) for hold in advice.holds}
    numbers = card_numbers((panel.id for panel in job.panel), advice.places)
    found = [numbers[place.id] for place in advice.places if place.id in held and place.id in numbers]
    return f"× HOLD: {', '.join(found)}" if found else f"× HOLD: {hold_why(advice.holds[0], Words(advice))}"


def place_label(letter: str, place: Place) -> str:
    """Return the number of a place as on the card, A4; the face goes by its panel's letter."""
    return letter if place.feature == "face" else f"{letter}{place.number}"


def _row(letter: str, advice: Advice, before: Advice | None, place: Place) -> PartRow:
    bed = BED_SIGN if place.wet_bed.need == "required" else " "
    label = f"{place_label(letter, place):<3} {place_name(advice, place)}"
    right = f"{place.finish or 'HOLD '}{bed}"
    sign = place_sign(advice, place)
    if before is not None and changes(before, advice, place.id):
        return PartRow(place.id, label, "▲", "warn", right)
    if before is not None:
        sign = " "
    return PartRow(place.id, label, sign, {"×": "stop", "▲": "warn"}.get(sign, "plain"), right)
