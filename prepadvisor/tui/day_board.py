"""The lines of a folder's jobs, worked out a few at a time and kept until a file changes."""

import datetime as dt
from collections.abc import Iterable
from pathlib import Path
from time import perf_counter
from typing import Final

from prepadvisor.cards.day.board import DayJob, Load, job_line
from prepadvisor.standards.house import House

AT_ONCE_SECONDS: Final = 0.03
"""How long the screen may be kept waiting for more lines."""

_Stamp = tuple[int, int]


class DayBoard:
    """Job lines by path; one is worked out anew where its file or the house changed, or an hour passed."""

    def __init__(self) -> None:
        """Start with no lines."""
        self._known: dict[str, tuple[_Stamp, int, int, DayJob]] = {}

    def lines(self, paths: Iterable[str]) -> dict[str, DayJob]:
        """Return the lines there are."""
        return {path: self._known[path][3] for path in paths if path in self._known}

    def work(self, paths: Iterable[str], load: Load, house: House, now: dt.datetime) -> bool:
        """Work out lines that lack or are old, for a moment only; say whether any line is new.

        Args:
            paths: the job files on the screen.
            load: reads one.
            house: the standards.
            now: the present time.
        """
        start, changed = perf_counter(), False
        hour = int(now.timestamp() // 3600)
        for path in paths:
            stamp = _stamp(path)
            known = self._known.get(path)
            if known is not None and known[:3] == (stamp, id(house), hour):
                continue
            if changed and perf_counter() - start > AT_ONCE_SECONDS:
                break
            changed = True
            self._known[path] = (stamp, id(house), hour, job_line(Path(path), load, house, now))
        return changed


def _stamp(path: str) -> _Stamp:
    try:
        stat = Path(path).stat()
    except OSError:
        return (0, 0)
    return (stat.st_mtime_ns, stat.st_size)
