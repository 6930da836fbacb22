"""The colour book as a table: read with every bad row told, and written."""

import csv
import datetime as dt
import io
from collections.abc import Iterable
from pathlib import Path

from pydantic import ValidationError

from prepadvisor.files.table_in import (
    BadCellError,
    ReadRow,
    as_cell,
    number_in,
    plain_cell,
    read_table,
    whole_in,
    word_of,
)
from prepadvisor.records.colour_book import COLUMNS, BookColour, key_of
from prepadvisor.records.words import FLAKES, TONES


def read_colours(path: Path | str) -> list[BookColour]:
    """Read a table of colours; none is taken if a row cannot be right.

    Args:
        path: the file; "-" is standard input.

    Raises:
        BadInputError: with every bad row, by line.
    """
    table = read_table(path, COLUMNS, (("book",),))
    found: list[BookColour] = []
    lines: dict[str, int] = {}
    for row in table.rows:
        entry = _entry(row)
        if entry is None:
            continue
        key = key_of(entry.book)
        if key in lines:
            row.fault("book", f'"{entry.book}" stands on line {lines[key]} already', "keep one of them")
        lines.setdefault(key, row.line)
        found.append(entry)
    table.raise_faults()
    return found


def _entry(row: ReadRow) -> BookColour | None:
    if not row.text("book"):
        row.fault("book", "is empty", "write the word jobs call the colour by")
    values = {
        "book": plain_cell(row.text("book")),
        "name": plain_cell(row.text("name")),
        "code": plain_cell(row.text("code")),
        "flake": row.read("flake", word_of("flake", (*FLAKES, "unknown"))) or "unknown",
        "flake_um": row.read("flake_um", number_in(1.0, 200.0, "um")),
        "tilt_deg": row.read("tilt_deg", number_in(0.5, 45.0, "degrees")),
        "log_sd": row.read("log_sd", number_in(0.01, 2.0)),
        "stages": row.read("stages", whole_in(2, 3)),
        "tone": row.read("tone", word_of("", TONES)),
        "notes": plain_cell(row.text("notes")),
        "sealed_by": row.text("sealed_by"),
        "sealed_on": row.read("sealed_on", _day),
    }
    if values["sealed_on"] is not None and not values["sealed_by"]:
        row.fault("sealed_on", "has a day and nobody who sealed it", "fill in sealed_by, or leave both out")
    if values["flake"] == "solid" and values["flake_um"] is not None:
        row.fault("flake_um", "a solid colour has no flake to measure", "leave it out")
    try:
        return BookColour.model_validate(values)
    except ValidationError as error:
        for each in error.errors():
            row.fault(str(each["loc"][0]) if each["loc"] else "", str(each["msg"]))
        return None


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise BadCellError(f'"{text}" is no day', "write it like 2026-03-02") from None


def colours_table(entries: Iterable[BookColour]) -> str:
    """Return entries as a table that `read_colours` reads back alike."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for entry in entries:
        values = entry.model_dump(exclude_none=True)
        writer.writerow([as_cell(values.get(column, "")) for column in COLUMNS])
    return out.getvalue()
