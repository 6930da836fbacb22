"""Says whether two versions of a job that began alike have changed the same thing in different ways."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

_ABSENT: Final = object()


def both_changed(base: Any, one: Any, other: Any) -> bool:
    """Say whether the same key, or entry of a list told apart by ids, was changed in both, not alike.

    Args:
        base: what both began with, plain data.
        one: one version.
        other: the other.
    """
    if one == other or base in (one, other):
        return False
    tables = (base, one, other)
    if all(isinstance(each, Mapping) for each in tables):
        keys = {key for each in tables for key in each}
        return any(both_changed(*(each.get(key, _ABSENT) for each in tables)) for key in keys)
    if all(_has_ids(each) for each in tables):
        by_id = [{entry["id"]: entry for entry in each} for each in tables]
        orders = [[name for name in each if all(name in every for every in by_id)] for each in by_id]
        names = {name for each in by_id for name in each}
        return both_changed(*orders) or any(
            both_changed(*(each.get(name, _ABSENT) for each in by_id)) for name in names
        )
    return True


def _has_ids(value: Any) -> bool:
    return (
        isinstance(value, Sequence)
        and not isinstance(value, str)
        and all(isinstance(each, Mapping) and isinstance(each.get("id"), str) for each in value)
    )
