"""What the views of the shop's own numbers share: their way, their desk, and how faults are told."""

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar, TypeVar

from prepadvisor.records import BadInputError
from prepadvisor.tui.keys import AS_BUILT, Keys
from prepadvisor.tui.own_record import OwnDesk
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.standards_wishes import FaultsFound, FreshWanted
from prepadvisor.tui.screens.view import View
from prepadvisor.tui.widgets import Rail, Stop

if TYPE_CHECKING:
    from prepadvisor.tui.model import Session

_Found = TypeVar("_Found")


class OwnView(View):
    """A view over the shop's own record. What it writes is in the house's files when it says so."""

    way: ClassVar[tuple[Stop, ...]] = OWN_WAY
    no_undo: ClassVar[str] = (
        "what is written here stays: a colour is changed again, a row of panels is taken out by hand"
    )

    def __init__(self) -> None:
        """Start without a desk."""
        super().__init__()
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

    def show_frame(self, title: str, state: str, undo_name: str, keys: Keys = AS_BUILT) -> None:
        """Show head and rail; how the open job is kept does not matter here."""
        demo = self._session is not None and self._session.is_demo
        super().show_frame(title, state if demo else "", undo_name, keys)
        rail = self.query_one(Rail)
        rail.show(rail.acts, rail.last[-1:])  # nothing is undone here

    def head_words(self, title: str) -> str:
        """Say whose record it is."""
        house = self._session.house.folder if self._session is not None else ""
        return f"OWN NUMBERS of {house}" if house else f"OWN NUMBERS: no house folder yet; {title}"

    def tried(self, do: Callable[[OwnDesk], _Found], title: str = "Not saved") -> _Found | None:
        """Return what comes of something, or None with every fault told."""
        if self._desk is None:
            return None
        try:
            return do(self._desk)
        except BadInputError as error:
            if len(error.faults) > 1:
                self.post_message(FaultsFound(title, error))
            else:
                fault = error.faults[0]
                self.say("; ".join(part for part in (fault.says, fault.mend) if part), refused=True)
            return None

    def read_again(self, says: str) -> None:
        """Have the house read again, so that what was written counts at once; then say what it was."""
        self.post_message(FreshWanted(asked=False, says=says))
