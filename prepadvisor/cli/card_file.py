"""Puts a card on disk whole or not at all, and keeps an older card where one must not be lost."""

import contextlib
import os
import sys
from pathlib import Path

from prepadvisor.records.fault import BadInputError, Fault


def put(path: Path, card: bytes) -> None:
    """Write a card over whatever is there: into a new file beside it, then renamed in one step.

    Raises:
        BadInputError: the system refuses; what was there before is untouched.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with beside.open("xb") as new:
            new.write(card)
            new.flush()
            os.fsync(new.fileno())
        beside.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)
        says = f"the card cannot be written: {error.strerror or error}"
        raise BadInputError([Fault(str(path), 0, 0, says, "an older card there is untouched")]) from error


def put_if_new(path: Path, card: bytes, *, force: bool) -> bool:
    """Write a card unless an older one that differs is there; return whether the card now stands on disk.

    Raises:
        BadInputError: the system refuses.
    """
    if not force and path.exists():
        with contextlib.suppress(OSError):
            if path.read_bytes() == card:
                return True
        print(f"{path}: an OLDER card is there and was kept; --force replaces it", file=sys.stderr)
        return False
    put(path, card)
    return True
