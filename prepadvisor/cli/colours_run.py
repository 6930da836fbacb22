"""What `prepadvisor colours` changes: a table read in, an entry sealed, a job's colour put in."""

from collections.abc import Sequence
from pathlib import Path

from prepadvisor.cli.house_option import now
from prepadvisor.files import colour_book, load_house, load_job
from prepadvisor.files.colour_book import add_entry, entry_of_job, read_book, write_book
from prepadvisor.files.colours_csv import read_colours
from prepadvisor.files.laid_data import BOOK_FILE
from prepadvisor.records.colour_book import of_one_code
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.standards.house import House
from prepadvisor.wording.fit import code_says


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


def read_in(table: str, folders: Sequence[str]) -> str:
    """Read a table into the book; return what was done, a sentence a line.

    Raises:
        BadInputError: with every bad row; the book is as it was.
    """
    book = book_path(folders)
    done = write_book(book, read_colours(table))
    many = f"{done.colours} colour{'' if done.colours == 1 else 's'}"
    lines = [f"{many} added or changed in {book}"]
    lines += [f"{word}: its values changed, so its seal is off; seal it again" for word in done.unsealed]
    there = list(read_book(book).values())
    told = (code_says(entry, of_one_code(there, entry)) for entry in there)
    return "\n".join([*lines, *filter(None, told)])


def seal(word: str, by: str | None, folders: Sequence[str]) -> str:
    """Seal an entry today, and return what was done.

    Raises:
        BadInputError: nobody seals, no lead does, or there is no such entry.
    """
    book = book_path(folders)
    sealed = colour_book.seal(book, word, by or "", now().date(), _house(folders).shop.leads)
    return f"sealed: {sealed.book}, by {sealed.sealed_by}"


def add_colour(job: str, folders: Sequence[str]) -> str:
    """Put the colour of a job into the book, unsealed, and return what was done.

    Raises:
        BadInputError: the job has faults, its colour has no name, or the book has it already.
    """
    book = book_path(folders)
    entry = entry_of_job(load_job(job, _house(folders)).colour, job)
    add_entry(book, entry)
    return f"added, unsealed: {entry.book}"


def _house(folders: Sequence[str]) -> House:
    """Load the house; a folder that is only beginning to be one counts as none."""
    return load_house(*[each for each in folders if _is_house(each)])


def _is_house(folder: str) -> bool:
    path = Path(folder)
    return path.is_dir() and any(each.suffix == ".toml" for each in path.iterdir())
