"""What works on every view: undo, help, menu, plates, keeping and saving."""

from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from prepadvisor.files import journal_folder
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.screens.view import WAY
from prepadvisor.tui.widgets import Keypad, Rail, Rows, TextField
from tests.tui.conftest import Play, Text, job_of, session_of, until


def test_undo_and_redo_by_key_with_their_name(demo: Desk, play: Play, screen_text: Text) -> None:
    """F9 takes back and says what, F10 brings again."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("1", "f9")
        await pilot.pause()
        assert job_of(app).colour.flake == "very-fine"
        assert "Undone: flake solid" in screen_text(app)
        await pilot.press("f10")
        await pilot.pause()
        assert job_of(app).colour.flake == "solid"

    play(demo, script, view="colour")


def test_f1_helps_with_the_view_that_is_on(demo: Desk, play: Play, screen_text: Text) -> None:
    """Its title and its words."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("f1")
        await pilot.pause()
        assert "Help: Check-off" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.view is not None

    play(demo, script, view="check-off")


def test_f1_helps_with_what_has_the_focus(demo: Desk, play: Play, screen_text: Text) -> None:
    """On the drawing it tells of the drawing."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "f1")
        await pilot.pause()
        assert "On the drawing:" in screen_text(app)

    play(demo, script, view="panels")


def test_everything_is_in_the_menu(demo: Desk, play: Play) -> None:
    """Each act of each view is a plate or a line of its menu; Esc opens it and the same key does it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        view = app.view
        assert view is not None
        await pilot.press("escape")
        await pilot.pause()
        ids = {row.id for row in app.screen.query_one(Rows).rows}
        assert {act.action for act in view.acts} <= ids
        await pilot.press("f3")
        await pilot.pause()
        assert app.view is not None
        assert app.view.view == "panels"

    play(demo, script, view="answer")


def test_plates_are_wide_enough_for_a_glove(demo: Desk, play: Play) -> None:
    """Three rows by twelve columns at least, at every size."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for size in ((60, 18), (80, 24), (120, 40), (200, 60)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            rail = app.screen.query_one(Rail)
            assert rail.size.height == 3
            assert min(wide for _, wide, _ in rail.plates) >= 12

    play(demo, script, view="check-off")


def test_a_change_is_in_the_journal_before_anything_else_is_pressed(desk: Desk, play: Play) -> None:
    """Typed is kept: the state folder has the new flake, though the job was never saved."""

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("n", "5", "enter", "2")
        await pilot.pause()
        texts = [path.read_text(encoding="ascii") for path in journal_folder().iterdir()]
        assert any("coarse" in text for text in texts)
        assert not (desk.folder / "5.toml").exists()

    play(desk, script)


def test_going_on_saves_the_job(desk: Desk, play: Play) -> None:
    """After the next view the file has the panel, and the head says saved."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("n", "5", "enter", "2", "n", "a", "5", "3", "n")
        await pilot.pause()
        assert 'kind = "bonnet"' in (desk.folder / "5.toml").read_text(encoding="utf-8")
        assert not session_of(app).is_dirty

    play(desk, script)


def test_a_demo_is_never_written(demo: Desk, play: Play) -> None:
    """Whatever is done to it."""
    assert demo.session is not None
    assert demo.session.path is not None
    path = demo.session.path
    before = path.read_bytes()

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("1", "f3", "d", "y", "f4", "ctrl+s", "f5")
        await pilot.pause()

    play(demo, script, view="colour")
    assert path.read_bytes() == before


def test_a_chosen_theme_is_there_next_time(desk: Desk, play: Play) -> None:
    """The night theme is kept from one start to the next."""

    async def choose(_pilot: Pilot[Any], app: BenchApp) -> None:
        app.action_theme()
        assert app.theme == "night"

    async def look(pilot: Pilot[Any], app: BenchApp) -> None:
        assert app.theme == "night"
        for name in ("terminal", "daylight"):
            app.action_theme()
            await pilot.pause()
            assert app.theme == name

    play(desk, choose)
    play(desk, look)


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_no_part_of_a_view_lies_outside_the_window(demo: Desk, play: Play, size: tuple[int, int]) -> None:
    """What is laid out wider than the window would lose the ends of its lines without a sign."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for stop in WAY:
            await pilot.press(stop.key.lower())
            await pilot.pause()
            for widget in app.screen.query("Rows, Reading, PanelDrawing, GradeRuler, Rail, Head, Note"):
                assert widget.region.right <= size[0], (stop.view, widget)
                assert widget.region.bottom <= size[1], (stop.view, widget)

    play(demo, script, view="colour", size=size)


def test_caps_lock_changes_nothing(demo: Desk, play: Play) -> None:
    """A capital letter does what its plate says."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("N")
        await pilot.pause()
        assert app.view is not None
        assert app.view.view == "panels"
        await pilot.press("A", "E", "escape", "D", "Y")
        await pilot.pause()
        assert len(job_of(app).panel) == 1

    play(demo, script, view="colour")


def test_a_pane_fills_the_screen_and_goes_back(demo: Desk, play: Play) -> None:
    """E gives the pane with the focus the whole body; E again brings the others back as they were."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        pane = app.focused
        assert pane is not None
        before = {widget: widget.region for widget in app.screen.query(".pane")}
        await pilot.press("e")
        await pilot.pause()
        assert pane.region.width == app.size.width
        assert [widget for widget in app.screen.query(".pane") if widget.region.width] == [pane]
        await pilot.press("e")
        await pilot.pause()
        assert {widget: widget.region for widget in app.screen.query(".pane")} == before

    play(demo, script, view="lines")


def test_a_number_goes_to_its_line(demo: Desk, play: Play) -> None:
    """On the list of lines, and on the drawing of any view; what is no number of a line is said."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("4")
        await pilot.pause()
        assert session_of(app).part_id == "H1"
        await pilot.press("0")
        await pilot.pause()
        assert session_of(app).part_id == "face"
        await pilot.press("f3", "z", "3")
        await pilot.pause()
        assert session_of(app).part is not None
        assert session_of(app).part.name == "body line"  # type: ignore[union-attr]

    play(demo, script, view="lines")


def test_a_refused_name_is_asked_for_again_as_it_was_typed(demo: Desk, play: Play, screen_text: Text) -> None:
    """The fault stands under it; a letter more makes it another name, and it is taken."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("enter", "end", "enter", *"left-front-wing", "enter")
        await pilot.pause()
        assert 'there is a panel "left-front-wing" already' in screen_text(app)
        assert app.screen.query_one(TextField).value == "left-front-wing"
        await pilot.press("2", "enter")
        await pilot.pause()
        assert "left-front-wing2" in [panel.id for panel in job_of(app).panel]

    play(demo, script, view="panels")


def test_a_long_paste_is_cut_with_a_word_and_lines_are_joined(
    demo: Desk, play: Play, screen_text: Text
) -> None:
    """Nothing that is pasted goes away without being told."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for pasted, kept, told in (
            ("Harbour\nmist", "Harbour mist", ""),
            ("x" * 500, "x" * 400, "100 letters"),
        ):
            await pilot.press("c")
            field = app.screen.query_one(TextField)
            field.post_message(events.Paste(pasted))
            await pilot.pause()
            assert field.value == kept
            assert told in screen_text(app)
            await pilot.press("enter")
            await pilot.pause()
            assert job_of(app).colour.name == kept

    play(demo, script, view="colour")


def test_the_wall_table_is_on_the_screens(demo: Desk, play: Play, screen_text: Text) -> None:
    """From the menu, and in a wide window with a row for each flake: fine flake P1000, by hand P800 ahead."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("escape", "7")
        await until(pilot, lambda: "FADE    face P800" in screen_text(app))
        await pilot.press("escape")
        await pilot.resize_terminal(200, 60)
        await pilot.press("escape", "7")
        await until(pilot, lambda: "║ fine flake " in screen_text(app))
        row = next(line for line in screen_text(app).splitlines() if "║ fine flake " in line)
        assert [word for word in row.split() if word.startswith("P")][:3] == ["P1000", "P800", "P1500"]

    play(demo, script, view="panels")


def test_a_number_is_typed_with_the_mouse_alone(demo: Desk, play: Play) -> None:
    """The pad under a field: a figure takes the place of what is marked, the arrow takes one away."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("tab", "down", "down", "enter")  # full colour, 150 mm
        pad, field = app.screen.query_one(Keypad), app.screen.query_one(TextField)
        figures = pad.render_line(1).text
        for key in ("2", "7", "0", "◄", "0", "."):
            await pilot.click(pad, offset=(figures.index(key), 1))
        await until(pilot, lambda: field.value == "270.")
        assert field.has_focus

    play(demo, script, view="panels")
