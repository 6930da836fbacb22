"""The drawing of a panel as cells."""

import pytest

from prepadvisor.tui.model.drawn import drawn
from prepadvisor.tui.model.picture import Picture, depth_at, frame, nearest_border, nearest_part
from prepadvisor.tui.model.raster import raster
from prepadvisor.tui.model.session import Session


@pytest.fixture
def picture(session: Session) -> Picture:
    """The demo door, 1050 by 640 mm, full colour to 150 mm and fade with mist to 700 mm from the front."""
    found = drawn(session, border="fade")
    assert found is not None
    return found


def test_it_fills_its_grid_exactly(picture: Picture) -> None:
    """As many rows and columns as were asked for, at any size."""
    for width, height in ((8, 4), (34, 10), (120, 40)):
        grid = raster(picture, width, height)
        assert len(grid) == height
        assert {len(row) for row in grid} == {width}


def test_a_panel_keeps_its_shape(picture: Picture) -> None:
    """1050 by 640 mm in cells twice as high as wide: 1050/640*2 columns a row, to the nearest cell."""
    at = frame(picture.panel, 100, 60)
    assert at.wide / at.high == pytest.approx(1050 / 640 * 2, rel=0.05)


def test_zones_are_told_apart_without_colour(picture: Picture) -> None:
    """Dense, light and no shading each stand somewhere."""
    chars = {cell.char for row in raster(picture, 60, 20) for cell in row}
    assert {"▒", "░", " "} <= chars


def test_the_shading_follows_the_depth(picture: Picture) -> None:
    """Shaded cells left of the border are nearer to the front than it."""
    grid, at = raster(picture, 80, 26), frame(picture.panel, 80, 26)
    for row, line in enumerate(grid):
        for column, cell in enumerate(line):
            if cell.char == "▒":
                assert depth_at(picture, at, column, row) < 150


def test_the_border_to_move_is_under_the_mouse(picture: Picture) -> None:
    """550 mm of 1050 from the front."""
    at = frame(picture.panel, 80, 26)
    column = at.left + round(at.wide * 550 / 1050)
    assert nearest_border(picture, at, column, at.top + 3) == "fade"
    assert nearest_border(picture, at, at.left + at.wide - 2, at.top + 3) == ""


def test_the_nearest_line_is_found(picture: Picture) -> None:
    """At the left rim it is the front edge; in the empty middle it is the face."""
    at = frame(picture.panel, 80, 26)
    assert nearest_part(picture, at, at.left, at.top + at.high // 2 + 2) == "E1"
    assert nearest_part(picture, at, at.left + at.wide // 5, at.top + at.high * 3 // 4) == "face"


def test_every_line_has_its_number(picture: Picture) -> None:
    """Each sign stands on the drawing, at the size of a small terminal too."""
    text = "".join(cell.char for row in raster(picture, 34, 9) for cell in row)
    for stroke in picture.strokes:
        assert stroke.sign in text


def test_only_the_selected_line_is_solid(session: Session) -> None:
    """The selection is told by shape, not by colour alone."""
    session.select("left-front-door", "E1")
    chosen = drawn(session)
    assert chosen is not None
    grid = raster(chosen, 60, 20)
    assert any(cell.ink == "line-pick" and cell.char == "█" for row in grid for cell in row)
    assert any(cell.char == "►" for row in grid for cell in row)
