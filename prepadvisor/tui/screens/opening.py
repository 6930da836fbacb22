"""Opening: go on where the work was left, take up what a crash left behind, start a job, or see a demo."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message
from textual.screen import Screen

from prepadvisor.tui.screens.asking import ask_text
from prepadvisor.tui.screens.view import bound
from prepadvisor.tui.starts import Start
from prepadvisor.tui.widgets.head import Head
from prepadvisor.tui.widgets.note import Note
from prepadvisor.tui.widgets.rail import Act, Rail
from prepadvisor.tui.widgets.rows import Row, Rows

ACTS = (
    Act("N", "New job", "ask_new"),
    Act("O", "Open file", "ask_file"),
    Act("F8", "Standards", "app.go('standards')"),
    Act("F1", "Help", "app.help"),
    Act("Q", "Leave", "app.leave"),
)


class Opening(Screen[None]):
    """The first screen."""

    title_words: ClassVar[str] = "Opening"
    help_words: ClassVar[str] = """\
N starts a new job: give it a number, then go on with colour, panels, lines, answer, check-off and card.

Enter opens the job under the arrow, at the view it was left in. A job marked ▲ was not saved when the program
ended; opening it brings back every change. A demo shows how a finished job looks; nothing you do there is
written.

This program helps to prepare. Makers' sheets, local codes and licensed practice come first."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    class NewWanted(Message):
        """A new job with a number is wanted."""

        def __init__(self, number: str) -> None:
            super().__init__()
            self.number = number

    class FileWanted(Message):
        """A job file is to be opened."""

        def __init__(self, path: str) -> None:
            super().__init__()
            self.path = path

    class Chosen(Message):
        """Something to start with was chosen."""

        def __init__(self, start: Start) -> None:
            super().__init__()
            self.start = start

    class Resumed(Message):
        """The screen is on and wants its list."""

    def __init__(self) -> None:
        """Start with an empty list."""
        super().__init__()
        self._starts: dict[str, Start] = {}
        self._number = ""

    def compose(self) -> ComposeResult:
        """Head, list, note and rail."""
        yield Head()
        yield Rows(row_lines=2, name="starts")
        yield Note()
        yield Rail()

    def on_mount(self) -> None:
        """Show the plates."""
        self.query_one(Head).show("prepadvisor: what each place of a blend panel needs before masking", "")
        self.query_one(Note).say("")
        self.query_one(Rail).show(ACTS)
        self.set_focus(self.query_one(Rows))

    def on_screen_resume(self) -> None:
        """Ask for the list."""
        self.post_message(self.Resumed())

    def show(self, starts: Iterable[Start], number: str) -> None:
        """Fill the list; `number` is offered for a new job."""
        self._number = number
        self._starts = {f"{start.kind}:{start.ident}": start for start in starts}
        rows = [Row("new", "Start a new job", "give it a number; colour and panels follow", mark="+")]
        marks = {"recovery": "▲", "recent": "■", "demo": "□"}
        for key, start in self._starts.items():
            ink = "warn" if start.kind == "recovery" else "plain"
            rows.append(Row(key, start.says, start.more, mark=marks[start.kind], ink=ink))
        first = next((row.id for row in rows if row.mark in {"▲", "■"}), "new")
        self.query_one(Rows).show(rows, first)

    def say(self, words: str, refused: bool = False) -> None:
        """Show words above the rail."""
        self.query_one(Note).say(words, refused)

    @on(Rows.Picked)
    def _picked(self, event: Rows.Picked) -> None:
        if event.row_id == "new":
            self.action_ask_new()
        else:
            self.post_message(self.Chosen(self._starts[event.row_id]))

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        await self.run_action(event.action)

    def action_ask_new(self) -> None:
        """Ask for the number of a new job."""
        ask_text(
            self, "Number of the job", self._number, lambda number: self._post(self.NewWanted(number)),
            fault_of=lambda text: "" if text else "a job needs a number: it stands on the card",
        )  # fmt: skip

    def action_ask_file(self) -> None:
        """Ask for a job file."""
        ask_text(self, "Path of the job file", "", lambda path: self._post(self.FileWanted(path)))

    def _post(self, message: Message) -> None:
        self.post_message(message)
