"""A job's log as it is read: each entry with what its writer knew, what is struck, what is odd."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from prepadvisor.logbook.entries import Entry as Entry
    from prepadvisor.logbook.entries import Writer as Writer
    from prepadvisor.logbook.entries import is_reason as is_reason
    from prepadvisor.logbook.entries import name_of as name_of
    from prepadvisor.logbook.entries import number_sign as number_sign
    from prepadvisor.logbook.entries import people as people
    from prepadvisor.logbook.entries import person as person
    from prepadvisor.logbook.entries import sign as sign
    from prepadvisor.logbook.entries import utc as utc
    from prepadvisor.logbook.logbook import Logbook as Logbook
    from prepadvisor.logbook.logbook import Primed as Primed
    from prepadvisor.logbook.logbook import primed as primed
    from prepadvisor.logbook.logbook import upto_other_job as upto_other_job

_PARTS = {
    "entries": "Entry Writer is_reason name_of number_sign people person sign utc",
    "logbook": "Logbook Primed primed upto_other_job",
}
"""The parts of this room, and what each brings to the door."""

_HOMES = {name: part for part, names in _PARTS.items() for name in names.split()}

if not TYPE_CHECKING:  # else a type checker would take any name for granted

    def __getattr__(name):
        """Load the part that has a name, and keep all that it brings."""
        if name not in _HOMES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        part = import_module(f"{__name__}.{_HOMES[name]}")
        globals().update((each, getattr(part, each)) for each in _PARTS[_HOMES[name]].split())
        return globals()[name]
