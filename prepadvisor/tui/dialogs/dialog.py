"""What all dialogs share: they answer once, whatever was typed ahead, and their plates run their actions."""

from typing import Generic, TypeVar

from textual import on
from textual.screen import ModalScreen

from prepadvisor.tui.widgets.rail import Rail

Answer = TypeVar("Answer")


class Dialog(ModalScreen[Answer], Generic[Answer]):
    """A modal screen that returns one answer."""

    def answer(self, answer: Answer) -> None:
        """Answer, unless an answer was given already."""
        if self.is_current:
            self.dismiss(answer)

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        event.stop()
        await self.run_action(event.action)
