"""From nothing to a written card for two panels: with keys only, counted, and with the mouse only."""

from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.ask import AskText, Dialog
from prepadvisor.tui.model import check_off, gate_view
from prepadvisor.tui.widgets import Keypad, Rail, Rows
from tests.tui.conftest import Play, Text, until

KEYS = (
    "n", "1", "0", "4", "2", "enter",  # a new job and its number
    "5", "t", "g", "n",  # very fine, dark tone, two stages
    "a", "3", "1", "a", "1", "2", "1",  # a wing to repair, a door to blend from its front
    "n", "down", "down", "h",  # of the door's lines one is hand only
    "f7", "t",  # the card
)  # fmt: skip


def test_a_two_panel_job_takes_thirty_keys_at_most(desk: Desk, play: Play) -> None:
    """The whole walk; the card is on the disk with both panels."""
    assert len(KEYS) <= 30

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press(*KEYS)
        await pilot.pause()

    play(desk, script, size=(60, 18))
    card = (desk.folder / "1042-card.txt").read_text(encoding="utf-8")
    assert "FRONT WING" in card
    assert "FRONT DOOR" in card
    assert 'flake = "very-fine"' in (desk.folder / "1042.toml").read_text(encoding="utf-8")


async def _touch_plate(pilot: Pilot[Any], app: BenchApp, label: str) -> None:
    """Touch the plate with a label."""
    rail = app.screen.query_one(Rail)
    start, wide, _ = next(found for found in rail.plates if found[2].label.startswith(label))
    await pilot.click(rail, offset=(start + wide // 2, 1))
    await pilot.pause()


async def _touch_row(pilot: Pilot[Any], app: BenchApp, text: str, where: str = "Rows") -> None:
    """Touch the row with some words, as soon as it is in sight."""
    rows = app.screen.query_one(where, Rows)
    at = next(at for at, each in enumerate(rows.rows) if text in f"{each.label} {each.text}")
    for _ in range(50):  # a list that gets its size rolls back to its arrow
        rows.roll_to(rows.span(at)[0] - rows.size.height // 2)  # as by the wheel
        await pilot.pause()
        if 0 <= rows.span(at)[0] - rows.top < rows.size.height:
            break
    edge = rows.gutter.top
    await pilot.click(rows, offset=(5, rows.span(at)[0] - rows.top + edge))
    await pilot.pause()


async def _touch_letters(pilot: Pilot[Any], app: BenchApp, letters: str) -> None:
    """Touch keys of the pad under a field, found by their letters on the screen."""
    pad = app.screen.query_one(Keypad)
    for letter in letters:
        lines = [pad.render_line(y).text for y in range(pad.size.height)]
        y = next(at for at, line in enumerate(lines) if letter in line)
        await pilot.click(pad, offset=(lines[y].index(letter), y))
        await pilot.pause()


def test_the_same_by_mouse_alone(desk: Desk, play: Play) -> None:
    """Every press is a click on a row or a plate; the number that is offered is taken."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _touch_plate(pilot, app, "New job")
        await _touch_plate(pilot, app, "Take it")
        await _touch_row(pilot, app, "very fine", "#flakes")
        await _touch_plate(pilot, app, "Stages")
        await _touch_plate(pilot, app, "Panels")
        for outline, role in (("front wing", "Repair"), ("front door", "Blend")):
            await _touch_plate(pilot, app, "Add panel")
            await _touch_row(pilot, app, outline)
            await _touch_row(pilot, app, role)
        await _touch_row(pilot, app, "front edge")
        await _touch_plate(pilot, app, "Menu")
        await _touch_row(pilot, app, "Go to Card")
        await _touch_plate(pilot, app, "Write text")

    play(desk, script, size=(80, 24))
    card = (desk.folder / "0302-1-card.txt").read_text(encoding="utf-8")
    assert "FRONT WING" in card
    assert "FRONT DOOR" in card


async def work_down(pilot: Pilot[Any], app: BenchApp) -> int:
    """Log what NEXT names until nothing is owed, as a technician does, and return how many keys that took."""
    presses = 0
    for _ in range(300):
        session = app.desk.session
        assert session is not None
        verdict = gate_view.gate_of(session)
        assert verdict is not None
        if verdict.clear:
            return presses
        step = check_off.next_step(verdict, session.panel_id)
        assert step is not None
        looks = {task.place for task in step.tasks if step.step == "inspected"}
        at_look = app.view is not None and app.view.query_one("#places", Rows).current in looks
        await pilot.press("1" if isinstance(app.screen, Dialog) or at_look else "l")
        await pilot.pause()
        presses += 1
        if isinstance(app.screen, AskText):
            await pilot.press("k", "m", "enter")
            await pilot.pause()
            presses += 3
    raise AssertionError("never clear")


@pytest.fixture(autouse=True)
def _no_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys are pressed here faster than by any hand; that a held key looks at nothing is tested elsewhere."""
    monkeypatch.setattr("prepadvisor.tui.screens.check_off.LOOK_APART_SECONDS", -1.0)


def test_a_job_is_worked_down_to_clear_to_mask(demo: Desk, play: Play, screen_text: Text) -> None:
    """Both panels cleaned, scuffed, powder, sanded, looked at, wiped; the banner turns with the last step."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "× NOT CLEAR TO MASK" in screen_text(app)
        await work_down(pilot, app)
        assert "√ CLEAR TO MASK" in screen_text(app)

    play(demo, script, view="check-off")


def test_a_panel_of_nine_places_takes_twenty_keys(desk: Desk, play: Play) -> None:
    """One key a step for the whole panel, one a look; initials and asked-for grades included."""
    desk.open(demo_jobs_dir() / "medium-metallic.toml", read_only=True)
    session = desk.session
    assert session is not None
    assert session.advice is not None
    assert len(session.advice.places) == 9

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert await work_down(pilot, app) <= 20

    play(desk, script, view="check-off")


def test_a_panel_is_worked_down_by_mouse_alone(desk: Desk, play: Play, screen_text: Text) -> None:
    """As a technician who never takes a glove off, initials on the pad too: twenty touches at most."""
    desk.open(demo_jobs_dir() / "medium-metallic.toml", read_only=True)
    session = desk.session
    assert session is not None

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        touches = 0
        for _ in range(60):
            verdict = gate_view.gate_of(session)
            assert verdict is not None
            if verdict.clear:
                break
            step = check_off.next_step(verdict, session.panel_id)
            assert step is not None
            if step.step == "inspected":
                place = step.tasks[0].place.partition("/")[2]
                rows = app.screen.query_one("#places", Rows)
                text = next(row.text for row in rows.rows if row.id.endswith(f"/{place}"))
                if app.screen.query_one("#places", Rows).current != step.tasks[0].place:
                    await _touch_row(pilot, app, text, "#places")
                    touches += 1
                await _touch_plate(pilot, app, "Clear")
                touches += 1
            else:
                await _touch_plate(pilot, app, "Log NEXT")
                touches += 1
                if isinstance(app.screen, AskText):
                    await _touch_letters(pilot, app, "KM")
                    await _touch_plate(pilot, app, "Take it")
                    touches += 3
                if isinstance(app.screen, Dialog):
                    await _touch_row(pilot, app, "Yes, these")
                    touches += 1
        assert "√ CLEAR TO MASK" in screen_text(app)
        assert touches <= 20

    play(desk, script, view="check-off")


def test_a_rule_is_tightened_by_mouse_alone(demo: Desk, play: Play, screen_text: Text) -> None:
    """As a lead: the rule touched, a grade finer, into the draft, checked, seen on jobs."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await _touch_row(pilot, app, "hand-very-fine", "#rules")
        await _touch_plate(pilot, app, "Finer")
        await _touch_plate(pilot, app, "Into draft")
        await _touch_plate(pilot, app, "Check")
        await until(pilot, lambda: "possible cases were looked at" in screen_text(app))
        await _touch_plate(pilot, app, "Our jobs")
        await until(pilot, lambda: "by our-hand-very-fine" in screen_text(app))

    play(demo, script, view="standards", size=(120, 40))
