"""The four answers of a place as plates side by side, and its grade ruler."""

from typing import TYPE_CHECKING, Final

from textual.strip import Strip

from prepadvisor.tui.widgets.scrolled import Inked, Piece, strip_of

if TYPE_CHECKING:
    from prepadvisor.tui.model import GradeTick, Plate

_SIDE_BY_SIDE: Final = 37
"""Columns from which on the words of four plates fit side by side."""
_TITLE: Final = 9
_LEAST: Final = 10
"""Columns of the narrowest plate; with less room the words on it are cut."""


SHORT: Final = {"each time": "at each", "after hand": "after it", "before the last": "at last"}
"""Words of plates for a window where the longer ones do not fit."""


class Plates(Inked):
    """Plates of one height; each has its title in its frame. Where they are too narrow, a line for each."""

    DEFAULT_CSS = """
    Plates { height: 4; }
    """

    def __init__(self, name: str | None = None) -> None:
        """Make it without plates."""
        super().__init__(name)
        self.plates: tuple[Plate, ...] = ()

    def show(self, plates: tuple["Plate", ...]) -> None:
        """Show plates."""
        if plates != self.plates:
            self.plates = plates
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one of the four rows."""
        width = self.size.width
        if not self.plates:
            return strip_of(self, (), width)
        if width < _SIDE_BY_SIDE:
            plate = self.plates[y]
            title = Piece(f" {plate.title:<{_TITLE}}")
            return strip_of(
                self, [title, Piece(plate.big, plate.ink), Piece(f" {plate.small}", "hush")], width
            )
        count = len(self.plates)
        each, spare = divmod(max(width - count - 1, _LEAST), count)
        pieces = [Piece("┌" if y == 0 else "└" if y == 3 else "│", "plain")]
        for at, plate in enumerate(self.plates):
            pieces += _row(plate, y, each + (at < spare), is_last=at == count - 1)
        return strip_of(self, pieces, width)


def _row(plate: "Plate", y: int, room: int, *, is_last: bool) -> list[Piece]:
    """Return one row of a plate with the line at its right, which it shares with the next."""
    if y == 0:
        return [Piece(f"{plate.title[:room]:─<{room}}{'┐' if is_last else '┬'}", "plain")]
    if y == 3:
        return [Piece(f"{'─' * room}{'┘' if is_last else '┴'}", "plain")]
    small = plate.small if len(plate.small) <= room else SHORT.get(plate.small, plate.small)
    text, ink = (plate.big, plate.ink) if y == 1 else (small, "hush")
    return [Piece(f"{text[:room]:^{room}}", ink), Piece("│", "plain")]


# The grade ruler: one column a grade, coarse to fine, with the grit range and what stands on it.

_COLUMN: Final = 7
_RISK: Final = {"safe": "safe", "borderline": "border", "will show": "SHOWS", "": ""}
_MARK: Final = {(False, False): "", (True, False): "▲hand", (False, True): "●done", (True, True): "▲●both"}


class GradeRuler(Inked):
    """Four rows: grades, the range as a bar with the taken grade, hand limit and what was done, risk."""

    DEFAULT_CSS = """
    GradeRuler { height: 4; }
    """

    def __init__(self, name: str | None = None) -> None:
        """Make an empty ruler."""
        super().__init__(name)
        self.ticks: tuple[GradeTick, ...] = ()

    def show(self, ticks: list["GradeTick"]) -> None:
        """Show grades."""
        if tuple(ticks) != self.ticks:
            self.ticks = tuple(ticks)
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Draw one row."""
        width = self.size.width
        ticks = self._fitting(width)
        if not ticks:
            return strip_of(self, [Piece("no grit range here" if y == 0 else "", "stop")], width)
        lead = max((width - len(ticks) * _COLUMN) // 2, 0)
        pieces = [Piece(" " * lead)]
        for index, tick in enumerate(ticks):
            if y == 0:
                pieces.append(Piece(f"{tick.grade:^{_COLUMN}}", "bold" if tick.is_taken else "plain"))
            elif y == 1:
                pieces.append(self._bar(ticks, index))
            elif y == 2:
                pieces.append(Piece(f"{_MARK[tick.is_hand_limit, tick.is_done]:^{_COLUMN}}", "bold"))
            else:
                ink = {"will show": "stop", "borderline": "warn"}.get(tick.risk, "hush")
                pieces.append(Piece(f"{_RISK[tick.risk]:^{_COLUMN}}", ink))
        return strip_of(self, pieces, width)

    def _bar(self, ticks: tuple["GradeTick", ...], index: int) -> Piece:
        tick = ticks[index]
        if not tick.in_range:
            return Piece("   ·   ", "plain")
        left = "[" if index == 0 or not ticks[index - 1].in_range else "═"
        right = "]" if index == len(ticks) - 1 or not ticks[index + 1].in_range else "═"
        middle = "■■" if tick.is_taken else "══"
        return Piece(f"{left}═{middle}══{right}", "bold")

    def _fitting(self, width: int) -> tuple["GradeTick", ...]:
        room = max(width // _COLUMN, 1)
        if len(self.ticks) <= room:
            return self.ticks
        marked = [
            at for at, tick in enumerate(self.ticks) if tick.in_range or tick.is_done or tick.is_hand_limit
        ]
        middle = (marked[0] + marked[-1]) // 2 if marked else len(self.ticks) // 2
        start = min(max(middle - room // 2, 0), len(self.ticks) - room)
        return self.ticks[start : start + room]
