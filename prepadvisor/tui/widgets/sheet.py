"""A sheet of named facts: arrows turn a value over, Enter asks for it; one widget for a whole form."""

from typing import ClassVar

from textual.binding import Binding, BindingType

from prepadvisor.tui.widgets.rows import Rows


class Sheet(Rows):
    """Rows of label and value. Left and right turn the value of the row under the cursor."""

    help_words: ClassVar[str] = (
        "On the sheet: up and down choose a line, left and right turn its value over, Enter or a touch asks "
        "for it. A length is in mm; an empty answer takes the fact away where it may be left out."
    )
    hint: ClassVar[str] = "left, right turn a value, Enter asks for it, Tab goes on"
    keeps_cursor: ClassVar[bool] = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "turn(-1)", "value before", show=False),
        Binding("right", "turn(1)", "value after", show=False),
    ]

    class Turned(Rows.Moved):
        """A value is to go one on (step 1) or one back (step -1)."""

        def __init__(self, rows: Rows, row_id: str, step: int) -> None:
            super().__init__(rows, row_id)
            self.step = step

    class Asked(Rows.Picked):
        """A value is to be asked for."""

    def __init__(self, label_width: int = 16, name: str | None = None) -> None:
        """Make an empty sheet with a label column of so many columns."""
        super().__init__(label_width=label_width, touch_picks=True, name=name)

    def action_turn(self, step: int) -> None:
        """Ask for the next or previous value."""
        if self.current:
            self.post_message(self.Turned(self, self.current, step))

    def action_pick(self) -> None:
        """Ask for a value in a dialog."""
        if self.current:
            self.post_message(self.Asked(self, self.current))
