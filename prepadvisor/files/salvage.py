"""Takes the faulty parts out of a file's data so that the sound rest can still be checked.

Without it a mistyped grade in one panel would hide that the blend of another panel does not fit.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple, TypeVar

from pydantic import BaseModel, ValidationError

from prepadvisor.records.fault import Problem

_Model = TypeVar("_Model", bound=BaseModel)
_ROUNDS_MAX = 6


class Salvaged(NamedTuple):
    """What could be read: the record, and what was taken out for that.

    `taken` has the paths, in the file, of what was taken out; `kept` the places in the file's lists that
    the entries of a shortened list had, by the list's path in the record.
    """

    record: BaseModel
    taken: frozenset[tuple[str | int, ...]]
    kept: Mapping[tuple[str | int, ...], list[int]]

    def path_in_file(self, path: tuple[str | int, ...]) -> tuple[str | int, ...]:
        """Translate a path in the record to the path in the file."""
        return _translated(path, self.kept)

    def in_file(self, problem: Problem) -> Problem:
        """Return a problem of the record with its path in the file."""
        return problem._replace(path=self.path_in_file(problem.path))

    def lost(self, table: tuple[str | int, ...], keys: frozenset[str]) -> bool:
        """Say whether one of these keys was taken out of a table of the record."""
        at = self.path_in_file(table)
        return any((*at, key) in self.taken for key in keys)


def salvage(model: type[_Model], data: Mapping[str, Any]) -> Salvaged | None:
    """Read what is sound of data that was refused; None where nothing is left.

    Args:
        model: the record of the whole file.
        data: the data as parsed; it is not changed.
    """
    copy = _copied(data)
    kept: dict[tuple[str | int, ...], list[int]] = {}
    taken: set[tuple[str | int, ...]] = set()
    for _ in range(_ROUNDS_MAX):
        try:
            record = model.model_validate(copy)
        except ValidationError as error:
            spots = {_to_take(each["loc"], copy) for each in error.errors(include_url=False)}
            if () in spots:
                return None
            for spot in sorted(spots, key=_from_the_end, reverse=True):
                taken.add(_translated(spot, kept))
                _take_out(copy, spot, kept)
            continue
        return Salvaged(record, frozenset(taken), kept)
    return None


def _translated(
    path: tuple[str | int, ...], kept: Mapping[tuple[str | int, ...], list[int]]
) -> tuple[str | int, ...]:
    translated: list[str | int] = []
    for place, step in enumerate(path):
        listed = kept.get(path[:place])
        translated.append(listed[step] if listed is not None and isinstance(step, int) else step)
    return tuple(translated)


def _from_the_end(path: tuple[str | int, ...]) -> tuple[tuple[bool, int, str], ...]:
    return tuple((isinstance(step, int), step if isinstance(step, int) else 0, str(step)) for step in path)


def _copied(data: Any) -> Any:
    if isinstance(data, Mapping):
        return {key: _copied(value) for key, value in data.items()}
    return [_copied(value) for value in data] if isinstance(data, list) else data


def _to_take(loc: tuple[str | int, ...], data: Any) -> tuple[str | int, ...]:
    """Return what to take out for one refusal: the value; the whole table where a key of it is missing.

    A number or point in a list of numbers takes the list with it: half a path is another path.
    """
    path: list[str | int] = []
    for step in loc:
        inside = isinstance(data, dict) and step in data
        if not inside and not (isinstance(data, list) and isinstance(step, int) and step < len(data)):
            break
        if isinstance(step, int) and not isinstance(data[step], dict):
            break
        data = data[step]
        path.append(step)
    return tuple(path)


def _take_out(data: Any, path: tuple[str | int, ...], kept: dict[tuple[str | int, ...], list[int]]) -> None:
    *above, last = path
    for step in above:
        data = data[step]
    if isinstance(data, list) and isinstance(last, int):
        places = kept.setdefault(tuple(above), list(range(len(data))))
        del data[last], places[last]
        _shift(kept, tuple(above), last)
    elif isinstance(last, str):
        data.pop(last, None)


def _shift(kept: dict[tuple[str | int, ...], list[int]], above: tuple[str | int, ...], gone: int) -> None:
    """Move what is known of later entries' own lists down by one place."""
    depth = len(above)
    for path in sorted((p for p in kept if len(p) > depth and p[:depth] == above), key=_from_the_end):
        step = path[depth]
        if isinstance(step, int) and step >= gone:
            places = kept.pop(path)
            if step > gone:
                kept[(*above, step - 1, *path[depth + 1 :])] = places
