"""Reads a table a person keeps (CSV): header and rows with their lines, every fault at once, or nothing.

Comma, semicolon or tab between the cells, as the first line has them; quotes as spreadsheets write them
(RFC 4180), a line break in a cell counts as a blank. Between semicolons, or alone on its line, 8,5 is a
number: so spreadsheets write it that have a decimal comma. Blank lines, lines that start with # and a
spreadsheet's "sep=;" are passed over.
"""

import csv
import datetime as dt
import io
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final, TypeVar

from prepadvisor.files.reading.toml_in import one_line, read_bytes, shown_name
from prepadvisor.records import BadInputError, Fault, did_you_mean, first_word

TABLE_BYTES_MAX: Final = 20_000_000
ROWS_MAX: Final = 200_000
CELL_MAX: Final = 400
MARKS: Final = ",;\t"
FAULTS_MAX: Final = 200

_T = TypeVar("_T")

_DECIMAL_COMMA: Final = re.compile(r"[+-]?\d+,(\d{1,2}|\d{4,})")
"""Three digits after a comma could be thousands as well."""
_SAYS_MARK: Final = re.compile(r"sep=(.)\s*", re.IGNORECASE)

_FORMULA: Final = frozenset("=+@")
"""What a spreadsheet takes for the beginning of a formula."""
_OTHER_WORDS: Final = {
    "color": "colour",
    "grit": "grade",
    "flake_class": "flake",
    "light_lux": "light",
    "film": "film_um",
    "distance": "distance_mm",
    "photo_file": "photo",
    "picture": "photo",
}
"""Other words for columns."""


class BadCellError(ValueError):
    """A cell that cannot be right: what is wrong, and what to write."""

    def __init__(self, says: str, mend: str = "") -> None:
        """Keep both sentences."""
        super().__init__(says)
        self.says, self.mend = says, mend


class ReadRow:
    """One row of a table: its cells by column, and the faults found in it."""

    def __init__(self, table: "ReadTable", line: int, cells: Sequence[str]) -> None:
        """Take the cells as they stand."""
        self.line: Final = line
        self._table, self._cells = table, dict(zip(table.columns, cells, strict=False))

    def text(self, column: str) -> str:
        """Return a cell without blanks around it, "" where there is none; a line break is a blank."""
        text = self._cells.get(column, "").strip()
        return " ".join(text.split()) if "\n" in text or "\r" in text else text

    def read(self, column: str, reader: Callable[[str], _T]) -> _T | None:
        """Return what a reader makes of a cell, None for an empty cell or a fault, which is kept."""
        text = self.text(column)
        if not text:
            return None
        try:
            return reader(_typed(text, self._table.mark))
        except BadCellError as error:
            self.fault(column, error.says, error.mend)
            return None

    def fault(self, column: str, says: str, mend: str = "") -> None:
        """Keep a fault of this row; `column` "" for the row as a whole."""
        place = self._table.columns.index(column) + 1 if column in self._table.columns else 1
        named = f"{column}: {says}" if column else says
        self._table.faults.append(Fault(self._table.name, self.line, place, one_line(named), one_line(mend)))


class ReadTable:
    """A table with its columns in the program's words. A fault's "column" is the count of its cell."""

    def __init__(self, name: str) -> None:
        """Start empty."""
        self.name: Final = name
        self.mark = ","
        self.columns: list[str] = []
        self.rows: list[ReadRow] = []
        self.faults: list[Fault] = []

    def raise_faults(self) -> None:
        """Raise every fault found, if any.

        Raises:
            BadInputError: with the first few hundred, and how many more.
        """
        if not self.faults:
            return
        faults = sorted(dict.fromkeys(self.faults))
        if len(faults) > FAULTS_MAX:
            rest = f"{len(faults) - FAULTS_MAX:,} more faults follow"
            faults = [*faults[:FAULTS_MAX], faults[FAULTS_MAX]._replace(says=rest, mend="mend these first")]
        raise BadInputError(faults)


def read_table(path: Path | str, columns: Sequence[str], needed: Iterable[Sequence[str]] = ()) -> ReadTable:
    """Read a table of known columns.

    Args:
        path: the file; "-" is standard input.
        columns: all columns there may be.
        needed: of each group one column must be there.

    Returns:
        The table; faults of rows are still to be raised by who reads the cells.

    Raises:
        BadInputError: the file or its header cannot be used.
    """
    return table_of(read_bytes(path, TABLE_BYTES_MAX), shown_name(path), columns, needed)


def table_of(
    raw: bytes, name: str, columns: Sequence[str], needed: Iterable[Sequence[str]] = ()
) -> ReadTable:
    """Return the table of a file's bytes; as `read_table`."""
    table = ReadTable(name)
    text = _decoded(raw, table)
    table.mark = mark_of(text)
    lines = _lines(text, table)
    if not lines:
        table.raise_faults()
        wanted = ", ".join(columns)
        raise BadInputError(
            [Fault(name, 0, 0, "the table is empty", f"its first line names columns: {wanted}")]
        )
    first, header = lines[0]
    _take_header(table, first, header, columns, needed)
    for line, cells in lines[1:]:
        if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
            says = f"{len(cells)} cells, and the first line names {len(header)} columns"
            table.faults.append(Fault(name, line, 1, says, "put a cell with a comma in it in quotes"))
        row = ReadRow(table, line, cells)
        for column in table.columns:
            if len(row.text(column)) > CELL_MAX:
                row.fault(column, f"over {CELL_MAX} letters", "make it shorter")
            elif not row.text(column).isprintable():
                row.fault(column, "holds an invisible control character", "type it again")
        table.rows.append(row)
    if len(table.rows) > ROWS_MAX:
        says = f"{len(table.rows):,} rows are more than the {ROWS_MAX:,} that are read"
        raise BadInputError([Fault(name, 0, 0, says, "check that it is the right file")])
    return table


def mark_of(text: str) -> str:
    """Return the sign that stands between the cells of a table: comma, semicolon or tab."""
    first = text.split("\n")[header_at(text)]
    said = _SAYS_MARK.fullmatch(text.partition("\n")[0])
    if said and said[1] in MARKS:
        return said[1]
    return max(MARKS, key=first.count) if any(mark in first for mark in MARKS) else ";"


def header_at(text: str) -> int:
    """Return which line of a table names its columns, from 0; 0 where none does."""
    lines = enumerate(text.split("\n"))
    return next((at for at, line in lines if line.strip() and not _is_passed_over(line)), 0)


def _is_passed_over(line: str) -> bool:
    return line.lstrip().startswith("#") or bool(_SAYS_MARK.fullmatch(line))


def plain_cell(text: str) -> str:
    """Return a cell's text without the mark that keeps a spreadsheet from taking it for a formula."""
    return text[1:] if text[:2] in {f"'{sign}" for sign in _FORMULA} else text


def as_cell(value: object) -> str:
    """Return a value as a cell; a spreadsheet must not take a text for a formula."""
    text = value.isoformat() if isinstance(value, dt.date) else str(value)
    return f"'{text}" if isinstance(value, str) and text[:1] in _FORMULA else text


def _decoded(raw: bytes, table: ReadTable) -> str:
    """Return the text of a table; another code page is a fault, and its rows are read all the same."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        table.faults.append(Fault(table.name, 0, 0, "the file is saved as UTF-16", "save it again as UTF-8"))
        return raw.decode("utf-16", "replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        is_text = b"\0" not in raw[:8000]
        says = "this letter is not saved as UTF-8" if is_text else "this is not text"
        table.faults.append(Fault(table.name, line, 1, says, 'save the file again as "CSV UTF-8"'))
        if not is_text:
            table.raise_faults()
        return raw.decode("cp1252", "replace")


def _lines(text: str, table: ReadTable) -> list[tuple[int, list[str]]]:
    """Return the rows that say something with the line each starts on; quotes that go wrong are faults."""
    csv.field_size_limit(TABLE_BYTES_MAX)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=table.mark, strict=True)
    found: list[tuple[int, list[str]]] = []
    start, said_mark = 1, bool(_SAYS_MARK.fullmatch(text.partition("\n")[0]))
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return found
        except csv.Error:
            says = "a quote is opened here and not closed, or closed within a cell"
            table.faults.append(Fault(table.name, start, 1, says, _QUOTES))
            start = reader.line_num + 1
            continue
        says_something = any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#")
        if says_something and not (said_mark and start == 1):
            if found and _swallows(cells, len(found[0][1]), table.mark):
                says = f"a quote is opened here and closed on line {reader.line_num}: rows stand within it"
                table.faults.append(Fault(table.name, start, 1, says, _QUOTES))
            found.append((start, cells))
        start = reader.line_num + 1


def _typed(text: str, mark: str) -> str:
    """Return a number typed with a decimal comma, where commas do not part cells, with a point."""
    return text.replace(",", ".") if mark == ";" and _DECIMAL_COMMA.fullmatch(text) else text


_QUOTES: Final = 'write a quote within a cell twice, as ""'


def _swallows(cells: Sequence[str], columns: int, mark: str) -> bool:
    """Say whether a cell has lines within that look like rows of the table."""
    return any(
        line.count(mark) >= max(columns - 1, 2)
        for cell in cells
        if "\n" in cell or "\r" in cell
        for line in cell.splitlines()[1:]
    )


def _take_header(
    table: ReadTable,
    line: int,
    header: Sequence[str],
    columns: Sequence[str],
    needed: Iterable[Sequence[str]],
) -> None:
    faults: list[Fault] = []
    for place, cell in enumerate(header, 1):
        word = first_word_of_column(cell)
        if word and word not in columns:
            near = did_you_mean(word, list(columns))
            faults.append(
                Fault(table.name, line, place, f'no column is called "{one_line(word[:60])}"', near)
            )
        elif word and word in table.columns:
            faults.append(Fault(table.name, line, place, f'the column "{word}" is there twice', "keep one"))
        table.columns.append(word or f"unnamed {place}")
    for group in needed:
        if not set(group) & set(table.columns):
            says = f"there is no column {' or '.join(group)}"
            faults.append(Fault(table.name, line, 1, says, "add it to the first line"))
    if faults:
        raise BadInputError(faults)


def first_word_of_column(cell: str) -> str:
    """Return a header's cell as a column's name: small letters, low lines, the program's spelling."""
    word = "_".join(cell.strip().lower().replace("-", " ").split())
    return _OTHER_WORDS.get(word, word)


def number_in(low: float, high: float, unit: str = "") -> Callable[[str], float]:
    """Return a reader of plain numbers from `low` to `high`."""

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            comma = text.replace(",", ".")
            hint = f"write {comma}" if comma != text and _is_number(comma) else f"a number such as {low:g}"
            raise BadCellError(f'"{text}" is no number', hint) from None
        if not low <= value <= high:
            raise BadCellError(f"{text} cannot be", f"from {low:g} to {high:g} {unit}".rstrip())
        return value

    return read


def whole_in(low: int, high: int) -> Callable[[str], int]:
    """Return a reader of whole numbers from `low` to `high`."""
    number = number_in(low, high)

    def read(text: str) -> int:
        value = number(text)
        if value != int(value):
            raise BadCellError(f"{text} is no whole number", f"{low} to {high}")
        return int(value)

    return read


def word_of(kind: str, words: Sequence[str]) -> Callable[[str], str]:
    """Return a reader of one of some words, in either case, also in the trade's other words."""

    def read(text: str) -> str:
        word = first_word(kind, text.lower()) if kind else text.lower()
        if word not in words:
            word = "-".join(word.split())
        if word not in words:
            raise BadCellError(f'"{text}" is not known here', did_you_mean(word, list(words)))
        return word

    return read


def yes_or_no(text: str) -> bool:
    """Read yes or no."""
    answers: Mapping[str, bool] = {"yes": True, "no": False, "true": True, "false": False}
    if text.lower() not in answers:
        raise BadCellError(f'"{text}" is neither yes nor no', "write yes or no")
    return answers[text.lower()]


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
