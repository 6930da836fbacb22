"""The JSON Schema of what the one JSON writer writes, derived from records and docstrings on demand."""

import re
from dataclasses import is_dataclass
from functools import cache
from inspect import cleandoc
from types import UnionType
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel, ConfigDict, Field, create_model

from prepadvisor.records import Advice
from prepadvisor.records.gate import GateHold
from prepadvisor.wording.json_form import ADVICE_SCHEMA, SAID, SAID_WORDS

_ATTRIBUTE: Final = re.compile(r"^    (\w+): (.+(?:\n     +.+)*)", re.MULTILINE)


def advice_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the whole advice."""
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
