"""The faults of a file in the few words that fit a note."""

from pathlib import Path

from prepadvisor.records.fault import BadInputError


def fault_words(error: BadInputError) -> str:
    """Return the first faults of a file for the note."""
    more = len(error.faults) - 2
    shown = [str(fault._replace(file=Path(fault.file).name)) for fault in error.faults[:2]]
    return "; ".join(shown) + (f"; and {more} more" if more > 0 else "")
