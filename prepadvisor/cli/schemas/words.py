"""Adds to a JSON Schema what files may be written in as well: other words, other spellings of keys."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from prepadvisor.records.trade_words import KEY_WORDS, OTHER_WORDS
from prepadvisor.records.words import OUTLINES

_KINDS: Final[Mapping[str, tuple[str, ...]]] = {
    **{kind: (kind,) for kind in OTHER_WORDS},
    "kind": ("panel", "feature"),
    "finishing_tool": ("tool",),
    "hand_tool": ("tool",),
    "first_grade": ("surface",),
}
"""A key to the kinds of words that its value may be."""


def add_other_words(schema: dict[str, Any]) -> None:
    """Extend the schema of a file in place.

    Args:
        schema: of a whole file, with its records by their names under "$defs".
    """
    _add_keys(schema, "")
    for name, record in schema.get("$defs", {}).items():
        _add_keys(record, name.lower())
    _add_values(schema, "")


def add_kinds(part: Any, kinds: Sequence[str], key: str = "") -> None:
    """Extend every list of panel kinds in a schema by those of a house; what a kind is like stays shipped."""
    if not kinds or key == "like":
        return
    if isinstance(part, list):
        for each in part:
            add_kinds(each, kinds)
    elif isinstance(part, dict):
        known = part.get("enum")
        if isinstance(known, list) and set(OUTLINES) <= set(known):
            part["enum"] = [*known, *kinds]
        for name, each in part.items():
            add_kinds(each, kinds, name)


def _add_keys(record: dict[str, Any], table: str) -> None:
    properties = record.get("properties", {})
    for other, first in KEY_WORDS.get(table, {}).items():
        if first in properties:
            properties[other] = properties[first]
            record.setdefault("allOf", []).append({"not": {"required": [other, first]}})


def _add_values(part: Any, key: str) -> None:
    if isinstance(part, list):
        for each in part:
            _add_values(each, key)
    elif isinstance(part, dict):
        if isinstance(part.get("enum"), list):
            known = part["enum"]
            words = {
                other: first for kind in _KINDS.get(key, ()) for other, first in OTHER_WORDS[kind].items()
            }
            part["enum"] = known + [
                other for other, first in words.items() if first in known and other not in known
            ]
        for name, each in part.items():
            if name in {"properties", "$defs"}:
                for inner, schema in each.items():
                    _add_values(schema, inner)
            elif name != "enum":
                _add_values(each, key)
