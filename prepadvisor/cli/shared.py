"""What commands share: the house option, the clock, faults told, and where an answer goes."""

import argparse
import datetime as dt
import os
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from prepadvisor.records import BadInputError, Fault

if TYPE_CHECKING:
    from prepadvisor.standards import House


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
        from prepadvisor.records import BadInputError, Fault

        says = f'"{stated}" is not a day and time with its zone'
        raise BadInputError([Fault("PREPADVISOR_NOW", 0, 0, says, "write it like 2026-03-02T09:40:00Z")])
    return time


def print_faults(error: "BadInputError") -> None:
    """Print every fault to standard error, one a line; of very many the first."""
    print("\n".join(error.lines), file=sys.stderr)


# Reads a time that a person gives a command.


def time_of(stated: str | None) -> tuple[dt.datetime | None, list[str]]:
    """Return a time such as 2026-03-02T09:40:00Z, None where none is stated, and what is wrong with it.

    Without its zone it cannot be put in order. What is wrong is told with all else that is.
    """
    if stated is None:
        return None, []
    try:
        time = dt.datetime.fromisoformat(stated.strip())
    except ValueError:
        time = None
    if time is None or time.tzinfo is None:
        return None, [f'--at "{stated}" is not a day and time with its zone; write 2026-03-02T09:40:00Z']
    return time, []


# Where the answer of a command goes: the form by --to or the ending of --out; a file or stdout.

F = TypeVar("F", bound=str)
STDOUT: Final = "-"
_OTHER_ENDINGS: Final = {"txt": "text", "htm": "html"}


def form_of(asked: F | None, out: str | None, forms: Sequence[F]) -> F:
    """Return the form asked for, else the one the ending of the file says, else the first there is.

    Args:
        asked: the option --to.
        out: the option --out.
        forms: the forms the command has.
    """
    ending = Path(out).suffix.lower().removeprefix(".") if out and out != STDOUT else ""
    named = _OTHER_ENDINGS.get(ending, ending)
    return asked or next((form for form in forms if form == named), forms[0])


def write_out(out: str | None, answer: str | bytes, inputs: Iterable[Path | str] = ()) -> None:
    """Write an answer to a file, or to standard output where none is named.

    Args:
        out: the option --out.
        answer: text, or the bytes of a PDF.
        inputs: files that were read, which are never written over.

    Raises:
        BadInputError: the file cannot be written, or bytes would go to a terminal.
    """
    if out and out != STDOUT:
        from prepadvisor.files import put_out

        put_out(Path(out), answer.encode() if isinstance(answer, str) else answer, inputs)
        print(out, file=sys.stderr)
    elif isinstance(answer, str):
        print(answer, end="" if answer.endswith("\n") else "\n")
    elif sys.stdout.isatty():
        raise BadInputError([Fault("--to pdf", 0, 0, "a terminal cannot show a PDF", "name a file: --out")])
    else:
        sys.stdout.buffer.write(answer)
