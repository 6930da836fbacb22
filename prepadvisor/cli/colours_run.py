"""What `prepadvisor colours` changes: a table read in, an entry sealed, a job's colour put in."""

from collections.abc import Sequence
from pathlib import Path

from prepadvisor.cli.house_option import now
from prepadvisor.files import load_house, load_job
from prepadvisor.files.colour_book import read_book, write_book
from prepadvisor.files.colours_csv import read_colours
from prepadvisor.files.house_files import BOOK_FILE
from prepadvisor.records.colour_book import BookColour, key_of
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.records.nearest import did_you_mean


def book_path(folders: Sequence[str]) -> Path:
    """Return the book that is written: that of the topmost house folder.

    Raises:
        BadInputError: no house folder is named.
    """
    if not folders:
        raise BadInputError(
            [Fault("--house", 0, 0, "a colour book belongs to a house", "name it: --house DIR")]
        )
    return Path(folders[-1]) / BOOK_FILE


def read_in(table: str, folders: Sequence[str]) -> tuple[int, Path]:
    """Read a table into the book; return how many entries are new or changed, and where.

    Raises:
        BadInputError: with every bad row; the book is as it was.
    """
    book = book_path(folders)
    entries = read_colours(table)
    return write_book(book, entries), book


def seal(word: str, by: str | None, folders: Sequence[str]) -> str:
    """Seal an entry today, and return what was done.

    Raises:
        BadInputError: nobody seals, or there is no such entry.
    """
    book = book_path(folders)
    if not (by or "").strip():
        raise BadInputError([Fault("--by", 0, 0, "a seal needs the lead's initials", '--by "K. M."')])
    entry = _entry(book, word)
    sealed = entry.model_copy(update={"sealed_by": (by or "").strip(), "sealed_on": now().date()})
    write_book(book, [BookColour.model_validate(sealed.model_dump())])
    return f"sealed: {entry.book}, by {sealed.sealed_by}"


def add_colour(job: str, folders: Sequence[str]) -> str:
    """Put the colour of a job into the book, unsealed, and return what was done.

    Raises:
        BadInputError: the job has faults, its colour has no name, or the book has it already.
    """
    book = book_path(folders)
    colour = load_job(job, load_house(*[each for each in folders if _is_house(each)])).colour
    word = colour.book or colour.name
    if not word:
        raise BadInputError([Fault(job, 0, 0, "the job's colour has no name", "give it one under [colour]")])
    there = read_book(book)
    if key_of(word) in there:
        raise BadInputError(
            [Fault(str(book), 0, 0, f'the book has "{word}" already', "change its entry there")]
        )
    entry = BookColour(
        book=word, name=colour.name, flake=colour.flake, flake_um=colour.flake_um, tilt_deg=colour.tilt_deg,
        log_sd=colour.log_sd, stages=colour.stages, tone=colour.tone, notes=f"first met in {Path(job).name}",
    )  # fmt: skip
    write_book(book, [entry])
    return f"added, unsealed: {word}"


def _entry(book: Path, word: str) -> BookColour:
    there = read_book(book)
    if key_of(word) not in there:
        hint = did_you_mean(word, [entry.book for entry in there.values()])
        raise BadInputError([Fault(str(book), 0, 0, f'the book has no "{word}"', hint)])
    return there[key_of(word)]


def _is_house(folder: str) -> bool:
    path = Path(folder)
    return path.is_dir() and any(each.suffix == ".toml" for each in path.iterdir())
