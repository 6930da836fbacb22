"""What a record refused, as found in the data of a file, and how each key is written."""

import re
import types
from collections.abc import Iterable, Mapping
from itertools import islice
from typing import TYPE_CHECKING, Any, Final, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import KeyPath, Problem

# A fault of a file in words, before its line is looked up.


class Told(NamedTuple):
    """A problem in words, and what is wrong with its key.

    `at_key`: its place is the key, an unknown one, instead of the value; `lacking`: the key is not there.
    """

    problem: "Problem"
    at_key: bool = False
    lacking: bool = False


# For each key of a job, shop or outline file: how it is written, and what sizes make sense.

EXAMPLES: Final[dict[str, str]] = {
    "job": '[job] with number = "1042"',
    "panel": '[[panel]] with id = "left-front-door"',
    "number": 'number = "1042"',
    "vehicle": 'vehicle = "five-door hatchback"',
    "by": 'by = "K. M."',
    "date": "date = 2026-03-02",
    "units": 'units = "metric"',
    "name": 'name = "front edge"',
    "flake": 'flake = "very-fine"',
    "stages": "stages = 2",
    "tone": 'tone = "light"',
    "flake_um": "flake_um = 8.0",
    "id": 'id = "E1"',
    "panel.id": 'id = "left-front-door"',
    "patch.id": 'id = "R1"',
    "panel.kind": 'kind = "front-door"',
    "feature.kind": 'kind = "edge"',
    "role": 'role = "blend"',
    "surface": 'surface = "aged-clear"',
    "next": 'next = "base"',
    "special": 'special = "none"',
    "length_mm": "length_mm = 1050",
    "height_mm": "height_mm = 640",
    "colour_from": 'colour_from = ["front"]',
    "colour_mm": "colour_mm = 150",
    "fade_mm": "fade_mm = 400",
    "film_um": "film_um = [118, 112]",
    "now": 'now = { tool = "da", grade = "P320" }',
    "done": 'done = { tool = "hand-pad", grade = "P1000" }',
    "tool": 'tool = "hand-pad"',
    "grade": 'grade = "P1000"',
    "pad": 'pad = "our grey pad"',
    "patch": "[[panel.patch]]",
    "feature": "[[panel.feature]]",
    "at": "at = 2026-03-02T09:40:00Z",
    "patch.at": "at = [0.4, 0.6]",
    "check.panel": 'panel = "left-front-door"',
    "check.feature": 'feature = "E1"',
    "outcome.panel": 'panel = "left-front-door"',
    "outcome.feature": 'feature = "E1"',
    "size_mm": "size_mm = [300, 250]",
    "path": "path = [[0.0, 0.0], [0.0, 1.0]]",
    "reach": 'reach = "machine"',
    "seen": "seen = true",
    "check": "[[check]]",
    "outcome": "[[outcome]]",
    "step": 'step = "scuffed"',
    "result": 'result = "clear"',
    "note": 'note = ""',
    "shelf": 'shelf = ["P320", "P500", "P800", "P1000"]',
    "value": "value = 0.05",
    "unit": 'unit = "µm"',
    "source": 'source = "practice"',
    "known": 'known = "practice"',
    "shape": "shape = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]",
}
"""A key to how it is written."""

_PANEL_SIZE: Final = "give it in millimetres: a panel of a car has 30 to 6000"
_SHARE: Final = "a place on a panel is 0 to 1 of its length or height, from the front top corner"

SIZE_WORDS: Final[dict[str, str]] = {
    "length_mm": _PANEL_SIZE,
    "height_mm": _PANEL_SIZE,
    "size_mm": "give length and height of the patch in millimetres",
    "colour_mm": "give how far full colour reaches, in millimetres",
    "fade_mm": "give how wide the fade-out is, in millimetres",
    "film_um": "give gauge readings in micrometres, such as 118",
    "path": _SHARE,
    "at": _SHARE,
    "shape": _SHARE,
    "stages": "2 is base and clear, 3 is ground, translucent and clear",
    "flake_um": "give the flake's median diameter in micrometres, such as 8.0",
    "tilt_deg": "give the spread of the flakes' tilt in degrees, such as 7",
    "log_sd": "give the spread of the logarithm of the flake's diameter, such as 0.47",
}
"""A key to what its value means where a number is out of bounds."""


# Finds which keys a record knows at a place of a file, so that a mistyped key can be mended.


def fields_at(model: type[BaseModel], path: tuple[str | int, ...]) -> list[str]:
    """Return the keys known in the table at `path`; an empty list where the path leads to no record."""
    at: type[BaseModel] | None = model
    kind: Any = model
    for step in path:
        if isinstance(step, int):
            continue
        if at is not None and step in at.model_fields:
            kind = at.model_fields[step].annotation
        elif get_origin(kind) is dict:
            kind = get_args(kind)[1]
        else:
            return []
        at = _record_in(kind)
    return list(at.model_fields) if at is not None else []


def _record_in(kind: Any) -> type[BaseModel] | None:
    """Return the record an annotation holds, under a union, a list or `Annotated`; not one under a dict."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return kind
    if get_origin(kind) in (Union, types.UnionType, tuple, list) or hasattr(kind, "__metadata__"):
        return next((found for inner in get_args(kind) if (found := _record_in(inner)) is not None), None)
    return None


REFUSALS_MAX: Final = 2_000
"""More are not told one by one: nobody reads so far before mending the first."""


class Refusal(NamedTuple):
    """One thing a record refused: the kind of error, its path, the value there, and particulars.

    `is_key` says that not the value but the key itself is not one of the words it may be.
    """

    kind: str
    path: "KeyPath"
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


def _path_in(loc: "KeyPath", data: Any, *, missing: bool) -> tuple["KeyPath", Any]:
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
