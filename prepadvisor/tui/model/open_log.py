"""The log of the open job: what stands in the file, and after it what is still on its way there.

Nothing that stands in the file is ever taken away. An entry on its way can be taken back by the step that
made it, and brought again; it keeps its id, so that it is in the file once, however often it is saved.
"""

from collections.abc import Iterable, Sequence

from prepadvisor.logbook.writer import Writer
from prepadvisor.records.job import Check


class OpenLog:
    """Entries on disk and pending, told apart by their ids.

    Args:
        on_disk: the log as the file has it.
    """

    def __init__(self, on_disk: Sequence[Check]) -> None:
        """Begin with what stands in the file."""
        self.on_disk: tuple[Check, ...] = tuple(on_disk)
        self.writer = Writer()
        self._pending: dict[str, Check] = {}
        self._taken_back: dict[str, Check] = {}
        self._own: dict[str, Check] = {}
        self._whole: tuple[Check, ...] | None = None

    @property
    def pending(self) -> tuple[Check, ...]:
        """Entries that are not in the file yet, in the order they were made."""
        return tuple(self._pending.values())

    @property
    def whole(self) -> tuple[Check, ...]:
        """Everything: the file's entries, then those on their way."""
        if self._whole is None:
            self._whole = (*self.on_disk, *self._pending.values())
        return self._whole

    def add(self, checks: Iterable[Check]) -> tuple[str, ...]:
        """Stamp new entries and let them be on their way; returns their ids."""
        ids = []
        for check in checks:
            stamped = self.writer.stamp(check, self.on_disk)
            self._pending[stamped.id] = self._own[stamped.id] = stamped
            ids.append(stamped.id)
        self._whole = None
        return tuple(ids)

    def take_back(self, ids: Iterable[str]) -> tuple[str, ...]:
        """Take entries back that are still on their way; returns the ids of those that stand in the file."""
        stays = []
        for ident in ids:
            if ident in self._pending:
                self._taken_back[ident] = self._pending.pop(ident)
                self._own.pop(ident, None)
            else:
                stays.append(ident)
        self._whole = None
        return tuple(stays)

    def bring_again(self, ids: Iterable[str]) -> None:
        """Bring entries again that were taken back on their way."""
        for ident in ids:
            if ident in self._taken_back:
                self._pending[ident] = self._own[ident] = self._taken_back.pop(ident)
        self._whole = None

    def recover(self, checks: Iterable[Check]) -> int:
        """Let entries of an earlier run be on their way again, as they were stamped; returns how many."""
        there = {check.id for check in self.on_disk if check.id} | self._pending.keys()
        lost = [check for check in checks if check.id and check.id not in there]
        for check in lost:
            self._pending[check.id] = self._own[check.id] = check
        self._whole = None
        return len(lost)

    def settle(self, on_disk: Sequence[Check]) -> tuple[Check, ...]:
        """Take over what the file has now; returns the entries of others that are new in it.

        An entry of this writer that the file had, and has no more, is on its way again.
        """
        before = {id_or_all(check) for check in self.on_disk}
        ids = {check.id for check in on_disk if check.id}
        new = tuple(
            check for check in on_disk if id_or_all(check) not in before and check.id not in self._own
        )
        self.on_disk = tuple(on_disk)
        self._pending = {ident: check for ident, check in self._own.items() if ident not in ids}
        self._whole = None
        return new


def id_or_all(check: Check) -> object:
    """Return what an entry is known by: its id, else all it says."""
    return check.id or check
