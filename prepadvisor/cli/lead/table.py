"""`prepadvisor standards table`: every decision as rows that share no case, for a spreadsheet or database."""

import argparse
import csv
import json
import sys
from collections.abc import Iterable
from io import TextIOWrapper
from mmap import ACCESS_READ, mmap
from pathlib import Path
from tempfile import TemporaryFile
from typing import TYPE_CHECKING, Any, Final, TextIO

from prepadvisor.cli.shared import house_folders

if TYPE_CHECKING:
    from prepadvisor.records import BadInputError
    from prepadvisor.standards import Box, CellValue


DESCRIPTION: Final = (
    "Writes every case that a card can meet with all its answers and the rule behind each, merged into boxes "
    "that share no case. A fact's column has its values joined by |, empty for any; a number has FACT_from "
    "(included), FACT_below (excluded) and FACT_unknown: yes, only where nobody measured; no, only where "
    "somebody did; any. An answer that nobody reads in a case is empty there. Held cases are rows with holds "
    "alone. With --spots it writes the spots of jobs with their facts instead, to be joined to it."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards table our-standards --to csv --out table.csv
  prepadvisor standards table --where flake=very-fine --where zone=fade
  prepadvisor standards table our-standards --spots jobs/ --out spots.csv
  duckdb -c "COPY (FROM 'table.csv') TO 'table.parquet'"

rules/README.md has the SQL that joins spots to the table. memory stays flat. where rules cut numbers in very
many ranges a table of all would never end: --where writes a part.
exit status: 0 written, 2 a file cannot be used
"""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("dir", metavar="DIR", nargs="?", help="house folder (or PREPADVISOR_HOUSE)")
    options.add_argument(
        "--house", metavar="DIR", action="append", help="layers below DIR, the lowest first (may be several)"
    )
    options.add_argument("--to", choices=("csv", "json"), default="csv", help="how to write it (csv)")
    options.add_argument("--out", metavar="FILE", default="-", help="where to; - is standard output")
    options.add_argument(
        "--where", metavar="FACT=VALUE", action="append", default=[], help="only these cases (may be several)"
    )
    options.add_argument("--spots", metavar="JOBS", nargs="+", help="write the spots of these jobs instead")


def run(args: argparse.Namespace) -> int:
    """Write the table.

    Raises:
        BadInputError: for files that cannot be read, conditions that mean nothing, and a place that is none.
    """
    from prepadvisor.files import load_house, put_out, refuse_out
    from prepadvisor.standards import Table, TooIntricateError, columns

    house = load_house(*((*(args.house or ()), args.dir) if args.dir else house_folders(args)))
    names: tuple[str, ...]
    rows: Iterable[dict[str, CellValue]]
    if args.spots:
        from prepadvisor.cli.lead.spot_rows import COLUMNS, spot_rows

        names, rows = COLUMNS, spot_rows(args.spots, house)
    else:
        try:
            table = Table(house.engine, _where(args.where, house.kinds))
        except TooIntricateError:
            raise _too_many(args.where) from None
        names, rows = columns(), map(table.cells, table.rows())
    if args.out == "-":
        _write(sys.stdout, args.to, names, rows)
        return 0
    refuse_out(Path(args.out))
    with TemporaryFile() as spool:  # rows never stand in memory together
        out = TextIOWrapper(spool, encoding="utf-8", newline="")
        _write(out, args.to, names, rows)
        out.flush()
        with mmap(spool.fileno(), 0, access=ACCESS_READ) as whole, memoryview(whole) as content:
            put_out(Path(args.out), content)
        out.detach()
    return 0


def _too_many(where: list[str]) -> "BadInputError":
    from prepadvisor.records import BadInputError, Fault

    says = "ranges of numbers in rules cut these cases so finely that their table has no end in sight"
    some = "fewer: add another" if where else "a part at a time, by"
    mend = f"write {some} --where, such as --where flake=fine --where zone=fade --where film_um=120"
    return BadInputError([Fault("--where", 0, 0, says, mend)])


def _write(out: TextIO, form: str, names: tuple[str, ...], rows: "Iterable[dict[str, CellValue]]") -> None:
    if form == "csv":
        writer = csv.DictWriter(out, names, lineterminator="\n")
        writer.writeheader()
        for row in rows:
            writer.writerow({name: _number(value) for name, value in row.items()})
        return
    out.write("[")
    for place, row in enumerate(rows):
        out.write((",\n" if place else "\n") + json.dumps(row, ensure_ascii=False))
    out.write("\n]\n")


def _number(value: "CellValue") -> "CellValue":
    """Return a cell without the ".0" of a whole number."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _where(conditions: list[str], kinds: dict[str, str]) -> "Box | None":
    from prepadvisor.records import ANY_WORDS, BadInputError, Fault
    from prepadvisor.standards import read_when

    if not conditions:
        return None
    asked: dict[str, Any] = {}
    faults: list[Fault] = []
    for condition in conditions:
        fact, sign, value = condition.partition("=")
        if not sign:
            says = f'"{condition}" is no condition'
            faults.append(Fault("--where", 0, 0, says, "write it like flake=very-fine"))
            continue
        words = [ANY_WORDS.get(word.strip(), word.strip()) for word in value.split("|")]
        typed = [_typed(fact.strip(), word) for word in words]
        asked[fact.strip()] = typed[0] if len(typed) == 1 else typed
    box, problems = read_when(asked, (), kinds)
    faults += [Fault("--where", 0, 0, each.says, each.mend) for each in problems]
    if faults:
        raise BadInputError(faults)
    return box


def _typed(fact: str, word: str) -> object:
    from prepadvisor.cases import NUMBER

    if word.lower() in {"true", "false"}:
        return word.lower() == "true"
    if fact == "stages" and word.isdecimal():
        return int(word)
    if fact in NUMBER:
        try:
            return float(word)
        except ValueError:
            return word
    return word
