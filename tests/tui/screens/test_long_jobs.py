"""Jobs of very many places: the key is answered at once, and nothing reads clear before it is judged."""

from functools import partial
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import appended, load_job, new_text, values_of
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, revised, with_colour
from prepadvisor.tui.screens.view import View
from prepadvisor.tui.widgets import Note
from tests.checkoff.shopfloor import Shopfloor
from tests.tui.conftest import NOW, Play, Text, job_of, session_of, until


@pytest.fixture(autouse=True)
def _long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take every job for a long one."""
    monkeypatch.setattr("prepadvisor.tui.model.session.LONG_PLACES", 0)


@pytest.fixture
def clear_job(desk: Desk, door_and_wing: OpenJob, shipped_house: House, tmp_path: Path) -> Desk:
    """A desk with a job open that is worked to the end of its stage."""
    floor = Shopfloor(door_and_wing.model_copy(update={"check": ()}), shipped_house)
    floor.now = NOW.replace(hour=6)
    floor.work_through()
    path = tmp_path / "clear.toml"
    text = new_text(OpenJob.of(floor.job)).encode()
    path.write_bytes(appended(text, "check", [values_of(check) for check in floor.log]))
    desk.open(path)
    return desk


def test_nothing_reads_clear_before_it_is_judged(clear_job: Desk, play: Play, screen_text: Text) -> None:
    """The check-off says at once that it is being judged; after an edit elsewhere, never the old CLEAR."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await until(pilot, lambda: "√ CLEAR TO MASK" in screen_text(app))
        await pilot.press("f3")
        session = session_of(app)
        panel = session.job.panel[0]
        wider = revised(panel, {"colour_mm": (panel.colour_mm or 0) + 80})
        session.do("wider", revised(session.job, {"panel": (wider, *session.job.panel[1:])}))
        await app.action_go("check-off")
        view = app.screen
        assert isinstance(view, View)
        assert view.is_waiting
        assert "CLEAR: being judged" in screen_text(app)
        assert "√ CLEAR" not in screen_text(app)
        await until(pilot, lambda: "NOT CLEAR TO MASK" in screen_text(app))
        assert "√ CLEAR" not in screen_text(app)

    play(clear_job, script, view="check-off")


def test_the_card_says_that_it_is_being_written(clear_job: Desk, play: Play, screen_text: Text) -> None:
    """First that, then the card as it is; an edit is never seen beside the old card."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await app.action_go("card")
        assert "is being written" in screen_text(app)
        await until(pilot, lambda: "JOB 1042" in screen_text(app))

    play(clear_job, script, view="colour")


def test_a_change_of_all_places_is_made_in_turn_and_kept(
    clear_job: Desk, play: Play, shipped_house: House
) -> None:
    """It is announced, later ones wait behind it, undo takes the last back, and leaving keeps the rest."""
    path = clear_job.session.path if clear_job.session else None
    assert path is not None

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for flake in ("fine", "medium"):
            app._edited(View.Edited(f"flake {flake}", partial(with_colour, flake=flake)))
        app._edited(View.Edited("name", partial(with_colour, name="Quayside")))
        assert job_of(app).colour.flake == "very-fine"
        assert "working it out" in app.screen.query_one(Note).says
        app.action_undo()
        assert (job_of(app).colour.flake, job_of(app).colour.name) == ("medium", "Harbour mist")
        app._edited(View.Edited("flake", partial(with_colour, flake="coarse")))
        app.action_leave()
        await until(pilot, lambda: not app.is_running or app.return_code is not None)

    play(clear_job, script, view="colour")
    assert load_job(path, shipped_house).colour.flake == "coarse"
