"""What commands share: the house option, the clock, and faults printed one a line."""

import argparse
import datetime as dt
import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from prepadvisor.records.fault import BadInputError
    from prepadvisor.standards.house import House


def add_house(parser: argparse.ArgumentParser) -> None:
    """Add `--house DIR` to a command that gives advice; it may be given for each layer."""
    parser.add_argument(
        "--house",
        metavar="DIR",
        action="append",
        help="a folder with the shop's own standards, laid over the shipped ones (or PREPADVISOR_HOUSE); "
        "several times for layers, the lowest first: group, site, customer",
    )


def house_folders(args: argparse.Namespace) -> tuple[str, ...]:
    """Return the house folders, lowest first: the options, else `PREPADVISOR_HOUSE`; none: shipped alone.

    The variable names several as PATH does, with a colon (a semicolon on Windows) between them.
    """
    option = getattr(args, "house", None)
    if option:
        return tuple(map(str, option))
    stated = os.environ.get("PREPADVISOR_HOUSE", "")
    if os.path.isdir(stated):  # noqa: PTH112  # a name may hold the sign that parts them; pathlib loads slowly
        return (stated,)
    return tuple(part for part in stated.split(os.pathsep) if part)


def house_of(args: argparse.Namespace) -> "House":
    """Load the standards a command works by. Raises BadInputError with every fault of the house folders."""
    from prepadvisor.files import load_house

    return load_house(*house_folders(args))


def now() -> dt.datetime:
    """Return the time by the clock, with its zone, or the one that `PREPADVISOR_NOW` states.

    Raises:
        BadInputError: the variable is no RFC 3339 time such as 2026-03-02T09:40:00Z.
    """
    stated = os.environ.get("PREPADVISOR_NOW", "").strip()
    if not stated:
        return dt.datetime.now(dt.UTC).astimezone()
    try:
        time = dt.datetime.fromisoformat(stated)
    except ValueError:
        time = None
    if time is None or time.tzinfo is None or len(stated) < len("2026-03-02T09:40:00Z"):
        from prepadvisor.records.fault import BadInputError, Fault

        says = f'"{stated}" is not a day and time with its zone'
        raise BadInputError([Fault("PREPADVISOR_NOW", 0, 0, says, "write it like 2026-03-02T09:40:00Z")])
    return time


def print_faults(error: "BadInputError") -> None:
    """Print every fault to standard error, one a line; of very many the first."""
    print("\n".join(error.lines), file=sys.stderr)
