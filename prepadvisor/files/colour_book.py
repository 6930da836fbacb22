"""Reads and writes a shop's colour book: every fault at once, comments kept, nothing half-written."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from prepadvisor.files.atomic import put
from prepadvisor.files.file_system import FileSystem
from prepadvisor.files.told import Told
from prepadvisor.files.toml_in import parse, read_bytes
from prepadvisor.records.base import Record
from prepadvisor.records.colour_book import BookColour, key_of
from prepadvisor.records.fault import BadInputError, Fault, Problem

_HEAD: Final = """\
# The shop's colour book. A job says book = "..." under [colour]; an entry counts in full once a lead seals it
# (sealed_by, sealed_on). flake_um, tilt_deg and log_sd are measured values.
"""


class Book(Record):
    """A file of colours."""

    colour: tuple[BookColour, ...] = ()


def book_of(data: Mapping[str, Any]) -> tuple[dict[str, BookColour], list[Told]]:
    """Return the entries of a book by the word jobs call them by, and what is wrong with them."""
    try:
        book = Book.model_validate(data)
    except ValidationError as error:
        from prepadvisor.files.words_for_faults import told_faults  # only where there are faults

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
    text = parse(read_bytes(path), str(path), foreign=True)
    found, told = book_of(text.data)
    faults = [*text.broken, *text.twice, *(text.fault(each.problem, at_key=each.at_key) for each in told)]
    if faults:
        raise BadInputError(faults)
    return found


def write_book(path: Path, entries: Sequence[BookColour]) -> int:
    """Put entries into a colour book: new ones at its end, known ones in their place, comments kept.

    Args:
        path: the book; it and its folder are made where they are missing.
        entries: what is to stand there; entries of the book that are not among them stay.

    Returns:
        How many entries were added or changed.

    Raises:
        BadInputError: the book there has faults, or it cannot be written.
    """
    there = read_book(path)
    changed = [entry for entry in entries if there.get(key_of(entry.book)) != entry]
    if not changed:
        return 0
    import tomlkit  # only who writes a book pays for loading it

    text = read_bytes(path).decode("utf-8-sig") if path.exists() else _HEAD
    document = tomlkit.parse(text)
    tables: Any = document.get("colour")
    if tables is None:
        tables = document["colour"] = tomlkit.aot()
    by_key = {key_of(str(table["book"])): table for table in tables}
    for entry in changed:
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
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        put(path, tomlkit.dumps(document).encode(), FileSystem())
    except OSError as error:
        says = f"the colour book cannot be written ({error.strerror or error})"
        raise BadInputError([Fault(str(path), 0, 0, says, "check the folder's rights")]) from None
    return len(changed)
