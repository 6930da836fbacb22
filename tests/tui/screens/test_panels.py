"""The panels view by keys and mouse."""

from typing import Any

from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import set_borders
from prepadvisor.tui.widgets import PanelDrawing, Rows
from tests.tui.conftest import Play, Text, job_of, session_of, until


def test_a_panel_is_added_from_an_outline_in_four_keys(demo: Desk, play: Play) -> None:
    """A, the outline, blend, front."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a", "5", "2", "1")
        await pilot.pause()
        panel = job_of(app).panel[-1]
        assert (panel.kind, panel.role, panel.colour_from) == ("bonnet", "blend", ("front",))
        assert session_of(app).panel_id == panel.id

    play(demo, script, view="panels")


def test_arrows_move_the_border_by_a_centimetre(demo: Desk, play: Play, screen_text: Text) -> None:
    """Z, then right: the fade ends at 560 mm, and the screen shows it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "right")
        await pilot.pause()
        assert job_of(app).panel[0].fade_mm == 410
        assert "FADE 560" in screen_text(app)
        await pilot.press("space", "left")
        await pilot.pause()
        assert job_of(app).panel[0].colour_mm == 140

    play(demo, script, view="panels")


def test_the_mouse_drags_the_border(demo: Desk, play: Play) -> None:
    """Taken at 550 mm and let go a few columns further, the fade is longer."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        drawing = app.screen.query_one(PanelDrawing)
        at = drawing.frame_now
        assert at is not None
        column = at.left + round(at.wide * 550 / 1050)
        await pilot.mouse_down(drawing, offset=(column, at.top + 8))
        await pilot.hover(drawing, offset=(column + 5, at.top + 8))
        await pilot.mouse_up(drawing, offset=(column + 5, at.top + 8))
        await pilot.pause()
        fade = job_of(app).panel[0].fade_mm
        assert fade is not None
        assert fade > 450

    play(demo, script, view="panels")


def test_no_room_is_told_and_stays_told(demo: Desk, play: Play, screen_text: Text) -> None:
    """The border stops at the far end, and the note says what to do instead."""
    session = demo.session
    assert session is not None
    assert session.panel is not None
    session.put_panel("longer fade", set_borders(session.panel, 150, 890))

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "right", "right")
        await pilot.pause()
        assert job_of(app).panel[0].fade_mm == 900
        assert "blend the next panel" in " ".join(screen_text(app).split())

    play(demo, script, view="panels")


def test_removing_a_panel_asks_first(demo: Desk, play: Play) -> None:
    """Enter does nothing there; N keeps it, Y takes it off."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("d", "enter", "n")
        await pilot.pause()
        assert len(job_of(app).panel) == 2
        await pilot.press("d", "y")
        await pilot.pause()
        assert len(job_of(app).panel) == 1

    play(demo, script, view="panels")


def _strips(app: BenchApp) -> list[Any]:
    """Return all that is painted, colours and all, line by line."""
    return [list(strip.simplify()) for strip in app.screen._compositor.render_strips()]


async def _settled(pilot: Pilot[Any], app: BenchApp) -> list[Any]:
    """Return what is painted once two looks at it, with a repaint's time between, are alike."""
    seen: list[Any] = []

    def is_still() -> bool:
        seen.append(_strips(app))
        return len(seen) > 1 and seen[-1] == seen[-2]

    await pilot.pause()
    await until(pilot, is_still)
    return list(seen[-1])


def test_painting_only_what_changed_shows_what_painting_all_would(demo: Desk, play: Play) -> None:
    """Other panels, facts, borders, a theme, digits, an enlarged pane, undo: no line is left as it was."""
    keys = "down up tab down right right right z right right space left 1 0 f9 e right e shift+tab up f10"

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key in keys.split():
            await pilot.press(key)
            if key == "space":
                app.action_theme()
            painted = await _settled(pilot, app)
            for widget in app.screen.query("*"):
                widget.refresh(layout=True)
                widget.notify_style_update()
            assert painted == await _settled(pilot, app), key

    play(demo, script, view="panels", size=(120, 40))


def test_the_sides_of_a_tailgate_are_the_cars(desk: Desk, play: Play) -> None:
    """What a job file calls the front of a tailgate is its left edge: so it is asked and told."""
    desk.new("1")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a", "7", "2")
        assert [row.text for row in app.screen.query_one(Rows).rows][:2] == ["left edge", "right edge"]
        await pilot.press("1")
        facts = {row.label: row.text for row in app.screen.query_one("#facts", Rows).rows}
        assert facts["Colour from"] == "left"

    play(desk, script, view="panels")
