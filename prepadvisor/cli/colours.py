"""`prepadvisor colours`: the shop's colour book as a table, and finding a colour in it."""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.house_option import add_house, house_folders, house_of, now

if TYPE_CHECKING:
    from collections.abc import Sequence

    from prepadvisor.records.colour_book import BookColour

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
    from prepadvisor.cli.colours_run import add_colour, read_in, seal

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
    from prepadvisor.records.colour_book import found

    entries = list(house_of(args).book.values())
    if args.find is not None:
        entries = list(found(entries, args.find))
    if args.out is not None:
        from prepadvisor.files.colours_csv import colours_table
        from prepadvisor.files.out_file import put_out

        put_out(Path(args.out), colours_table(entries).encode())
        print(f"{len(entries)} colours written: {args.out}")
        return 0
    if args.json or args.record is not None:
        _records(args, entries)
    else:
        from prepadvisor.files.colours_csv import colours_table

        print(colours_table(entries), end="")
    return 0


def _records(args: argparse.Namespace, entries: "Sequence[BookColour]") -> None:
    """Print colours with what the shop's own record has of each, as text or JSON."""
    from prepadvisor.cards.fit.report import colour_records
    from prepadvisor.files.panels_csv import PANELS_FILE
    from prepadvisor.records.colour_book import key_of
    from prepadvisor.records.fit import ColourRecord
    from prepadvisor.wording.fit import colour_says, record_says

    folders = house_folders(args)
    panels = next((Path(each) / PANELS_FILE for each in reversed(folders)), None)
    found = colour_records(house_of(args), panels, args.record or (), now())
    of = {entry.book: found.get(key_of(entry.book), ColourRecord()) for entry in entries}
    if args.json:
        said = [entry.model_dump(mode="json") | {"record": of[entry.book]._asdict()} for entry in entries]
        print(json.dumps({"colours": said}, ensure_ascii=False))
        return
    for entry in entries:
        print(f"{colour_says(entry)}\n    {record_says(of[entry.book])}")
