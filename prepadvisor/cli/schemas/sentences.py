"""What a JSON Schema gains for a person: a sentence for every key, and the other words a file may be in.

The sentences are those of the records' docstrings, read only here, when a schema is asked for.
"""

from collections.abc import Mapping, Sequence
from inspect import cleandoc
from typing import Any, Final

from prepadvisor.cases import FACT, NumberFact
from prepadvisor.records import KEY_WORDS, MEANS, OTHER_WORDS, OUTLINES, Record
from prepadvisor.standards import OUTPUTS
from prepadvisor.wording import attributes


def add_sentences(schema: dict[str, Any]) -> None:
    """Give every key of a file's schema what the docstring of its record says of it, and its range, in place.

    Raises:
        KeyError: for a key that its record says nothing of.
    """
    records = {record.__name__: record for record in Record.__subclasses__()}
    for part in (schema, *schema.get("$defs", {}).values()):
        record = records.get(part.get("title", ""))
        if record is None:
            continue  # a list of words, not a table
        part["description"] = cleandoc(record.__doc__ or "").partition("\n")[0]
        for key, field in record.model_fields.items():
            if field.exclude:  # made as a file is read, and in none
                del part["properties"][key]
        told = attributes(record)
        for key, inner in part["properties"].items():
            says = told[key.replace("color", "colour")]
            part["properties"][key] = {**inner, "description": _whole(says, key, inner)}
        for key in ("when", "where", "given", "set", "expect"):
            if key in part["properties"]:
                _facts_and_outputs(part["properties"][key])


def _whole(says: str, key: str, part: Mapping[str, Any]) -> str:
    words = f" {'; '.join(f'{word}: {means}' for word, means in MEANS.items())}." if key == "known" else ""
    return f"{says[0].upper()}{says[1:]}{words}{_range(part)}"


def _range(part: Mapping[str, Any]) -> str:
    """Return the bounds of a number in words, empty without any: an editor shows the sentence alone."""
    for each in (part, *part.get("anyOf", ())):
        if each.get("type") != "number":
            continue
        least, over, most = (each.get(key) for key in ("minimum", "exclusiveMinimum", "maximum"))
        if most is not None:
            return f" Over {over:g}, at most {most:g}." if least is None else f" From {least:g} to {most:g}."
        if least is not None:
            return f" At least {least:g}."
    return ""


def _facts_and_outputs(part: dict[str, Any]) -> None:
    for name, each in part.get("properties", {}).items():
        if name in FACT:
            each["description"] = fact_says(name)
        elif name in OUTPUTS:
            each["description"] = OUTPUTS[name].says


def fact_says(name: str) -> str:
    """Return what a fact is, in a sentence."""
    fact = FACT[name]
    if isinstance(fact, NumberFact):
        return f"{fact.explains[0].upper()}{fact.explains[1:]}."
    words = (" < " if fact.ordered else ", ").join(map(_word, fact.stated))
    return fact.explains.format(words) + "."


def _word(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


# Adds to a JSON Schema what files may be written in as well: other words, other spellings of keys.

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
