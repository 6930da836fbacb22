"""Keeps and saves one open job: journal after every change, the file at every rest, others told and heard."""

from pathlib import Path
from typing import NamedTuple

import tomli_w

from prepadvisor.files.append import appended, values_of
from prepadvisor.files.edit import edited, new_text, values_of_job
from prepadvisor.files.job_file import job_of_text
from prepadvisor.files.journal import Journal
from prepadvisor.files.not_saved import ChangedUnderneathError, NotSavedError
from prepadvisor.files.openers import Opener
from prepadvisor.files.store import Version, read_version, save_text
from prepadvisor.standards.house import House
from prepadvisor.tui.model.open_job import OpenJob


class Outcome(NamedTuple):
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

    def __init__(self, path: Path, job: OpenJob, version: Version | None, house: House, by: str = "") -> None:
        """Leave the sign of an opener; nothing else is written yet."""
        self.path = path
        self._before = job
        self._version = version
        self._house = house
        self._by = by
        self._journal = Journal(path, version.sha256 if version else "", by)
        self._opener = Opener(path, by) if version else None

    def others(self) -> str:
        """Return who else has the job open, in words; empty for nobody."""
        others = self._opener.others() if self._opener else ()
        if not others:
            return ""
        names = ", ".join(f"{owner.by or 'somebody'} on {owner.host}" for owner in others)
        return f"{names} has this job open too: work on, entries of both are kept"

    def keep(self, job: OpenJob) -> str:
        """Bring the job to the disk in the journal; returns what is amiss in words."""
        try:
            self._journal.write(journal_text(job))
        except NotSavedError as error:
            return f"not kept: {error.says}; {error.mend}"
        return ""

    def save(self, job: OpenJob) -> Outcome:
        """Save the job file, its comments and the log of others kept; where that fails the edit stays."""
        if not job.panel or (job == self._before and self._version is not None):
            return Outcome("", None)
        try:
            saved = save_text(self.path, self._text(job), self._version, self._by)
        except ChangedUnderneathError as error:
            self._go_to(error.kept)
            self._settle(job, read_version(error.kept))
            return Outcome(f"{error.says}; {error.mend}", job)
        except NotSavedError as error:
            return Outcome(f"not saved, but kept: {error.says}; {error.mend}", None)
        if saved.taken_over:
            job = OpenJob.of(job_of_text(saved.version.raw, str(self.path), self._house))
        self._settle(job, saved.version)
        told = f"{saved.taken_over} log entries of others taken over" if saved.taken_over else ""
        return Outcome(told, job)

    def close(self) -> None:
        """Let go of journal and sign; what is not saved stays in the journal."""
        self._journal.close()
        if self._opener is not None:
            self._opener.close()

    def _text(self, job: OpenJob) -> str:
        text = edited(self._version.text, self._before, job) if self._version else new_text(job)
        fresh = job.check[len(self._before.check) :] if self._version else job.check
        return appended(text.encode(), "check", [values_of(check) for check in fresh]).decode("utf-8-sig")

    def _settle(self, job: OpenJob, version: Version) -> None:
        self._before, self._version = job, version
        self._journal.saved(version.sha256)
        if self._opener is None:
            self._opener = Opener(self.path, self._by)

    def _go_to(self, path: Path) -> None:
        self.close()
        self.path = path
        self._journal = Journal(path, "", self._by)
        self._opener = None


def journal_text(job: OpenJob) -> str:
    """Return the whole job with its log as text, also while it has no panel yet."""
    log = {
        name: [values_of(entry) for entry in entries]
        for name, entries in (("check", job.check), ("outcome", job.outcome))
        if entries
    }
    return tomli_w.dumps({**values_of_job(job), **log})
