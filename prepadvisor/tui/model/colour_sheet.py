"""The flake classes with how to judge them, and the sheet of the colour and the job's head."""

from typing import Any, Final, NamedTuple

from prepadvisor.records.words import FLAKES
from prepadvisor.tui.model.fields import Field, choice, optional_number
from prepadvisor.tui.model.open_job import OpenJob
from prepadvisor.tui.model.panel_edits import with_colour, with_head


class FlakeHelp(NamedTuple):
    """A flake class as a painter judges it, by common practice."""

    flake: str
    says: str
    judge: str


FLAKE_HELP: Final[tuple[FlakeHelp, ...]] = (
    FlakeHelp("solid", "solid", "no sparkle: same from every side"),
    FlakeHelp("coarse", "coarse", "grains seen from a metre away"),
    FlakeHelp("medium", "medium", "grains seen at arm's length; pearl"),
    FlakeHelp("fine", "fine", "grains only nose to panel, in sun"),
    FlakeHelp("very-fine", "very fine", "no grain seen, yet it flips light-dark"),
    FlakeHelp("vapour", "vapour", "like a mirror, liquid metal"),
    FlakeHelp("unknown", "not known", "judged as very fine, to be safe"),
)
"""In the order of their keys 1 to 7; the last is what a blank counts as."""

STAGES: Final = {"2": "two stages: colour, clear", "3": "three: ground, translucent, clear"}
TONE: Final = {"dark": "dark", "mid": "mid tone", "light": "light"}
UNITS: Final = {"metric": "metric", "imperial": "imperial"}


def colour_fields(job: OpenJob) -> list[Field]:
    """Return the fields of colour and job head; what is blank says what it counts as."""
    colour, head = job.colour, job.job
    measured = f"{colour.flake_um:g} um measured" if colour.flake_um else "not measured"
    return [
        choice("tone", "Tone", colour.tone or "", TONE, "not said: judged as light"),
        choice("stages", "Stages", str(colour.stages or ""), STAGES, "not said: judged as three"),
        Field("name", "Colour", colour.name or "no name", "text", colour.name, ask="Name of the colour"),
        Field(
            "flake_um", "Flake size", measured, "number", f"{colour.flake_um:g}" if colour.flake_um else "",
            ask="Measured flake size in um; empty if not measured",
        ),
        Field("number", "Job", head.number, "text", head.number, ask="Job number"),
        Field("vehicle", "Car", head.vehicle or "not said", "text", head.vehicle, ask="Car, in a few words"),
        Field("by", "Painter", head.by or "not said", "text", head.by, ask="Painter's initials"),
        choice("units", "Units", head.units, UNITS),
    ]  # fmt: skip


def changed(job: OpenJob, field_id: str, answer: str) -> OpenJob:
    """Return the job with one field changed to what a person answered."""
    if field_id in {"number", "vehicle", "by", "units"}:
        return with_head(job, **{field_id: answer})
    value: Any = answer
    if field_id == "stages":
        value = int(answer)
    if field_id == "flake_um":
        value = optional_number(answer)
    return with_colour(job, **{field_id: value})


def one_finer(flake: str) -> str:
    """Return the class to take when one is not sure: one finer; not known stays the safe very fine."""
    if flake == "unknown":
        return "very-fine"
    return FLAKES[min(FLAKES.index(flake) + 1, len(FLAKES) - 1)]
