"""The check-off: what a key logs, and what no key can do."""

from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from tests.tui.conftest import Play, Text, job_of


def test_initials_are_asked_once(demo: Desk, play: Play) -> None:
    """The first step asks for them, the second does not."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "m", "enter", "w")
        await pilot.pause()
        assert {check.by for check in job_of(app).check} == {"km"}
        assert {check.step for check in job_of(app).check} == {"cleaned", "wiped"}

    play(demo, script, view="check-off")


def test_scuffing_shows_the_grades_before_it_logs(demo: Desk, play: Play, screen_text: Text) -> None:
    """S asks whether these were used; Esc logs nothing, 1 logs each with its own grade."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("s", "k", "enter")
        await pilot.pause()
        assert "P1500" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert job_of(app).check == ()
        await pilot.press("s", "1")
        await pilot.pause()
        grades = {check.feature: check.grade for check in job_of(app).check}
        assert grades["E1"] == "P1000"
        assert grades["H1"] == "P1500"

    play(demo, script, view="check-off")


def test_a_look_is_for_one_place_only(
    demo: Desk, play: Play, screen_text: Text, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a panel's row a look is refused; on a place's row it is logged there alone, by a held key too."""
    monkeypatch.setattr("prepadvisor.tui.screens.check_off.LOOK_APART_SECONDS", 60.0)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter", "1")
        await pilot.pause()
        assert "every place needs its own look" in " ".join(screen_text(app).split())
        await pilot.press("down", "1", "1", "1")
        await pilot.pause()
        looks = [check.feature for check in job_of(app).check if check.step == "inspected"]
        assert set(looks) == {"E1"}

    play(demo, script, view="check-off")


def test_no_single_key_and_no_held_key_clears_the_gate(demo: Desk, play: Play, screen_text: Text) -> None:
    """Each key of the check-off pressed twice running leaves it not clear to mask."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter")
        for key in ("g", "w", "1", "down", "1"):
            await pilot.press(key, key)
        await pilot.pause()
        assert "× NOT CLEAR TO MASK" in screen_text(app)

    play(demo, script, view="check-off")


def test_the_lead_accepts_with_initials_and_a_reason(demo: Desk, play: Play) -> None:
    """A asks both; without a reason nothing is accepted."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "a", "j", "b", "enter", "enter")
        await pilot.pause()
        assert job_of(app).check == ()
        await pilot.press("o", "k", "enter")
        await pilot.pause()
        assert job_of(app).check == ()
        await pilot.press("space", *"with", "space", *"him", "enter")
        await pilot.pause()
        check = job_of(app).check[-1]
        assert (check.step, check.by, check.note, check.feature) == ("accepted", "jb", "ok with him", "E1")

    play(demo, script, view="check-off")


def test_undo_takes_an_entry_back_that_is_not_saved(demo: Desk, play: Play) -> None:
    """A slip of the glove."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter", "f9")
        await pilot.pause()
        assert job_of(app).check == ()

    play(demo, script, view="check-off")


def test_work_after_a_look_that_found_lines_is_logged_at_that_place(
    demo: Desk, play: Play, screen_text: Text
) -> None:
    """Powder and DA again at the row that showed lines; the look after that is clear."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter", "s", "1", "g", "d", "1", "down", "2", "g", "d")
        await pilot.pause()
        assert "Sanded: were these used?" in screen_text(app)
        assert "A1 front edge" in screen_text(app)
        assert "interface pad: A1 front edge" in screen_text(app)
        await pilot.press("1")
        await pilot.pause()
        steps = [(check.step, check.result) for check in job_of(app).check if check.feature == "E1"]
        assert steps[-3:] == [("inspected", "lines"), ("guide-coated", None), ("sanded", None)]
        assert "HERE: worked over again; now look" in screen_text(app)
        await pilot.press("1")
        await pilot.pause()
        assert [line for line in screen_text(app).splitlines() if "√ A1" in line]

    play(demo, script, view="check-off")


def test_the_plates_offer_looks_at_a_place_that_owes_one_alone(
    desk: Desk, play: Play, screen_text: Text
) -> None:
    """A row of the booth takes no look, so no plate there says one."""
    desk.open(demo_jobs_dir() / "medium-metallic.toml", read_only=True)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "m", "enter", "s", "1", "g", "d", "1")
        await pilot.pause()
        for key, offered in (("end", False), ("home", False), ("down", True)):
            await pilot.press(key)
            await pilot.pause()
            assert ("Lines left" in screen_text(app)) is offered, key

    play(desk, script, view="check-off")


def test_a_step_logged_from_a_row_of_the_booth_is_the_panels(demo: Desk, play: Play) -> None:
    """No row of the list breaks a key."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("end", "c", "k", "m", "enter")
        await pilot.pause()
        for key in ("s", "escape", "g", "d", "escape", "w", "l", "escape", "1", "enter", "a", "h", "escape"):
            await pilot.press(key)
            await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.job.check[0].panel == app.desk.session.panel_id

    play(demo, script, view="check-off")
