"""From nothing to a written card for two panels: with keys only, counted, and with the mouse only."""

from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.widgets.rail import Rail
from prepadvisor.tui.widgets.rows import Rows

Play = Callable[..., None]
Text = Callable[[BenchApp], str]

KEYS = (
    "n", "1", "0", "4", "2", "enter",  # a new job and its number
    "5", "t", "g", "n",  # very fine, dark tone, two stages
    "a", "3", "1", "a", "1", "2", "1",  # a wing to repair, a door to blend from its front
    "n", "down", "down", "h",  # of the door's lines one is hand only
    "f7", "t",  # the card
)  # fmt: skip


def test_a_two_panel_job_takes_under_forty_keys(desk: Desk, play: Play) -> None:
    """The whole walk; the card is on the disk with both panels."""
    assert len(KEYS) < 40

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press(*KEYS)
        await pilot.pause()

    play(desk, script, size=(60, 18))
    card = (desk.folder / "1042-card.txt").read_text(encoding="utf-8")
    assert "FRONT WING" in card
    assert "FRONT DOOR" in card
    assert 'flake = "very-fine"' in (desk.folder / "1042.toml").read_text(encoding="utf-8")


def test_the_same_by_mouse_alone(desk: Desk, play: Play) -> None:
    """Every press is a click on a row or a plate; the number that is offered is taken."""

    async def plate(pilot: Pilot[Any], app: BenchApp, label: str) -> None:
        rail = app.screen.query_one(Rail)
        start, wide, _ = next(found for found in rail.plates if found[2].label.startswith(label))
        await pilot.click(rail, offset=(start + wide // 2, 1))
        await pilot.pause()

    async def row(pilot: Pilot[Any], app: BenchApp, text: str, where: str = "Rows") -> None:
        rows = app.screen.query_one(where, Rows)
        at = next(at for at, each in enumerate(rows.rows) if text in f"{each.label} {each.text}")
        await pilot.click(rows, offset=(5, at * rows.row_lines - int(rows.scroll_y)))
        await pilot.pause()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await plate(pilot, app, "New job")
        await plate(pilot, app, "Take it")
        await row(pilot, app, "very fine", "#flakes")
        await plate(pilot, app, "Stages")
        await plate(pilot, app, "Panels")
        for outline, role in (("front wing", "Repair"), ("front door", "Blend")):
            await plate(pilot, app, "Add panel")
            await row(pilot, app, outline)
            await row(pilot, app, role)
        await row(pilot, app, "front edge")
        await plate(pilot, app, "Menu")
        await row(pilot, app, "Go to Card")
        await plate(pilot, app, "Write text")

    play(desk, script, size=(80, 24))
    card = (desk.folder / "0302-1-card.txt").read_text(encoding="utf-8")
    assert "FRONT WING" in card
    assert "FRONT DOOR" in card


def test_a_job_is_worked_down_to_clear_to_mask(demo: Desk, play: Play, screen_text: Text) -> None:
    """Both panels cleaned, scuffed, powder, sanded, looked at, wiped; clear only after the last step."""
    work = ("c", "s", "1", "g", "d", "1")
    first = ("c", "k", "m", "enter", *work[1:], *("down", "1") * 8, "w")
    second = ("down", *work, *("down", "1") * 9)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press(*first, *second)
        await pilot.pause()
        assert "× NOT CLEAR TO MASK: 1 thing left" in screen_text(app)
        await pilot.press("w")
        await pilot.pause()
        assert "√ CLEAR TO MASK" in screen_text(app)

    play(demo, script, view="check-off")
