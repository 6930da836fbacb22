"""The four answers of a place as plates side by side: by hand, last touch, powder, wet bed."""

from typing import Final

from textual.strip import Strip

from prepadvisor.tui.model.answer import Plate
from prepadvisor.tui.widgets.inks import Inked, Piece, strip_of

_LEAST: Final = 10
"""Columns of the narrowest plate; with less room the words on it are cut."""


SHORT: Final = {"each time": "at each", "after hand": "after it", "before the last": "at last"}
"""Words of plates for a window where the longer ones do not fit."""


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
        count = len(self.plates)
        each, spare = divmod(max(width - count - 1, _LEAST), count)
        pieces = [Piece("┌" if y == 0 else "└" if y == 3 else "│", "plain")]
        for at, plate in enumerate(self.plates):
            pieces += _row(plate, y, each + (at < spare), is_last=at == count - 1)
        return strip_of(self, pieces, width)

    def on_resize(self) -> None:
        """Fit to the new width."""
        self.refresh()


def _row(plate: Plate, y: int, room: int, *, is_last: bool) -> list[Piece]:
    """Return one row of a plate with the line at its right, which it shares with the next."""
    if y == 0:
        return [Piece(f"{plate.title[:room]:─<{room}}{'┐' if is_last else '┬'}", "plain")]
    if y == 3:
        return [Piece(f"{'─' * room}{'┘' if is_last else '┴'}", "plain")]
    small = plate.small if len(plate.small) <= room else SHORT.get(plate.small, plate.small)
    text, ink = (plate.big, plate.ink) if y == 1 else (small, "hush")
    return [Piece(f"{text[:room]:^{room}}", ink), Piece("│", "plain")]
