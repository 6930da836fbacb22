"""`prepadvisor colours`: the shop's colour book as a table, and finding a colour in it."""

import argparse
import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_folders, house_of, now
from prepadvisor.files import (
    BOOK_FILE,
    add_entry,
    colour_book,
    entry_of_job,
    load_house,
    load_job,
    read_book,
    read_colours,
    write_book,
)
from prepadvisor.records import BadInputError, Fault, of_one_code
from prepadvisor.wording import code_says

if TYPE_CHECKING:
    from prepadvisor.records import BookColour
    from prepadvisor.standards import House


_EXAMPLES: Final = """\
examples:
  prepadvisor colours --house ours                    the book as a table, to standard output
  prepadvisor colours --house ours --find mist        colours whose word, name, code or notes hold "mist"
  prepadvisor colours colours.csv --house ours        read a table into the book of the house
  prepadvisor colours --house ours --out colours.csv  write the book as a table
  prepadvisor colours --house ours --seal "Harbour mist" --by "K. M."
  prepadvisor colours --house ours --add JOB.toml     put a job's colour in, unsealed
  prepadvisor colours --house ours --record jobs/     test panels and outcomes of each colour

Columns: book (the word jobs call it by), name, code, flake, flake_um, tilt_deg, log_sd, stages, tone, notes,
sealed_by, sealed_on. A table with one bad row is not read at all. A job says book = "..." under [colour].
exit status: 0 fine, 2 a row, option or house cannot be used; then nothing is written.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor colours",
        description="The shop's colour book: what is known of each colour, sealed by a lead.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("table", metavar="CSV", nargs="?", help="a table to read into the book; - is stdin")
    options.add_argument("--find", metavar="PART", help="only colours that hold this part of text")
    options.add_argument("--out", metavar="FILE", help="write the book as a table")
    options.add_argument("--seal", metavar="BOOK", help="seal an entry, with --by")
    options.add_argument("--by", metavar="WHO", help="the lead's initials")
    options.add_argument("--add", metavar="JOB", help="put the colour of a job into the book, unsealed")
    options.add_argument(
        "--record",
        metavar="JOBS",
        nargs="*",
        help="what panels, and outcomes of these jobs, say of each colour",
    )
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Read, write, find, seal or add.

    Raises:
        BadInputError: for bad rows, options without a house, and a house folder with faults.
    """
    folders = house_folders(args)
    if args.table is not None:
        print(read_in(args.table, folders))
        return 0
    if args.seal is not None:
        print(seal(args.seal, args.by, folders))
        return 0
    if args.add is not None:
        print(add_colour(args.add, folders))
        return 0
    from prepadvisor.records import found

    entries = list(house_of(args).book.values())
    if args.find is not None:
        entries = list(found(entries, args.find))
    if args.out is not None:
        from prepadvisor.files import colours_table, put_out

        put_out(Path(args.out), colours_table(entries).encode())
        print(f"{len(entries)} colours written: {args.out}")
        return 0
    if args.json or args.record is not None:
        _records(args, entries)
    else:
        from prepadvisor.files import colours_table

        print(colours_table(entries), end="")
    return 0


def _records(args: argparse.Namespace, entries: "Sequence[BookColour]") -> None:
    """Print colours with what the shop's own record has of each, as text or JSON."""
    from prepadvisor.cards import colour_records
    from prepadvisor.files import PANELS_FILE
    from prepadvisor.records import ColourRecord, key_of
    from prepadvisor.wording import colour_says, record_says

    folders = house_folders(args)
    panels = next((Path(each) / PANELS_FILE for each in reversed(folders)), None)
    found = colour_records(house_of(args), panels, args.record or (), now())
    of = {entry.book: found.get(key_of(entry.book), ColourRecord()) for entry in entries}
    if args.json:
        said = [entry.model_dump(mode="json") | {"record": of[entry.book]._asdict()} for entry in entries]
        print(json.dumps({"colours": said}, ensure_ascii=False))
        return
    if not entries:
        print("no such colour in the book" if args.find else "the colour book is empty")
    for entry in entries:
        print(f"{colour_says(entry)}\n    {record_says(of[entry.book])}")


# What `prepadvisor colours` changes: a table read in, an entry sealed, a job's colour put in.


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


def _house(folders: Sequence[str]) -> "House":
    """Load the house; a folder that is only beginning to be one counts as none."""
    return load_house(*[each for each in folders if _is_house(each)])


def _is_house(folder: str) -> bool:
    path = Path(folder)
    return path.is_dir() and any(each.suffix == ".toml" for each in path.iterdir())
