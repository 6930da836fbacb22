"""What stands between the screens of the shop's own numbers and the disk. Knows no widget."""

import datetime as dt
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cards import (
    FitReport,
    FitTold,
    Gathered,
    colour_records,
    fit_facts,
    fit_pages,
    fitted_report,
    gathered,
    html_card,
    plan_pages,
)
from prepadvisor.files import (
    BOOK_FILE,
    PANELS_FILE,
    FileSystem,
    add_entry,
    append_outcome,
    append_panels,
    entry_of_job,
    job_reader,
    load_job,
    not_saved,
    put,
    read_book,
    read_panels,
    seal,
    write_book,
    write_measured,
)
from prepadvisor.planning import advise
from prepadvisor.records import (
    Advice,
    BadInputError,
    BookColour,
    Colour,
    ColourRecord,
    Fault,
    Outcome,
    PanelRow,
    key_of,
)

if TYPE_CHECKING:
    from prepadvisor.cards.page.pages import Pages
    from prepadvisor.standards import House

HTML: Final = ".html"
_JOBS_MOST: Final = 2_000
_LOOKED_AT: Final = 20_000
"""Bytes of a file that are looked at for whether it is a job."""
_DEMO: Final = Fault("demo", 0, 0, "nothing is written", "open the screens without --demo")


class FinishedJob(NamedTuple):
    """A job of the folder: its file, number and colour, vehicle, and how many places were reported on."""

    path: str
    says: str
    vehicle: str
    reports: int


class OwnDesk:
    """The record of the house the screens work by.

    Args:
        house: the house in force.
        folder: where the shop's jobs are.
        clock: tells the time.
        read_only: whether the open job is a demo; nothing is written then.
    """

    def __init__(
        self, house: "House", folder: Path, clock: Callable[[], dt.datetime], *, read_only: bool = False
    ) -> None:
        """Start without a fit."""
        self.house = house
        self._folder, self._now, self._read_only = folder, clock, read_only
        self.report: FitReport | None = None

    @property
    def home(self) -> Path:
        """The house folder that is written to: the topmost.

        Raises:
            BadInputError: the screens work by the shipped standards alone.
        """
        if not self.house.folders:
            mend = "prepadvisor standards new OURS makes one; then prepadvisor bench --house OURS"
            raise BadInputError([Fault("no house folder", 0, 0, "this belongs to a shop's own house", mend)])
        return Path(self.house.folders[-1])

    @property
    def _writable(self) -> Path:
        if self._read_only:
            raise BadInputError([_DEMO])
        return self.home

    @property
    def jobs(self) -> list[str]:
        """The shop's jobs that can be read."""
        return [job.path for job in self.finished()]

    def today(self) -> dt.date:
        """Return the day."""
        return self._now().date()

    def panels(self) -> list[PanelRow]:
        """Return the rows of the house's table. Raises BadInputError with every fault of it."""
        path = self.home / PANELS_FILE
        return read_panels(path, self.today()) if path.is_file() else []

    def panels_stamp(self) -> tuple[int, int]:
        """Return what changes with the house's table: its time and size; (0, 0) without one."""
        try:
            stat = (self.home / PANELS_FILE).stat()
        except (BadInputError, OSError):
            return (0, 0)
        return (stat.st_mtime_ns, stat.st_size)

    def add_panel(self, cells: Mapping[str, str]) -> list[PanelRow]:
        """Add a test panel to the house's table and return all rows. Raises BadInputError with its faults."""
        return append_panels(self._writable / PANELS_FILE, [cells], self.today(), cells.get("by", ""))

    def records(self, told: FitTold) -> dict[str, ColourRecord]:
        """Return what panels and jobs say of each colour. Raises BadInputError with every fault."""
        return colour_records(self.house, self.home / PANELS_FILE, self.jobs, self._now(), told=told)

    def put_colour(self, entry: BookColour, *, new: bool) -> str:
        """Put an entry into the book; return what a person should know. Raises BadInputError."""
        path = self._writable / BOOK_FILE
        if new:
            add_entry(path, entry)
            return f"√ {entry.book} is in the book, not sealed yet: S seals it"
        done = write_book(path, [entry])
        return f"{entry.book}: its seal is off, it stood for the value before" if done.unsealed else ""

    def put_job_colour(self, colour: Colour, job: str) -> str:
        """Put a job's colour into the book, unsealed; return what was done. Raises BadInputError."""
        return self.put_colour(entry_of_job(colour, job), new=True)

    def seal(self, word: str, by: str) -> str:
        """Seal an entry and return what was done. Raises BadInputError."""
        path, key = self._writable / BOOK_FILE, key_of(word)
        if key in self.house.book and key not in read_book(path):  # it stands in a layer below: ours tops it
            add_entry(path, self.house.book[key].model_copy(update={"sealed_by": "", "sealed_on": None}))
        sealed = seal(path, word, by, self.today(), self.house.shop.leads)
        return f"√ {sealed.book} sealed by {sealed.sealed_by}"

    def fit(self, count: int, told: FitTold) -> FitReport:
        """Fit the house's panels and jobs. Raises BadInputError with every fault."""
        path, folders = self.home / PANELS_FILE, self.house.folders
        table = str(path) if path.is_file() else None
        return fitted_report(table, self.jobs, folders, count, self._now(), check=True, told=told)

    def put_in_force(self) -> str:
        """Write the numbers of the fit into the house; return what was done. Raises BadInputError."""
        if self.report is None:
            return ""
        after = self.report.in_force
        written = write_measured(self._writable, after.constants, after.shop, after.changed, self._now())
        names = ", ".join(path.name for path in written)
        return f"√ in force: {names}; the version before is in earlier" if written else "no number has a row"

    def write_page(self, *, plan: bool) -> Path:
        """Write the report of the fit, or its spray plan, as a page into the house; return its path.

        Raises:
            BadInputError: there is no fit, or the folder cannot be written to.
        """
        if self.report is None:
            raise BadInputError([Fault("fit", 0, 0, "there is no fit to write", "R makes it")])
        if plan and not self.report.chosen:
            raise BadInputError([Fault("fit", 0, 0, "no panel is chosen yet", "X chooses some")])
        path = self._writable / f"{'spray-plan' if plan else 'fit'}-{self.today().isoformat()}{HTML}"
        pages: Pages = plan_pages(self.report.chosen) if plan else fit_pages(fit_facts(self.report))
        try:
            put(path, html_card(pages).encode(), FileSystem(), keep_previous=False)
        except OSError as error:
            raise not_saved(path, error) from error
        return path

    def outcomes(self, told: FitTold) -> tuple[list[FinishedJob], Gathered]:
        """Return the folder's jobs, and what became of them."""
        jobs = self.finished()
        became = gathered([job.path for job in jobs], self.house, lambda done, of: told("jobs", done, of))
        return jobs, became

    def finished(self) -> list[FinishedJob]:
        """Return the jobs of the folder that can be read, those without a report last."""
        found = []
        for path in _jobs_of(self._folder):
            try:
                job = load_job(path, self.house)
            except BadInputError:
                continue
            says = "  ".join(part for part in (job.job.number, job.colour.name) if part)
            found.append(FinishedJob(path, says, job.job.vehicle, len(job.outcome)))
        return found

    def advice(self, path: str) -> Advice:
        """Return the advice for a job of the folder, for its places. Raises BadInputError."""
        return advise(load_job(path, self.house), self.house)

    def add_outcome(self, path: str, place: str, by: str, note: str, *, seen: bool) -> str:
        """Add an outcome to a job's file; return what was done. Raises BadInputError."""
        if self._read_only:
            raise BadInputError([_DEMO])
        panel, _, feature = place.partition("/")
        at = self._now().replace(microsecond=0)
        outcome = Outcome(at=at, by=by, panel=panel, feature=feature, seen=seen, note=note)
        append_outcome(Path(path), outcome, reads=job_reader(self.house))
        return f"√ {Path(path).name}: {place} {'lines seen' if seen else 'no lines'}"


def _is_job(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return b"[job]" in file.read(_LOOKED_AT)
    except OSError:  # a folder, or nothing that may be read
        return False


def _jobs_of(folder: Path) -> list[str]:
    """Return the job files of a folder and of those in it, two deep: the screens may be opened anywhere."""
    found: list[str] = []
    for pattern in ("*.toml", "*/*.toml", "*/*/*.toml"):
        for path in sorted(folder.glob(pattern)):
            hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
            if not hidden and _is_job(path):
                found.append(str(path))
            if len(found) >= _JOBS_MOST:
                return found
    return found
