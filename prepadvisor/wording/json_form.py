"""JSON of what is decided: facts as they are, with kind and sentences beside them, by one writer."""

import json
from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any, Final, cast

from prepadvisor.records.advice import Advice, DoneAdvice, Hold, Offer, PanelAdvice, Place
from prepadvisor.records.decision import Reason
from prepadvisor.wording.holds import hold_mend, hold_why
from prepadvisor.wording.names import Words
from prepadvisor.wording.remarks import caution_says, exception_says, note_says, reason_says
from prepadvisor.wording.scuffs import done_says, offer_says

ADVICE_SCHEMA: Final = "prepadvisor/advice/1"

Shown = Callable[[Any, Words], Any]

SAID: Final[Mapping[type, Mapping[str, Shown]]] = {
    Advice: {"cautions": lambda one, words: [f"{caution_says(each, words)}." for each in one.cautions]},
    Place: {"notes": lambda one, words: [note_says(each, words) for each in one.notes]},
    PanelAdvice: {"exceptions": lambda one, words: [exception_says(each, words) for each in one.exceptions]},
    Reason: {"says": lambda one, _words: reason_says(one)},
    Hold: {"why": hold_why, "mend": hold_mend},
    DoneAdvice: {"says": lambda one, _words: done_says(one)},
    Offer: {"says": offer_says},
}
"""The keys of a record that are sentences.

A record's `fact` is written as its `kind` and its `facts`; a list of kinds under such a key is written as
sentences, and their kinds stand in `<key>_kinds`.
"""

SAID_WORDS: Final[Mapping[str, str]] = {
    "why": "why, in words",
    "mend": "what mends it, in words; empty where the rule says all there is",
    "says": "the same in words",
}
"""What the sentence keys are, for the schema."""


def advice_json(advice: Advice) -> str:
    """Return the whole advice as JSON in one line, as `card --to json` prints it."""
    data = {"schema": ADVICE_SCHEMA, **as_data(advice, Words(advice))}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def as_data(record: Any, words: Words) -> Any:
    """Return a record as plain dicts, lists and values, sentences among them."""
    if isinstance(record, str | int | float | None):
        return record
    names = _fields(cast("Hashable", type(record)))
    if names is not None:
        return _record(record, names, words)
    if isinstance(record, Mapping):
        return {key: as_data(value, words) for key, value in record.items()}
    return [as_data(value, words) for value in record]


def _record(record: Any, names: tuple[str, ...], words: Words) -> dict[str, Any]:
    said = SAID.get(type(record), {})
    data: dict[str, Any] = {}
    for name in names:
        value = getattr(record, name)
        if name == "fact":
            facts = as_data(value, words)
            data["kind"] = facts.pop("kind") if facts else None
            data["facts"] = facts
        elif name in said and type(value) is tuple:  # a list of kinds, not one
            data[f"{name}_kinds"] = [each.kind for each in value]
        elif name not in said:
            data[name] = as_data(value, words)
    return data | {key: shown(record, words) for key, shown in said.items()}


@lru_cache(maxsize=256)
def _fields(record: Any) -> tuple[str, ...] | None:
    if is_dataclass(record):
        return tuple(field.name for field in fields(record))
    return getattr(record, "_fields", None)
