"""Zone borders moved on the drawing."""

import pytest

from prepadvisor.standards import House
from prepadvisor.tui.model import OpenJob, RefusedError, add_panel, moved, moved_to, room_mm, usual_layout


def _door(house: House, side: str = "front") -> OpenJob:
    return add_panel(OpenJob.new("1"), house.outlines["front-door"], "blend", side)[0]


def test_the_usual_widths_come_with_a_blend_panel(shipped_house: House) -> None:
    """150 mm full colour and 400 mm fade, as on any door."""
    panel = _door(shipped_house).panel[0]
    assert (panel.colour_mm, panel.fade_mm) == (150, 400)


def test_a_panel_too_short_for_them_gets_shares_of_its_room(shipped_house: House) -> None:
    """A fuel flap has no room for 550 mm, and still gets a layout that fits."""
    job, _ = add_panel(OpenJob.new("1"), shipped_house.outlines["fuel-flap"], "blend", "front")
    panel = job.panel[0]
    assert panel.colour_mm is not None
    assert panel.fade_mm is not None
    assert panel.colour_mm + panel.fade_mm <= room_mm(panel)


def test_the_fade_keeps_its_width_when_full_colour_moves(shipped_house: House) -> None:
    """Moving the inner border carries the outer one along."""
    panel = moved(_door(shipped_house).panel[0], "colour", 50)
    assert (panel.colour_mm, panel.fade_mm) == (200, 400)


def test_the_mouse_moves_one_border_and_leaves_the_other(shipped_house: House) -> None:
    """Dragging the inner border to 203 mm snaps to a whole centimetre and leaves the outer at 550 mm."""
    panel = moved_to(_door(shipped_house).panel[0], "colour", 203)
    assert (panel.colour_mm, panel.fade_mm) == (200, 350)


def test_no_room_is_refused_with_what_to_do(shipped_house: House) -> None:
    """Past the far end: full colour here, blend the next panel."""
    with pytest.raises(RefusedError, match="full colour here, blend the next panel"):
        moved(_door(shipped_house).panel[0], "fade", 5000)


def test_a_sliver_of_a_fade_is_refused(shipped_house: House) -> None:
    """A step would show."""
    with pytest.raises(RefusedError, match="no fade"):
        moved(_door(shipped_house).panel[0], "fade", -390)


def test_a_panel_without_a_source_gets_no_layout(shipped_house: House) -> None:
    """Where the colour comes from is asked first."""
    job, _ = add_panel(OpenJob.new("1"), shipped_house.outlines["roof"], "repair")
    assert usual_layout(job.panel[0]) == job.panel[0]
