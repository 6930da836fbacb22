"""A panel's drawing as it prints: numbers that never collide, styles that read in black and white."""

import itertools
from typing import Any

import numpy as np
import pytest

from prepadvisor.cards.figures.drawing import NEEDS, Need
from prepadvisor.cards.figures.figure import Dots, Figure, FigureText, Hatch, Mark, Shape
from prepadvisor.cards.figures.lines import LabelRoom, around, line_marks
from prepadvisor.cards.figures.panel_figure import panel_figure
from prepadvisor.cards.page.set_card import drawings
from prepadvisor.cards.page.typeface import width_mm
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.planning import advise
from prepadvisor.records import OUTLINES, Job
from prepadvisor.standards import House
from prepadvisor.surface import Rect

KINDS = [f"{side}-{kind}" for kind in OUTLINES for side in ("left", "right")]


def figure_of(
    name: str, house: House, size_mm: tuple[float, float] = (51.0, 44.0), units: str = "metric"
) -> Figure:
    """Draw an outline at its usual size with its usual lines, colour from the front."""
    kind = name.split("-", 1)[1]
    outline = house.outlines[kind]
    panel = {
        "id": name, "kind": kind, "role": "blend", "surface": "aged-clear", "length_mm": outline.length_mm,
        "height_mm": outline.height_mm, "colour_from": ["front"], "colour_mm": outline.length_mm * 0.15,
        "fade_mm": outline.length_mm * 0.3, "feature": [one.model_dump() for one in outline.feature],
    }  # fmt: skip
    job = Job.model_validate(
        {"job": {"number": "1", "units": units}, "colour": {"flake": "fine"}, "panel": [panel]}
    )
    advice = advise(job, house)
    sheet = card_sheet(Papers(job, advice, house))
    return panel_figure(drawings(Papers(job, advice, house), sheet)[name], *size_mm)


def words_area(words: FigureText) -> Rect:
    """Return the room one line of words takes, by its capitals."""
    wide = width_mm(words.text, words.size_pt, words.bold)
    left = words.at[0] - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    return Rect(left, words.at[1] - words.size_pt * 25.4 / 72 * 0.73, left + wide, words.at[1])


@pytest.mark.parametrize("size_mm", [(51.0, 44.0), (124.0, 105.0)], ids=["beside the rows", "above them"])
@pytest.mark.parametrize("name", KINDS)
def test_no_words_of_a_drawing_lie_on_others_or_off_it(
    name: str, size_mm: tuple[float, float], shipped_house: House
) -> None:
    """All fourteen outlines, left and right, in both places of a card."""
    figure = figure_of(name, shipped_house, size_mm)
    areas = [(mark.text, words_area(mark)) for mark in figure.marks if isinstance(mark, FigureText)]
    assert [(one, other) for (one, a), (other, b) in itertools.combinations(areas, 2) if a.meets(b)] == []
    assert [
        text
        for text, area in areas
        if area.left < -0.1 or area.right > figure.width_mm + 0.1 or area.bottom > figure.height_mm
    ] == []


@pytest.mark.parametrize("name", KINDS)
def test_every_line_of_an_outline_is_numbered_on_its_drawing(name: str, shipped_house: House) -> None:
    """A1 to the last, each once."""
    figure = figure_of(name, shipped_house)
    lines = len(shipped_house.outlines[name.split("-", 1)[1]].feature)
    numbers = [mark.text for mark in figure.marks if isinstance(mark, FigureText) and mark.bold]
    assert sorted(text for text in numbers if text[1:].isdigit()) == sorted(f"A{n + 1}" for n in range(lines))


def test_a_right_hand_door_is_the_mirror_picture_of_a_left_hand_one(shipped_house: House) -> None:
    """Outline points at the same height, their places along turned over."""
    left, right = (figure_of(name, shipped_house) for name in ("left-front-door", "right-front-door"))
    ground = [next(m for m in one.marks if isinstance(m, Shape) and m.closed) for one in (left, right)]
    turned = [(left.width_mm - x, y) for x, y in ground[0].points]
    assert np.array(ground[1].points) == pytest.approx(np.array(turned))


def ink(marks: list[Mark], columns: int = 400) -> "np.ndarray[Any, Any]":
    """Print a level line of 40 mm into a strip of dots of 0.1 mm: 1 for ink, rows about its middle."""
    strip = np.zeros((41, columns), dtype=int)
    ys, xs = np.mgrid[-20:21, 0:columns] * 0.1
    for mark in marks:
        if not isinstance(mark, Shape) or mark.stroke is None:
            continue
        (x1, y1), (x2, y2) = mark.points[0], mark.points[-1]
        long = float(np.hypot(x2 - x1, y2 - y1))
        along = ((xs - x1) * (x2 - x1) + (ys - y1) * (y2 - y1)) / long
        off = np.abs((xs - x1) * (y2 - y1) - (ys - y1) * (x2 - x1)) / long
        on = (along >= 0) & (along <= long) & (off <= mark.stroke.width_mm / 2)
        if mark.stroke.dash_mm:
            dash, gap = mark.stroke.dash_mm
            phase = along % (dash + gap)
            dot = np.hypot(np.minimum(phase, dash + gap - phase), off) <= mark.stroke.width_mm / 2
            on &= dot if mark.stroke.round_ends else phase <= dash
        strip[on] = 0 if mark.stroke.paint == "white" else 1
    return strip


def test_every_two_line_styles_differ_in_black_and_white() -> None:
    """Of the dots of a strip 4 mm high at least a twelfth of the heavier one's ink is elsewhere."""
    styles: dict[Need, Any] = {need: ink(line_marks(((0.0, 0.0), (40.0, 0.0)), need)) for need in NEEDS}
    for one, other in itertools.combinations(styles, 2):
        different = int((styles[one] != styles[other]).sum())
        assert different >= max(styles[one].sum(), styles[other].sum()) / 12, (one, other)


def test_a_drawing_uses_black_and_white_alone(shipped_house: House) -> None:
    """So it means the same on any printer and to any eye; black on white is 21 : 1 (WCAG 2.2, 1.4.3)."""
    paints = set()
    for mark in figure_of("left-rear-quarter", shipped_house).marks:
        if isinstance(mark, Shape):
            paints |= {mark.fill} | ({mark.stroke.paint} if mark.stroke else set())
        elif isinstance(mark, Hatch):
            paints.add(mark.stroke.paint)
        elif isinstance(mark, Dots | FigureText):
            paints.add(mark.paint)
    assert paints <= {"black", "white", "none"}


def test_zones_differ_in_how_much_ink_they_carry() -> None:
    """Clear is blank; hatch covers about 0.22 / 1.5 of the paper, a dot at most π·0.42² of 1.7² mm."""
    hatch = 0.22 / 1.5
    dots = (np.pi * 0.42**2 / 1.7**2, np.pi * 0.12**2 / 1.7**2)
    assert hatch > 0.1
    assert dots[0] > 5 * dots[1] > 0


def test_a_drawing_says_in_words_what_it_shows(shipped_house: House) -> None:
    """For those who cannot see it: size, side, zones, each line with its need."""
    says = figure_of("right-front-door", shipped_house).says
    for word in ("1050 x 640 mm", "front on the right", "full colour 0-", "A1 hand, then DA", "hand only"):
        assert word in says


def test_a_drawing_on_an_imperial_card_is_said_in_inches(shipped_house: House) -> None:
    """What is read to those who cannot see it has the units of the card: 1050 mm are 41-3/8 in."""
    says = figure_of("right-front-door", shipped_house, units="imperial").says
    assert "41-3/8 x 25-1/4 in" in says
    assert " mm" not in says


def test_a_label_takes_the_nearest_free_room_and_none_where_all_is_full() -> None:
    """Three labels of 4 by 4 in a room of 9 by 4: two fit."""
    room = LabelRoom(Rect(0, 0, 9, 4))
    placed = [room.place([(2.0, 2.0)], 4, 4) for _ in range(3)]
    assert placed[0] == (2.0, 2.0)
    assert placed[1] is not None
    assert not around((2.0, 2.0), 4, 4).meets(around(placed[1], 4, 4))
    assert placed[2] is None


@pytest.mark.parametrize(
    ("name", "on_the_left", "on_the_right"),
    [
        ("left-front-door", "front", "rear"),
        ("right-front-door", "rear", "front"),
        ("left-bonnet", "front", "rear"),
        ("left-tailgate", "left", "right"),
        ("left-front-bumper", "right", "left"),
    ],
)
def test_the_ends_of_a_drawing_are_named_as_they_lie_on_the_car(
    name: str, on_the_left: str, on_the_right: str, shipped_house: House
) -> None:
    """Whoever stands before a tailgate has the car's left on the left, before a front bumper on the right."""
    figure = figure_of(name, shipped_house)
    says = [mark.text for mark in figure.marks if isinstance(mark, FigureText)]
    assert f"◀ {on_the_left}" in says
    assert f"{on_the_right} ▶" in says
    assert f"{on_the_left} on the left" in figure.says or f"{on_the_right} on the right" in figure.says
