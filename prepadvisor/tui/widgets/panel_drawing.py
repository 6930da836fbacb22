"""The drawing of a panel: shaded zones, numbered lines, borders to drag, points to set."""

from typing import TYPE_CHECKING, ClassVar, Final

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.strip import Strip

from prepadvisor.tui.model import (
    Frame,
    Picture,
    depth_at,
    frame,
    nearest_border,
    nearest_part,
)
from prepadvisor.tui.widgets.scrolled import Inked, inside, mixed, strip_of

if TYPE_CHECKING:
    from prepadvisor.records import Point
    from prepadvisor.tui.model import Mode, Stretch


KEPT_DRAWINGS: Final = 4
"""So many drawings are kept: going from panel to panel and back draws none anew."""


class PanelDrawing(Inked, can_focus=True):
    """A panel drawn in cells. Arrows and mouse both move what is selected on it."""

    DEFAULT_CSS = """
    PanelDrawing { height: 1fr; width: 1fr; }
    """
    hint: ClassVar[str] = "arrows move what is marked, a number picks its line, Tab goes on"
    help_words: ClassVar[str] = (
        "On the drawing: arrows move the marked border, the cross, or the selection; touch a line to select "
        "it, or type its number; drag a border to move it."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "nudge(-1, 0)", "left", show=False),
        Binding("right", "nudge(1, 0)", "right", show=False),
        Binding("up", "nudge(0, -1)", "up", show=False),
        Binding("down", "nudge(0, 1)", "down", show=False),
        *(Binding(digit, f"screen.digit('{digit}')", "its line", show=False) for digit in "0123456789"),
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

    class PatchDragged(Message):
        """A patch was dragged: its id, and where its middle goes, 0 to 1."""

        def __init__(self, patch_id: str, at: "Point") -> None:
            super().__init__()
            self.patch_id, self.at = patch_id, at

    class Pointed(Message):
        """A place on the panel was touched: where, 0 to 1, and the line or patch nearest to it."""

        def __init__(self, at: "Point", part_id: str) -> None:
            super().__init__()
            self.at, self.part_id = at, part_id

    def __init__(self, name: str | None = None) -> None:
        """Make an empty drawing."""
        super().__init__(name)
        self.picture: Picture | None = None
        self._dragged = self._patch = ""
        self._drawn: list[tuple[Picture, Size, list[Strip]]] = []

    def show(self, picture: Picture | None) -> None:
        """Show a panel, or nothing."""
        was = self.picture
        if picture == was:
            return
        self.picture = picture
        if picture is None or was is None or picture.panel.id != was.panel.id:
            self.refresh()
            return
        before, now = self._lines_of(was, self.size), self._lines_of(picture, self.size)
        changed = [y for y, (old, new) in enumerate(zip(before, now, strict=True)) if old != new]
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    @property
    def frame_now(self) -> Frame | None:
        """Where the panel lies in the widget."""
        if self.picture is None:
            return None
        return frame(self.picture, self.size.width, self._high)

    def render_line(self, y: int) -> Strip:
        """Draw one line."""
        lines = self._lines_of(self.picture, self.room) if self.picture is not None else []
        return lines[y] if y < len(lines) else strip_of(self, (), self.room.width)

    def _lines_of(self, picture: Picture, room: Size) -> list[Strip]:
        """Return a drawing's lines. The whole is made once for a picture and size; the last few are kept."""
        for at, drawn in enumerate(self._drawn):
            if drawn[0] == picture and drawn[1] == room:
                if at:
                    self._drawn.insert(0, self._drawn.pop(at))
                return drawn[2]
        from prepadvisor.tui.model import SCALE_ROWS, raster, scale  # not before a drawing is seen

        high, mode = max(room.height - SCALE_ROWS, 1), self._mode
        grid = raster(picture, room.width, high, mode)
        placed = frame(picture, room.width, high)
        rows = [grid.runs(row) for row in range(high)]
        rows[placed.top + placed.high : placed.top + placed.high] = scale(picture, placed, room.width, mode)
        lines = [self._strip(runs, room.width) for runs in rows]
        self._drawn = [(picture, room, lines), *self._drawn[: KEPT_DRAWINGS - 1]]
        return lines

    def _strip(self, runs: "list[Stretch]", width: int) -> Strip:
        return Strip([Segment(run.text, mixed(self, run.ink, run.ground)) for run in runs], width)

    @property
    def _mode(self) -> "Mode":
        """Tints, shades where the terminal's own colours are kept to, plain signs where it has no others."""
        if not getattr(self.app, "has_signs", True):
            return "ascii"
        return "shades" if self.app.current_theme.ansi else "tints"

    def forget_styles(self) -> None:
        """Forget what was drawn in the old theme's colours too."""
        super().forget_styles()
        self._drawn = []

    @property
    def _high(self) -> int:
        """Rows for the panel itself; the rows below are its scale."""
        from prepadvisor.tui.model import SCALE_ROWS

        return max(self.size.height - SCALE_ROWS, 1)

    def action_nudge(self, across: int, down: int) -> None:
        """Tell about an arrow."""
        self.post_message(self.Nudged(across, down))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a border, or point at a place."""
        at, touched = self.frame_now, inside(self, event)
        if self.picture is None or at is None:
            return
        self._dragged = nearest_border(self.picture, at, *touched) if self.picture.border else ""
        if self._dragged:
            self.capture_mouse()
            return
        part = nearest_part(self.picture, at, *touched)
        self.post_message(self.Pointed(at.share(*touched), part))
        if any(patch.id == part for patch in self.picture.panel.patch):
            self._patch = part
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Drag the border that is held."""
        at = self.frame_now
        if self._dragged and self.picture is not None and at is not None:
            depth = depth_at(self.picture, at, *inside(self, event))
            self.post_message(self.BorderDragged(self._dragged, depth))
        elif self._patch and at is not None:
            self.post_message(self.PatchDragged(self._patch, at.share(*inside(self, event))))

    def on_mouse_up(self, _event: events.MouseUp) -> None:
        """Let the border go."""
        if self._dragged or self._patch:
            self._dragged = self._patch = ""
            self.release_mouse()
