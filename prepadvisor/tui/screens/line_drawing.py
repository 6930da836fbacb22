"""Draws a line by pointing: arrows or a finger move the cross, a press puts a point, it gets its kind."""

from collections.abc import Callable

from textual.screen import ModalScreen

from prepadvisor.records import LINE_KINDS, Panel
from prepadvisor.tui.dialogs import Choice, ask_choice
from prepadvisor.tui.model import Pointing, Session, add_line
from prepadvisor.tui.screens.view import FieldsView, put
from prepadvisor.tui.widgets import Act, PanelDrawing
from prepadvisor.wording import KIND

DRAWING_ACTS = (
    Act("Space", "Point", "point"),
    Act("Enter", "Finish", "finish"),
    Act("X", "Give up", "give_up"),
)

Grow = Callable[[Panel], tuple[Panel, str]]


class LineDrawing(FieldsView):
    """A view on which a path can be drawn."""

    def __init__(self) -> None:
        """Start without a path."""
        super().__init__()
        self._session: Session | None = None
        self._pointing = Pointing()
        self._added = ""

    def on_screen_suspend(self) -> None:
        """Forget a path that was being drawn: it belongs to the panel and view it was begun on."""
        if self._pointing.is_on and not isinstance(self.app.screen, ModalScreen):
            self._pointing = Pointing()

    def action_draw(self) -> None:
        """Start drawing a line."""
        if self._panel is None:
            return
        self._pointing = Pointing(cross=(0.5, 0.5))
        self.set_focus(self.query_one(PanelDrawing))
        self._show_again()
        self.say("Arrows: the cross ┼; Space: a point; Enter: finish; X: give up")

    def action_point(self) -> None:
        """Put a point of the path at the cross."""
        if self._pointing.is_on:
            self._pointing = self._pointing.pointed()
            self._show_again()

    def action_finish(self) -> None:
        """Ask what kind of line it is, and add it."""
        if not self._pointing.is_on:
            return
        if len(self._pointing.points) < 2:
            self.say("a line needs two points or more: Space puts one at the cross", refused=True)
            return
        ask_choice(self, "What was drawn?", [Choice(kind, KIND[kind]) for kind in LINE_KINDS], self._drawn)

    def action_give_up(self) -> None:
        """Forget the path being drawn."""
        self._pointing = Pointing()
        self.say("")
        self._show_again()

    def _drawn(self, kind: str) -> None:
        path = self._pointing.points
        self._pointing = Pointing()
        self._add(f"add {KIND[kind]}", lambda panel: add_line(panel, kind, path))
        self.set_focus(self.query_one(self.first_focus()))

    def _add(self, name: str, grow: Grow, then: Callable[[], None] | None = None) -> None:
        session = self._session
        if session is None:
            return

        def make(panel: Panel) -> Panel:
            grown, self._added = grow(panel)
            return grown

        panel_id = session.panel_id

        def added() -> None:
            session.select(panel_id, self._added)
            if then is not None:
                then()

        put(self, session, name, make, then=added)

    def _show_again(self) -> None:
        if self._session is not None:
            self.show(self._session)

    @property
    def _panel(self) -> Panel | None:
        return self._session.panel if self._session else None
