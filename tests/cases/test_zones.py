"""Zones of a panel: worked by hand, and adding up."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import areas_m2, lengths_mm, patch_rect, path_mm, zoning
from prepadvisor.cases.zones import LEAST_M2, LEAST_MM, _parts
from prepadvisor.records import Panel
from prepadvisor.surface import path_length_mm

MIST_MM = 150
shares = st.floats(0, 1)


def _panel(**changes: Any) -> Panel:
    stated = {
        "id": "p", "kind": "front-door", "role": "blend", "surface": "aged-clear", "length_mm": 1050,
        "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400, **changes,
    }  # fmt: skip
    return Panel.model_validate({key: value for key, value in stated.items() if value is not None})


def test_a_door_from_the_front_is_150_mm_colour_550_mm_fade_with_its_mist_and_350_mm_clear() -> None:
    """By hand: 150, then 400 + 150 mist, then the rest of 1050 mm, each over 640 mm of height."""
    panel = _panel()
    zones = zoning(panel, MIST_MM)
    top = path_mm(panel, ((0, 0), (1, 0)))
    assert dict(lengths_mm(zones, top)) == pytest.approx({"colour": 150, "fade": 550, "clear": 350})
    assert dict(areas_m2(zones, zones.whole)) == pytest.approx(
        {"colour": 0.096, "fade": 0.352, "clear": 0.224}
    )


def test_a_repair_panel_without_a_layout_is_all_colour() -> None:
    """Full colour everywhere."""
    panel = _panel(role="repair", colour_from=None, colour_mm=None, fade_mm=None)
    zones = zoning(panel, MIST_MM)
    assert [zone for zone, _ in areas_m2(zones, zones.whole)] == ["colour"]


def test_a_clear_only_panel_is_all_clear_whatever_else_it_states() -> None:
    """It gets no colour."""
    zones = zoning(_panel(role="clear-only"), MIST_MM)
    assert [zone for zone, _ in areas_m2(zones, zones.whole)] == ["clear"]


def test_a_patch_is_cut_out_of_the_face() -> None:
    """Face and patch together are the panel: 0.672 m², of which the patch 0.3 m × 0.25 m."""
    patch = {"id": "R1", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [300, 250]}
    panel = _panel(patch=[patch])
    zones = zoning(panel, MIST_MM)
    rect = patch_rect(panel, panel.patch[0])
    face = sum(area for _, area in areas_m2(zones, zones.whole, (rect,)))
    assert face == pytest.approx(0.672 - 0.075)
    assert sum(area for _, area in areas_m2(zones, rect)) == pytest.approx(0.075)


@settings(max_examples=100)
@given(
    sides=st.lists(st.sampled_from(["front", "rear", "top", "bottom"]), unique=True, min_size=1),
    path=st.lists(st.tuples(shares, shares), min_size=2, max_size=5),
    colour=st.floats(0, 300),
    fade=st.floats(0, 600),
)
def test_lengths_of_a_line_over_its_zones_add_up_to_its_path(
    sides: list[str], path: list[tuple[float, float]], colour: float, fade: float
) -> None:
    """Nothing is lost or counted twice at a border."""
    panel = _panel(colour_from=sides, colour_mm=colour, fade_mm=fade)
    points = path_mm(panel, tuple(path))
    zones = zoning(panel, MIST_MM)
    found = lengths_mm(zones, points)
    assert sum(length for _, length in found) == pytest.approx(path_length_mm(points), abs=1e-4)


def test_more_mist_turns_clear_into_fade() -> None:
    """Mist of the shop file counts as fade."""
    panel = _panel()
    little, much = zoning(panel, 0), zoning(panel, 200)
    assert dict(areas_m2(much, much.whole))["fade"] > dict(areas_m2(little, little.whole))["fade"]


@pytest.mark.parametrize("least", [LEAST_MM, LEAST_M2])
def test_what_is_less_than_rounding_is_no_part(least: float) -> None:
    """A millionth of a millimetre of a line, a square millimetre of a face: from there on it counts."""
    assert _parts(1.05e-6, 2.0, 5.0, least) == (("colour", 1.05e-6), ("fade", 2.0 - 1.05e-6), ("clear", 3.0))
    assert _parts(0.95e-6, 2.0, 5.0, least) == (("fade", 2.0 - 0.95e-6), ("clear", 3.0))
    assert _parts(2.0, 2.0, 2.0, least) == (("colour", 2.0),)
    assert _parts(0.0, 0.0, 2.0, least) == (("clear", 2.0),)
