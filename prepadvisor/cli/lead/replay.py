"""`prepadvisor standards replay`: an archive of jobs under a draft, and what the draft changes in it."""

import argparse
import os
import sys
from collections.abc import Iterator
from itertools import islice
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_folders

if TYPE_CHECKING:
    from prepadvisor.cli.lead.replay_text import ReplayWriter
    from prepadvisor.cli.lead.replay_worker import Counted, Houses, Worker


DESCRIPTION: Final = (
    "Advises on every job of an archive by the standards in force and by a draft, and tells what changes: "
    "holds first, then what gets laxer, a paragraph a rule, with minutes, ml, discs and money at the shop's "
    "rates. Jobs held under one of them only are summed apart. Files that cannot be read are listed."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards replay archive/ --against draft          shipped standards against a draft
  prepadvisor standards replay archive/ --house ours --against draft
  prepadvisor standards replay *.toml --against draft --to csv   every job and place, before and after
  prepadvisor standards replay *.toml --against draft --to json

Folders are searched with the folders in them. Progress goes to standard error.
exit status: 0 nothing changes, 1 something changes, 2 a file cannot be used
"""
_CHUNK_MOST: Final = 500
"""Files counted at a time: the more, the more jobs of one colour share; memory stays flat all the same."""
_ALONE_MOST: Final = 200
"""With no more files than this a second process costs more than it saves."""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("jobs", metavar="JOBS", nargs="+", help="job files, or folders of them")
    options.add_argument(
        "--against",
        metavar="DIR",
        action="append",
        required=True,
        help="house folder of the draft; several times for layers, the lowest first",
    )
    options.add_argument("--workers", metavar="N", type=int, default=2, help="processes to use (2)")
    options.add_argument(
        "--to", choices=("text", "csv", "json"), default="text", help="how to write it (text)"
    )
    options.add_argument(
        "--json", action="store_const", dest="to", const="json", help="the same as --to json"
    )
    add_house(options)


def run(args: argparse.Namespace) -> int:
    """Print what changes; 1 if anything does, 2 if some file could not be used.

    Raises:
        BadInputError: for house folders with faults, and if there is no job file at all.
    """
    from prepadvisor.cli.lead.replay_text import WRITERS
    from prepadvisor.cli.lead.replay_worker import Worker
    from prepadvisor.files import job_files

    files = job_files(args.jobs)
    houses = house_folders(args), tuple(args.against)
    worker = Worker(houses, with_rows=args.to != "text")  # also tells faults of the houses at once
    writer = WRITERS[args.to](worker)
    total = _counted(files, houses, worker, writer, max(1, args.workers))
    writer.end(total)
    return 2 if total.unreadable else 1 if total.tally.jobs_changed else 0


def _counted(
    files: list[str], houses: "Houses", worker: "Worker", writer: "ReplayWriter", workers: int
) -> "Counted":
    from prepadvisor.cli.lead.replay_worker import Counted

    total = Counted()
    chunks = _chunks(files, workers)
    if workers == 1 or len(files) <= _ALONE_MOST:
        for counted in map(worker.count, chunks):
            _take(total, counted, writer, len(files))
    else:
        most = min(workers, os.cpu_count() or 1)
        for counted in _by_processes(chunks, houses, most, with_rows=worker.with_rows):
            _take(total, counted, writer, len(files))
    total.unreadable.sort()
    return total


def _by_processes(
    chunks: Iterator[list[str]], houses: "Houses", workers: int, *, with_rows: bool
) -> "Iterator[Counted]":
    from multiprocessing import get_context

    from prepadvisor.cli.lead.replay_worker import count, start

    with get_context("spawn").Pool(workers, start, (houses, with_rows)) as pool:
        yield from pool.imap(count, chunks)


def _chunks(files: list[str], workers: int) -> Iterator[list[str]]:
    size = min(_CHUNK_MOST, len(files) // (4 * workers) + 1)
    rest = iter(files)
    while chunk := list(islice(rest, size)):
        yield chunk


def _take(total: "Counted", more: "Counted", writer: "ReplayWriter", files: int) -> None:
    total.files += more.files
    total.tally.merge(more.tally)
    total.unreadable += more.unreadable
    writer.rows(more.rows)
    if files > _ALONE_MOST:
        print(f"{total.files} of {files} job files replayed", file=sys.stderr)
