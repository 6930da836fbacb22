"""The inks of everything that is drawn line by line; the style sheet gives each its colours once."""

from collections.abc import Iterable
from typing import ClassVar, Final

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from prepadvisor.named import NamedTuple

INKS: Final[frozenset[str]] = frozenset(
    f"ink--{name}"
    for name in (
        "plain", "hush", "bold", "stop", "go", "warn", "pick", "rest", "bar", "bar-now", "plate", "plate-key",
        "zone-colour", "zone-fade", "zone-mist", "zone-clear", "rim", "line-pick", "number", "border-pick",
        "stop-fill", "go-fill",
    )
)  # fmt: skip
"""Component classes of all drawn widgets."""


class Piece(NamedTuple):
    """A run of text in one ink."""

    text: str
    ink: str = "plain"


def strip_of(widget: Widget, pieces: Iterable[Piece], width: int, ground: str = "plain") -> Strip:
    """Return pieces as a line of exactly `width` cells; too long ends in "…", too short is filled."""
    segments: list[Segment] = []
    left = width
    for piece in pieces:
        if left <= 0:
            break
        text, size = piece.text, cell_len(piece.text)
        if size > left:
            text, size = set_cell_size(piece.text, left - 1) + "…", left
        segments.append(Segment(text, ink(widget, piece.ink)))
        left -= size
    if left > 0:
        segments.append(Segment(" " * left, ink(widget, ground)))
    return Strip(segments, width).simplify()


def ink(widget: Widget, name: str) -> Style:
    """Return the style of an ink on a widget."""
    return widget.get_component_rich_style(f"ink--{name}")


def mixed(widget: Widget, name: str, ground: str) -> Style:
    """Return the style of a sign in one ink on the ground of another.

    Rim, selection and border are solid: as grounds they lend the colour that they have as signs.
    """
    front, behind = ink(widget, name), ink(widget, ground)
    if name == ground:
        return front
    solid = {"rim", "line-pick", "border-pick"}
    back = behind.color if ground in solid else behind.bgcolor
    fore = front.color if name in solid or not name.startswith("zone-") else front.bgcolor
    return Style(color=fore, bgcolor=back, bold=front.bold, reverse=front.reverse)


class Inked(Widget):
    """A widget drawn line by line in inks."""

    COMPONENT_CLASSES: ClassVar[set[str]] = set(INKS)
