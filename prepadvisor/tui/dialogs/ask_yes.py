"""Ask yes or no before something that a slip of the finger must not do."""

from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from prepadvisor.tui.model.plain import plain
from prepadvisor.tui.widgets.rail import Act, Rail


class AskYes(ModalScreen[bool]):
    """A question with its consequence. Answers True only for `y`; Enter alone does nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "answer(True)", "yes", show=False),
        Binding("n,escape", "answer(False)", "no", show=False),
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
        self.query_one(Rail).show(
            (Act("N", "No, back", "answer(False)"), Act("Y", self._yes, "answer(True)"))
        )

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        await self.run_action(event.action)

    def action_answer(self, answer: bool) -> None:
        """Answer."""
        self.dismiss(answer)
