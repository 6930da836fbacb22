"""Joins a version that is saved with what stands in the file meanwhile: the disk's bytes first, then mine.

Log entries are told apart by their ids; one without id by all it says. Nothing that stands on the disk is
rewritten or moved, and nothing of mine that is not there yet is left out.
"""

from collections.abc import Sequence
from typing import Any, Final

from prepadvisor.files.disk.append import LogTable, Values, appended, parsed
from prepadvisor.files.disk.edit import both_changed, with_changes
from prepadvisor.records import NamedTuple

LOG_TABLES: Final[tuple[LogTable, ...]] = ("check", "outcome")


class Joined(NamedTuple):
    """What is to be written, how many entries of others it has, whether the job's changes are in it."""

    raw: bytes
    taken_over: int
    with_job: bool = True


def join(base: bytes, disk: bytes, mine: bytes) -> Joined:
    """Join the version at hand with the one on the disk.

    What was changed of the job at hand is put into the disk's text, unless the same was changed there
    otherwise: then the disk's job stands, and only entries are added to it.

    Args:
        base: the version that both began with; empty for a new job.
        disk: the version on the disk.
        mine: the version to be saved.

    Raises:
        AppendRefusedError: one of them is no TOML, or cannot take the entries as text.
    """
    began, there, at_hand = parsed(base), parsed(disk), parsed(mine)
    theirs = sum(len(missing(there.get(table), began.get(table))) for table in LOG_TABLES)
    if disk == base and not any(missing(began.get(table), at_hand.get(table)) for table in LOG_TABLES):
        return Joined(mine, 0)
    raw, with_job = disk, True
    if _job(at_hand) != _job(began) and _job(at_hand) != _job(there):
        if base and not both_changed(_job(began), _job(there), _job(at_hand)):
            raw = with_changes(disk, _job(began), _job(at_hand))
        else:
            with_job = False
    for table in LOG_TABLES:
        own = missing(at_hand.get(table), began.get(table))
        raw = appended(raw, table, missing(own, there.get(table)))
    return Joined(raw, theirs, with_job)


def with_entries(raw: bytes, entries: Sequence[tuple[LogTable, Values]]) -> bytes:
    """Return a file's bytes with those entries added whose ids are not in it yet, in their order."""
    if not entries:
        return raw
    data = parsed(raw)
    for table in LOG_TABLES:
        own = [values for name, values in entries if name == table]
        lacking = missing([values for values in own if values.get("id")], data.get(table))
        added = [each for each in own if not each.get("id") or each in lacking]
        if added:  # a list that is not there stays so: what is compared with later must hold no empty one
            raw, data = appended(raw, table, added, data), {**data, table: [*data.get(table, []), *added]}
    return raw


def missing(wanted: Any, there: Any) -> list[Values]:
    """Return the entries of a list that another has not; one without id counts as often as it stands."""
    rest = [entry for entry in there if isinstance(entry, dict)] if isinstance(there, list) else []
    ids = {entry["id"] for entry in rest if entry.get("id")}
    unnamed = [entry for entry in rest if not entry.get("id")]
    lost: list[Values] = []
    for entry in wanted if isinstance(wanted, list) else []:
        if not isinstance(entry, dict):
            continue
        if entry.get("id"):
            if entry["id"] not in ids:
                lost.append(entry)
        elif entry in unnamed:
            unnamed.remove(entry)
        else:
            lost.append(entry)
    return lost


def _job(data: Values) -> Values:
    return {key: value for key, value in data.items() if key not in LOG_TABLES}
