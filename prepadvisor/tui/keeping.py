"""Keeps and saves one open job: journal after every change, the file at every rest, others told and heard."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import tomli
import tomli_w

from prepadvisor.files import (
    BusyError,
    ChangedUnderneathError,
    FolderSight,
    Journal,
    LogTable,
    NotSavedError,
    Opener,
    Recovery,
    Saved,
    Values,
    Version,
    append_entries,
    appended,
    edited,
    impossible_places,
    job_of_text,
    job_reader,
    layout_problems,
    new_text,
    read_version,
    save_text,
    sight,
    values_of,
    values_of_job,
)
from prepadvisor.records import BadInputError, Check, Job, NamedTuple, Panel, Problem
from prepadvisor.tui.model import OpenJob, RefusedError, bare

if TYPE_CHECKING:
    from prepadvisor.standards import House


class SaveOutcome(NamedTuple):
    """What came of saving: words for a person (empty if nothing is amiss) and the job as the file has it."""

    told: str
    job: OpenJob | None


class Keeper:
    """The job file of one open job, its journal and its sign for other openers.

    Args:
        path: the job file, or where it is to go.
        job: the job as the file has it; for a new one, as it began.
        version: the file as it was read; None for a new job.
        house: the standards, to read the file again after others logged into it.
        by: initials for the lock and for other openers.
    """

    def __init__(
        self, path: Path, job: OpenJob, version: Version | None, house: "House", by: str = ""
    ) -> None:
        """Leave the sign of an opener; nothing else is written yet."""
        self.path = path
        self.fault = ""
        self._before = job
        self._version = version
        self._house = house
        self._by = by
        self._journal = self._new_journal()
        self._opener = Opener(path, by) if version else None
        self._sight = sight(path) if version else None

    def others(self) -> str:
        """Return who else has the job open, in words; empty for nobody."""
        others = self._opener.others() if self._opener else ()
        if not others:
            return ""
        names = ", ".join(f"{owner.by or 'somebody'} on {owner.host}" for owner in others)
        return f"{names} has this job open too: work on, entries of both are kept"

    def keep(self, job: OpenJob, pending: Sequence[Check] = ()) -> str:
        """Bring the job to the disk in the journal; returns what is amiss in words.

        Args:
            job: the job as it stands, with its whole log.
            pending: those entries of the log that are not in the file.
        """
        try:
            self._journal.write(journal_text(job), [check.id for check in pending])
        except NotSavedError as error:
            return f"not kept: {error.says}; {error.mend}"
        return ""

    def save(self, job: OpenJob, pending: Sequence[Check] = ()) -> SaveOutcome:
        """Save the job file, its comments and the log of others kept; where that fails the edit stays.

        Args:
            job: the job as it stands, with its whole log.
            pending: those entries of the log that are not in the file.
        """
        if not job.panel or (not pending and self._version is not None and bare(job) == bare(self._before)):
            return SaveOutcome("", None)
        entries: list[tuple[LogTable, Values]] = [("check", values_of(check)) for check in pending]
        try:
            saved = self._saved(job, entries)
        except ChangedUnderneathError as error:
            self._go_to(error.kept)
            return self._settled(read_version(error.kept), f"{error.says}; {error.mend}")
        except NotSavedError as error:
            return SaveOutcome(f"{error.begins}, but kept: {error.says}; {error.mend}", None)
        told = [saved.remark] if saved.remark else []
        if saved.kept is not None:
            told.append(
                f"somebody else changed the same of this job: theirs stands, with every entry of the log; "
                f"yours is kept as {saved.kept.name}"
            )
        if saved.taken_over:
            told.append(f"{saved.taken_over} log entries of others taken over")
        version = read_version(self.path) if saved.beside else saved.version
        return self._settled(version, "; ".join(told))

    def look(self) -> OpenJob | None:
        """Return the job as the file has it now, None where it is what it was; a fault of it is told."""
        if self._version is None:
            return None
        now = sight(self.path)
        if now is None or now == self._sight:
            return None
        try:
            version = read_version(self.path)
            if version.raw == self._version.raw:
                self._sight, self.fault = now, ""
                return None
            job = OpenJob.of(job_of_text(version.raw, str(self.path), self._house))
        except NotSavedError:  # gone for the moment: it is looked for again
            return None
        except BadInputError as error:
            self._sight = now
            self.fault = f"{self.path.name} has a fault now: {error.faults[0].says}"
            return None
        self._seen, self.fault = (now, version), ""
        return job

    def adopt(self, job: OpenJob, *, as_base: bool = True) -> None:
        """Go on from the job that `look` returned; `as_base` says that what is saved next begins with it."""
        self._sight = self._seen[0]
        if as_base:
            self._before, self._version = job, self._seen[1]

    def close(self) -> None:
        """Let go of journal and sign; what is not saved stays in the journal."""
        self._journal.close()
        if self._opener is not None:
            self._opener.close()

    def _saved(self, job: OpenJob, entries: list[tuple[LogTable, Values]]) -> Saved:
        if self._version is not None and bare(job) == bare(self._before):
            return append_entries(self.path, entries, self._by, reads=job_reader(self._house))
        text = edited(self._version.text, self._before, job) if self._version else new_text(job)
        whole = appended(text.encode(), "check", [values for _, values in entries])
        try:
            return save_text(
                self.path, whole.decode("utf-8-sig"), self._version, self._by, reads=job_reader(self._house)
            )
        except BusyError:  # what was logged does not wait for whoever holds the job
            if self._version is not None and entries:
                append_entries(self.path, entries, self._by, reads=job_reader(self._house))
            raise

    def _settled(self, version: Version, told: str) -> SaveOutcome:
        job = OpenJob.of(job_of_text(version.raw, str(self.path), self._house))
        self._before, self._version = job, version
        self._sight = sight(self.path)
        self._journal.saved(version.sha256, version.text)
        if self._opener is None:
            self._opener = Opener(self.path, self._by)
        return SaveOutcome(told, job)

    def _go_to(self, path: Path) -> None:
        self.close()
        self.path = path
        self._version = None
        self._journal = self._new_journal()
        self._opener = None

    def _new_journal(self) -> Journal:
        version = self._version
        return Journal(
            self.path, version.sha256 if version else "", self._by, began=version.text if version else ""
        )

    _seen: tuple[FolderSight, Version]


def journal_text(job: OpenJob) -> str:
    """Return the whole job with its log as text, also while it has no panel yet."""
    log = {
        name: [values_of(entry) for entry in entries]
        for name, entries in (("check", job.check), ("outcome", job.outcome))
        if entries
    }
    head = tomli_w.dumps(values_of_job(job.model_copy(update={"panel": ()})))
    return "\n".join([head, *(_panel_text(panel) for panel in job.panel), tomli_w.dumps(log)])


_panel_texts: dict[int, tuple[Panel, str]] = {}
"""The text of panels lately kept, each known by the panel itself: a change of one writes one."""

_PANEL_TEXTS_MOST = 400


def _panel_text(panel: Panel) -> str:
    known = _panel_texts.pop(id(panel), None)
    if known is None or known[0] is not panel:
        alone = OpenJob.new("-").model_copy(update={"panel": (panel,)})
        known = panel, tomli_w.dumps({"panel": values_of_job(alone)["panel"]})
    _panel_texts[id(panel)] = known
    while len(_panel_texts) > _PANEL_TEXTS_MOST:
        del _panel_texts[next(iter(_panel_texts))]
    return known[1]


def kept_words(left: Recovery) -> OpenJob:
    """Return the job that a journal kept. Raises RefusedError where it cannot be read."""
    try:
        return OpenJob.model_validate(tomli.loads(left.text))
    except ValueError as error:
        raise RefusedError(f"what was kept in {left.journal} cannot be read ({error})") from error


def logged_words(entries: Sequence[Check]) -> str:
    """Say what others logged meanwhile."""
    last = entries[-1]
    count = f"{len(entries)} entries" if len(entries) > 1 else "an entry"
    result = f" {last.result}" if last.result else ""
    return (
        f"{count} of others taken over; the last: {last.by} {last.panel}/{last.feature} {last.step}{result}"
    )


def joined_problems(job: Job, house: "House") -> list[Problem]:
    """Say what is wrong with a job, in one line."""
    return layout_problems(job) or impossible_places(job, house)
