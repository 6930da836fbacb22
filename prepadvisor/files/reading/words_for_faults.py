"""Refused values and broken TOML in a shop's words: what is wrong, and how to mend it."""

import datetime as dt
import re
from collections.abc import Mapping
from typing import Any, Final

from pydantic import BaseModel, ValidationError

from prepadvisor.files.reading.refused import SIZE_WORDS, Refusal, Told, fields_at, refusals
from prepadvisor.records import KeyPath, Problem, did_you_mean, known_words, nearest


def told_faults(error: ValidationError, model: type[BaseModel], data: Mapping[str, Any]) -> list[Told]:
    """Return each refusal in words, one for each place.

    Args:
        error: what validating `data` as `model` raised.
        model: the record of the whole file.
        data: the data as parsed.
    """
    found: dict[KeyPath, Told] = {}
    choices: dict[KeyPath, list[str]] = {}
    for refusal in refusals(error, data):
        if refusal.kind == "literal_error" and refusal.is_key:
            found[refusal.path] = Told(_unknown_key(refusal, refusal.choices), at_key=True)
        elif refusal.kind == "literal_error":
            choices.setdefault(refusal.path, []).extend(refusal.choices)
            found[refusal.path] = Told(_choice(refusal, choices[refusal.path]))
        elif refusal.kind == "extra_forbidden":
            known = fields_at(model, refusal.path[:-1])
            found[refusal.path] = Told(_unknown_key(refusal, known), at_key=True)
        elif refusal.path not in found:
            found[refusal.path] = Told(_plain(refusal), lacking=refusal.kind == "missing")
    return _without_echoes(found, model)


def _without_echoes(found: Mapping[KeyPath, Told], model: type[BaseModel]) -> list[Told]:
    """Leave out what only follows from a mistyped key: what is in it, and that the right key is missing."""
    mistyped = [path for path, told in found.items() if told.at_key]
    echoes = {meant_key(path, model) for path in mistyped}
    inside = set(mistyped)
    return [
        told
        for path, told in found.items()
        if path not in echoes and not any(path[:end] in inside for end in range(len(path)))
    ]


def meant_key(path: KeyPath, model: type[BaseModel]) -> KeyPath | None:
    """Return the path of the key that was probably meant by one that is not known, None if there is none."""
    meant = nearest(str(path[-1]), fields_at(model, path[:-1]))
    return None if meant is None else (*path[:-1], meant)


def _choice(refusal: Refusal, choices: list[str]) -> Problem:
    if not isinstance(refusal.value, str):
        return _wrong_type(refusal, f"one of the words {known_words(choices)} in quotes")
    says = f'{refusal.name} "{_short(refusal.value)}" is not known'
    return Problem(refusal.path, says, did_you_mean(refusal.value, choices))


def _unknown_key(refusal: Refusal, known: list[str]) -> Problem:
    name = _short(str(refusal.path[-1]))
    return Problem(refusal.path, f'the key "{name}" is not known here', did_you_mean(name, known))


def _plain(refusal: Refusal) -> Problem:
    kind, path, name = refusal.kind, refusal.path, refusal.name
    if kind == "missing":
        return _missing(refusal)
    if kind == "value_error":
        return _own_words(refusal)
    if kind == "finite_number":
        return Problem(
            path, f"{name} is {refusal.value}, which is no size", f"write a number{_example(refusal)}"
        )
    if kind in _BOUNDS:
        return _out_of_bounds(refusal)
    if kind in {"too_short", "too_long", "string_too_short", "string_too_long"}:
        return _length(refusal)
    if kind == "unexpected_array_length":
        return _length(refusal)
    return _wrong_type(refusal, _TYPE_WORDS.get(kind, "something else"))


def _own_words(refusal: Refusal) -> Problem:
    """Return what a record said in its own words, which name the value where they can."""
    error = refusal.particulars["error"]
    says, mend = getattr(error, "says", str(error)), getattr(error, "mend", "")
    if refusal.name == "grade" and not mend:
        mend = 'write it like grade = "P1000"; a pad known only by its colour goes into pad, not grade'
    if not getattr(error, "names_value", False):
        shown = f' "{_short(refusal.value)}"' if isinstance(refusal.value, str) else ""
        says = f"{refusal.name}{shown}: {says}"
    return Problem(refusal.path, says, mend)


def _missing(refusal: Refusal) -> Problem:
    last = refusal.path[-1] if refusal.path else ""
    if isinstance(last, int):
        return Problem(refusal.path[:-1], f"{refusal.name} has too few entries", _write(refusal))
    table = f"[{last}]" if len(refusal.path) == 1 else f"{last}"
    return Problem(refusal.path, f"{table} is missing", f"add it{_example(refusal)}")


_BOUNDS: Final[dict[str, tuple[str, str]]] = {
    "greater_than": ("gt", "it must be more than {0:g}"),
    "greater_than_equal": ("ge", "it must be {0:g} or more"),
    "less_than": ("lt", "it must be less than {0:g}"),
    "less_than_equal": ("le", "it may be {0:g} at most"),
}


def _out_of_bounds(refusal: Refusal) -> Problem:
    key, words = _BOUNDS[refusal.kind]
    sense = SIZE_WORDS.get(refusal.name, "")
    limit = words.format(refusal.particulars[key])
    return Problem(refusal.path, f"{refusal.name} is {refusal.value:g}: {limit}", sense)


def _length(refusal: Refusal) -> Problem:
    if isinstance(refusal.value, str):
        if refusal.kind.endswith("short"):
            return Problem(refusal.path, f"{refusal.name} is empty", f"write it{_example(refusal)}")
        most = refusal.particulars["max_length"]
        return Problem(refusal.path, f"{refusal.name} is longer than {most} letters", "shorten it")
    if refusal.kind.endswith("short"):
        least = refusal.particulars["min_length"]
        return Problem(refusal.path, f"{refusal.name} needs at least {least} entries", _write(refusal))
    most = refusal.particulars["max_length"]
    return Problem(refusal.path, f"{refusal.name} has more than {most} entries", _write(refusal))


_TYPE_WORDS: Final[dict[str, str]] = {
    "string_type": "text in quotes",
    "float_type": "a plain number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false, without quotes",
    "date_type": "a day without quotes, year first, such as 2026-03-02",
    "datetime_type": "a day and time without quotes, such as 2026-03-02T09:40:00Z",
    "tuple_type": "a list in [ ]",
    "list_type": "a list in [ ]",
    "model_type": "a table of keys",
    "model_attributes_type": "a table of keys",
    "dict_type": "a table of keys",
}


def _wrong_type(refusal: Refusal, wanted: str) -> Problem:
    says = f"{refusal.name} is {_what_it_is(refusal.value)} and must be {wanted}"
    if refusal.kind in {"model_type", "model_attributes_type"} and isinstance(refusal.value, (int, float)):
        return Problem(
            refusal.path, says, f"a number with its passport is written {{ value = {refusal.value} }}"
        )
    return Problem(refusal.path, says, _write(refusal))


def _what_it_is(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'the text "{_short(value)}"'
    if isinstance(value, (int, float)):
        return f"the number {_short(str(value))}"
    if isinstance(value, dt.datetime):
        return f"the day and time {value.isoformat()}"
    if isinstance(value, (dt.date, dt.time)):
        return f"{'the day' if isinstance(value, dt.date) else 'the time'} {value.isoformat()}"
    return "a list" if isinstance(value, list) else "a table of keys"


def _example(refusal: Refusal) -> str:
    return f": {refusal.example}" if refusal.example else ""


def _write(refusal: Refusal) -> str:
    return f"write it like {refusal.example}" if refusal.example else ""


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


# What a line that is no TOML does wrong, in a shop's words.

_WORDS: Final[tuple[tuple[str, str, str], ...]] = (
    ("Expected '='", "a key and its value need a = between them", 'write it like reach = "hand"'),
    ("Invalid statement", "this is neither a [table] nor a key = value line", 'start a remark with "#"'),
    ("Expected newline", "something stands behind the value", "put each key = value on its own line; \
start a remark with \"#\""),
    ("twice", "this table is there twice", "keep one of them, or use [[two brackets]] for a list of them"),
    ("Cannot overwrite", "this key already has a value above", "keep one of the two"),
    ("Duplicate inline", "this key is there twice in one { }", "keep one of the two"),
    ("Cannot mutate", "this adds to something that is already complete", "write it in one place"),
    ("Cannot redefine", "this adds to something that is already complete", "write it in one place"),
    ("Expected ']' at", "the closing bracket of a [table] is missing", "close it with ]"),
    ("Expected ']]'", "the closing brackets of a [[table]] are missing", "close it with ]]"),
    ("Invalid initial character for a key", "a key is missing or begins with a sign it may not have",
     "use letters, digits, - and _"),
    ("Unclosed array", "a list is not closed", "put a comma between its values and ] at its end"),
    ("Unclosed inline table", "a { } is not closed", "put a comma between its entries and } at its end"),
    ("Unterminated string", "the closing quote is missing", 'end the text with "'),
    ("Illegal character", "the closing quote is missing, or the text holds a sign it may not hold",
     'end the text with " on the same line'),
    ("Unescaped", r"a backslash in quotes starts a special sign", r"write \\ for one backslash, or use /"),
    ("Invalid hex", "a special sign after a backslash is not complete", r"write \\ for one backslash"),
    ("Escaped character", "a special sign after a backslash does not exist", r"write \\ for one backslash"),
    ("Invalid date", "there is no such day or time", "write a day as 2026-03-02"),
    ("Expected", "the closing quote is missing", "end the text with the quote it began with"),
    ("Found invalid character", "a sign stands here that may not", "remove it"),
)  # fmt: skip


def syntax_words(message: str, line: str) -> tuple[str, str]:
    """Return what is wrong and how to mend it.

    Args:
        message: the parser's own message, without its position.
        line: the line it points to.
    """
    if message.startswith("Invalid value"):
        return _value_words(line)
    if message.startswith(("Expected '='", "Invalid statement")) and not line.partition("=")[0].isascii():
        return "a key may only have the letters a to z, digits, - and _", "compare the key with a demo job"
    if message.startswith("Expected newline") and (words := _number_words(line.partition("=")[2].strip())):
        return words
    for begins, says, mend in _WORDS:
        if begins in message:
            return says, mend
    return "this line cannot be read", "compare it with a demo job"


def _value_words(line: str) -> tuple[str, str]:
    value = line.partition("=")[2].partition("#")[0].strip()
    if not value:
        return "the value is missing", 'write one, or put "#" before the line'
    if value.lower() in {"true", "false", "yes", "no"}:
        meant = "true" if value.lower() in {"true", "yes"} else "false"
        return f"{value} is not a value", f"write {meant}, in small letters and without quotes"
    if value[0].isalpha():
        return "text needs quotes", f'write "{value[:60]}"'
    return _number_words(value) or ("this value cannot be read", "put text in quotes; write numbers plain")


def _number_words(value: str) -> tuple[str, str] | None:
    """Return what is wrong with a number, None where the value does not begin like one."""
    if re.match(r"[\d.]+,\d", value):
        return "a number has no comma", "write 1050 for a thousand and fifty, 0.5 for a half"
    if re.match(r"[\d.]+\s*[^\W\d_]", value):
        return "a number has no unit or letters behind it", "leave them off; the key says the unit"
    return None
