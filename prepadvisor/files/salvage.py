"""Reads what is sound of a faulty job, so that one fault does not hide another.

A mistyped grade in one panel must not hide that the blend of another panel does not fit. What was refused
gets a stand-in, and nothing that rests on a stand-in is judged.
"""

import datetime as dt
from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from pydantic import ValidationError

from prepadvisor.files.reading import meant_key, refusals
from prepadvisor.records import Job, KeyPath

_ROUNDS_MAX: Final = 6
_ANY_PATH: Final = [[0.0, 0.0], [1.0, 0.0]]
_ANY_TIME: Final = dt.datetime(2000, 1, 1, tzinfo=dt.UTC)
_STAND_INS: Final[dict[str, dict[str, Any]]] = {
    "": {"job": {"number": "?"}, "panel": []},
    "job": {"number": "?"},
    "panel": {
        "id": "?",
        "kind": "front-door",
        "role": "repair",
        "surface": "aged-clear",
        "length_mm": 1000.0,
        "height_mm": 600.0,
    },
    "patch": {"id": "?", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [10.0, 10.0]},
    "feature": {"id": "?", "kind": "edge", "path": _ANY_PATH},
    "check": {"at": _ANY_TIME, "by": "?", "panel": "?", "feature": "?", "step": "cleaned"},
    "outcome": {"at": _ANY_TIME, "by": "?", "panel": "?", "feature": "?", "seen": False},
}


class Salvaged(NamedTuple):
    """A job with stand-ins, and the paths of all keys that have one or were left out."""

    job: Job
    taken: frozenset[KeyPath]

    def lost(self, path: KeyPath, keys: frozenset[str]) -> bool:
        """Say whether the value at a path, or one of these keys in a table around it, was refused."""
        ends = range(len(path) + 1)
        return any(
            path[:end] in self.taken or any((*path[:end], key) in self.taken for key in keys) for end in ends
        )


def salvage(data: Mapping[str, Any]) -> Salvaged | None:
    """Read what is sound of a job file's data, which is not changed; None where nothing can be made of it."""
    copy = _copied(data)
    taken: set[KeyPath] = set()
    for _ in range(_ROUNDS_MAX):
        try:
            return Salvaged(Job.model_validate(copy), frozenset(taken))
        except ValidationError as error:
            for refusal in list(refusals(error, copy)):
                path = _entry(refusal.path, copy)
                if path:
                    taken.add(path)
                    if refusal.kind == "extra_forbidden" and (meant := meant_key(path, Job)):
                        taken.add(meant)
                    _replace(copy, path)
    return None


def _copied(data: Any) -> Any:
    if isinstance(data, Mapping):
        return {key: _copied(value) for key, value in data.items()}
    return [_copied(value) for value in data] if isinstance(data, list) else data


def _entry(refused: KeyPath, data: Any) -> KeyPath:
    """Return the path of the key, or of the table in a list, that a refusal is about.

    A number in a list takes the list with it: half a path is another path.
    """
    path: list[str | int] = []
    for step in refused:
        if not _leads_on(data, step):
            if isinstance(data, dict):  # what is missing
                path.append(step)
            break
        data = data[step]
        path.append(step)
    return tuple(path)


def _leads_on(data: Any, step: str | int) -> bool:
    if isinstance(data, list):
        return isinstance(step, int) and step < len(data) and _holds_tables(data)
    return isinstance(data, dict) and step in data


def _holds_tables(entries: list[Any]) -> bool:
    return any(isinstance(entry, dict) for entry in entries)


def _replace(data: Any, path: KeyPath) -> None:
    *above, last = path
    table: Any = data
    around: Any = None
    for step in above:
        if not isinstance(table, (dict, list)) or (isinstance(table, dict) and step not in table):
            return  # taken out already in this round
        inner: Any = table
        around, table = inner, inner[step]
    of = next((str(step) for step in reversed(above) if isinstance(step, str)), "")
    stand_ins = _STAND_INS.get(of, {})
    if isinstance(table, list) and isinstance(last, int):
        table[last] = dict(stand_ins)
    elif isinstance(table, dict) and last in stand_ins:
        table[last] = _copied(stand_ins[str(last)])
    elif isinstance(table, dict) and last in table:
        del table[last]
    elif isinstance(around, dict):
        around.pop(above[-1], None)
