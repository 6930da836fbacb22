"""Puts a card on disk whole or not at all, and keeps an older card where one must not be lost."""

import contextlib
import sys
from collections.abc import Iterable
from pathlib import Path

from prepadvisor.files.out_file import put_out, refuse_out


def put_if_new(path: Path, card: bytes, inputs: Iterable[Path | str] = (), *, force: bool) -> bool:
    """Write a card unless an older one that differs is there; return whether the card now stands on disk.

    Raises:
        BadInputError: the system refuses, or the place is an input or no card's; see `put_out`.
    """
    refuse_out(path, inputs)
    if not force and path.exists():
        with contextlib.suppress(OSError):
            if path.read_bytes() == card:
                return True
        print(f"{path}: an OLDER card is there and was kept; --force replaces it", file=sys.stderr)
        return False
    put_out(path, card, inputs)
    return True
