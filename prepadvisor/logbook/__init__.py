"""A job's log as it is read: each entry with what its writer knew, what is struck, what is odd."""

from prepadvisor.logbook.entries import Entry
from prepadvisor.logbook.logbook import Logbook
from prepadvisor.logbook.people import person
from prepadvisor.logbook.primed import Primed, primed
from prepadvisor.logbook.writer import Writer

__all__ = ["Entry", "Logbook", "Primed", "Writer", "person", "primed"]
