"""Reads a file of test panels: what was prepared how, and whether a line showed."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Final, cast

from prepadvisor.files.table_in import (
    BadCellError,
    ReadRow,
    number_in,
    read_table,
    whole_in,
    word_of,
    yes_or_no,
)
from prepadvisor.records.panel_rows import COLUMNS, SHOWS, PanelRow, Shows
from prepadvisor.records.words import FLAKES, TOOLS, ZONES, Tool
from prepadvisor.surface.grades import Grade, NotAGradeError, grade

COATS_MOST: Final = 10
_FLAKE_SAID: Final = ("flake", "flake_um", "colour")
_TOOL_SAID: Final = ("tool", "pad")


def read_panels(path: Path | str, today: dt.date) -> list[PanelRow]:
    """Read test panels.

    Args:
        path: the file; "-" is standard input.
        today: the day it is read; panels dated after it cannot be right.

    Returns:
        The rows in order; none if the table has a header alone.

    Raises:
        BadInputError: with every row that cannot be right, by line.
    """
    needed = (_FLAKE_SAID, _TOOL_SAID, ("grade",), ("shows",))
    table = read_table(path, COLUMNS, needed)
    rows = [_row(row, table.name, today) for row in table.rows]
    table.raise_faults()
    return [row for row in rows if row is not None]


def _row(row: ReadRow, name: str, today: dt.date) -> PanelRow | None:
    flake = row.read("flake", word_of("flake", (*FLAKES, "unknown")))
    if flake == "solid":
        row.fault("flake", "a solid colour has no flake that a scratch could turn", "take this row out")
    flake_um = row.read("flake_um", number_in(1.0, 200.0, "µm"))
    tool = row.read("tool", word_of("tool", TOOLS))
    found = row.read("grade", _grade)
    shows = row.read("shows", word_of("", SHOWS))
    zone = row.read("zone", word_of("zone", ZONES))
    if zone == "clear":
        row.fault("zone", "no flake comes over the clear zone", "write fade or colour")
    if not any(row.text(column) for column in _FLAKE_SAID) or (
        flake == "unknown" and not (row.text("flake_um") or row.text("colour"))
    ):
        row.fault("", "it is not said which flake lay over it", f"fill in {', '.join(_FLAKE_SAID)}")
    if not any(row.text(column) for column in _TOOL_SAID):
        row.fault("", "it is not said what it was sanded with", "fill in tool or pad")
    for column in ("grade", "shows"):
        if not row.text(column):
            row.fault(column, "is empty", "it must be filled in")
    rest = {
        "tilt_deg": row.read("tilt_deg", number_in(0.5, 45.0, "degrees")),
        "log_sd": row.read("log_sd", number_in(0.01, 2.0)),
        "coats": row.read("coats", whole_in(0, COATS_MOST)) or 0,
        "distance_mm": row.read("distance_mm", number_in(50.0, 5000.0, "mm")),
        "blind": row.read("blind", yes_or_no),
        "date": row.read("date", _day_until(today)),
    }
    if found is None or shows is None:
        return None
    return PanelRow(
        tool=cast("Tool", tool or "hand-pad"),
        grade=found,
        shows=cast("Shows", shows),
        flake=None if flake == "unknown" else flake,
        flake_um=flake_um,
        colour=row.text("colour"),
        pad=row.text("pad"),
        zone="colour" if zone == "colour" else "fade",
        by=row.text("by"),
        note=row.text("note"),
        file=name,
        line=row.line,
        **rest,  # type: ignore[arg-type]
    )


def _grade(text: str) -> Grade:
    try:
        return grade(text)
    except NotAGradeError as error:
        raise BadCellError(str(error)) from None


def _day_until(today: dt.date) -> Callable[[str], dt.date]:
    def read(text: str) -> dt.date:
        try:
            day = dt.date.fromisoformat(text)
        except ValueError:
            raise BadCellError(f'"{text}" is no day', "write it like 2026-03-02") from None
        if day > today:
            raise BadCellError(f"{text} is not over yet", f"today is {today.isoformat()}")
        return day

    return read
