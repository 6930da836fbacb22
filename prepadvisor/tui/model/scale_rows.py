"""The scale below a panel's drawing: its ends, and where full colour, fade, mist and clear lie, in mm."""

from typing import TYPE_CHECKING, Final

from prepadvisor.tui.model.drawn_cells import runs_across
from prepadvisor.tui.model.tints import Mode, Stretch

if TYPE_CHECKING:
    from prepadvisor.tui.model.picture import Frame, Picture

SCALE_ROWS: Final = 3
"""Rows of the scale: the ends of the panel, its zones, the bracket of the wet bed."""

_SHORT: Final = {"COLOUR": "COL", "FADE": "FADE", "MIST": "MIST", "CLEAR": "CLR"}

_SHADE: Final = {"zone-colour": "▓", "zone-fade": "▒", "zone-mist": "░", "zone-clear": " "}
_PLAIN: Final = {"zone-colour": "%", "zone-fade": "+", "zone-mist": ".", "zone-clear": " "}


def scale(picture: "Picture", at: "Frame", width: int, mode: Mode = "tints") -> list[list[Stretch]]:
    """Return the rows below a drawing.

    Args:
        picture: what is drawn.
        at: where the panel lies.
        width: columns.
        mode: how zones are told apart there.
    """
    rows = [[_words(_ends(picture, width, mode))]]
    backwards = picture.panel.colour_from == ("rear",)
    if not runs_across(picture):
        return [*rows, [_words(" " * width)], [_words(" " * width)]]
    return [*rows, _zones(picture, at, width, backwards, mode), _bed(picture, at, width, backwards, mode)]


def _words(text: str) -> Stretch:
    return Stretch(text, "hush", "plain")


def _ends(picture: "Picture", width: int, mode: Mode) -> str:
    left, right = reversed(picture.ends) if picture.mirrored else picture.ends
    less, more = ("<", ">") if mode == "ascii" else ("◄", "►")
    return f"{less} {left}{f'{right} {more}':>{max(width - len(left) - 2, len(right))}}"[:width].ljust(width)


def _zones(picture: "Picture", at: "Frame", width: int, backwards: bool, mode: Mode) -> list[Stretch]:
    """Draw the zones as one coloured rule with their names and the mm where each ends."""
    zones, length = picture.zones, picture.panel.length_mm
    mist_from = max(zones.fade_end_mm - picture.mist_mm, zones.colour_end_mm)
    bounds = (
        ("COLOUR", "zone-colour", 0.0, zones.colour_end_mm),
        ("FADE", "zone-fade", zones.colour_end_mm, mist_from),
        ("MIST", "zone-mist", mist_from, zones.fade_end_mm),
        ("CLEAR", "zone-clear", zones.fade_end_mm, length),
    )
    found: list[tuple[int, Stretch]] = []
    for name, ink, start, end in bounds:
        first, last = _column(at, start, length, backwards), _column(at, min(end, length), length, backwards)
        room = abs(last - first)
        if room <= 0 or start >= length:
            continue
        reach = picture.units.bare_length(min(end, length))
        forms = (f"{name} {reach}", name, _SHORT[name], name[:1])
        text = next((words for words in forms if len(words) < room), "")
        fill = {"tints": " ", "shades": _SHADE[ink], "ascii": _PLAIN[ink]}[mode]
        body = f"{text:{fill}<{room}}"
        found.append((min(first, last), Stretch(body, ink, ink)))
    return _laid(found, width, mode)


def _laid(found: list[tuple[int, Stretch]], width: int, mode: Mode) -> list[Stretch]:
    runs: list[Stretch] = []
    column = 0
    for start, run in sorted(found):
        if start > column:
            runs.append(_words(" " * (start - column)))
        ink, ground = (run.ground, run.ground) if mode == "tints" else ("plain", "plain")
        runs.append(Stretch(run.text, ink, ground))
        column = start + len(run.text)
    if column < width:
        runs.append(_words(" " * (width - column)))
    return runs


def _column(at: "Frame", depth: float, length: float, backwards: bool) -> int:
    share = min(max(depth / length, 0.0), 1.0)
    along = 1.0 - share if backwards else share
    return at.left + round((1.0 - along if at.mirrored else along) * at.wide)


def _bed(picture: "Picture", at: "Frame", width: int, backwards: bool, mode: Mode) -> list[Stretch]:
    """Draw a bracket under the wet bed, with its depths in mm."""
    if picture.bed_mm is None:
        return [_words(" " * width)]
    length = picture.panel.length_mm
    start, end = picture.bed_mm[0], min(picture.bed_mm[1], length)
    first, last = sorted((_column(at, start, length, backwards), _column(at, end, length, backwards)))
    room = max(last - first, 2)
    title = next(
        (
            words
            for words in (
                f" wet bed {picture.units.span(start, end)} ",
                f" bed {picture.units.bare_span(start, end)} ",
                " bed ",
                "",
            )
            if len(words) + 2 <= room
        ),
        "",
    )
    left, line, right = ("+", "-", "+") if mode == "ascii" else ("└", "─", "┘")
    bracket = left + title.center(room - 2, line) + right
    return [_words((" " * first + bracket)[:width].ljust(width))]
