"""The rail of large plates along the foot of every screen: each key that matters, as a large button."""

from typing import Final

from textual import events
from textual.message import Message
from textual.strip import Strip

from prepadvisor.named import NamedTuple
from prepadvisor.tui.widgets.inks import Inked, Piece, strip_of

PLATE_WIDTH: Final = 12
"""Columns of the smallest plate; a gloved finger needs about that."""


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
        super().__init__(id=name)
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
        room = max(self.size.width // PLATE_WIDTH, 1)
        fits = max(room - len(self.last), 1)
        acts = (*self.acts[:fits], *self.last)[:room]
        width, spare = divmod(self.size.width, max(len(acts), 1))
        plates, at = [], 0
        for index, act in enumerate(acts):
            wide = width + (1 if index < spare else 0)
            plates.append((at, wide, act))
            at += wide
        return plates

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

    def on_resize(self) -> None:
        """Lay the plates out again."""
        self.refresh()
