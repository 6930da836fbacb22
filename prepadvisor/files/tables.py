"""Reads a file of test panels, and adds rows to it: what was prepared how, and whether a line showed."""

import csv
import datetime as dt
import io
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

from prepadvisor.files.house_file import changed
from prepadvisor.files.reading import (
    TABLE_BYTES_MAX,
    BadCellError,
    ReadRow,
    as_cell,
    header_at,
    mark_of,
    number_in,
    plain_cell,
    read_bytes,
    shown_name,
    table_of,
    whole_in,
    word_of,
    yes_or_no,
)
from prepadvisor.records import (
    FLAKES,
    LIGHTS,
    SHOWS,
    TOOLS,
    ZONES,
    BadInputError,
    Fault,
    NotAGradeError,
    PanelRow,
    Shows,
    Tool,
    grade,
)
from prepadvisor.records.panel_rows import COLUMNS

if TYPE_CHECKING:
    from prepadvisor.records import Grade

COATS_MOST: Final = 10
LUX: Final = (10.0, 150_000.0)
"""Light on a panel in lux: from a dim corner to the noon sun."""
_FLAKE_SAID: Final = ("flake", "flake_um", "colour")
_TOOL_SAID: Final = ("tool", "pad")
_NEEDED: Final = (_FLAKE_SAID, _TOOL_SAID, ("grade",), ("shows",))
_TYPED: Final = "this strip"
PANELS_FILE: Final = "panels.csv"
"""The table of test panels that a house keeps."""


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
    return panels_of(read_bytes(path, TABLE_BYTES_MAX), shown_name(path), today)


def panels_of(raw: bytes, name: str, today: dt.date) -> list[PanelRow]:
    """Return the rows of a table's bytes; as `read_panels`, `name` is what faults call it."""
    table = table_of(raw, name, COLUMNS, _NEEDED)
    rows = [_row(row, table.name, today) for row in table.rows]
    table.raise_faults()
    return [row for row in rows if row is not None]


def panel_of(cells: Mapping[str, str], today: dt.date) -> PanelRow:
    """Return one row typed by a person: cells by column, checked as those of a file.

    Raises:
        BadInputError: with every fault; its sentence begins with the column.
    """
    text = io.StringIO()
    _written(text, ",", [COLUMNS, [cells.get(column, "") for column in COLUMNS]])
    try:
        rows = panels_of(text.getvalue().encode(), _TYPED, today)
    except BadInputError as error:
        raise BadInputError([each._replace(line=0, column=0) for each in error.faults]) from None
    if not rows:
        raise BadInputError([Fault(_TYPED, 0, 0, "nothing is filled in", "fill in flake, tool, grade")])
    return rows[0]._replace(file="", line=0)


def append_panels(
    path: Path, new: Sequence[Mapping[str, str]], today: dt.date, by: str = ""
) -> list[PanelRow]:
    """Add rows to a table of test panels; what stands there stays, byte for byte but for a longer header.

    Args:
        path: the table; a new one begins with every column.
        new: cells by column, of each row.
        today: the day.
        by: initials, shown to whoever waits for the file.

    Returns:
        All rows of the table as they stand there now.

    Raises:
        BadInputError: a new row, or the table there, has faults; nothing is written.
        NotSavedError: the disk refused; the table is as it was.
    """
    rows = [panel_of(cells, today) for cells in new]
    after: list[PanelRow] = []

    def added(raw: bytes) -> bytes:
        before = panels_of(raw, str(path), today) if raw.strip() else []
        made = _appended(raw, new)
        found = panels_of(made, str(path), today)
        alike = [row._replace(file="", line=0) for row in found[len(before) :]]
        if found[: len(before)] != before or alike != rows:
            says, mend = "a row cannot be added: the table would not hold it", "look at its last lines"
            raise BadInputError([Fault(str(path), 0, 0, says, mend)])
        after.extend(found)
        return made

    changed(path, added, by)
    return after


def _appended(raw: bytes, new: Sequence[Mapping[str, str]]) -> bytes:
    """Return a table's bytes with rows at its end, in its own columns, cell mark and line ends."""
    if not raw.strip():
        whole = io.StringIO()
        _written(whole, ",", [COLUMNS, *([cells.get(name, "") for name in COLUMNS] for cells in new)])
        return whole.getvalue().encode()
    text = raw.decode("utf-8-sig")
    mark, end = mark_of(text), "\r\n" if "\r\n" in text else "\n"
    lines, at = text.splitlines(keepends=True), header_at(text)
    columns = table_of(raw, "", COLUMNS, _NEEDED).columns
    missing = [name for name in COLUMNS if name not in columns and any(cells.get(name) for cells in new)]
    if missing:
        lines[at] = lines[at].rstrip("\r\n") + "".join(f"{mark}{name}" for name in missing) + end
    if not lines[-1].endswith(("\n", "\r")):
        lines[-1] += end
    added = io.StringIO()
    _written(added, mark, [[cells.get(name, "") for name in (*columns, *missing)] for cells in new], end)
    bom = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    return bom + ("".join(lines) + added.getvalue()).encode()


def _written(out: io.StringIO, mark: str, rows: Sequence[Sequence[str]], end: str = "\n") -> None:
    writer = csv.writer(out, delimiter=mark, lineterminator=end)
    for row in rows:
        writer.writerow([as_cell(cell.strip()) for cell in row])


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
        "light": row.read("light", _light) or "",
        "film_um": row.read("film_um", number_in(1.0, 2000.0, "µm")),
        "photo": row.read("photo", _photo) or "",
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
        colour=plain_cell(row.text("colour")),
        pad=plain_cell(row.text("pad")),
        zone="colour" if zone == "colour" else "fade",
        by=plain_cell(row.text("by")),
        note=plain_cell(row.text("note")),
        file=name,
        line=row.line,
        **rest,  # type: ignore[arg-type]
    )


def _grade(text: str) -> "Grade":
    try:
        return grade(text)
    except NotAGradeError as error:
        raise BadCellError(str(error)) from None


def _light(text: str) -> str:
    """Read a word for the light, or lux on the panel."""
    word = text.lower().removesuffix("lux").removesuffix("lx").strip()
    if word in LIGHTS:
        return word
    try:
        return f"{number_in(*LUX)(word):g}"
    except BadCellError:
        says = f'"{text}" is neither a light nor lux on the panel'
        mend = f"{', '.join(LIGHTS)}, or lux from {LUX[0]:g} to {LUX[1]:,g} without a comma"
        raise BadCellError(says, mend) from None


def _photo(text: str) -> str:
    """Read a photo's file name: a name with an ending, and no place of its own on one computer."""
    name = plain_cell(text)
    stem, dot, ending = name.replace("\\", "/").rpartition("/")[2].rpartition(".")
    if not (dot and stem.strip() and 2 <= len(ending) <= 5 and ending.isalnum()):
        raise BadCellError(f'"{text}" is no file name of a photo', "write it like strip-07.jpg")
    if name.startswith(("/", "\\", "~")) or ":" in name or ".." in name:
        says = f'"{text}" is a place on one computer'
        raise BadCellError(says, "keep photos beside the table, and write the name alone")
    return name


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
