"""A test panel and a colour of the book as sheets of fields."""

from collections.abc import Mapping
from typing import Final

from pydantic import ValidationError

from prepadvisor.files import COATS_MOST
from prepadvisor.records import (
    GRADES,
    LIGHTS,
    RANK,
    BookColour,
    FittedNumber,
    Grade,
    PanelRow,
    Shop,
    own_words,
)  # fmt: skip
from prepadvisor.records.panel_rows import COLUMNS
from prepadvisor.tui.model.answers import SHORT_TOOL
from prepadvisor.tui.model.colour_sheet import STAGES, TONE
from prepadvisor.tui.model.fields import Field, choice, optional_number
from prepadvisor.tui.model.open_job import RefusedError
from prepadvisor.wording import FLAKE, TOOL, flake_short

Cells = dict[str, str]

SHOWS: Final = {"yes": "yes, a line is seen", "no": "no line", "barely": "barely"}
_FLAKES: Final = {name: says for name, says in FLAKE.items() if name not in {"solid", "unknown"}}
_BLIND: Final = {"yes": "yes: did not know how it was made", "no": "no", "": "not said"}
_ZONES: Final = {"fade": "fade", "colour": "full colour"}
_FRESH: Final = ("shows", "photo", "note")
"""What a next strip never takes from the one before."""
_COARSEST: Final = Grade("P180")
_DEPTH: Final = "depth_per_grain."
_SIZE: Final = "flake_um."
_NUMBERS: Final = {
    "threshold_arcsec": "thinnest line",
    "bed_set_solids": "bed sets at",
    "scatter": "scatter",
}


def first_panel(shop: Shop, today: str) -> Cells:
    """Return the cells a new panel starts with."""
    start = {"tool": str(shop.finishing_tool), "coats": "0", "zone": "fade", "blind": "yes", "date": today}
    return {name: start.get(name, "") for name in COLUMNS}


def next_panel(cells: Mapping[str, str]) -> Cells:
    """Return the cells of the next strip: as the one before, its answer and photo still to come."""
    return {name: "" if name in _FRESH else text for name, text in cells.items()}


def panel_like(row: PanelRow, cells: Mapping[str, str]) -> Cells:
    """Return the cells of a panel prepared like a row, for another judge: who, when and what are his."""
    made = {
        "flake": row.flake or "",
        "flake_um": _text(row.flake_um),
        "tilt_deg": _text(row.tilt_deg),
        "log_sd": _text(row.log_sd),
        "colour": row.colour,
        "tool": str(row.tool),
        "pad": row.pad,
        "grade": str(row.grade),
        "coats": str(row.coats),
        "zone": row.zone,
        "distance_mm": _text(row.distance_mm),
        "light": row.light,
        "film_um": _text(row.film_um),
    }
    return {name: made.get(name, "" if name in {*_FRESH, "by"} else cells.get(name, "")) for name in COLUMNS}


def panel_fields(cells: Mapping[str, str], shop: Shop) -> list[Field]:
    """Return the fields of a test panel, those every row needs first."""
    shelf = set(shop.shelf)
    grades = {
        str(grade): str(grade) if grade in shelf else f"{grade} (not on the shelf)"
        for grade in GRADES
        if RANK[grade] >= RANK[_COARSEST] and (grade in shelf or str(grade) == cells["grade"])
    }
    pads = {"": "none of ours", **{pad: pad for pad in shop.pads}}
    rows = [
        choice("shows", "Shows?", cells["shows"], SHOWS, "still to say: 1 yes, 2 no, 3 barely"),
        choice("grade", "Grade", cells["grade"], grades, "still to say"),
        choice("tool", "Tool", cells["tool"], dict(TOOL), "still to say"),
        choice("flake", "Flake", cells["flake"], {**_FLAKES, "": "as the colour's"}, "still to say"),
        _typed(cells, "colour", "Colour", "name or book word"),
        _number(cells, "coats", "Bed coats", 1.0),
        choice("zone", "Zone", cells["zone"], _ZONES),
        _typed(cells, "by", "Read by", "the judge's initials"),
        choice("blind", "Blind", cells["blind"], _BLIND, "not said"),
        _typed(cells, "light", "Light", f"{', '.join(LIGHTS)}, or lux"),
        _number(cells, "distance_mm", "Distance", 50.0, "mm", hint="500 where empty"),
        _number(cells, "film_um", "Film", 0.0, "um", hint="as gauged"),
        _typed(cells, "photo", "Photo", "its file name"),
        _typed(cells, "note", "Note", "anything odd"),
        _typed(cells, "date", "Read on", "as 2026-03-02"),
    ]
    if shop.pads:
        rows.insert(3, choice("pad", "Our pad", cells["pad"], pads))
    return rows


def panel_changed(cells: Mapping[str, str], field_id: str, answer: str) -> Cells:
    """Return the cells with one answer taken; a number keeps to what the table takes."""
    if field_id == "coats" and answer:
        answer = str(int(min(optional_number(answer) or 0.0, COATS_MOST)))
    return {**cells, field_id: answer}


def row_words(row: PanelRow) -> tuple[str, str]:
    """Return a row of the table in two lines for a narrow list: the answer and how it was cut; on what."""
    flake = row.colour or (flake_short(row.flake) if row.flake else f"{row.flake_um:g} um")
    bed = f"bed {row.coats}" if row.coats else ""
    zone = _ZONES[row.zone] if row.zone != "fade" else ""
    under = ", ".join(part for part in (flake, bed, zone, row.by) if part)
    return f"{row.shows:<6} {row.grade:<5} {row.pad or SHORT_TOOL[row.tool]}", under


def number_words(number: FittedNumber) -> tuple[str, str]:
    """Return a fitted number in two lines for a narrow list: what it is; its value and interval.

    Two digits: the whole of it stands beside the list.
    """
    word = number.name.removeprefix(_DEPTH)
    says = _NUMBERS.get(number.name) or (
        f"flake, {number.name.removeprefix(_SIZE)}" if word == number.name
        else f"depth, {SHORT_TOOL.get(word, word)}"  # type: ignore[call-overload]
    )  # fmt: skip
    return says, f"{number.value:.2g}, {number.low:.2g} to {number.high:.2g}"


def row_more(row: PanelRow) -> list[str]:
    """Return everything a row of the table says, a fact a line."""
    lux = "" if row.lux is None else " lux"
    facts = (
        ("shows", row.shows), ("grade", row.grade), ("tool", TOOL[row.tool]), ("our pad", row.pad),
        ("flake", FLAKE.get(row.flake or "", row.flake or "")), ("colour", row.colour),
        ("flake size", _text(row.flake_um)), ("coats of bed", str(row.coats)), ("zone", row.zone),
        ("read by", row.by), ("blind", {True: "yes", False: "no", None: "not said"}[row.blind]),
        ("light", f"{row.light}{lux}"), ("distance, mm", _text(row.distance_mm)),
        ("film, um", _text(row.film_um)), ("photo", row.photo), ("note", row.note),
        ("read on", row.date.isoformat() if row.date else ""),
    )  # fmt: skip
    return [f"{name:<14}{says}" for name, says in facts if says]


def colour_fields_of(entry: BookColour) -> list[Field]:
    """Return the fields of a colour of the book."""
    flakes = {
        **{name: says for name, says in FLAKE.items() if name != "unknown"},
        "unknown": "not known",
    }
    return [
        choice("flake", "Flake", entry.flake, flakes),
        choice("stages", "Stages", str(entry.stages or ""), {**STAGES, "": "not said"}),
        choice("tone", "Tone", entry.tone or "", {**TONE, "": "not said"}),
        _kept("name", "Name", entry.name),
        _kept("code", "Code", entry.code),
        _size("flake_um", "Flake size", entry.flake_um, "um"),
        _size("tilt_deg", "Tilt", entry.tilt_deg, "degrees"),
        _size("log_sd", "Spread", entry.log_sd, "of ln size"),
        _kept("notes", "Notes", entry.notes),
    ]


def colour_changed(entry: BookColour, field_id: str, answer: str) -> BookColour:
    """Return an entry with one answer taken.

    Raises:
        RefusedError: the book cannot hold it.
    """
    value: object = answer
    if field_id in {"flake_um", "tilt_deg", "log_sd"}:
        value = optional_number(answer)
    elif field_id == "stages":
        value = int(answer) if answer else None
    elif field_id == "tone":
        value = answer or None
    try:
        return BookColour.model_validate({**entry.model_dump(), field_id: value})
    except ValidationError as error:
        raise RefusedError(f"{answer} cannot be: {own_words(error.errors()[0])}") from error


def _typed(cells: Mapping[str, str], name: str, label: str, hint: str) -> Field:
    return Field(name, label, cells[name] or f"({hint})", "text", cells[name], ask=f"{label}: {hint}")


def _number(
    cells: Mapping[str, str], name: str, label: str, step: float, unit: str = "", *, hint: str = ""
) -> Field:
    asked = ", ".join(part for part in (label, unit, hint) if part)
    blank = f"({', '.join(part for part in (unit, hint) if part)})" if unit or hint else ""
    says = f"{cells[name]} {unit}".strip() if cells[name] else blank
    return Field(name, label, says, "number", cells[name], step=step, ask=asked)


def _kept(name: str, label: str, text: str) -> Field:
    return Field(name, label, text or "not said", "text", text, ask=label)


def _size(name: str, label: str, value: float | None, unit: str) -> Field:
    says = "not measured" if value is None else f"{value:g} {unit}"
    return Field(name, label, says, "number", _text(value), ask=f"{label}, {unit}; empty if not measured")


def _text(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
