"""The four answers of a place as plates side by side: by hand, last touch, powder, wet bed."""

from typing import Final

from textual.strip import Strip

from prepadvisor.tui.model.answer import Plate
from prepadvisor.tui.widgets.inks import Inked, Piece, strip_of

_LEAST: Final = 10
"""Columns of the narrowest plate; with less room the words on it are cut."""


class Plates(Inked):
    """Plates of one height; each has its title in its frame."""

    DEFAULT_CSS = """
    Plates { height: 4; }
    """

    def __init__(self, name: str | None = None) -> None:
        """Make it without plates."""
        super().__init__(id=name)
        self.plates: tuple[Plate, ...] = ()

    def show(self, plates: tuple[Plate, ...]) -> None:
        """Show plates."""
        if plates != self.plates:
            self.plates = plates
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one of the four rows."""
        width = self.size.width
        if not self.plates:
            return strip_of(self, (), width)
        each, spare = divmod(max(width, _LEAST), len(self.plates))
        pieces: list[Piece] = []
        for at, plate in enumerate(self.plates):
            room = each + (at < spare) - 2
            pieces += _row(plate, y, room)
        return strip_of(self, pieces, width)

    def on_resize(self) -> None:
        """Fit to the new width."""
        self.refresh()


def _row(plate: Plate, y: int, room: int) -> list[Piece]:
    if y == 0:
        return [Piece(f"┌{plate.title[:room]:─<{room}}┐", "plain")]
    if y == 3:
        return [Piece(f"└{'─' * room}┘", "plain")]
    text, ink = (plate.big, plate.ink) if y == 1 else (plate.small, "hush")
    return [Piece("│", "plain"), Piece(f"{text[:room]:^{room}}", ink), Piece("│", "plain")]
