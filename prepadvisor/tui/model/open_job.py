"""The open job as it stands on the screens, its undo and redo, and its log with what is on its way."""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Annotated, Any, TypeVar

from pydantic import Field, ValidationError

from prepadvisor.cases import STAGES_IF_UNKNOWN
from prepadvisor.files import both_changed, changed_table, values_of_job
from prepadvisor.logbook import Writer
from prepadvisor.records import (
    FORMAT,
    Check,
    Colour,
    Job,
    JobHead,
    NamedTuple,
    Outcome,
    Panel,
    Record,
    own_words,
)

R = TypeVar("R", bound=Record)


class RefusedError(Exception):
    """An edit cannot be made; the message tells a person why and what to do instead."""


class OpenJob(Job):
    """A job on the screens. Without a panel it cannot be saved or advised on yet."""

    panel: Annotated[tuple[Panel, ...], Field(max_length=200)] = ()

    @classmethod
    def of(cls, job: Job) -> "OpenJob":
        """Return a job as an open job; its parts are checked already, and it takes all that a job takes."""
        return cls.model_construct(
            job=job.job, colour=job.colour, panel=job.panel, check=job.check, outcome=job.outcome
        )

    @classmethod
    def new(cls, number: str, by: str = "", date: dt.date | None = None) -> "OpenJob":
        """Return a job that has only a number, and the stages that it is judged by until they are said."""
        return cls(
            job=JobHead(number=number, by=by, date=date, format=FORMAT),
            colour=Colour(stages=STAGES_IF_UNKNOWN),
        )

    def is_logged(self, panel_id: str, part_id: str = "") -> bool:
        """Say whether the check-off has an entry for a panel, or for one of its lines or patches."""
        entries: list[Check | Outcome] = [*self.check, *self.outcome]
        return any(entry.panel == panel_id and part_id in {"", entry.feature} for entry in entries)

    def panel_at(self, panel_id: str) -> Panel | None:
        """Return the panel of an id, or None."""
        return next((panel for panel in self.panel if panel.id == panel_id), None)


def revised(record: R, changes: Mapping[str, Any]) -> R:
    """Return a record with some fields changed, checked as a file would be.

    Raises:
        RefusedError: in one sentence, for a value the field cannot take.
    """
    try:
        return type(record).model_validate({**dict(record), **changes})
    except ValidationError as error:
        raise RefusedError(refusal(error)) from error


def refusal(error: ValidationError) -> str:
    """Return a validation error as one sentence in shop words."""
    first = error.errors()[0]
    where = next((str(part) for part in reversed(first["loc"]) if isinstance(part, str)), "value")
    says = own_words(first)
    return f"{where.replace('_', ' ')}: {says[:1].lower()}{says[1:]}"


def bare(job: OpenJob) -> OpenJob:
    """Return a job without its log."""
    return job.model_copy(update={"check": (), "outcome": ()}) if job.check or job.outcome else job


def can_rebase(base: OpenJob, changed: OpenJob, onto: OpenJob) -> bool:
    """Say whether what differs between two jobs can be put onto a third without undoing its own changes."""
    return not both_changed(values_of_job(base), values_of_job(changed), values_of_job(onto))


def rebased(base: OpenJob, changed: OpenJob, onto: OpenJob) -> OpenJob:
    """Return a job with what differs between two others put onto it.

    Raises:
        RefusedError: the same was changed in it otherwise.
    """
    before, after = values_of_job(base), values_of_job(changed)
    if both_changed(before, after, values_of_job(onto)):
        raise RefusedError("somebody else changed the same of this job meanwhile: change it by hand")
    return OpenJob.model_validate(changed_table(values_of_job(onto), before, after))


# Undo and redo: every change of the open job with its name, newest last. The log is no part of it.

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


# The log of the open job: what stands in the file, and after it what is still on its way there.
#
# Nothing that stands in the file is ever taken away. An entry on its way can be taken back by the step that
# made it, and brought again; it keeps its id, so that it is in the file once, however often it is saved.


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
