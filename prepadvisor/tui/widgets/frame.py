"""What frames every screen: the two lines on top, the note, and the rail of plates along the foot."""

from typing import Final

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Static

from prepadvisor.records import NamedTuple
from prepadvisor.tui.model import plain, shortened
from prepadvisor.tui.widgets.scrolled import Inked, Piece, strip_of

# The rail of large plates along the foot of every screen: each key that matters, as a large button.

PLATE_WIDTH: Final = 12
"""Columns of the smallest plate; a gloved finger needs about that."""
ONWARD: Final = " ►"
"""After the name of the next view, where there is room for it."""


_KEY_NAMES: Final = {"/": "slash", "+": "plus", "-": "minus", "PgUp": "pageup", "PgDn": "pagedown"}


def key_name(key: str) -> str:
    """Return a key as bindings name it: "plus" for "+", "f2" for "F2", "s,S" for S, caps lock or not."""
    if len(key) == 1 and key.isalpha():
        return f"{key.lower()},{key.upper()}"
    return _KEY_NAMES.get(key, key.lower())


class Act(NamedTuple):
    """One thing that can be done: key, label, the action that does it, and longer words for menu and help."""

    key: str
    label: str
    action: str
    says: str = ""


class Rail(Inked):
    """Plates side by side; those that do not fit are in the menu, which is always the first plate."""

    DEFAULT_CSS = """
    Rail { height: 3; dock: bottom; }
    """

    class Pressed(Message):
        """A plate was pressed."""

        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    def __init__(self, name: str | None = None) -> None:
        """Make an empty rail."""
        super().__init__(name)
        self.acts: tuple[Act, ...] = ()
        self.last: tuple[Act, ...] = ()

    def show(self, acts: tuple[Act, ...], last: tuple[Act, ...] = ()) -> None:
        """Show plates, most important first; those in `last` always stay, at the right."""
        if (acts, last) != (self.acts, self.last):
            self.acts, self.last = acts, last
            self.refresh()

    @property
    def plates(self) -> list[tuple[int, int, Act]]:
        """The plates that fit: first column, width, and act."""
        plain = tuple(act._replace(label=act.label.removesuffix(ONWARD)) for act in self.last)
        fits, bare = self._fitting(self.last), self._fitting(plain)
        acts = (*self.acts[: max(bare, 1)], *(plain if bare > fits else self.last))
        least = [_least(act) for act in acts]
        width = self.size.width // max(len(acts), 1)
        wide = [max(width, each) for each in least] if sum(least) <= self.size.width else [width] * len(acts)
        while (over := sum(wide) - self.size.width) and acts:  # columns are given and taken one by one
            step = -1 if over > 0 else 1
            at = max(range(len(acts)), key=lambda at: (wide[at] - least[at]) * -step)
            wide[at] += step
        plates, at = [], 0
        for act, own in zip(acts, wide, strict=True):
            plates.append((at, own, act))
            at += own
        return plates

    def _fitting(self, last: tuple[Act, ...]) -> int:
        """Return how many plates fit before some others."""
        fits, room = 0, self.size.width - sum(_least(act) for act in last)
        while fits < len(self.acts) and (room := room - _least(self.acts[fits])) >= 0:
            fits += 1
        return fits

    def render_line(self, y: int) -> Strip:
        """Draw one of the three rows."""
        pieces: list[Piece] = []
        for _, wide, act in self.plates:
            if y == 0:
                key = f" {act.key} "
                pieces += [
                    Piece("┌─", "plate"),
                    Piece(key, "plate-key"),
                    Piece("─" * (wide - 3 - len(key)) + "┐", "plate"),
                ]
            elif y == 1:
                label = act.label[: wide - 2]
                pieces.append(Piece(f"│{label:^{wide - 2}}│", "plate"))
            else:
                pieces.append(Piece("└" + "─" * (wide - 2) + "┘", "plate"))
        return strip_of(self, pieces, self.size.width)

    def on_click(self, event: events.Click) -> None:
        """Press the plate under the finger."""
        for start, wide, act in self.plates:
            if start <= event.x < start + wide:
                self.post_message(self.Pressed(act.action))


def _least(act: Act) -> int:
    """Return the columns that a plate takes at least, for a gloved finger and for its words."""
    return max(PLATE_WIDTH, len(act.label) + 2, len(act.key) + 6)


# The note above the rail: what just happened, or why it did not; it stays until the next thing happens.


class Note(Static):
    """One to three lines of words. A refusal starts with a sign and is bold; nothing vanishes by itself."""

    DEFAULT_CSS = """
    Note { height: auto; max-height: 3; padding: 0 1; }
    """

    def __init__(self, name: str | None = None) -> None:
        """Make a blank note."""
        super().__init__(Text(""), id=name)
        self.says = self._hint = ""
        self._shown: str | None = None

    def say(self, words: str, refused: bool = False) -> None:
        """Show words; for an empty text the hint of what has the focus."""
        self.says = f"▲ {words}" if refused and words else words
        self.set_class(refused and bool(words), "-refused")
        self._put()

    def hint(self, words: str) -> None:
        """Show what the keys do where the focus is, as long as nothing else is said."""
        self._hint = words
        self._put()

    def _put(self) -> None:
        text = self.says or self._hint
        if text == self._shown:
            return
        self._shown = text
        self.display = bool(text)
        self.set_class(not self.says, "-hint")
        self.update(Text(plain(text)))


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
        super().__init__(name)
        self.title: tuple[str, ...] = ()
        self.state = ""
        self.way: tuple[Stop, ...] = ()
        self.now = ""

    def show(self, title: tuple[str, ...], state: str, way: tuple[Stop, ...] = (), now: str = "") -> None:
        """Show the job's title, most important part first, how it is kept, the way and the present stop."""
        if (title, state, way, now) != (self.title, self.state, self.way, self.now):
            self.title, self.state, self.way, self.now = title, state, way, now
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one of the two lines."""
        width = self.size.width
        if y == 0:
            state = f" {plain(self.state)} "
            title = shortened(self._title(width - cell_len(state)), max(width - cell_len(state), 8))
            gap = max(width - cell_len(title) - cell_len(state), 0)
            return strip_of(self, [Piece(title + " " * gap + state, "bar")], width, "bar")
        return strip_of(self, [piece for _, piece in self._stops()], width)

    def _title(self, room: int) -> str:
        """Return as many parts of the title as there is room for."""
        for count in range(len(self.title), 1, -1):
            title = f" {plain('  '.join(self.title[:count]))}"
            if cell_len(title) <= room:
                return title
        return f" {plain('  '.join(self.title[:1]))}"

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
