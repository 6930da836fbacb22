"""What all dialogs share: they answer once, whatever was typed ahead, and their plates run their actions."""

from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen

from prepadvisor.tui.widgets.rail import Rail

_Answer = TypeVar("_Answer")


class Dialog(ModalScreen[_Answer], Generic[_Answer]):
    """A modal screen that returns one answer. F1 says what can be done in it."""

    help_words: ClassVar[str] = ""
    BINDINGS: ClassVar[list[BindingType]] = [Binding("f1", "explain", "help", show=False)]

    def action_explain(self) -> None:
        """Show what can be done here."""
        from prepadvisor.tui.dialogs.page import Page

        if self.help_words:
            self.app.push_screen(Page("Help", self.help_words))

    def answer(self, answer: _Answer) -> None:
        """Answer, unless an answer was given already."""
        if self.is_current:
            self.dismiss(answer)

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        event.stop()
        await self.run_action(event.action)
