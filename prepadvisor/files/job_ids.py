"""Checks the names in a job: none twice, and none that means nothing."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from prepadvisor.files.did_you_mean import did_you_mean
from prepadvisor.records.base import RESERVED_IDS
from prepadvisor.records.fault import Problem
from prepadvisor.records.outline import Outline
from prepadvisor.records.words import SIDES


def id_problems(data: Mapping[str, Any], outlines: Mapping[str, Outline]) -> list[Problem]:
    """Return ids that stand twice, patches named like a side, and log entries about unknown places.

    Args:
        data: the job file as parsed; entries that are malformed in other ways are passed over.
        outlines: by kind; a panel without lines of its own has those of its outline.
    """
    panels = list(_tables(data, "panel"))
    problems = list(_twice("panel", [((*path, "id"), panel.get("id")) for path, panel in panels]))
    places: dict[str, list[str]] = {}
    for path, panel in panels:
        own = [
            ((*path, *inner, "id"), entry.get("id"))
            for key in ("patch", "feature")
            for inner, entry in _tables(panel, key)
        ]
        problems += _twice("panel's lines and patches", own)
        problems += _named_like_side(path, panel)
        if isinstance(panel.get("id"), str):
            places.setdefault(panel["id"].strip(), []).extend(_place_ids(panel, own, outlines))
    problems += _unknown_places(data, places)
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


def _place_ids(
    panel: Mapping[str, Any], own: list[tuple[tuple[str | int, ...], object]], outlines: Mapping[str, Outline]
) -> list[str]:
    ids = [name.strip() for _, name in own if isinstance(name, str)]
    kind = panel.get("kind")
    if not panel.get("feature") and isinstance(kind, str) and kind in outlines:
        ids.extend(line.id for line in outlines[kind].feature)
    return ids


def _unknown_places(data: Mapping[str, Any], places: Mapping[str, list[str]]) -> Iterator[Problem]:
    for key in ("check", "outcome"):
        for path, entry in _tables(data, key):
            panel, feature = entry.get("panel"), entry.get("feature")
            if not isinstance(panel, str):
                continue
            if panel.strip() not in places:
                says = f'there is no panel "{panel[:60]}" in this job'
                yield Problem((*path, "panel"), says, did_you_mean(panel, places))
            elif isinstance(feature, str) and feature.strip() not in RESERVED_IDS:
                known = places[panel.strip()]
                if feature.strip() not in known:
                    says = f'the panel "{panel[:60]}" has no line or patch "{feature[:60]}"'
                    yield Problem(
                        (*path, "feature"), says, did_you_mean(feature, [*known, *sorted(RESERVED_IDS)])
                    )
