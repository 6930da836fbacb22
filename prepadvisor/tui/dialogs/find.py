"""Find anything by typing: places, panels, rules, jobs and what can be done here; Enter goes there."""

from typing import ClassVar, Final

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.fuzzy import FuzzySearch
from textual.widgets import Input, Static

from prepadvisor.named import NamedTuple
from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.widgets.rail import Act, Rail
from prepadvisor.tui.widgets.rows import Row, Rows
from prepadvisor.tui.widgets.text_field import TextField

_SHOWN_MAX: Final = 40


class Findable(NamedTuple):
    """One thing that can be found: what kind it is, its words, its key if it has one, and where it leads."""

    kind: str
    says: str
    target: str
    key: str = ""


class Find(Dialog[str | None]):
    """A field over a list that narrows as one types. Answers with the target of what was picked."""

    help_words: ClassVar[str] = (
        "Type a few letters of what you look for, in their order: a place by its number or name (A4), "
        "a panel, a rule, a job, or something to be done. Arrows move over what fits, Enter goes there."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "leave", show=False),
        Binding("enter", "take", "take", show=False, priority=True),
        Binding("down", "move(1)", "down", show=False, priority=True),
        Binding("up", "move(-1)", "up", show=False, priority=True),
    ]

    def __init__(self, findables: list[Findable]) -> None:
        """Look among some things."""
        super().__init__()
        self._findables = findables

    def compose(self) -> ComposeResult:
        """Lay out title, field, list and plates."""
        with Vertical(classes="dialog reading"):
            yield Static(Text("Find: place, panel, rule, job, or what to do"), classes="dialog-title")
            yield TextField(max_length=80)
            yield Rows(touch_picks=True, most_lines=1)
            yield Rail()

    def on_mount(self) -> None:
        """Start in the field with everything shown."""
        field = self.query_one(Input)
        field.cursor_blink = False
        self.set_focus(field)
        self.query_one(Rail).show((Act("Esc", "Back", "leave"), Act("Enter", "Go there", "take")))
        self._show("")

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        self._show(event.value)

    @on(Rows.Picked)
    def _picked(self, event: Rows.Picked) -> None:
        self.answer(self._found[int(event.row_id)].target)

    def action_take(self) -> None:
        """Answer with the row under the cursor."""
        current = self.query_one(Rows).current
        self.answer(self._found[int(current)].target if current else None)

    def action_move(self, by: int) -> None:
        """Move over what fits."""
        self.query_one(Rows).action_move(by)

    def action_leave(self) -> None:
        """Leave without an answer."""
        self.answer(None)

    def _show(self, words: str) -> None:
        self._found = found(self._findables, words)[:_SHOWN_MAX]
        rows = [
            Row(str(at), f"{each.says}{f'   [{each.key}]' if each.key else ''}", mark=f"{each.kind:<6}")
            for at, each in enumerate(self._found)
        ]
        self.query_one(Rows).show(rows or [Row("", "nothing fits")], "0")


def found(findables: list[Findable], words: str) -> list[Findable]:
    """Return what fits some letters, the best first; a word that is typed whole comes before all others."""
    words = words.strip().lower()
    if not words:
        return findables
    search = FuzzySearch()
    scored = []
    for at, each in enumerate(findables):
        text = each.says.lower()
        whole = text.split()[:1] == [words] or each.key.lower() == words
        score = search.match(words, text)[0]
        if whole or score > 0:
            scored.append((not whole, -score, at))
    return [findables[at] for _, _, at in sorted(scored)]
