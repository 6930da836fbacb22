"""What a record refused, as found in the data of a file."""

import re
from collections.abc import Iterable, Mapping
from itertools import islice
from typing import Any, Final

from pydantic import ValidationError

from prepadvisor.files.words_for_keys import EXAMPLES
from prepadvisor.named import NamedTuple
from prepadvisor.records.fault import KeyPath

REFUSALS_MAX: Final = 2_000
"""More are not told one by one: nobody reads so far before mending the first."""


class Refusal(NamedTuple):
    """One thing a record refused: the kind of error, its path, the value there, and particulars.

    `is_key` says that not the value but the key itself is not one of the words it may be.
    """

    kind: str
    path: KeyPath
    value: Any
    particulars: Mapping[str, Any]
    is_key: bool = False

    @property
    def example(self) -> str:
        """How the key is written, by the table it stands in; empty where there is no example."""
        names = [str(step) for step in self.path if isinstance(step, str)]
        return EXAMPLES.get(".".join(names[-2:])) or EXAMPLES.get(self.name, "")

    @property
    def choices(self) -> list[str]:
        """The words it may be; empty where it is no choice of words."""
        return re.findall(r"'([^']*)'", self.particulars.get("expected", ""))

    @property
    def name(self) -> str:
        """The key the value belongs to; an entry of a list goes by the list's key."""
        return next((str(step) for step in reversed(self.path) if isinstance(step, str)), "this file")


def refusals(error: ValidationError, data: Mapping[str, Any]) -> Iterable[Refusal]:
    """Yield what validating `data` refused, each with its path in the data.

    That a list is too short is passed over where its entries are there but were refused themselves.
    """
    for each in islice(error.errors(include_url=False, include_input=False), REFUSALS_MAX):
        path, value = _path_in(each["loc"], data, missing=each["type"] == "missing")
        particulars = each.get("ctx") or {}
        if (
            each["type"] == "too_short"
            and isinstance(value, list)
            and len(value) >= particulars["min_length"]
        ):
            continue
        yield Refusal(each["type"], path, value, particulars, each["loc"][-1:] == ("[key]",))


def _path_in(loc: KeyPath, data: Any, *, missing: bool) -> tuple[KeyPath, Any]:
    """Return the part of a location that is in the data, without marks of the checker, and the value."""
    path: list[str | int] = []
    for place, step in enumerate(loc):
        inside = isinstance(data, dict) and step in data
        listed = isinstance(data, list) and isinstance(step, int) and step < len(data)
        if not (inside or listed):
            if missing and place == len(loc) - 1:
                path.append(step)
            break
        data = data[step]
        path.append(step)
    return tuple(path), data
