"""Stamps new entries: who wrote them, as which of his entries, and what he knew of the log when he did."""

import os
from collections.abc import Sequence

from prepadvisor.logbook.identity import NOTHING_YET, name_of
from prepadvisor.records.job import Check


class Writer:
    """One run of a command, or one open screen: a token of its own, and a count of its entries.

    Args:
        token: a token without dash; a new random one where none is given.
        counter: the number of its last entry.
    """

    def __init__(self, token: str = "", counter: int = 0) -> None:
        """Begin with a token that no other writer has."""
        self.token = token or os.urandom(6).hex()
        self.counter = counter

    def stamp(self, check: Check, on_disk: Sequence[Check]) -> Check:
        """Return an entry with the next id of this writer and with what he knew.

        Args:
            check: the entry; one that has an id already is returned as it is.
            on_disk: the log as this writer last read it from the disk, without his own unsaved entries.
        """
        if check.id:
            return check
        self.counter += 1
        return check.model_copy(update={"id": f"{self.token}-{self.counter}", "knew": knew(on_disk)})


def knew(on_disk: Sequence[Check]) -> str:
    """Return what a writer says he knew who last read this log: the name of its last entry."""
    return name_of(on_disk[-1]) if on_disk else NOTHING_YET
