"""A fault of a file in words, before its line is looked up."""

from prepadvisor.named import NamedTuple
from prepadvisor.records.fault import Problem


class Told(NamedTuple):
    """A problem in words, and what is wrong with its key.

    `at_key`: its place is the key, an unknown one, instead of the value; `lacking`: the key is not there.
    """

    problem: Problem
    at_key: bool = False
    lacking: bool = False
