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
    """Add `--house DIR` to a command that gives advice."""
    parser.add_argument(
        "--house",
        metavar="DIR",
        help="a folder with the shop's own standards, laid over the shipped ones (or PREPADVISOR_HOUSE)",
    )


def house_folder(args: argparse.Namespace) -> str | None:
    """Return the house folder: the option, else `PREPADVISOR_HOUSE`, else None for the shipped standards."""
    option = getattr(args, "house", None)
    if option is not None:
        return str(option)
    return os.environ.get("PREPADVISOR_HOUSE") or None


def house_of(args: argparse.Namespace) -> "House":
    """Load the standards a command works by. Raises BadInputError with every fault of the house folder."""
    from prepadvisor.files import load_house

    return load_house(house_folder(args))


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
    """Print every fault to standard error, one a line."""
    for fault in error.faults:
        print(fault, file=sys.stderr)
