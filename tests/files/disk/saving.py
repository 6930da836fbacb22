"""Adds one check-off entry to a job, as the tests of saving do again and again."""

from pathlib import Path

from prepadvisor.files import FileSystem, Saved, append_entries, values_of
from prepadvisor.records import Check

_REAL = FileSystem()


def append_check(path: Path, check: Check, system: FileSystem = _REAL) -> Saved:
    """Add an entry to a job's check-off; see `append_entries`."""
    return append_entries(path, [("check", values_of(check))], check.by, system)
