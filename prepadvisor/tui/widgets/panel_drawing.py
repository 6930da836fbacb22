"""The drawing of a panel: shaded zones, numbered lines, borders to drag, points to set."""

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.strip import Strip

from prepadvisor.records.job import Point
from prepadvisor.tui.model import picture as pictures
from prepadvisor.tui.model.picture import Cell, Frame, Picture
from prepadvisor.tui.model.raster import raster
from prepadvisor.tui.widgets.inks import Inked, Piece, strip_of


class PanelDrawing(Inked, can_focus=True):
    """A panel drawn in cells. Arrows and mouse both move what is selected on it."""

    DEFAULT_CSS = """
    PanelDrawing { height: 1fr; width: 1fr; }
    """
    help_words: ClassVar[str] = (
        "On the drawing: arrows move the marked border, the cross, or the selection; touch a line to select "
        "it, drag a border to move it."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "nudge(-1, 0)", "left", show=False),
        Binding("right", "nudge(1, 0)", "right", show=False),
        Binding("up", "nudge(0, -1)", "up", show=False),
        Binding("down", "nudge(0, 1)", "down", show=False),
    ]

    class Nudged(Message):
        """An arrow was pressed on the drawing."""

        def __init__(self, across: int, down: int) -> None:
            super().__init__()
            self.across, self.down = across, down

    class BorderDragged(Message):
        """A border was dragged to a depth in mm."""

        def __init__(self, border: str, depth_mm: float) -> None:
            super().__init__()
            self.border, self.depth_mm = border, depth_mm

    class Pointed(Message):
        """A place on the panel was touched: where, 0 to 1, and the line or patch nearest to it."""

        def __init__(self, at: Point, part_id: str) -> None:
            super().__init__()
            self.at, self.part_id = at, part_id

    def __init__(self, name: str | None = None) -> None:
        """Make an empty drawing."""
        super().__init__(id=name)
        self.picture: Picture | None = None
        self._dragged = ""
        self._key: tuple[Picture, int, int] | None = None
        self._lines: list[Strip] = []

    def show(self, picture: Picture | None) -> None:
        """Show a panel, or nothing."""
        if picture != self.picture:
            self.picture = picture
            self.refresh()

    @property
    def frame_now(self) -> Frame | None:
        """Where the panel lies in the widget."""
        if self.picture is None:
            return None
        return pictures.frame(self.picture.panel, self.size.width, self._high)

    def render_line(self, y: int) -> Strip:
        """Draw one line; the whole drawing is made once for each picture and size."""
        if self.picture is None:
            return strip_of(self, (), self.size.width)
        if y >= self._high:
            return strip_of(self, [Piece(_ends(self.size.width), "hush")], self.size.width)
        key = (self.picture, self.size.width, self._high)
        if key != self._key:
            grid = raster(self.picture, self.size.width, self._high)
            self._lines = [strip_of(self, _runs(row), self.size.width) for row in grid]
            self._key = key
        return self._lines[y] if y < len(self._lines) else strip_of(self, (), self.size.width)

    def notify_style_update(self) -> None:
        """Forget what was drawn in the old theme's colours."""
        super().notify_style_update()
        self._key = None

    @property
    def _high(self) -> int:
        """Rows for the panel itself; the row below says which end is the front."""
        return max(self.size.height - 1, 1)

    def action_nudge(self, across: int, down: int) -> None:
        """Tell about an arrow."""
        self.post_message(self.Nudged(across, down))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a border, or point at a place."""
        at = self.frame_now
        if self.picture is None or at is None:
            return
        self._dragged = (
            pictures.nearest_border(self.picture, at, event.x, event.y) if self.picture.border else ""
        )
        if self._dragged:
            self.capture_mouse()
        else:
            part = pictures.nearest_part(self.picture, at, event.x, event.y)
            self.post_message(self.Pointed(at.share(event.x, event.y), part))

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Drag the border that is held."""
        at = self.frame_now
        if self._dragged and self.picture is not None and at is not None:
            depth = pictures.depth_at(self.picture, at, event.x, event.y)
            self.post_message(self.BorderDragged(self._dragged, depth))

    def on_mouse_up(self, _event: events.MouseUp) -> None:
        """Let the border go."""
        if self._dragged:
            self._dragged = ""
            self.release_mouse()

    def on_resize(self) -> None:
        """Draw again for the new size."""
        self.refresh()


def _ends(width: int) -> str:
    front, rear = "◄ front", "rear ►"
    return f"{front}{rear:>{max(width - len(front) - 1, len(rear))}}"


def _runs(row: list[Cell]) -> list[Piece]:
    """Join neighbours of the same ink."""
    runs: list[Piece] = []
    chars: list[str] = []
    ink = row[0].ink if row else "plain"
    for cell in row:
        if cell.ink != ink:
            runs.append(Piece("".join(chars), ink))
            chars, ink = [], cell.ink
        chars.append(cell.char)
    runs.append(Piece("".join(chars), ink))
    return runs
