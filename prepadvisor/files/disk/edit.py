"""Puts a job's changes into its file's text and leaves the rest as a person wrote it.

Comments, order and blanks stay. Only what differs between the job before and the job after is touched.
Panels, patches and lines are told apart by their ids, so that a comment stays with its panel. The log is
never touched.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

import tomli
import tomli_w

from prepadvisor.records import Job, other_keys

# Says whether two versions of a job that began alike have changed the same thing in different ways.

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


_LOG: Final = frozenset({"check", "outcome"})


def values_of_job(job: Job) -> dict[str, Any]:
    """Return a job as plain values for its file: no log, nothing unstated, nothing that is a start value."""
    return _plain(job.model_dump(exclude_none=True, exclude_defaults=True, exclude=set(_LOG)))  # type: ignore[no-any-return]


def new_text(job: Job) -> str:
    """Return the text of a new job file, without a log."""
    return tomli_w.dumps(values_of_job(job))


def edited(text: str, before: Job, after: Job) -> str:
    """Return a job file's text with what changed between two jobs put in.

    Where the text is laid out so that its comments cannot be kept, it is written anew with the same content.

    Args:
        text: the file as it is; empty for a new one.
        before: the job as it was read from this text.
        after: the job as it is now.

    Raises:
        ValueError: the text is no TOML.
    """
    if not text.strip():
        return new_text(after)
    return _edited(text, values_of_job(before), values_of_job(after))


def changed_table(table: dict[str, Any], old: dict[str, Any], new: dict[str, Any]) -> dict[str, Any]:
    """Return a copy of a plain table with what differs between two others put in."""
    copy: dict[str, Any] = _copied(table)
    _apply(copy, old, new)
    return copy


def _copied(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copied(each) for key, each in value.items()}
    return [_copied(each) for each in value] if isinstance(value, list) else value


def with_changes(raw: bytes, old: dict[str, Any], new: dict[str, Any]) -> bytes:
    """Return the bytes of a file with what differs between two tables put in, and all else as it stands.

    Args:
        raw: the file; it may hold more than either table, such as panels that somebody else added.
        old: the plain data before the changes, without the log.
        new: the same after them.

    Raises:
        ValueError: the bytes are no TOML text.
    """
    bom = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    return bom + _edited(raw.removeprefix(bom).decode(), old, new).encode()


_PARTED_FROM: Final = 8
"""From so many panels on a change of some is made in their part of the text alone: parsing takes long."""


def _edited(text: str, old: dict[str, Any], new: dict[str, Any]) -> str:
    from tomlkit.exceptions import TOMLKitError  # only who edits a file pays for loading it

    meant = tomli.loads(text)
    _apply(meant, old, new)
    faults = (
        TOMLKitError, tomli.TOMLDecodeError, KeyError, ValueError, IndexError, TypeError, AttributeError,
    )  # fmt: skip
    for way in (_applied_by_panel, _applied):
        try:
            kept = way(text, old, new)
            if kept is not None and tomli.loads(kept) == meant:
                return kept
        except faults:
            continue
    return tomli_w.dumps(meant)  # an unusual layout: its content counts more than its comments


def _applied(text: str, old: dict[str, Any], new: dict[str, Any]) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    _apply(document, old, new)
    return tomlkit.dumps(document)


def _applied_by_panel(text: str, old: dict[str, Any], new: dict[str, Any]) -> str | None:
    """Change the text of panels that differ, each by itself; None where more differs, or panels are few."""
    ids = [panel["id"] for panel in old.get("panel", ())]
    before, after = ({key: value for key, value in one.items() if key != "panel"} for one in (old, new))
    if len(ids) < _PARTED_FROM or before != after or ids != [panel["id"] for panel in new.get("panel", ())]:
        return None
    parts = re.split(r"(?m)^(?=\[\[panel\]\])", text)
    here = [panel["id"] for panel in tomli.loads(text)["panel"]]
    if len(parts) != len(here) + 1:
        return None
    for was, now in zip(old["panel"], new["panel"], strict=True):
        if was != now:
            at = here.index(was["id"]) + 1
            parts[at] = _applied(parts[at], {"panel": [was]}, {"panel": [now]})
    return "".join(parts)


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    return [_plain(each) for each in value] if isinstance(value, tuple | list) else value


def _apply(target: dict[str, Any], old: dict[str, Any], new: dict[str, Any], name: str = "") -> None:
    """Bring the differences of two tables into a third of this name, plain or parsed with its comments.

    A key stays in the spelling it has there.
    """
    for key in old.keys() - new.keys():
        target.pop(_spelled(target, name, key), None)
    for key, value in new.items():
        was = old.get(key)
        if key in old and was == value:
            continue
        spelled = _spelled(target, name, key)
        there = target.get(spelled)
        if isinstance(value, dict) and isinstance(there, dict):
            _apply(there, was if isinstance(was, dict) else {}, value, key)
        elif isinstance(there, list) and _entries_have_ids(value) and _entries_have_ids(there):
            _apply_list(there, was if isinstance(was, list) else [], value, key)
        else:
            target[spelled] = value


def _spelled(target: dict[str, Any], name: str, key: str) -> str:
    """Return a key of a table as the table spells it."""
    return next((other for other in other_keys(name, key) if other in target), key)


def _entries_have_ids(value: object) -> bool:
    return (
        isinstance(value, list)
        and bool(value)
        and all(isinstance(each, dict) and "id" in each for each in value)
    )


def _apply_list(target: list[Any], old: list[dict[str, Any]], new: list[dict[str, Any]], name: str) -> None:
    """Bring the differences of two lists of tables, told apart by their ids, into a third of this name."""
    before = {each["id"]: each for each in old}
    wanted = [each["id"] for each in new]
    for at in reversed(range(len(target))):
        ident = target[at]["id"]
        if ident in before and ident not in wanted:
            del target[at]
    there = {each["id"]: each for each in target}
    for each in new:
        if each["id"] in there:
            _apply(there[each["id"]], before.get(each["id"], {}), each, name)
        elif each["id"] not in before:
            target.append(each)
    now = [each["id"] for each in target]
    order = [ident for ident in wanted if ident in now]
    if [ident for ident in now if ident in order] != order:
        by_id = {each["id"]: each for each in target}
        del target[:]
        target.extend(by_id[ident] for ident in (*order, *(ident for ident in now if ident not in order)))
