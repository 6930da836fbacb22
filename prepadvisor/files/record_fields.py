"""Finds which keys a record knows at a place of a file, so that a mistyped key can be mended."""

import types
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel


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
