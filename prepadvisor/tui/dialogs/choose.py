"""Ask for one or several of many things, or find anything by typing."""

from collections.abc import Iterable
from typing import ClassVar, Final

from rich.cells import cell_len
from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.fuzzy import FuzzySearch
from textual.widgets import Input, Static

from prepadvisor.records import NamedTuple
from prepadvisor.tui.dialogs.ask import Dialog
from prepadvisor.tui.model import plain
from prepadvisor.tui.widgets import Act, Rail, Row, Rows, TextField, key_name

KEYS: Final = "123456789abcdefghijklmnopqrstuvwxyz"
"""Keys of the choices, in order, where a choice has none of its own."""


_WIDEST: Final = 72
_NARROWEST: Final = 36
_AT_THE_SIDES: Final = 6
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
        wide = min(max(cell_len(text) for text in texts), _WIDEST, self.app.size.width - _AT_THE_SIDES)
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


# Ask for some of several things: each has a box; in an ordered list one key takes all from here on.

_AROUND_SEVERAL = 7


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
        box.styles.height = len(self._says) + _AROUND_SEVERAL
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


# Find anything by typing: places, panels, rules, jobs and what can be done here; Enter goes there.

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
            yield Rows(touch_picks=True, most_lines=1, folds=False)
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
