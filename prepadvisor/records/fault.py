"""What is wrong with an input file: every fault at once, each with its place and its mend."""

from collections.abc import Mapping
from typing import Any, Final

from prepadvisor.named import NamedTuple

FAULTS_SHOWN_MAX: Final = 201
"""More faults are counted, not printed: nobody reads so far before mending the first."""


KeyPath = tuple[str | int, ...]
"""A key path: names of tables and keys, and places in lists counted from 0."""


class Problem(NamedTuple):
    """A fault found in data, by key path: ("panel", 0, "colour_mm"). The file layer adds line and column."""

    path: KeyPath
    says: str
    mend: str = ""


class Fault(NamedTuple):
    """A fault with its place in a file; line and column count from 1, 0 where there is no place."""

    file: str
    line: int
    column: int
    says: str
    mend: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        return f"{place}: {self.says}" + (f"; {self.mend}" if self.mend else "")


class UnfitError(ValueError):
    """A value that a record refuses: what it `says` of it, and its `mend`.

    `names_value` where the words name the value or key themselves.
    """

    def __init__(self, says: str, mend: str = "", *, names_value: bool = False) -> None:
        """Keep the words."""
        self.says, self.mend, self.names_value = says, mend, names_value
        super().__init__(f"{says}; {mend}" if mend else says)


_PLAIN: Final[Mapping[str, str]] = {
    "string_too_long": "is longer than {max_length} letters",
    "string_too_short": "is empty",
    "too_short": "is empty",
    "too_long": "has more than {max_length} entries",
    "missing": "is missing",
    "extra_forbidden": "is not known here",
    "string_type": "must be text",
    "bool_type": "must be true or false",
    "float_parsing": "is no number",
    "int_parsing": "is no whole number",
    "literal_error": "is none of {expected}",
    "greater_than": "must be more than {gt}",
    "greater_than_equal": "must be {ge} or more",
    "less_than": "must be less than {lt}",
    "less_than_equal": "may be {le} at most",
    "finite_number": "is no number",
}
"""What the checker of records refuses, by its kind, without its own jargon."""


def own_words(refusal: Mapping[str, Any]) -> str:
    """Return what a record of ours says of a value that it refuses, else what is wrong in plain words.

    Args:
        refusal: one of pydantic's error details.
    """
    about = refusal.get("ctx", {})
    own = about.get("error")
    if isinstance(own, ValueError):
        return str(own)
    plain = _PLAIN.get(str(refusal.get("type")))
    return plain.format(**about) if plain else str(refusal["msg"])


class BadInputError(Exception):
    """One or more files cannot be used. Holds every fault, sorted by file and line."""

    def __init__(self, faults: list[Fault]) -> None:
        """Keep the faults, sorted."""
        self.faults = sorted(faults)
        super().__init__("\n".join(self.lines))

    @property
    def lines(self) -> list[str]:
        """Every fault in a line of its own; of very many the first, and how many follow."""
        shown = [_one_line(str(fault)) for fault in self.faults[:FAULTS_SHOWN_MAX]]
        rest = len(self.faults) - len(shown)
        return [*shown, f"{rest:,} more faults follow; mend these first"] if rest > 0 else shown


def _one_line(text: str) -> str:
    """Return a text with a question mark for every sign that could steer a terminal or break the line."""
    return text if text.isprintable() else "".join(char if char.isprintable() else "?" for char in text)
