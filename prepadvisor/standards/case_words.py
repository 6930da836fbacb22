"""Cases in the words of the shop: "very-fine flake; fade zone; edge or wheel-arch; by hand only"."""

from collections.abc import Mapping, Sequence
from typing import Final

from prepadvisor.standards.domains import CATEGORIES, CATEGORY, NUMBERS, Value

_PHRASES: Final[dict[str, str]] = {
    "flake": "{} flake",
    "tone": "{} tone",
    "zone": "{} zone",
    "stages": "{} stages",
    "role": "{} panel",
    "surface": "on {}",
    "next": "{} next",
    "feature": "{}",
    "panel": "{}",
    "film_um": "film {}",
    "length_mm": "line length {}",
    "panel_m2": "panel size {}",
}
_REACH: Final = {"machine": "where a machine reaches", "hand": "by hand only"}
_SEEN: Final = {True: "seen", False: "not seen"}
_RUN_FROM: Final = 2
_UNITS: Final = {number.name: number.unit for number in NUMBERS}


def in_words(limits: Mapping[str, Sequence[Value]]) -> str:
    """Return the cases of a box in one line; `limits` maps a fact to the values it may have.

    Facts that are not limited are left out; no limit at all is "every case".
    """
    return "; ".join(_phrase(fact, values) for fact, values in limits.items()) or "every case"


def _phrase(fact: str, values: Sequence[Value]) -> str:
    if fact == "reach":
        return " or ".join(_REACH[str(value)] for value in values)
    if fact == "seen":
        return " or ".join(_SEEN[bool(value)] for value in values)
    if fact == "special":
        return _special(values)
    if fact in _UNITS:
        return _PHRASES[fact].format(" or ".join(_number(fact, str(value)) for value in values))
    return _PHRASES[fact].format(_either(fact, values))


def _number(fact: str, words: str) -> str:
    return words if words in {"unknown", "known"} else f"{words} {_UNITS[fact]}"


def _either(fact: str, values: Sequence[Value]) -> str:
    """Tell a long list by what is not in it, and flakes from one on by the first."""
    every = CATEGORIES[CATEGORY[fact]].values
    if fact == "flake" and _RUN_FROM <= len(values) < len(every):
        if list(values) == list(every[-len(values) :]):
            return f"{values[0]} or finer"
        if list(values) == list(every[: len(values)]):
            return f"{values[-1]} or coarser"
    missing = [value for value in every if value not in values]
    if len(every) > 3 and len(missing) * 2 < len(values):
        return "any but " + " or ".join(map(str, missing))
    return " or ".join(map(str, values))


def _special(values: Sequence[Value]) -> str:
    if list(values) == ["none"]:
        return "nothing special"
    return "special: " + _either("special", values)
