"""Ask for some of several things: each has a box; in an ordered list one key takes all from here on."""

from collections.abc import Iterable
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from prepadvisor.tui.dialogs.choose import KEYS
from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.rail import Act, Rail, key_name
from prepadvisor.tui.widgets.rows import Row, Rows

_FRAME_AND_RAIL = 7


class ChooseSeveral(Dialog[tuple[int, ...] | None]):
    """A list of boxes. Answers with the places of those that are ticked, none of them included."""

    help_words: ClassVar[str] = (
        "Space, a touch or the key at the left of a line ticks its box, and takes the tick away again. "
        "Enter takes what is ticked; nothing ticked drops the condition. + ticks all from the arrow on. "
        "Esc goes back and changes nothing."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("enter", "take", "take", show=False, priority=True),
        Binding("plus", "onward", "onward", show=False),
    ]

    def __init__(self, title: str, says: list[str], ticked: Iterable[int], onward: str = "") -> None:
        """Ask under a title; `onward` is what + is called, empty where the list has no order."""
        super().__init__()
        self._title, self._says, self._onward = title, says, onward
        self._ticked = set(ticked)
        self._keys = KEYS.upper()[: len(says)].ljust(len(says))
        for at, key in enumerate(self._keys):
            if key.strip():
                self._bindings.bind(key_name(key), f"tick({at})", show=False)

    def compose(self) -> ComposeResult:
        """Lay out title, boxes and plates."""
        with Vertical(classes="dialog choices") as box:
            yield Static(Text(plain(self._title)), classes="dialog-title")
            rows = Rows(touch_picks=True, most_lines=1)
            rows.styles.height = "1fr"
            yield rows
            yield Rail()
        box.styles.height = len(self._says) + _FRAME_AND_RAIL
        box.styles.width = 60

    def on_mount(self) -> None:
        """Fill the list."""
        self._show()
        self.set_focus(self.query_one(Rows))
        acts = [Act("Esc", "Back", "leave"), Act("Space", "Tick", "tick_here")]
        acts += [Act("+", self._onward, "onward")] if self._onward else []
        self.query_one(Rail).show((*acts, Act("Enter", "Take them", "take")))

    @on(Rows.Picked)
    def _picked(self, event: Rows.Picked) -> None:
        self.action_tick(int(event.row_id))

    def action_tick(self, at: int) -> None:
        """Tick a box, or take the tick away."""
        self._ticked ^= {at}
        self._show()

    def action_tick_here(self) -> None:
        """Tick the box under the arrow, or take the tick away."""
        self.query_one(Rows).action_pick()

    def action_onward(self) -> None:
        """Tick all boxes from the arrow on."""
        if self._onward:
            self._ticked = set(range(int(self.query_one(Rows).current), len(self._says)))
            self._show()

    def action_take(self) -> None:
        """Answer with what is ticked."""
        self.answer(tuple(sorted(self._ticked)))

    def action_leave(self) -> None:
        """Leave without an answer."""
        self.answer(None)

    def _show(self) -> None:
        self.query_one(Rows).show(
            [
                Row(str(at), says, mark=f"{key} {'[x]' if at in self._ticked else '[ ]'}")
                for at, (key, says) in enumerate(zip(self._keys, self._says, strict=True))
            ]
        )
