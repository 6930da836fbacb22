"""What stands between the screens and the disk: opens, keeps and saves the job. Knows no widget."""

import datetime as dt
import os
import time
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from prepadvisor.files import (
    FileSystem,
    Recovery,
    Version,
    job_of_text,
    load_house,
    not_saved,
    put,
    read_bytes,
    read_version,
    recoverable,
)
from prepadvisor.planning import KeptPieces, advise
from prepadvisor.records import FORMS, BadInputError, Form
from prepadvisor.tui.keeping import Keeper, joined_problems, kept_words, logged_words
from prepadvisor.tui.model import OpenJob, RefusedError, Session, job_title
from prepadvisor.tui.starts import Recent, Start, recent_jobs, remember, starts_of
from prepadvisor.tui.views import HOUSE_VIEWS

if TYPE_CHECKING:
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.standards import House


class Desk:
    """The open job and its files.

    Args:
        house: the shop's standards.
        folder: where new jobs are saved.
    """

    def __init__(self, house: "House", folder: Path) -> None:
        """Start without an open job."""
        self.house = house
        self.folder = folder
        self.session: Session | None = None
        self.house_fault = ""
        self._keeper: Keeper | None = None
        self._gate: tuple[bool, int] | None = None
        self._changed = time.monotonic()

    def now(self) -> dt.datetime:
        """Return the time; `PREPADVISOR_NOW` stands for the clock."""
        if stated := os.environ.get("PREPADVISOR_NOW", "").strip():
            return dt.datetime.fromisoformat(stated)
        return dt.datetime.now(dt.UTC).astimezone().replace(microsecond=0)

    def starts(self) -> list[Start]:
        """Return what one can start with: what a crash left, jobs lately open, jobs of the folder, demos."""
        return starts_of(self.folder)

    def open(self, path: Path, read_only: bool = False) -> str:
        """Open a job file; returns what a person should know, such as who else has it open.

        Raises:
            BadInputError: with every fault of the file.
        """
        version = Version(read_bytes(path))
        if not read_only:
            version = read_version(path)
        job = OpenJob.of(job_of_text(version.raw, str(path), self.house))
        path = path.resolve()
        session = self._open(job, path, None if read_only else version, read_only)
        session.view = next((job.view for job in recent_jobs() if job.path == str(path)), "answer")
        told = [] if read_only else [self._join(left) for left in recoverable() if left.path == path]
        told += [self._keeper.others()] if self._keeper else []
        return "; ".join(word for word in told if word)

    def new(self, number: str) -> None:
        """Start a job with a number; its file is made in the folder once it has a panel.

        Raises:
            RefusedError: there is such a file already.
        """
        stem = "".join(char if char.isalnum() or char in "-_" else "-" for char in number)[:60].strip("-")
        path = self.folder.resolve() / f"{stem or 'job'}.toml"
        if path.exists():
            raise RefusedError(f"there is a job file {path.name} already; open it or take another number")
        self._open(OpenJob.new(number, date=self.now().date()), path, None, False)

    def free_number(self) -> str:
        """Return a number for a new job that no file of the folder has: the day, and a count."""
        day = f"{self.now():%m%d}"
        count = 1
        while (self.folder / f"{day}-{count}.toml").exists():
            count += 1
        return f"{day}-{count}"

    def scratch(self) -> None:
        """Open an empty job in memory, for a look at the standards without a job."""
        self._open(OpenJob.new("no job"), None, None, True)

    def recover(self, ident: str) -> str:
        """Open what a crash left unsaved, joined with its file; returns what a person should know."""
        left = next((each for each in recoverable() if str(each.journal) == ident), None)
        if left is None:
            raise RefusedError("this was taken up meanwhile")
        if left.path.exists():
            return self.open(left.path)
        job = kept_words(left)
        self._open(job, left.path, None, False)
        return self._moved(left, "recovered: every change is back")

    def _join(self, left: Recovery) -> str:
        """Join what an earlier run left unsaved with the job that is open; returns what to know of it."""
        session = self.session
        if session is None:
            return ""
        try:
            kept = kept_words(left)
            began = (
                OpenJob.of(job_of_text(left.began.encode(), str(left.path), self.house))
                if left.began
                else None
            )
        except (RefusedError, BadInputError) as error:
            return f"what an earlier run kept cannot be read and stays as it is: {error}"
        if began is None and not left.file_has_changed:
            began = session.job
        lost = (
            kept.check if left.pending is None else [each for each in kept.check if each.id in left.pending]
        )
        if not session.recover(kept, began, lost):
            self.keep()
            return (
                "the entries that an earlier run kept are back; its changes of the job were also made by "
                f"somebody else, and stay kept in {left.journal.name}"
            )
        return self._moved(left, "recovered: every change is back" if session.is_dirty else "")

    def _moved(self, left: Recovery, told: str) -> str:
        """Take a journal away once all that it has is in the journal of the job that is open now."""
        if self.keep():
            return "recovered, but it cannot be kept on this disk: the old copy stays"
        left.forget()
        return told

    def look(self) -> str:
        """Look whether others saved the job or its time ran out; returns what a person should know."""
        session, keeper = self.session, self._keeper
        if session is None or keeper is None:
            return ""
        fault = keeper.fault
        job = keeper.look()
        if job is None:
            return keeper.fault if keeper.fault != fault else ""
        settled = session.settle(job)
        keeper.adopt(job, as_base=not settled.clash)
        if session.is_dirty:
            keeper.keep(session.job, session.log.pending)
        told = []
        if settled.entries:
            told.append(logged_words(settled.entries))
        if settled.job_changed:
            told.append("the job was changed by somebody else")
        if settled.clash:
            told.append("somebody else changed the same of this job: saving keeps both")
        return "; ".join(told)

    def rested(self, seconds: float) -> bool:
        """Say whether entries are on their way to the file, and nothing was changed for so long."""
        session = self.session
        is_late = time.monotonic() - self._changed > seconds
        return is_late and session is not None and not session.read_only and bool(session.log.pending)

    def gate_turned(self) -> bool:
        """Say whether the gate says something else than when it was last asked, as when a wipe ran out."""
        session = self.session
        if session is None or not session.job.check:
            self._gate = None
            return False
        from prepadvisor.tui.model import gate_of

        verdict = gate_of(session)
        now = None if verdict is None else (verdict.clear, len(verdict.gate.holds))
        before, self._gate = self._gate, now
        return before is not None and now != before

    @property
    def revision(self) -> tuple[int, str]:
        """Differs when there is something else to show of the job or of how it is kept."""
        return (self.session.revision if self.session else -1, self._keeper.fault if self._keeper else "")

    def keep(self) -> str:
        """Bring the latest change to the disk in the journal; returns what is amiss in words."""
        if self._keeper is None or self.session is None:
            return ""
        self._changed = time.monotonic()
        return self._keeper.keep(self.session.job, self.session.log.pending)

    def save(self) -> str:
        """Save the job file; returns what a person should know, empty if nothing is amiss."""
        session, keeper = self.session, self._keeper
        if session is None or keeper is None:
            return ""
        self._changed = time.monotonic()
        outcome = keeper.save(session.job, session.log.pending)
        if outcome.job is not None:
            session.mark_saved(outcome.job)
            session.path = keeper.path
        return outcome.told

    def leave_view(self, view: str) -> str:
        """Save the job and remember where it is left; returns what a person should know of the saving."""
        session = self.session
        if session is None:
            return ""
        told = self.save()
        if view == "opening":
            self.close()
        else:
            if view not in HOUSE_VIEWS - {"standards"}:
                session.view = view
            self._remember(session)
        return told

    def close(self) -> None:
        """Save and put the job away; what cannot be saved stays in the journal."""
        if self.session is not None:
            self.keep_unsaved()
            self._remember(self.session)
        if self._keeper is not None:
            self._keeper.close()
        self.session = self._keeper = None

    def keep_unsaved(self) -> None:
        """Save, and where that fails or the job has no panel yet, see that the journal has it."""
        told = self.save()
        if self.session is not None and (told or self.session.is_dirty):
            self.keep()

    def state_words(self) -> str:
        """Return how the job is kept, for the head; a rule file that could not be taken over stays told."""
        return (f"× {self.house_fault}, see F8; " if self.house_fault else "") + self._kept_words()

    def _kept_words(self) -> str:
        session = self.session
        if session is None:
            return ""
        if session.read_only:
            return "DEMO: nothing saved"
        if self._keeper is not None and self._keeper.fault:
            return f"× {self._keeper.fault}; shown as it was"
        if session.is_dirty:
            count = len(session.log.pending)
            return "kept, not saved yet" + (f" ({count} of the log)" if count else "")
        return "saved" if session.job.panel else "new"

    def fresh_house(self, folders: Sequence[str] = ()) -> str:
        """Read the standards again if a file changed; returns what a person should know.

        Args:
            folders: other house folders to go on with; none for those there are.

        Raises:
            BadInputError: with every fault; the standards stay as they were.
        """
        try:
            house = load_house(*(folders or self.house.folders))
        except BadInputError as error:
            names = dict.fromkeys(Path(fault.file).name for fault in error.faults)
            self.house_fault = f"{next(iter(names), 'standards')} faulty"
            raise
        self.house_fault = ""
        if house is self.house or _says(house) == _says(self.house):
            return ""  # read anew, since few are kept, but with the same words
        self.house = house
        if self.session is not None:
            self.session.use_house(house)
        return "a standards file changed: the job is judged by it now"

    def write_card(self, form: Form, paper: "PaperName") -> Path:
        """Write the card beside the job, or of a demo into the folder, and return its path.

        Raises:
            RefusedError: the job has no panel, or the PDF part of the program is not installed.
            NotSavedError: the disk refused.
        """
        from prepadvisor.cards import write_card
        from prepadvisor.tui.model import gate_for_card

        session = self.session
        if session is None or session.advice is None:
            raise RefusedError("there is no card before the first panel: F3, then A")
        stem = session.path.stem if session.path else "card"
        folder = self.folder if session.read_only or session.path is None else session.path.parent
        path = folder / f"{stem}-card{FORMS[form].ending}"
        try:
            card = write_card(
                session.job,
                session.advice,
                session.house,
                form,
                paper,
                gate=gate_for_card(session),
            )
        except ModuleNotFoundError:
            raise RefusedError("PDF needs the pdf extra; write HTML and print it from a browser") from None
        try:
            put(path, card.encode() if isinstance(card, str) else card, FileSystem(), keep_previous=False)
        except OSError as error:
            raise not_saved(path, error) from error
        return path

    def _open(self, job: OpenJob, path: Path | None, version: Version | None, read_only: bool) -> Session:
        self.close()
        self.session = Session(
            job,
            house=self.house,
            advise=partial(advise, kept=KeptPieces()),
            judge=joined_problems,
            path=path,
            read_only=read_only,
            clock=self.now,
            folder=self.folder,
        )
        if path is not None and not read_only:
            self._keeper = Keeper(path, job, version, self.house, job.job.by)
        return self.session

    def _remember(self, session: Session) -> None:
        if session.path is not None and not session.read_only and session.path.exists():
            remember(Recent(str(session.path), job_title(session.job), session.view))


def _says(house: "House") -> tuple[object, ...]:
    """Return all that a house was read from; its colour book is no part of its digest."""
    return house.digest, house.folders, house.book
