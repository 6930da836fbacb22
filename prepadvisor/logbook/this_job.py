"""Which entries of a log are of this job: one that was copied to another number starts over."""

from collections.abc import Sequence

from prepadvisor.logbook.entries import Entry
from prepadvisor.logbook.identity import number_sign


def upto_other_job(entries: Sequence[Entry], number: str) -> int:
    """Return the last entry that was made in a job of another number, 0 for none: up to it nothing counts.

    Args:
        entries: the log.
        number: the number of the job that the log stands in.
    """
    here = number_sign(number)
    other = [entry.number for entry in entries if is_of_other_number(entry.check.basis, here)]
    return other[-1] if other else 0


def is_of_other_number(basis: str, here: str) -> bool:
    """Say whether an entry was made in a job of another number; one that does not say was not.

    Args:
        basis: what the entry rests on.
        here: the part of this job's number.
    """
    if not basis or basis.startswith(here):  # as nearly every entry is
        return False
    stated = [part for part in basis.split() if part.startswith("number:")]
    return bool(stated) and stated[0] != here
