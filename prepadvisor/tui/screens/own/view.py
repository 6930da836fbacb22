"""What the views of the shop's own numbers share: their way, their desk, and how faults are told."""

from collections.abc import Callable
from time import monotonic
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypeVar

from textual import on
from textual.message import Message
from textual.worker import get_current_worker

from prepadvisor.records import BadInputError
from prepadvisor.tui.keys import AS_BUILT, Keys
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.view import FieldsView
from prepadvisor.tui.screens.wishes import FaultsFound, FreshWanted
from prepadvisor.tui.widgets import Rail, Stop

if TYPE_CHECKING:
    from prepadvisor.cards import FitStage, FitTold
    from prepadvisor.tui.model import Session

_Found = TypeVar("_Found")

_STAGES: Final["dict[FitStage, str]"] = {
    "jobs": "reading our jobs",
    "fit": "fitting",
    "next": "choosing panels",
    "replay": "our jobs by the numbers found",
}
_TELL_SECONDS: Final = 0.1


class _GivenUpError(Exception):
    """Nobody waits for this any more."""


class OwnView(FieldsView):
    """A view over the shop's own record. What it writes is in the house's files when it says so."""

    way: ClassVar[tuple[Stop, ...]] = OWN_WAY
    no_undo: ClassVar[str] = (
        "what is written here stays: a colour is changed again, a row of panels is taken out by hand"
    )

    class Worked(Message):
        """Long work has come to an end, with what was found, or its faults."""

        def __init__(self, at: int, found: Any) -> None:
            super().__init__()
            self.at, self.found = at, found

    class Underway(Message):
        """Long work has come so far."""

        def __init__(self, at: int, says: str) -> None:
            super().__init__()
            self.at, self.says = at, says

    def __init__(self) -> None:
        """Start without a desk."""
        super().__init__()
        self._works = 0
        self._then: Callable[[Any], None] | None = None
        self._work_title = ""
        self._session: Session | None = None
        self._desk: OwnDesk | None = None

    def show(self, session: "Session") -> None:
        """Take the house that is in force now, and fill the view."""
        fresh = self._desk is None or session is not self._session or self._desk.house is not session.house
        if fresh:
            kept = self._desk.report if self._desk is not None else None
            self._desk = OwnDesk(session.house, session.folder, session.now, read_only=session.is_demo)
            self._desk.report = kept
        self._session = session
        if self._desk is not None:
            self.fill(self._desk, fresh=fresh)

    def fill(self, desk: OwnDesk, *, fresh: bool) -> None:
        """Fill the view's widgets; `fresh` says that house or job are others than before."""

    def show_frame(self, title: tuple[str, ...], state: str, undo_name: str, keys: Keys = AS_BUILT) -> None:
        """Show head and rail; how the open job is kept does not matter here."""
        demo = self._session is not None and self._session.is_demo
        super().show_frame(title, state if demo else "", undo_name, keys)
        rail = self.query_one(Rail)
        rail.show(rail.acts, rail.last[-1:])  # nothing is undone here

    def head_words(self, title: tuple[str, ...]) -> tuple[str, ...]:
        """Say whose record it is."""
        house = self._session.house.folder if self._session is not None else ""
        return (f"OWN NUMBERS of {house}",) if house else ("OWN NUMBERS: no house folder yet", *title)

    def tried(self, do: Callable[[OwnDesk], _Found], title: str = "Not saved") -> _Found | None:
        """Return what comes of something, or None with every fault told."""
        if self._desk is None:
            return None
        try:
            return do(self._desk)
        except BadInputError as error:
            self._tell(error, title)
            return None

    def _tell(self, error: BadInputError, title: str) -> None:
        if len(error.faults) > 1:
            self.post_message(FaultsFound(title, error))
        else:
            fault = error.faults[0]
            self.say("; ".join(part for part in (fault.says, fault.mend) if part), refused=True)

    @property
    def is_at_work(self) -> bool:
        """Whether something long is being worked out."""
        return self._then is not None

    def work(
        self, do: "Callable[[OwnDesk, FitTold], _Found]", then: Callable[[_Found | None], None], title: str
    ) -> None:
        """Work something long out beside the screens, which stay alive; older work that goes on is given up.

        Args:
            do: the work; it tells how far it is.
            then: takes what was found, None where there were faults, which are told.
            title: over its faults.
        """
        desk = self._desk
        if desk is None:
            return
        self._works += 1
        self._then, self._work_title = then, title
        at = self._works

        def beside() -> None:
            worker, last = get_current_worker(), monotonic()

            def told(stage: "FitStage", done: int, of: int) -> None:
                nonlocal last
                if worker.is_cancelled:
                    raise _GivenUpError
                if monotonic() - last >= _TELL_SECONDS:
                    last = monotonic()
                    so_far = f" {done} of {of}" if of > 1 else ""
                    self.post_message(self.Underway(at, f"{_STAGES[stage]}{so_far} …"))

            found: _Found | BadInputError
            try:
                found = do(desk, told)
            except _GivenUpError:
                return
            except BadInputError as error:
                found = error
            self.post_message(self.Worked(at, found))

        self.run_worker(beside, thread=True, exclusive=True, group="long")

    @on(Underway)
    def _underway(self, event: Underway) -> None:
        if event.at == self._works and self.is_at_work:
            self.underway(event.says)

    @on(Worked)
    def _worked(self, event: Worked) -> None:
        then = self._then
        if event.at != self._works or then is None:
            return
        self._then = None
        if isinstance(event.found, BadInputError):
            self._tell(event.found, self._work_title)
            then(None)
        else:
            then(event.found)

    def underway(self, says: str) -> None:
        """Show how far the work is; the note keeps what it says."""

    def read_again(self, says: str) -> None:
        """Have the house read again, so that what was written counts at once; then say what it was."""
        self.post_message(FreshWanted(asked=False, says=says))
