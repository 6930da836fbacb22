"""A job's log as it is read: each entry with what its writer knew, what is struck, what is odd."""

from typing import TYPE_CHECKING

from prepadvisor.door import door

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

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
