"""A panel kind that the house states itself, on the screens: chosen, drawn, answered, checked off."""

from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir, load_house
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.choose import Choose
from tests.tui.conftest import Play

PANELS = """[[outline]]
kind = "roof-spoiler"
name = "roof spoiler"
like = "boot-lid"
length_mm = 1200
height_mm = 300
shape = [[0, 0], [1, 0], [0.9, 1], [0.1, 1]]
colour_mm = 60
fade_mm = 90
"""


def test_an_own_kind_is_chosen_and_worked(tmp_path: Path, play: Play) -> None:
    """It stands in the list with its name, brings size and zones, and every view shows it."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "panels.toml").write_text(PANELS, encoding="utf-8")
    path = tmp_path / "door.toml"
    path.write_bytes((demo_jobs_dir() / "medium-metallic.toml").read_bytes())
    desk = Desk(load_house(house), tmp_path)
    desk.open(path)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a")
        dialog = app.screen
        assert isinstance(dialog, Choose)
        dialog.dismiss("roof-spoiler")
        await pilot.pause()
        await pilot.press("2", "1")
        await pilot.pause()
        session = app.desk.session
        assert session is not None
        spoiler = session.job.panel[-1]
        assert (spoiler.kind, spoiler.length_mm, spoiler.colour_mm, spoiler.fade_mm) == (
            "roof-spoiler", 1200, 60, 90,
        )  # fmt: skip
        assert session.advice is not None
        assert session.advice.panels[-1].name == "roof spoiler"
        for _ in ("lines", "answer", "check-off", "card"):
            await pilot.press("n")
            await pilot.pause()
            assert app.is_running

    play(desk, script, view="panels")
