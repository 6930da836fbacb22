"""The two lines on top of every screen: which job, how it is kept, and where in the work one is."""

from rich.cells import cell_len
from textual import events
from textual.message import Message
from textual.strip import Strip

from prepadvisor.named import NamedTuple
from prepadvisor.tui.model.plain import plain, shortened
from prepadvisor.tui.widgets.inks import Inked, Piece, strip_of


class Stop(NamedTuple):
    """One stop of the way through a job: its key, name and view."""

    key: str
    label: str
    view: str


class Head(Inked):
    """Job line with the state of saving at its right, and the way below it with the present stop marked."""

    DEFAULT_CSS = """
    Head { height: 2; dock: top; }
    """

    class Chosen(Message):
        """A stop of the way was touched."""

        def __init__(self, view: str) -> None:
            super().__init__()
            self.view = view

    def __init__(self, name: str | None = None) -> None:
        """Make a blank head."""
        super().__init__(id=name)
        self.title, self.state = "", ""
        self.way: tuple[Stop, ...] = ()
        self.now = ""

    def show(self, title: str, state: str, way: tuple[Stop, ...] = (), now: str = "") -> None:
        """Show the job's title, how it is kept, the way and the present stop."""
        if (title, state, way, now) != (self.title, self.state, self.way, self.now):
            self.title, self.state, self.way, self.now = title, state, way, now
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one of the two lines."""
        width = self.size.width
        if y == 0:
            state = f" {plain(self.state)} "
            title = shortened(f" {plain(self.title)}", max(width - cell_len(state), 8))
            gap = max(width - cell_len(title) - cell_len(state), 0)
            return strip_of(self, [Piece(title + " " * gap + state, "bar")], width, "bar")
        return strip_of(self, [piece for _, piece in self._stops()], width)

    def on_click(self, event: events.Click) -> None:
        """Go to the stop under the finger."""
        at = 0
        for view, piece in self._stops():
            if at <= event.x < at + len(piece.text) and event.y == 1 and view:
                self.post_message(self.Chosen(view))
            at += len(piece.text)

    def _stops(self) -> list[tuple[str, Piece]]:
        full = [f" {stop.key} {stop.label} " for stop in self.way]
        if sum(map(len, full)) > self.size.width:
            full = [f" {stop.label} " for stop in self.way]
        if sum(map(len, full)) > self.size.width:
            full = [f" {stop.label} " if stop.view == self.now else f" {stop.key} " for stop in self.way]
        stops: list[tuple[str, Piece]] = []
        for stop, text in zip(self.way, full, strict=True):
            here = stop.view == self.now
            stops.append(
                (stop.view, Piece(f"[{text[1:-1]}]" if here else text, "bar-now" if here else "plain"))
            )
        return stops
