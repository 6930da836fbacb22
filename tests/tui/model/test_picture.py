"""The drawing of a panel as cells."""

import numpy as np
import pytest

from prepadvisor.records import Panel
from prepadvisor.standards import House
from prepadvisor.tui.model import (
    GROUNDS,
    NumberedLine,
    Picture,
    Session,
    depth_at,
    drawn,
    frame,
    nearest_border,
    nearest_part,
)
from prepadvisor.tui.model.drawn_cells import raster
from prepadvisor.tui.model.scale_rows import scale

ZONES = {GROUNDS.index(f"zone-{zone}"): zone for zone in ("colour", "fade", "mist", "clear")}
RIM = GROUNDS.index("rim")


@pytest.fixture
def picture(session: Session) -> Picture:
    """The demo door, 1050 by 640 mm, full colour to 150 mm and fade with mist to 700 mm from the front."""
    found = drawn(session, border="fade")
    assert found is not None
    return found


def of_outline(shipped_house: House, kind: str, panel_id: str = "x", mirrored: bool = False) -> Picture:
    """Return an outline with its usual lines, colour from the front."""
    outline = shipped_house.outlines[kind]
    panel = Panel.model_validate(
        {
            "id": panel_id, "kind": kind, "role": "blend", "surface": "aged-clear",
            "length_mm": outline.length_mm, "height_mm": outline.height_mm, "colour_from": ["front"],
            "colour_mm": outline.length_mm * 0.15, "fade_mm": outline.length_mm * 0.3,
        }
    )  # fmt: skip
    strokes = tuple(NumberedLine(line.id, str(at), line.path) for at, line in enumerate(outline.feature, 1))
    return Picture(panel, outline.shape, 100.0, strokes, mirrored=mirrored)


def test_it_fills_its_grid_exactly(picture: Picture) -> None:
    """As many rows and columns as were asked for, at any size."""
    for width, height in ((8, 4), (34, 10), (120, 40)):
        drawing = raster(picture, width, height)
        assert drawing.chars.shape == (height, width)
        assert {sum(len(run.text) for run in drawing.runs(row)) for row in range(height)} == {width}


def test_a_panel_keeps_its_shape(picture: Picture) -> None:
    """1050 by 640 mm in cells twice as high as wide: 1050/640*2 columns a row, to the nearest cell."""
    at = frame(picture, 100, 60)
    assert at.wide / at.high == pytest.approx(1050 / 640 * 2, rel=0.05)


def test_zones_are_told_apart_without_colour(picture: Picture) -> None:
    """Dense, middle, light and no shading each stand somewhere; plain ASCII has four signs of its own."""
    assert {"▓", "▒", "░", " "} <= set(raster(picture, 60, 20, "shades").text())
    plain = raster(picture, 60, 20, "ascii").text()
    assert plain.isascii()
    assert {"%", "+", ".", " "} <= set(plain)


def test_the_tint_follows_the_depth(picture: Picture) -> None:
    """A cell that is one tint through lies in that zone: 150, 550, 700 mm from the front."""
    drawing, at = raster(picture, 80, 26), frame(picture, 80, 26)
    ends = {"colour": (0, 150), "fade": (150, 550), "mist": (550, 700), "clear": (700, 1050)}
    seen = set()
    for row in range(26):
        for column in range(80):
            code = int(drawing.grounds[row, column])
            if drawing.chars[row, column] == " " and code in ZONES:
                low, high = ends[ZONES[code]]
                assert low - 1 <= depth_at(picture, at, column, row) <= high + 1
                seen.add(ZONES[code])
    assert seen == set(ends)


def test_the_border_to_move_is_under_the_mouse(picture: Picture) -> None:
    """550 mm of 1050 from the front."""
    at = frame(picture, 80, 26)
    column = at.left + round(at.wide * 550 / 1050)
    assert nearest_border(picture, at, column, at.top + 3) == "fade"
    assert nearest_border(picture, at, at.left + at.wide - 2, at.top + 3) == ""


def test_the_nearest_line_is_found(picture: Picture) -> None:
    """At the left rim it is the front edge; in the empty middle it is the face."""
    at = frame(picture, 80, 26)
    assert nearest_part(picture, at, at.left, at.top + at.high // 2 + 2) == "E1"
    assert nearest_part(picture, at, at.left + at.wide // 5, at.top + at.high * 3 // 4) == "face"


def test_every_line_has_its_number(picture: Picture) -> None:
    """Each sign stands on the drawing, at the size of a small terminal too."""
    text = raster(picture, 34, 9).text()
    for stroke in picture.strokes:
        assert stroke.sign in text


def test_the_selected_line_is_told_by_shape(session: Session) -> None:
    """The selection is told by an arrow at its number, and by solid blocks where there is no colour."""
    session.select("left-front-door", "E1")
    chosen = drawn(session)
    assert chosen is not None
    assert "►" in raster(chosen, 60, 20).text()
    assert "█" in raster(chosen, 60, 20, "shades").text()


def test_the_rim_is_closed(shipped_house: House) -> None:
    """From outside no way leads in but through the rim: flooding stops at it on every outline."""
    for kind in shipped_house.outlines:
        shown = raster(of_outline(shipped_house, kind)._replace(strokes=()), 46, 15)
        solid = (shown.inks == RIM) & (shown.chars != " ")
        outside = np.pad((shown.grounds == 0) & ~solid, 1, constant_values=True)
        reached = np.zeros_like(outside)
        reached[0, :] = True
        while True:
            grown = reached.copy()
            grown[1:] |= reached[:-1]
            grown[:-1] |= reached[1:]
            grown[:, 1:] |= reached[:, :-1]
            grown[:, :-1] |= reached[:, 1:]
            grown &= outside
            if (grown == reached).all():
                break
            reached = grown
        assert not (reached[1:-1, 1:-1] & np.isin(shown.grounds, list(ZONES)) & (shown.chars == " ")).any(), (
            kind
        )


def test_a_right_hand_panel_is_mirrored(shipped_house: House) -> None:
    """Its front, where full colour lies, is on the right; the left-hand one has it on the left."""
    colour = GROUNDS.index("zone-colour")
    for mirrored in (False, True):
        shown = raster(of_outline(shipped_house, "front-door", mirrored=mirrored), 60, 18)
        columns = np.argwhere((shown.grounds == colour) & (shown.chars == " "))[:, 1]
        assert bool(columns.mean() > 30) is mirrored


def test_touching_a_mirrored_panel_finds_the_place_under_the_finger(shipped_house: House) -> None:
    """The rightmost cell of a mirrored door is its front: a share near 0."""
    at = frame(of_outline(shipped_house, "front-door", mirrored=True), 60, 18)
    assert at.share(at.left + at.wide - 1, at.top)[0] < 0.05
    assert at.cell((0.0, 0.5))[0] == at.left + at.wide - 1


def test_lines_inside_are_joined(shipped_house: House) -> None:
    """A closed recess has four corners and no gap between them."""
    door = of_outline(shipped_house, "front-door")
    only = door._replace(strokes=tuple(stroke for stroke in door.strokes if stroke.id == "H1"))
    text = raster(only, 100, 34).text()
    assert all(corner in text for corner in "┌┐└┘")


def test_a_done_line_has_a_tick(picture: Picture) -> None:
    """The mark stands at its number."""
    done = picture._replace(strokes=tuple(stroke._replace(is_done=True) for stroke in picture.strokes))
    assert raster(done, 60, 20).text().count("√") >= len(picture.strokes) - 1


def test_the_scale_says_where_each_zone_ends(picture: Picture) -> None:
    """150, 550, 700, 1050 mm of the demo door, and its wet bed from 150 to 800 mm."""
    rows = scale(picture, frame(picture, 90, 26), 90)
    assert all(sum(len(run.text) for run in row) == 90 for row in rows)
    words = "".join(run.text for run in rows[1])
    assert [part for part in words.split() if part.isdigit()] == ["150", "550", "700", "1050"]
    assert "wet bed 150-800 mm" in "".join(run.text for run in rows[2])


def test_a_source_that_is_no_side_has_its_zones_named_on_the_drawing(shipped_house: House) -> None:
    """Colour from the top: rings of words instead of a scale."""
    door = of_outline(shipped_house, "bonnet")
    panel = door.panel.model_copy(update={"colour_from": ("top",)})
    text = raster(door._replace(panel=panel, strokes=()), 60, 30).text()
    assert all(word in text for word in ("COLOUR", "FADE", "MIST", "CLEAR"))


def test_no_room_at_all_draws_nothing(picture: Picture) -> None:
    """A window may be drawn so narrow that the drawing has no column left; found at random."""
    assert raster(picture, 0, 4).runs(2) == []
