"""A shop's colour book as its own file and as a table: every fault at once, nothing half-written."""

import csv
import datetime as dt
import io
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final, NamedTuple

from pydantic import ValidationError

from prepadvisor.files.house_file import changed
from prepadvisor.files.reading import (
    BadCellError,
    ReadRow,
    Told,
    as_cell,
    number_in,
    parse,
    plain_cell,
    read_bytes,
    read_table,
    whole_in,
    word_of,
)
from prepadvisor.logbook import people, person
from prepadvisor.records import (
    FLAKES,
    TONES,
    BadInputError,
    BookColour,
    Colour,
    Fault,
    Problem,
    Record,
    did_you_mean,
    key_of,
    own_words,
)
from prepadvisor.records.shop import COLUMNS

# The colour book as a table: read with every bad row told, and written.


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
            column = str(each["loc"][0]) if each["loc"] else ""
            if not (column == "book" and not values["book"]):  # which is said already
                row.fault(column, own_words(each))
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


_HEAD: Final = """\
# The shop's colour book. A job says book = "..." under [colour]; an entry counts in full once a lead seals it
# (sealed_by, sealed_on). flake_um, tilt_deg and log_sd are measured values.
"""


class Book(Record):
    """A file of colours.

    Attributes:
        colour: the colours, one a table.
    """

    colour: tuple[BookColour, ...] = ()


def book_of(data: Mapping[str, Any]) -> tuple[dict[str, BookColour], list[Told]]:
    """Return the entries of a book by the word jobs call them by, and what is wrong with them."""
    try:
        book = Book.model_validate(data)
    except ValidationError as error:
        from prepadvisor.files.reading import told_faults  # only where there are faults

        return {}, told_faults(error, Book, data)
    found: dict[str, BookColour] = {}
    told = []
    for number, entry in enumerate(book.colour):
        key = key_of(entry.book)
        if key in found:
            says = f'the colour "{entry.book}" is there twice'
            told.append(Told(Problem(("colour", number, "book"), says, "keep one of them")))
        if entry.sealed_on is not None and not entry.sealed_by:
            says = f'"{entry.book}" has a day of sealing and nobody who sealed it'
            told.append(
                Told(Problem(("colour", number, "sealed_on"), says, "add sealed_by, or leave both out"))
            )
        found[key] = entry
    return found, told


def read_book(path: Path) -> dict[str, BookColour]:
    """Read a colour book; a file that is not there is an empty one.

    Raises:
        BadInputError: with every fault of the file.
    """
    if not path.exists():
        return {}
    return _entries(read_bytes(path), str(path))


def _entries(raw: bytes, name: str) -> dict[str, BookColour]:
    text = parse(raw, name, foreign=True)
    found, told = book_of(text.data)
    faults = [*text.broken, *text.twice, *(text.fault(each.problem, at_key=each.at_key) for each in told)]
    if faults:
        raise BadInputError(faults)
    return found


class Written(NamedTuple):
    """What a book took in: how many are new or changed, and whose seal a changed value broke."""

    colours: int
    unsealed: tuple[str, ...] = ()


def write_book(path: Path, entries: Sequence[BookColour], by: str = "") -> Written:
    """Put entries into a colour book: new ones at its end, known ones in their place, comments kept.

    A seal stands for the values it was put under: an entry that comes with the seal that stands there and
    with another value loses the seal.

    Args:
        path: the book; it and its folder are made where they are missing.
        entries: what is to stand there; entries of the book that are not among them stay.
        by: initials, shown to whoever waits for the file.

    Raises:
        BadInputError: the book there has faults, or it cannot be written.
    """
    done = Written(0)

    def put_in(raw: bytes) -> bytes:
        nonlocal done
        there = _entries(raw, str(path)) if raw else {}
        new = [unsealed_if_changed(there.get(key_of(entry.book)), entry) for entry in entries]
        changes = [entry for entry in new if there.get(key_of(entry.book)) != entry]
        broken = [
            one.book for one, given in zip(new, entries, strict=True) if one.sealed_by != given.sealed_by
        ]
        done = Written(len(changes), tuple(broken))
        return _with(raw, changes) if changes else raw

    changed(path, put_in, by)
    return done


def seal(path: Path, word: str, by: str, on: dt.date, leads: Sequence[str] = ()) -> BookColour:
    """Seal an entry as it stands in the book now, and return it.

    Args:
        path: the book.
        word: what jobs call the entry by.
        by: initials of who stands for it.
        on: the day.
        leads: initials of the shop's leads; where any are named, only they seal.

    Raises:
        BadInputError: nobody seals, no lead does, or there is no such entry.
    """
    if not person(by):
        raise BadInputError([Fault("--by", 0, 0, "a seal needs the lead's initials", '--by "K. M."')])
    if people(leads) and person(by) not in people(leads):
        says, mend = f"{by.strip()} is no lead of this shop", f"sealed by {' or '.join(leads)} (shop.toml)"
        raise BadInputError([Fault("--by", 0, 0, says, mend)])
    there = read_book(path)
    if key_of(word) not in there:
        hint = did_you_mean(word, [entry.book for entry in there.values()])
        raise BadInputError([Fault(str(path), 0, 0, f'the book has no "{word}"', hint)])
    sealed = there[key_of(word)].model_copy(update={"sealed_by": by.strip(), "sealed_on": on})
    sealed = BookColour.model_validate(sealed.model_dump())
    write_book(path, [sealed], by)
    return sealed


def entry_of_job(colour: Colour, job: str) -> BookColour:
    """Return a job's colour as a new entry of a book, unsealed.

    Raises:
        BadInputError: the colour has no name.
    """
    word = colour.book or colour.name
    if not word:
        raise BadInputError([Fault(job, 0, 0, "the job's colour has no name", "give it one under [colour]")])
    return BookColour(
        book=word, name=colour.name, flake=colour.flake, flake_um=colour.flake_um, tilt_deg=colour.tilt_deg,
        log_sd=colour.log_sd, stages=colour.stages, tone=colour.tone, notes=f"first met in {Path(job).name}",
    )  # fmt: skip


def add_entry(path: Path, entry: BookColour, by: str = "") -> None:
    """Put a new entry into a book.

    Raises:
        BadInputError: the book has it already, or cannot be written.
    """
    if key_of(entry.book) in read_book(path):
        raise BadInputError(
            [Fault(str(path), 0, 0, f'the book has "{entry.book}" already', "change its entry there")]
        )
    write_book(path, [entry], by)


def unsealed_if_changed(before: BookColour | None, entry: BookColour) -> BookColour:
    """Return an entry without its seal if that was put under other values; notes are none."""
    seal = (entry.sealed_by, entry.sealed_on)
    if before is None or not entry.is_sealed or seal != (before.sealed_by, before.sealed_on):
        return entry
    if entry.model_copy(update={"notes": before.notes}) == before:
        return entry
    return entry.model_copy(update={"sealed_by": "", "sealed_on": None})


def _with(raw: bytes, entries: Sequence[BookColour]) -> bytes:
    import tomlkit  # only who writes a book pays for loading it

    document = tomlkit.parse(raw.decode("utf-8-sig") if raw else _HEAD)
    tables: Any = document.get("colour")
    if tables is None:
        tables = document["colour"] = tomlkit.aot()
    by_key = {key_of(str(table["book"])): table for table in tables}
    for entry in entries:
        values = entry.model_dump(exclude_none=True, exclude_defaults=True)
        table = by_key.get(key_of(entry.book))
        if table is None:
            table = tomlkit.table()
            tables.append(table)
        for key in [key for key in table if key not in values]:
            del table[key]
        for key, value in values.items():
            if table.get(key) != value:
                table[key] = value
    return tomlkit.dumps(document).encode()
