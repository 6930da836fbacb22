"""`prepadvisor day`: all jobs of a folder, what waits at each, and what the day needs."""

import argparse
from pathlib import Path
from typing import Final

from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.records import BadInputError, Fault

_EXAMPLES: Final = """\
examples:
  prepadvisor day jobs/                      every job: where it stands, what is next, who, how long ago
  prepadvisor day jobs/ --to csv --out day.csv
  prepadvisor day jobs/ --to html --out day.html

exit status: 0 every job is clear, 1 a gate is shut, 2 a file cannot be read (the others are shown).
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor day",
        description="Show all jobs of a folder and what the day needs.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("folder", metavar="FOLDER", help="the folder of job files")
    options.add_argument(
        "--to", choices=("text", "html", "csv", "json"), help="form (text, or as --out ends)"
    )
    options.add_argument("--out", metavar="PATH", help="a file, or - for standard output (start value)")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Write the day and return the exit status, the worst of its jobs.

    Raises:
        BadInputError: for a house with faults, or where the folder is none.
    """
    from prepadvisor.cards import DayForm, day_of, write_day
    from prepadvisor.cli.shared import form_of, write_out
    from prepadvisor.files import load_job

    folder = Path(args.folder)
    if not folder.is_dir():
        raise BadInputError(
            [Fault(args.folder, 0, 0, "this is no folder", "name the folder of the job files")]
        )
    house, time = house_of(args), now()
    paths = sorted(path for path in folder.glob("*.toml") if path.is_file())
    day = day_of(paths, lambda path: load_job(path, house), house, time)
    forms: tuple[DayForm, ...] = ("text", "html", "csv", "json")
    form = form_of(args.to, args.out, forms)
    title = f"{folder.resolve().name}, {time:%Y-%m-%d %H:%M}"
    write_out(args.out, write_day(day, form, title), inputs=paths)
    return day.exit_status
