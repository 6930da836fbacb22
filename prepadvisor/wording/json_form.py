"""JSON of what is decided: facts as they are, with kind and sentences beside them, by one writer."""

import datetime as dt
import json
from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any, Final, cast

from prepadvisor.records import (
    Advice,
    BoothEntry,
    DoneAdvice,
    Hold,
    Offer,
    PanelAdvice,
    Place,
    Reason,
    Record,
    WorkStep,
)
from prepadvisor.records.gate import Gate, GateHold
from prepadvisor.wording import gate as gate_holds
from prepadvisor.wording.gate import mend_says
from prepadvisor.wording.names import Words
from prepadvisor.wording.remarks import (
    caution_says,
    exception_says,
    hold_mend,
    hold_why,
    note_says,
    reason_says,
)
from prepadvisor.wording.work import done_says, entry_says, offer_says, whole_step_says

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
    WorkStep: {"says": whole_step_says},
    BoothEntry: {"says": lambda one, words: entry_says(one, words, words.advice)},
    GateHold: {
        "says": lambda one, words: gate_holds.gate_why(one.fact, words),
        "mend": lambda one, words: mend_says(one.mend, words),
    },
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


def advice_json(advice: Advice, gate: Gate | None = None) -> str:
    """Return the whole advice as JSON in one line, as `card --to json` prints it.

    Args:
        advice: the advice.
        gate: where the log leaves its work: the states of its tasks, and what was found.
    """
    words = Words(advice._replace(work=gate.work) if gate else advice)
    data = {"schema": ADVICE_SCHEMA, **as_data(words.advice, words)}
    data["found"] = as_data(gate.found if gate else (), words)
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def as_data(record: Any, words: Words) -> Any:
    """Return a record as plain dicts, lists and values, sentences among them."""
    if isinstance(record, str | int | float | None):
        return record
    if isinstance(record, Record | dt.datetime):
        return record.isoformat() if isinstance(record, dt.datetime) else record.model_dump(mode="json")
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
