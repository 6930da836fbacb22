"""Checks the names in a job: none twice, and none that could mean two things."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from prepadvisor.records.fault import Problem
from prepadvisor.records.words import SIDES


def id_problems(data: Mapping[str, Any]) -> list[Problem]:
    """Return ids that stand twice and patches named like a side.

    A check-off entry about a place that is no longer there is no fault: a job must open after a line that was
    logged is taken out. The gate tells of it.

    Args:
        data: the job file as parsed; entries that are malformed in other ways are passed over.
    """
    panels = list(_tables(data, "panel"))
    problems = list(_twice("panel", [((*path, "id"), panel.get("id")) for path, panel in panels]))
    for path, panel in panels:
        own = [
            ((*path, *inner, "id"), entry.get("id"))
            for key in ("patch", "feature")
            for inner, entry in _tables(panel, key)
        ]
        problems += _twice("panel's lines and patches", own)
        problems += _named_like_side(path, panel)
        problems += _named_like_ring(path, panel)
    return problems


def _tables(table: Mapping[str, Any], key: str) -> Iterator[tuple[tuple[str | int, ...], Mapping[str, Any]]]:
    entries = table.get(key)
    for number, entry in enumerate(entries if isinstance(entries, list) else ()):
        if isinstance(entry, dict):
            yield (key, number), entry


def _twice(what: str, ids: Iterable[tuple[tuple[str | int, ...], object]]) -> Iterator[Problem]:
    seen: set[str] = set()
    for path, written in ids:
        if isinstance(written, str):
            name = written.strip()
            if name in seen:
                among = "another panel" if what == "panel" else "another line or patch of this panel"
                yield Problem(
                    path, f'the id "{name[:60]}" is already taken by {among}', "give each its own id"
                )
            seen.add(name)


def _named_like_side(path: tuple[str | int, ...], panel: Mapping[str, Any]) -> Iterator[Problem]:
    for inner, patch in _tables(panel, "patch"):
        if patch.get("id") in SIDES:
            says = f'"{patch["id"]}" is a side of the panel, so colour_from could mean either'
            yield Problem((*path, *inner, "id"), says, "give the patch another id")


def _named_like_ring(path: tuple[str | int, ...], panel: Mapping[str, Any]) -> Iterator[Problem]:
    """Yield ids that are those of the ring of old paint round a patch of the panel, a place of its own."""
    rings = {
        f"{patch['id'].strip()}-ring"
        for _, patch in _tables(panel, "patch")
        if isinstance(patch.get("id"), str)
    }
    for key in ("patch", "feature"):
        for inner, entry in _tables(panel, key):
            name = entry.get("id")
            if isinstance(name, str) and name.strip() in rings:
                says = f'"{name.strip()[:60]}" is what the ring round that patch is called when it is primed'
                yield Problem((*path, *inner, "id"), says, "give it another id")
