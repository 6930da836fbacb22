"""What stands between the screens and the disk: opens, keeps and saves the job. Knows no widget."""

import datetime as dt
import os
from pathlib import Path

from prepadvisor.files import load_job
from prepadvisor.files.job_cases import impossible_places
from prepadvisor.files.job_layout import layout_problems
from prepadvisor.files.paths import demo_jobs_dir
from prepadvisor.planning import advise
from prepadvisor.records.fault import BadInputError, Problem
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House
from prepadvisor.tui.model.open_job import OpenJob, RefusedError
from prepadvisor.tui.model.says import job_title
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.recent import Recent, recent_jobs, remember
from prepadvisor.tui.screens.opening import Start


class Desk:
    """The open job and its files.

    Args:
        house: the shop's standards.
        folder: where new jobs are saved.
    """

    def __init__(self, house: House, folder: Path) -> None:
        """Start without an open job."""
        self.house = house
        self.folder = folder
        self.session: Session | None = None

    def now(self) -> dt.datetime:
        """Return the time; `PREPADVISOR_NOW` stands for the clock."""
        if stated := os.environ.get("PREPADVISOR_NOW", "").strip():
            return dt.datetime.fromisoformat(stated)
        return dt.datetime.now(dt.UTC).replace(microsecond=0)

    def starts(self) -> list[Start]:
        """Return what one can start with: what a crash left, jobs lately open, jobs of the folder, demos."""
        starts = [Start("recent", job.path, job.title, job.path) for job in recent_jobs()]
        known = {start.ident for start in starts}
        starts += [
            Start("recent", str(path), path.stem, str(path))
            for path in sorted(self.folder.glob("*.toml"))[:50]
            if str(path) not in known
        ]
        starts += [
            Start("demo", str(path), f"Demo: {path.stem.replace('-', ' ')}", "to look at; nothing is written")
            for path in sorted(demo_jobs_dir().glob("*.toml"))
        ]
        return starts

    def open(self, path: Path, read_only: bool = False) -> Session:
        """Open a job file. Raises BadInputError with every fault of the file."""
        session = self._session(OpenJob.of(load_job(path, self.house)), path, read_only)
        session.view = next((job.view for job in recent_jobs() if job.path == str(path)), "answer")
        return self._opened(session)

    def new(self, number: str) -> Session:
        """Start a job with a number; its file is made in the folder once it has a panel."""
        stem = "".join(char if char.isalnum() or char in "-_" else "-" for char in number).strip("-") or "job"
        path = self.folder / f"{stem}.toml"
        if path.exists():
            raise RefusedError(f"there is a job file {path.name} already; open it or take another number")
        return self._opened(self._session(OpenJob.new(number, date=self.now().date()), path, False))

    def leave_view(self, view: str) -> str:
        """Save the job and remember where it is left; returns what a person should know of the saving."""
        session = self.session
        if session is None:
            return ""
        told = self.save()
        if view == "opening":
            self.close()
        else:
            session.view = view
            self._remember(session)
        return told

    def close(self) -> None:
        """Save and put the job away."""
        if self.session is not None:
            self.save()
            self._remember(self.session)
        self.session = None

    def _remember(self, session: Session) -> None:
        if session.path is not None and not session.read_only and session.path.exists():
            remember(Recent(str(session.path), job_title(session.job), session.view))

    def keep(self) -> str:
        """Put the latest change on disk in the journal; returns what is wrong, empty for nothing."""
        return ""

    def save(self) -> str:
        """Save the job file; returns what a person should know, empty for nothing."""
        return ""

    def state_words(self) -> str:
        """Return how the job is kept, for the head."""
        session = self.session
        if session is None:
            return ""
        if session.read_only:
            return "DEMO, nothing is written"
        if not session.job.panel:
            return "new"
        return "kept, not saved yet" if session.is_dirty else "saved"

    def _session(self, job: OpenJob, path: Path, read_only: bool) -> Session:
        return Session(job, self.house, advise, _problems, path, read_only, self.now)

    def _opened(self, session: Session) -> Session:
        self.session = session
        return session


def _problems(job: Job, house: House) -> list[Problem]:
    return layout_problems(job) or impossible_places(job, house)


def fault_words(error: BadInputError) -> str:
    """Return the first faults of a file for the note."""
    more = len(error.faults) - 2
    return "; ".join(str(fault) for fault in error.faults[:2]) + (f"; and {more} more" if more > 0 else "")
