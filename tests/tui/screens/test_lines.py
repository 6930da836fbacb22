"""The lines view by keys and mouse."""

from dataclasses import replace
from typing import Any

from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.widgets import PanelDrawing, Rows
from tests.tui.conftest import Play, Text, job_of, session_of


def test_list_and_drawing_share_one_selection(demo: Desk, play: Play) -> None:
    """Down in the list selects the line on the drawing; a touch on the drawing selects it in the list."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        drawing = app.screen.query_one(PanelDrawing)
        await pilot.press("down")
        await pilot.pause()
        assert drawing.picture is not None
        assert drawing.picture.picked == "E1"
        at = drawing.frame_now
        assert at is not None
        await pilot.click(drawing, offset=(at.left + at.wide - 1, at.top + at.high // 2 - 1))
        await pilot.pause()
        assert session_of(app).part_id == app.screen.query_one("#parts", Rows).current != "E1"

    play(demo, script, view="lines")


def test_reach_and_seen_by_key(demo: Desk, play: Play) -> None:
    """H and S on the front edge."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "h", "s")
        await pilot.pause()
        line = job_of(app).panel[0].feature[0]
        assert (line.reach, line.seen) == ("hand", False)

    play(demo, script, view="lines")


def test_a_recorded_scuff_is_judged(demo: Desk, play: Play, screen_text: Text) -> None:
    """P600 by pad on the front edge of a very fine silver is too coarse, and the answer has the re-cut."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "r", "3", "8", "f5")
        await pilot.pause()
        done = job_of(app).panel[0].feature[0].done
        assert done is not None
        assert done.grade == "P600"
        text = screen_text(app)
        assert "TOO COARSE" in text

    play(demo, script, view="lines", size=(120, 40))


def test_a_line_is_drawn_by_pointing(demo: Desk, play: Play) -> None:
    """W, a point, some steps, a point, Enter, its kind."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        before = len(job_of(app).panel[0].feature)
        await pilot.press("w", "space", *["right"] * 5, "space", "enter", "2")
        await pilot.pause()
        line = job_of(app).panel[0].feature[-1]
        assert len(job_of(app).panel[0].feature) == before + 1
        assert line.kind == "body-line"
        assert line.path[0][0] < line.path[1][0]
        assert session_of(app).part_id == line.id

    play(demo, script, view="lines")


def test_a_patch_is_added_and_taken_away(demo: Desk, play: Play) -> None:
    """P, filler; D takes it off again."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("p", "6")
        await pilot.pause()
        patch = job_of(app).panel[0].patch[-1]
        assert patch.surface == "filler"
        await pilot.press("d")
        await pilot.pause()
        assert patch.id not in {each.id for each in job_of(app).panel[0].patch}

    play(demo, script, view="lines")


def test_a_pad_of_the_shop_is_picked_by_its_name(demo: Desk, play: Play, screen_text: Text) -> None:
    """A pad whose coarse end is P600 is judged as P600: too coarse for a very fine silver."""
    assert demo.session is not None
    shop = demo.house.shop.model_copy(update={"pads": {"our grey pad": "P600"}})
    demo.session.use_house(replace(demo.house, shop=shop))

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "r", "3", "1")
        await pilot.pause()
        done = job_of(app).panel[0].feature[0].done
        assert done is not None
        assert (done.tool, done.pad, done.grade) == ("hand-pad", "our grey pad", None)
        assert "our grey pad" in screen_text(app)
        await pilot.press("f5")
        await pilot.pause()
        assert "TOO COARSE" in screen_text(app)

    play(demo, script, view="lines")


def test_the_drawing_keeps_its_size_from_place_to_place(demo: Desk, play: Play) -> None:
    """However many zones a place lies in, and so however long the words below it are."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        drawing = app.screen.query_one(PanelDrawing)
        sizes = set()
        for _ in range(8):
            await pilot.press("down")
            await pilot.pause()
            sizes.add(drawing.size)
        assert len(sizes) == 1

    play(demo, script, view="lines", size=(60, 18))
