"""Edits of panels, lines and patches: what they change, and what they refuse in words."""

import pytest

from prepadvisor.checkoff import Wanted
from prepadvisor.records import Panel
from prepadvisor.standards import House
from prepadvisor.tui.model import (
    OpenJob,
    RefusedError,
    Session,
    add_line,
    add_panel,
    add_patch,
    check_off,
    part_of,
    put_panel,
    remove_panel,
    remove_part,
    with_part,
)
from prepadvisor.tui.model import sheets as line_sheet
from prepadvisor.tui.model import sheets as panel_sheet


@pytest.fixture
def wing(door_and_wing: OpenJob) -> Panel:
    """The repaired wing with its primer patch."""
    return door_and_wing.panel[1]


def test_an_outline_brings_size_edges_and_lines(shipped_house: House) -> None:
    """A new door is 1050 mm long in the outlines, and its lines come along."""
    outline = shipped_house.outlines["front-door"]
    job, _ = add_panel(OpenJob.new("1"), outline, "clear-only")
    assert job.panel[0].length_mm == outline.length_mm
    assert job.panel[0].feature == outline.feature


def test_the_same_outline_twice_gets_another_name(shipped_house: House) -> None:
    """Two front doors can be told apart."""
    outline = shipped_house.outlines["front-door"]
    job, _ = add_panel(OpenJob.new("1"), outline, "clear-only")
    _, second = add_panel(job, outline, "clear-only")
    assert second == "front-door-2"


def test_a_taken_name_is_refused(door_and_wing: OpenJob) -> None:
    """Panels are told apart by their names."""
    first, second = door_and_wing.panel
    with pytest.raises(RefusedError, match="already"):
        put_panel(door_and_wing, first.model_copy(update={"id": second.id}), was=first.id)


def test_a_panel_with_logged_work_stays(session: Session) -> None:
    """Taking it off would leave log entries without their panel."""
    wanted = [Wanted("left-front-door/panel", "cleaned", "KM")]
    job = check_off.logging(session, wanted)(session.job)
    with pytest.raises(RefusedError, match="logged"):
        remove_panel(job, "left-front-door")
    with pytest.raises(RefusedError, match="keeps its name"):
        put_panel(job, job.panel[0].model_copy(update={"id": "door"}), was="left-front-door")


def test_a_line_with_logged_work_stays(session: Session) -> None:
    """So does a line."""
    wanted = [Wanted("left-front-door/E1", "scuffed", "KM", "hand-pad", "P1000")]
    job = check_off.logging(session, wanted)(session.job)
    with pytest.raises(RefusedError, match="E1"):
        put_panel(job, remove_part(job.panel[0], "E1"))


def test_a_drawn_line_takes_the_next_free_number(wing: Panel) -> None:
    """It is worked by machine until somebody says otherwise."""
    grown, line_id = add_line(wing, "body-line", ((0.1, 0.1), (0.9, 0.1)))
    line = part_of(grown, line_id)
    assert line is not None
    assert line_id not in {each.id for each in wing.feature}


def test_one_point_is_no_line(wing: Panel) -> None:
    """A line needs two."""
    with pytest.raises(RefusedError, match="two points"):
        add_line(wing, "edge", ((0.1, 0.1),))


def test_a_patch_at_the_edge_is_moved_onto_the_panel(wing: Panel) -> None:
    """A patch put at the very corner lies on the panel with its whole size."""
    grown, patch_id = add_patch(wing, "filler", (1.0, 1.0))
    patch = grown.patch[-1]
    assert patch.id == patch_id
    assert patch.at[0] + patch.size_mm[0] / 2 / grown.length_mm <= 1.0005
    assert patch.next == "primer"


def test_the_first_patch_brings_the_colour_in(shipped_house: House) -> None:
    """On a panel without a source of colour the patch becomes it, with the usual widths."""
    job, _ = add_panel(OpenJob.new("1"), shipped_house.outlines["front-door"], "repair")
    grown, patch_id = add_patch(job.panel[0], "primer-surfacer", (0.3, 0.5))
    assert grown.colour_from == (patch_id,)
    assert grown.colour_mm


def test_taking_the_only_source_away_takes_the_layout_away(wing: Panel) -> None:
    """Full colour all over is left, not a layout from nowhere."""
    bare = remove_part(wing, wing.patch[0].id)
    assert bare.colour_from == ()
    assert bare.colour_mm is None


def test_a_patch_cannot_be_called_like_a_side(wing: Panel) -> None:
    """The colour's sources must stay clear."""
    with pytest.raises(RefusedError, match="name of a side"):
        with_part(wing, wing.patch[0].id, id="front")


def test_a_bare_grade_is_refused_with_the_reason(wing: Panel) -> None:
    """600 of another series is another grain."""
    with pytest.raises(RefusedError, match="no P"):
        panel_sheet.changed_panel(wing, "now", "da 600")


def test_film_readings_are_typed_with_blanks_between(wing: Panel) -> None:
    """A comma is a decimal comma."""
    assert panel_sheet.changed_panel(wing, "film_um", "118 112,5").film_um == (118, 112.5)


def test_a_new_role_brings_what_it_needs(wing: Panel) -> None:
    """Clear only has no colour; blend gets a side to come in from."""
    clear = panel_sheet.changed_panel(wing, "role", "clear-only")
    assert (clear.colour_from, clear.colour_mm) == ((), None)
    assert panel_sheet.changed_panel(clear, "role", "blend").colour_from == ("front",)


def test_reach_and_seen_turn_over(wing: Panel) -> None:
    """The two keys of the lines view."""
    line = wing.feature[0]
    by_hand = line_sheet.changed_part(wing, line, "reach", "hand")
    assert by_hand.feature[0].reach == "hand"
    assert line_sheet.changed_part(wing, line, "seen", "no").feature[0].seen is False
