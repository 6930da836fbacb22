"""Reads a time that a person gives a command."""

import datetime as dt

from prepadvisor.records.fault import BadInputError, Fault


def time_of(stated: str | None) -> dt.datetime | None:
    """Return a time such as 2026-03-02T09:40:00Z, None where none is stated.

    Raises:
        BadInputError: it is no such time; without its zone it cannot be put in order.
    """
    if stated is None:
        return None
    try:
        time = dt.datetime.fromisoformat(stated.strip())
    except ValueError:
        time = None
    if time is None or time.tzinfo is None:
        says = f'"{stated}" is not a day and time with its zone'
        raise BadInputError([Fault("--at", 0, 0, says, "write it like 2026-03-02T09:40:00Z")])
    return time
