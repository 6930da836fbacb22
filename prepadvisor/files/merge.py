"""Joins a version that is saved with what others added to the file meanwhile: entries are never lost."""

from typing import Any, Final, NamedTuple

from prepadvisor.files.append import AppendRefusedError, Table, Values, appended, parsed

LOG_TABLES: Final[tuple[Table, ...]] = ("check", "outcome")


class Joined(NamedTuple):
    """What is to be written, and how many entries of others it takes over."""

    raw: bytes
    taken_over: int


def join(base: bytes, disk: bytes, mine: bytes) -> Joined | None:
    """Join the version at hand with the one on the disk.

    Entries of the log that stand on the disk but not in the version at hand are added to it. All else may
    have changed on one side only.

    Args:
        base: the version that both began with.
        disk: the version on the disk.
        mine: the version to be saved.

    Returns:
        The joined version, or None where both sides changed the job itself, or one of them does not parse.
    """
    try:
        on_disk, at_hand = parsed(disk), parsed(mine)
    except AppendRefusedError:
        return None
    if disk != base and _job(on_disk) != _job(at_hand):
        try:
            began = parsed(base)
        except AppendRefusedError:
            return None
        if _job(on_disk) != _job(began):
            return None
    raw, count = mine, 0
    for table in LOG_TABLES:
        missing = _missing(on_disk.get(table), at_hand.get(table))
        try:
            raw = appended(raw, table, missing)
        except AppendRefusedError:
            return None
        count += len(missing)
    return Joined(raw, count)


def _job(data: Values) -> Values:
    return {key: value for key, value in data.items() if key not in LOG_TABLES}


def _missing(disk: Any, mine: Any) -> list[Values]:
    """Return the entries on the disk that are not at hand; one that stands twice must be there twice."""
    rest = list(mine) if isinstance(mine, list) else []
    lost: list[Values] = []
    for entry in disk if isinstance(disk, list) else []:
        if entry in rest:
            rest.remove(entry)
        else:
            lost.append(entry)
    return lost
