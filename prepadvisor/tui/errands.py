"""The errands screens send the app on: open a job, write a card, read standards, show where jobs stand."""

import datetime as dt
from collections.abc import Callable, Iterable
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING, Final

from prepadvisor.files import NotSavedError, load_job
from prepadvisor.records import FORMS, BadInputError
from prepadvisor.tui.model import RefusedError
from prepadvisor.tui.screens.wishes import FreshWanted, StartChosen, WriteWanted

if TYPE_CHECKING:
    from prepadvisor.cards import DayJob, Load
    from prepadvisor.standards import House
    from prepadvisor.tui.editing import Editing
    from prepadvisor.tui.ending import CarefulApp
    from prepadvisor.tui.starts import Start

# The faults of a file in the few words that fit a note.


def fault_words(error: BadInputError) -> str:
    """Return the first faults of a file for the note."""
    more = len(error.faults) - 2
    shown = [str(fault._replace(file=Path(fault.file).name)) for fault in error.faults[:2]]
    return "; ".join(shown) + (f"; and {more} more" if more > 0 else "")


# The lines of a folder's jobs, worked out a few at a time and kept until a file changes.

AT_ONCE_SECONDS: Final = 0.03
"""How long the screen may be kept waiting for more lines."""

_Stamp = tuple[int, int]


class DayBoard:
    """Job lines by path; one is worked out anew where its file or the house changed, or an hour passed."""

    def __init__(self) -> None:
        """Start with no lines."""
        self._known: dict[str, tuple[_Stamp, int, int, DayJob]] = {}

    def lines(self, paths: Iterable[str]) -> dict[str, "DayJob"]:
        """Return the lines there are."""
        return {path: self._known[path][3] for path in paths if path in self._known}

    def work(self, paths: Iterable[str], load: "Load", house: "House", now: dt.datetime) -> bool:
        """Work out lines that lack or are old, for a moment only; say whether any line is new.

        Args:
            paths: the job files on the screen.
            load: reads one.
            house: the standards.
            now: the present time.
        """
        from prepadvisor.cards import job_line

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


class Errands:
    """Runs the errands that screens ask of the app, and tells them how they went."""

    def __init__(self, app: "CarefulApp", editing: "Editing") -> None:
        """Start with an empty board of the day."""
        self._app, self._desk, self._editing = app, app.desk, editing
        self.board = DayBoard()

    def show_starts(self) -> None:
        """Show on the opening what one can start with."""
        from prepadvisor.tui.screens.opening import Opening

        if isinstance(self._app.screen, Opening):
            starts = self._desk.starts()
            paths = [start.ident for start in starts if start.kind == "recent"]
            self._app.screen.show(starts, self._desk.free_number(), self.board.lines(paths))
            self._app.screen.is_filled = True
            self._app.call_after_refresh(self.work_on_board, starts, paths)

    def work_on_board(self, starts: list["Start"], paths: list[str]) -> None:
        """Work out where jobs stand, a few at a time, as long as the opening is on."""
        from prepadvisor.tui.screens.opening import Opening

        if not isinstance(self._app.screen, Opening):
            return
        house = self._desk.house
        if self.board.work(paths, lambda path: load_job(path, house), house, self._desk.now()):
            self._app.screen.show(starts, self._desk.free_number(), self.board.lines(paths))
            self._app.call_after_refresh(self.work_on_board, starts, paths)

    async def start(self, event: StartChosen) -> None:
        """Open what was chosen on the opening."""
        start = event.start
        if start.kind == "recovery":
            await self.begin(lambda: self._desk.recover(start.ident))
        else:
            await self.begin(lambda: self._desk.open(Path(start.ident), read_only=start.kind == "demo"))

    async def begin(
        self, open_it: Callable[[], str | None], again: Callable[[str], None] | None = None
    ) -> None:
        """Open a job and go to the view it was left in; what is wrong with it is told where one is.

        `again` asks once more for what was refused, with the fault.
        """
        self._editing.finish()
        try:
            told = open_it()
        except (BadInputError, RefusedError) as error:
            if again is not None:
                again(fault_words(error) if isinstance(error, BadInputError) else str(error))
            if isinstance(error, BadInputError):
                self.tell_faults("This job file cannot be opened", error)
            else:
                self._app.say(str(error), refused=True)
            return
        if self._desk.session is not None:
            await self._app.switch_screen(self._desk.session.view)
            self._editing.serve()
            self._app.say(told or "")

    def tell_faults(self, title: str, error: BadInputError) -> None:
        """Show every fault of a file on a page, and the first of them in the note, where they stay."""
        from prepadvisor.tui.dialogs import Page

        self._app.say(fault_words(error), refused=True)
        faults = error.faults
        count = f"{len(faults)} fault{'s' if len(faults) != 1 else ''}"
        self._app.push_screen(Page(f"{title}: {count}", "\n\n".join(str(fault) for fault in faults)))

    def show_wall(self) -> None:
        """Show the wall table of the standards in force, as wide as the window lets it be."""
        from prepadvisor.cards.wall import wall, wall_says
        from prepadvisor.tui.dialogs import Page

        if not isinstance(self._app.screen, Page):
            words = wall_says(wall(self._desk.house), Page.columns_of(self._app.size.width))
            self._app.push_screen(Page("What each flake asks for", words, keep=True))

    def write(self, event: WriteWanted) -> None:
        """Write a card and tell where."""
        try:
            path = self._desk.write_card(event.form, event.paper)
        except (NotSavedError, RefusedError) as error:
            self._app.say(str(error), refused=True)
            return
        self._app.say(f"√ written: {path}   {FORMS[event.form].prints.format(path.name)}")

    def refresh(self, event: FreshWanted) -> None:
        """Read the standards again; faults are told, and the standards in force stay."""
        try:
            told = self._desk.fresh_house(event.folders)
        except BadInputError as error:
            self._editing.serve()
            if event.asked:
                self.tell_faults("Standards not taken over", error)
            else:
                self._app.say(
                    f"standards not taken over: {fault_words(error)}; R shows every fault", refused=True
                )
            return
        self._editing.serve()
        if told or event.asked or event.says:
            self._app.say(event.says or told or "no file has changed")
