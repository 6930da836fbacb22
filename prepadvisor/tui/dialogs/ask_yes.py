"""Ask yes or no before something that a slip of the finger must not do."""

from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from prepadvisor.tui.dialogs.dialog import Dialog
from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.rail import Act, Rail


class AskYes(Dialog[bool]):
    """A question with its consequence. Answers True only for `y`; Enter alone does nothing."""

    help_words: ClassVar[str] = "Y does it, N or Esc goes back. Enter alone does nothing, against slips."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y,Y", "say(True)", "yes", show=False),
        Binding("n,N,escape", "say(False)", "no", show=False),
    ]

    def __init__(self, question: str, more: str = "", yes: str = "Yes") -> None:
        """Ask `question`; `more` says what follows from a yes, `yes` labels its plate."""
        super().__init__()
        self._question, self._more, self._yes = question, more, yes

    def compose(self) -> ComposeResult:
        """Lay out question, consequence and plates."""
        with Vertical(classes="dialog small"):
            yield Static(Text(plain(self._question)), classes="dialog-title")
            yield Static(Text(plain(self._more)), classes="dialog-help")
            yield Rail()

    def on_mount(self) -> None:
        """Show the plates."""
        self.query_one(Rail).show((Act("N", "No, back", "say(False)"), Act("Y", self._yes, "say(True)")))

    def action_say(self, answer: bool) -> None:
        """Answer."""
        self.answer(answer)
