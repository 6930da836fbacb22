"""Which hand-only places touch which lines and patches, on a panel measured by hand."""

from typing import Any

import pytest

from prepadvisor.planning.work.plan import touched_by

STRIP_MM = 30.0


def test_a_recess_on_a_body_line_touches_it_and_nothing_far_away(door: Any) -> None:
    """H1 lies on L1; F1 runs along the bottom edge, 420 mm below; the patch is 250 mm to the front."""
    near = touched_by(door.job.panel[0], door.advice.places, STRIP_MM)
    assert {feature for feature, hands in near.items() if hands} == {"L1"}
    assert near["L1"] == {"H1"}


@pytest.mark.parametrize(("apart_mm", "touches"), [(29.0, True), (31.0, False)])
def test_strips_touch_where_they_overlap(door: Any, apart_mm: float, touches: bool) -> None:
    """Two strips of 30 mm, each laid half to either side, overlap below 30 mm."""
    panel = door.job.panel[0]
    share = apart_mm / panel.height_mm
    lines = tuple(
        line.model_copy(update={"path": ((0.4, 0.3 + share), (0.6, 0.3 + share))})
        if line.id == "H1"
        else line
        for line in panel.feature
    )
    near = touched_by(panel.model_copy(update={"feature": lines}), door.advice.places, STRIP_MM)
    assert ("H1" in near["L1"]) is touches


def test_crossing_lines_touch(door: Any) -> None:
    """No end of either is near the other."""
    panel = door.job.panel[0]
    lines = tuple(
        line.model_copy(update={"path": ((0.5, 0.0), (0.5, 0.9))}) if line.id == "H1" else line
        for line in panel.feature
    )
    near = touched_by(panel.model_copy(update={"feature": lines}), door.advice.places, STRIP_MM)
    assert "H1" in near["L1"]


def test_a_hand_line_inside_a_patch_touches_it(door: Any) -> None:
    """It meets none of its sides."""
    panel = door.job.panel[0]
    lines = tuple(
        line.model_copy(update={"path": ((0.09, 0.5), (0.11, 0.5))}) if line.id == "H1" else line
        for line in panel.feature
    )
    near = touched_by(panel.model_copy(update={"feature": lines}), door.advice.places, STRIP_MM)
    assert "H1" in near["R1"]


def test_a_hand_line_deep_in_a_tall_patch_touches_it(door: Any) -> None:
    """However tall the patch is: here 600 mm, the line 40 mm below its middle."""
    panel = door.job.panel[0].model_copy(update={"height_mm": 1200.0, "length_mm": 1200.0})
    patch = panel.patch[0].model_copy(update={"at": (0.5, 0.5), "size_mm": (600.0, 600.0)})
    lines = tuple(
        line.model_copy(update={"path": ((0.45, 0.5333), (0.55, 0.5333))}) if line.id == "H1" else line
        for line in panel.feature
    )
    tall = panel.model_copy(update={"feature": lines, "patch": (patch,)})
    assert "H1" in touched_by(tall, door.advice.places, STRIP_MM)["R1"]


def test_a_line_of_very_many_corners_is_judged_as_any_other(door: Any) -> None:
    """E2 has 2,000 corners and runs past the recess at 31 mm, then at 29 mm."""
    panel = door.job.panel[0]
    for apart_mm, touches in ((31.0, False), (29.0, True)):
        level = 0.5 - apart_mm / panel.height_mm
        lines = tuple(
            line.model_copy(update={"path": tuple((at / 2000, level) for at in range(2000))})
            if line.id == "E2"
            else line.model_copy(update={"path": ((0.4, 0.5), (0.6, 0.5))})
            if line.id == "H1"
            else line
            for line in panel.feature
        )
        near = touched_by(panel.model_copy(update={"feature": lines}), door.advice.places, STRIP_MM)
        assert ("H1" in near["E2"]) is touches


def test_a_place_that_is_not_on_the_panel_is_touched_by_nothing(door: Any) -> None:
    """The gate holds it for other reasons."""
    stray = door.advice.places[-1]._replace(feature="GONE", kind="edge")
    near = touched_by(door.job.panel[0], (*door.advice.places, stray), STRIP_MM)
    assert near["GONE"] == frozenset()
