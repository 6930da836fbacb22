"""JSON of what is decided, by one writer: facts as they are, kind and sentences beside them; its schema."""

import datetime as dt
import json
import re
from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from functools import cache, lru_cache
from inspect import cleandoc
from types import UnionType
from typing import Any, Final, Literal, Union, cast, get_args, get_origin, get_type_hints

from pydantic import BaseModel, ConfigDict, Field, create_model

from prepadvisor.records import (
    Advice,
    BoothEntry,
    DoneAdvice,
    Gate,
    GateHold,
    Hold,
    Offer,
    PanelAdvice,
    Place,
    Reason,
    Record,
    WorkStep,
)
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


_ATTRIBUTE: Final = re.compile(r"^    (\w+): (.+(?:\n     +.+)*)", re.MULTILINE)


def advice_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the whole advice, derived from records and docstrings."""
    schema = _model(Advice).model_json_schema(mode="serialization")
    schema["properties"] = {
        "schema": {"const": ADVICE_SCHEMA, "description": "name and version of this form"},
        **schema["properties"],
    }
    found = _model(GateHold).model_json_schema(mode="serialization")
    schema["$defs"].update(found.pop("$defs", {}), Found=found)
    schema["properties"]["found"] = {
        "type": "array",
        "items": {"$ref": "#/$defs/Found"},
        "description": "what looks and the log found that is not mended",
    }
    schema["required"] = ["schema", *schema["required"], "found"]
    return schema


def attributes(record: type) -> dict[str, str]:
    """Return what a record's docstring says of each of its fields."""
    _, _, told = cleandoc(record.__doc__ or "").partition("Attributes:\n")
    return {name: " ".join(text.split()) for name, text in _ATTRIBUTE.findall(told)}


@cache
def _model(record: type) -> type[BaseModel]:
    """Return a pydantic model of what is written of a record."""
    told, said = attributes(record), SAID.get(record, {})
    keys: dict[str, Any] = {}
    for name, hint in get_type_hints(record).items():
        if name == "fact":
            kinds = tuple(_kinds(hint))
            optional = type(None) in get_args(hint)
            kind: Any = Literal[kinds]
            keys["kind"] = _key(kind | None if optional else kind, "which kind it is")
            keys["facts"] = _key(dict[str, Any] | None if optional else dict[str, Any], told.get(name, ""))
        elif name in said and (get_origin(hint) is not tuple or name == "mend"):
            keys[name] = _key(str, SAID_WORDS.get(name, told.get(name, "")))
        elif name in said:
            keys[name] = _key(list[str], told.get(name, ""))
            keys[f"{name}_kinds"] = _key(list[str], f"the kind of each of the {name}")
        else:
            keys[name] = _key(_written(hint), told.get(name, ""))
    for name in said:
        if name not in keys:
            keys[name] = _key(str, SAID_WORDS[name])
    return create_model(
        record.__name__,
        __config__=ConfigDict(extra="forbid"),
        __doc__=cleandoc(record.__doc__ or "").partition("\n")[0],
        **keys,
    )


def _key(hint: Any, says: str) -> Any:
    return (hint, Field(description=says) if says else Field())


def _kinds(hint: Any) -> list[str]:
    each = get_args(hint) if get_origin(hint) in {Union, UnionType} else (hint,)
    return [one._field_defaults["kind"] for one in each if hasattr(one, "_field_defaults")]


def _written(hint: Any) -> Any:
    """Return the type that is written for a type of a record."""
    origin, inner = get_origin(hint), get_args(hint)
    if isinstance(hint, type) and (hasattr(hint, "_fields") or is_dataclass(hint)) and origin is None:
        return _model(hint)
    if origin in {Union, UnionType}:
        return Union[tuple(_written(one) for one in inner)]  # noqa: UP007 - made of a computed tuple
    if origin is tuple:
        return tuple[tuple(one if one is ... else _written(one) for one in inner)]  # type: ignore[misc]
    if origin is dict:
        return dict[inner[0], _written(inner[1])]  # type: ignore[valid-type,misc]
    return hint
