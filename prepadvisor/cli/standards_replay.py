"""`prepadvisor standards replay`: an archive of jobs under a draft, and what the draft changes in it."""

import argparse
import os
import sys
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.house_option import add_house, house_folders

if TYPE_CHECKING:
    from prepadvisor.cli.replay_worker import Counted, Houses

DESCRIPTION: Final = (
    "Advises on every job of an archive by the standards in force and by a draft, and tells how many jobs "
    "and places change and which way. Files that cannot be read are listed and counted."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards replay archive/ --against draft          shipped standards against a draft
  prepadvisor standards replay archive/ --house ours --against draft
  prepadvisor standards replay *.toml --against draft --json

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
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)


def run(args: argparse.Namespace) -> int:
    """Print what changes; 1 if anything does, 2 if some file could not be used.

    Raises:
        BadInputError: for house folders with faults, and if there is no job file at all.
    """
    from prepadvisor.cli.replay_text import as_json, as_text

    total = _counted(job_files(args.jobs), (house_folders(args), tuple(args.against)), max(1, args.workers))
    print(as_json(total) if args.json else as_text(total))
    return 2 if total.unreadable else 1 if total.tally.jobs_changed else 0


def job_files(names: list[str]) -> list[str]:
    """Return the job files that are meant, those of folders sorted by path.

    Raises:
        BadInputError: if there is none.
    """
    from prepadvisor.records.fault import BadInputError, Fault

    files: list[str] = []
    for name in names:
        path = Path(name)
        files += [str(each) for each in sorted(path.rglob("*.toml"))] if path.is_dir() else [name]
    if not files:
        raise BadInputError([Fault(names[0], 0, 0, "there is no job file (*.toml) in it")])
    return files


def _counted(files: list[str], houses: "Houses", workers: int) -> "Counted":
    from prepadvisor.cli.replay_worker import Counted, Worker

    worker = Worker(houses)  # also tells faults of the houses before any process is started
    total = Counted()
    chunks = _chunks(files, workers)
    if workers == 1 or len(files) <= _ALONE_MOST:
        for counted in map(worker.count, chunks):
            _take(total, counted, len(files))
    else:
        for counted in _by_processes(chunks, houses, min(workers, os.cpu_count() or 1)):
            _take(total, counted, len(files))
    total.unreadable.sort()
    return total


def _by_processes(chunks: Iterator[list[str]], houses: "Houses", workers: int) -> "Iterator[Counted]":
    from multiprocessing import get_context

    from prepadvisor.cli.replay_worker import count, start

    with get_context("spawn").Pool(workers, start, (houses,)) as pool:
        yield from pool.imap_unordered(count, chunks)


def _chunks(files: list[str], workers: int) -> Iterator[list[str]]:
    size = min(_CHUNK_MOST, len(files) // (4 * workers) + 1)
    rest = iter(files)
    while chunk := list(islice(rest, size)):
        yield chunk


def _take(total: "Counted", more: "Counted", files: int) -> None:
    total.files += more.files
    total.tally.merge(more.tally)
    total.unreadable += more.unreadable
    if files > _ALONE_MOST:
        print(f"{total.files} of {files} job files replayed", file=sys.stderr)
