"""What is wrong with the shape of a rule file's entries, as a person would say it, each with its mend."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.records import KeyPath, Problem, did_you_mean, own_words

if TYPE_CHECKING:
    from pydantic import ValidationError

    from prepadvisor.records import Record

_ELSEWHERE: Final = {
    **dict.fromkeys(("colour", "color"), "colours.toml"),
    **dict.fromkeys(("outline", "panel"), "panels.toml"),
    **dict.fromkeys(
        ("shelf", "wet_bed", "rates", "pads", "leads", "finishing_tool", "hand_tool"), "shop.toml"
    ),
    **dict.fromkeys(
        ("groove", "film", "flake", "sight", "uncertainty", "removal", "mixing"), "constants.toml"
    ),
}
"""Keys of the other files of a house: their own name decides how they are read."""


def unknown_table(key: str, known: Sequence[str]) -> Problem:
    """Return the problem of a table that no rule file has; `known` are those it may have."""
    elsewhere = _ELSEWHERE.get(key)
    hint = f"that stands in a file called {elsewhere}" if elsewhere else did_you_mean(key, known)
    return Problem((key,), f'a rule file has no "{key}"', hint)


def problems_of(error: "ValidationError", path: KeyPath, called: str, model: type["Record"]) -> list[Problem]:
    """Return every fault of an entry, which stands at `path` and is called so."""
    problems = []
    for fault in error.errors(include_url=False):
        inside = fault["loc"]
        says, mend = _in_words(fault["type"], own_words(fault), str(inside[-1]) if inside else "", model)
        problems.append(Problem((*path, *inside), f"{called}: {says}", mend))
    return problems


def _in_words(kind: str, message: str, key: str, model: type["Record"]) -> tuple[str, str]:
    """Return a fault of shape as a person would say it, and its mend."""
    match kind:
        case "missing":
            return f'"{key}" is missing', _WHY.get(key, "")
        case "extra_forbidden":
            return f'there is no "{key}" here', did_you_mean(key, tuple(model.model_fields))
        case "string_type":
            return f'"{key}" takes words in quotes', ""
        case "string_too_short" | "too_short":
            return f'"{key}" is empty', _WHY.get(key, "")
        case "string_too_long":
            return f'"{key}" is too long', "say it in one or two sentences"
        case "dict_type" | "model_type":
            return (f'"{key}" is a table' if key else "this is a table"), "write { name = value, ... }"
        case "value_error":
            return (f'"{key}" {message}' if key else message), ""
        case "date_type":
            return f'"{key}" is a day', "write it like 2026-03-02, without quotes"
    return f'"{key}": {message}', ""


_WHY: Final = {
    "says": "say in one sentence what the painter is to do",
    "source": 'say where it comes from; "practice" if it is only habit',
    "set": "a rule that sets nothing does nothing",
    "id": "give the rule a short name of its own",
    "because": "say why in one sentence",
    "expect": "say what the outputs must be",
    "when": "without a condition nothing at all could be",
    "output": "say which output is promised",
    "never": 'write "coarser" for grades, "weaker" for the rest',
}
