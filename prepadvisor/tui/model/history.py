"""Undo and redo: every change of the open job with its name, newest last. The log is no part of it."""

from collections.abc import Callable

from prepadvisor.named import NamedTuple
from prepadvisor.tui.model.open_job import OpenJob

STEPS_KEPT = 1000
"""Changes that can be taken back; jobs are frozen and share their parts, so a step costs little."""

Rebase = Callable[[OpenJob, OpenJob, OpenJob], OpenJob]
"""Applies what differs between two jobs to a third, or raises RefusedError."""


def _as_it_was(_before: OpenJob, after: OpenJob, _now: OpenJob) -> OpenJob:
    return after


class Edit(NamedTuple):
    """One change.

    Attributes:
        name: as the undo key shows it.
        before: the job without its log, before.
        after: the same, after.
        merge: successive changes with the same mark are one.
        entries: ids of the log entries it made.
    """

    name: str
    before: OpenJob
    after: OpenJob
    merge: str = ""
    entries: tuple[str, ...] = ()


class History:
    """The job as it stands, without its log, with all that can be undone and redone."""

    def __init__(self, job: OpenJob) -> None:
        """Start with a job as it was opened."""
        self.job = job
        self.revision = 0
        self._done: list[Edit] = []
        self._undone: list[Edit] = []

    @property
    def undo_name(self) -> str:
        """The name of what undo would take back, empty if there is nothing."""
        return self._done[-1].name if self._done else ""

    @property
    def redo_name(self) -> str:
        """The name of what redo would bring back, empty if there is nothing."""
        return self._undone[-1].name if self._undone else ""

    def do(self, name: str, job: OpenJob, merge: str = "", entries: tuple[str, ...] = ()) -> None:
        """Make a change. Successive changes with the same non-empty `merge` are undone in one go."""
        last = self._done[-1] if self._done and not self._undone else None
        if last is not None and merge and last.merge == merge:
            self._done[-1] = Edit(name, last.before, job, merge, (*last.entries, *entries))
        else:
            self._done.append(Edit(name, self.job, job, merge, entries))
            del self._done[:-STEPS_KEPT]
        self._undone.clear()
        self.settle(job)

    def undo(self, rebase: Rebase = _as_it_was) -> Edit | None:
        """Take the last change back and return it, None if there is none.

        Where the job was changed by others meanwhile, only this change of it is taken back.

        Raises:
            RefusedError: others changed the same; the change stays.
        """
        if not self._done:
            return None
        change = self._done[-1]
        stands = self.job == change.after
        self.settle(change.before if stands else rebase(change.after, change.before, self.job))
        self._undone.append(self._done.pop())
        return change

    def redo(self, rebase: Rebase = _as_it_was) -> Edit | None:
        """Bring the change last taken back again and return it, None if there is none; see `undo`."""
        if not self._undone:
            return None
        change = self._undone[-1]
        stands = self.job == change.before
        self.settle(change.after if stands else rebase(change.before, change.after, self.job))
        self._done.append(self._undone.pop()._replace(merge=""))
        return change

    def settle(self, job: OpenJob) -> None:
        """Let a job stand that came from elsewhere, such as the file, without a step to undo."""
        self.job = job
        self.revision += 1
