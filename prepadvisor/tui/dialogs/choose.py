"""Ask for one of several things; digits and letters choose at once."""

from typing import ClassVar, Final

from rich.cells import cell_len
from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from prepadvisor.named import NamedTuple
from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.rail import Act, Rail, key_name
from prepadvisor.tui.widgets.rows import Row, Rows

KEYS: Final = "123456789abcdefghijklmnopqrstuvwxyz"
"""Keys of the choices, in order, where a choice has none of its own."""


_WIDEST: Final = 72
_NARROWEST: Final = 36
_FRAME_AND_RAIL: Final = 5
"""Lines of a dialog beside its words and its choices."""


class Choice(NamedTuple):
    """One thing to choose: its id, its words, more words under it, and its own key if it has one."""

    ident: str
    says: str
    more: str = ""
    key: str = ""


class Choose(Dialog[str | None]):
    """A list of choices, each with its key. Answers with the chosen id."""

    help_words: ClassVar[str] = (
        "The key at the left of a line takes it at once; arrows move, Enter or a touch takes. Esc goes back "
        "and changes nothing."
    )
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "leave", show=False)]

    def __init__(self, title: str, choices: list[Choice], now: str = "", told: str = "") -> None:
        """Ask for one of `choices`; the cursor starts at the id `now`, `told` is said under the title."""
        super().__init__()
        self._title = title
        self._choices = choices
        self._now = now
        self._told = told
        free = iter(key for key in KEYS.upper() if key not in {choice.key for choice in choices})
        self._keys = [choice.key or next(free, " ") for choice in choices]
        self._key_width = max((len(key) for key in self._keys), default=1)
        for at, key in enumerate(self._keys):
            if key.strip():
                self._bindings.bind(key_name(key), f"choose({at})", show=False)

    def compose(self) -> ComposeResult:
        """Lay out title, choices and the plate that leaves."""
        told_more = any(choice.more for choice in self._choices)
        row_lines = 2 if told_more else 1
        with Vertical(classes="dialog choices") as box:
            yield Static(Text(plain(self._title)), classes="dialog-title")
            told = "\n".join(plain(line) for line in self._told.splitlines())
            if told:
                yield Static(Text(told), classes="dialog-help")
            rows = Rows(row_lines=row_lines, touch_picks=True, most_lines=row_lines)
            rows.styles.height = "1fr"
            yield rows
            yield Rail()
        texts = [self._title, *told.splitlines()]
        texts += [f"{choice.says}{' ' * (self._key_width + 6)}" for choice in self._choices]
        texts += [f"{choice.more}{' ' * (self._key_width + 6)}" for choice in self._choices]
        wide = min(max(cell_len(text) for text in texts), _WIDEST)
        above = 1 + sum(1 + cell_len(line) // wide for line in told.splitlines())
        box.styles.width = max(wide, _NARROWEST) + 4
        box.styles.height = len(self._choices) * row_lines + above + _FRAME_AND_RAIL

    def on_mount(self) -> None:
        """Fill the list."""
        rows = self.query_one(Rows)
        rows.show(
            [
                Row(choice.ident, choice.says, choice.more, mark=f"{key:<{self._key_width}}")
                for key, choice in zip(self._keys, self._choices, strict=True)
            ],
            self._now,
        )
        self.query_one(Rail).show((Act("Esc", "Back", "leave"), Act("Enter", "Take it", "take")))
        self.set_focus(rows)

    @on(Rows.Picked)
    def _picked(self, event: Rows.Picked) -> None:
        self.answer(event.row_id)

    def action_choose(self, at: int) -> None:
        """Answer with the choice of a key."""
        self.answer(self._choices[at].ident)

    def action_take(self) -> None:
        """Answer with the choice under the cursor."""
        self.answer(self.query_one(Rows).current)

    def action_leave(self) -> None:
        """Leave without an answer."""
        self.answer(None)
