"""Undo and redo: every change of the open job with its name, newest last."""

from typing import NamedTuple

from prepadvisor.tui.model.open_job import OpenJob

STEPS_KEPT = 1000
"""Changes that can be taken back; jobs are frozen and share their parts, so a step costs little."""


class Change(NamedTuple):
    """One change: its name as the undo key shows it, and the job before and after."""

    name: str
    before: OpenJob
    after: OpenJob
    merge: str = ""


class History:
    """The job as it stands with all that can be undone and redone."""

    def __init__(self, job: OpenJob) -> None:
        """Start with a job as it was opened."""
        self.job = job
        self.revision = 0
        self._done: list[Change] = []
        self._undone: list[Change] = []

    @property
    def undo_name(self) -> str:
        """The name of what undo would take back, empty if there is nothing."""
        return self._done[-1].name if self._done else ""

    @property
    def redo_name(self) -> str:
        """The name of what redo would bring back, empty if there is nothing."""
        return self._undone[-1].name if self._undone else ""

    def do(self, name: str, job: OpenJob, merge: str = "") -> None:
        """Make a change. Successive changes with the same non-empty `merge` are undone in one go."""
        last = self._done[-1] if self._done and not self._undone else None
        if last is not None and merge and last.merge == merge:
            self._done[-1] = Change(name, last.before, job, merge)
        else:
            self._done.append(Change(name, self.job, job, merge))
            del self._done[:-STEPS_KEPT]
        self._undone.clear()
        self._stand(job)

    def undo(self) -> str:
        """Take the last change back and return its name, empty if there is none."""
        if not self._done:
            return ""
        change = self._done.pop()
        self._undone.append(change)
        self._stand(change.before)
        return change.name

    def redo(self) -> str:
        """Bring the change last taken back again and return its name, empty if there is none."""
        if not self._undone:
            return ""
        change = self._undone.pop()._replace(merge="")
        self._done.append(change)
        self._stand(change.after)
        return change.name

    def settle(self, job: OpenJob) -> None:
        """Let what came from the file stand, such as checks another opener saved, without a step to undo."""
        self._stand(job)

    def _stand(self, job: OpenJob) -> None:
        self.job = job
        self.revision += 1
