"""The flake classes with how to judge them, and the sheet of the colour and the job's head."""

import datetime as dt
from typing import Any, Final, NamedTuple

from prepadvisor.records import FLAKES, BookColour, Colour
from prepadvisor.tui.model.fields import Field, choice, optional_number
from prepadvisor.tui.model.open_job import OpenJob, RefusedError
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
NOT_SAID: Final = "not said"
EMPTY: Final = "empty if not measured"
UNITS: Final = {"metric": "metric", "imperial": "imperial"}


def colour_fields(job: OpenJob) -> list[Field]:
    """Return the fields of colour and job head; what is blank says what it counts as."""
    colour, head = job.colour, job.job
    return [
        choice("tone", "Tone", colour.tone or "", TONE, "not said: judged as light"),
        choice("stages", "Stages", str(colour.stages or ""), STAGES, "not said: judged as three"),
        Field(
            "name", "Colour", _name(colour), "text", colour.name, ask="Name of the colour",
        ),
        _measured(colour),
        _several("head", "Job", "Which fact of the job?", [
            Field("number", "Number", head.number, "text", head.number, ask="Job number"),
            Field(
                "date", "Day", f"{head.date or NOT_SAID}", "text", f"{head.date or ''}",
                ask="Day of the job, such as 2026-03-02; empty for none",
            ),
        ]),
        _several("car", "Car", "The car, or whose it is?", [
            Field("vehicle", "Car", head.vehicle or NOT_SAID, "text", head.vehicle, ask="Car in a few words"),
            Field(
                "customer", "Customer", head.customer or NOT_SAID, "text", head.customer,
                ask="Customer whose standards count beside the shop's own; empty for none",
            ),
        ]),
        Field("by", "Painter", head.by or NOT_SAID, "text", head.by, ask="Painter's initials"),
        choice("units", "Units", head.units, UNITS),
    ]  # fmt: skip


def changed(job: OpenJob, field_id: str, answer: str) -> OpenJob:
    """Return the job with one field changed to what a person answered."""
    if field_id in {"number", "vehicle", "by", "customer", "units"}:
        return with_head(job, **{field_id: answer})
    if field_id == "date":
        return with_head(job, date=_day(answer))
    if field_id in {"head", "car"}:
        return changed(job, *answer.split(" ", 1))
    if field_id == "measured":
        field_id, _, text = answer.partition(" ")
        return with_colour(job, **{field_id: optional_number(text)})
    value: Any = int(answer) if field_id == "stages" else answer
    return with_colour(job, **{field_id: value})


def from_book(job: OpenJob, entry: BookColour) -> OpenJob:
    """Return the job with a colour of the book: what the book does not say stays as it was."""
    colour = job.colour
    return with_colour(
        job,
        book=entry.book,
        name=entry.name or entry.book,
        flake=colour.flake if entry.flake == "unknown" else entry.flake,
        stages=entry.stages or colour.stages,
        tone=entry.tone or colour.tone,
    )


def one_finer(flake: str) -> str:
    """Return the class to take when one is not sure: one finer; not known stays the safe very fine."""
    if flake == "unknown":
        return "very-fine"
    return FLAKES[min(FLAKES.index(flake) + 1, len(FLAKES) - 1)]


def _several(ident: str, label: str, ask: str, parts: list[Field]) -> Field:
    """Return facts that share a line of the sheet; what is not said is left out of it."""
    said = [part.says for part in parts if part.says != NOT_SAID]
    return Field(ident, label, ", ".join(said) or NOT_SAID, "several", ask=ask, parts=tuple(parts))


def _day(text: str) -> dt.date | None:
    try:
        return dt.date.fromisoformat(text) if text else None
    except ValueError:
        raise RefusedError(f'"{text}" is not a day; write it as 2026-03-02') from None


def _name(colour: Colour) -> str:
    return (colour.name or "no name") + (f", book {colour.book}" if colour.book else "")


def _measured(colour: Colour) -> Field:
    """Return what was measured of the flake as one field of three numbers."""
    parts = tuple(
        Field(
            ident, label, f"{value:g} {unit}".strip() if value is not None else "not measured", "number",
            f"{value:g}" if value is not None else "", ask=f"{label}{f', {unit}' if unit else ''}; {EMPTY}",
        )
        for ident, label, unit, value in (
            ("flake_um", "Middle flake size", "um", colour.flake_um),
            ("tilt_deg", "How far flakes lie tilted", "degrees", colour.tilt_deg),
            ("log_sd", "Spread of sizes, log", "", colour.log_sd),
        )
    )  # fmt: skip
    short = ("{:g} um", "tilt {:g}", "spread {:g}")
    values = (colour.flake_um, colour.tilt_deg, colour.log_sd)
    said = [form.format(value) for form, value in zip(short, values, strict=True) if value is not None]
    return Field(
        "measured", "Flake size", ", ".join(said) or "not measured", "several",
        ask="What was measured of the flake?", parts=parts,
    )  # fmt: skip
