"""The screens as plain text: usual views at three sizes, signs of old consoles only, hostile text."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import new_text
from prepadvisor.records import Feature
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, add_panel, revised, with_colour, with_head
from prepadvisor.tui.screens.view import WAY
from tests.tui.conftest import Play, Text

Accept = Callable[[Path, str], None]
SIZES = ((60, 18), (80, 24), (120, 40))
SHOTS = Path(__file__).parent / "shots"

# The WGL4 repertoire as far as the screens may use it (from memory): ASCII, Latin-1, box drawing, blocks,
# arrows, marks and shapes. Old consoles have these.
_WGL4 = (
    {chr(code) for code in range(0x20, 0x7F)}
    | {chr(code) for code in range(0xA0, 0x100)}
    | set("─│┌┐└┘├┤┬┴┼═║╒╓╔╕╖╗╘╙╚╛╜╝╞╟╠╡╢╣╤╥╦╧╨╩╪╫╬▀▄█▌▐░▒▓■□▪▫▬▲►▼◄◊○●◘◙◦←↑→↓↔↕√…–—‘’“”•‰")
)
_SCROLLBAR = set("▁▂▃▄▅▆▇█")  # the ends of the framework's own scroll bars, decoration only


@pytest.mark.regression
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("view", ["colour", "panels", "check-off"])
def test_the_usual_views_look_as_before(
    demo: Desk, play: Play, screen_text: Text, accept: Accept, view: str, size: tuple[int, int]
) -> None:
    """Text of the screen line by line; a wanted change is taken over with `--accept`."""
    shot = SHOTS / f"{view}-{size[0]}x{size[1]}.txt"

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for _ in range(20):  # the note's line comes last, and takes one from the panes
            if f"{screen_text(app)}\n" == shot.read_text(encoding="utf-8"):
                break
            await pilot.pause(0.02)
        text = screen_text(app) + "\n"
        accept(shot, text)
        assert text.splitlines() == shot.read_text(encoding="utf-8").splitlines()

    play(demo, script, view=view, size=size)


@pytest.mark.memory
@pytest.mark.parametrize("size", [(60, 18), (200, 60)], ids=["small", "large"])
def test_only_signs_that_old_consoles_have(
    demo: Desk, play: Play, screen_text: Text, size: tuple[int, int]
) -> None:
    """Every view, its menu and its help."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        seen: set[str] = set()
        for stop in WAY:
            await pilot.press(stop.key.lower())
            await pilot.pause()
            seen |= set(screen_text(app))
        await pilot.press("f1")
        await pilot.pause()
        seen |= set(screen_text(app))
        assert seen - _WGL4 - _SCROLLBAR - {"\n"} == set()

    play(demo, script, view="colour", size=size)


@pytest.mark.parametrize("size", [(60, 18), (120, 40), (200, 60)], ids=["small", "usual", "large"])
def test_hostile_text_is_harmless_in_every_view(
    desk: Desk, play: Play, screen_text: Text, shipped_house: House, size: tuple[int, int]
) -> None:
    """Brackets, tags and very long names are shown as they are, and break nothing."""
    job = with_head(OpenJob.new("[/x]"), vehicle="[b]" * 60, by="[@click=app.leave]x[/]")
    job = with_colour(job, name="[red]" + "W" * 300, flake="fine", stages=2)
    job, panel_id = add_panel(job, shipped_house.outlines["front-door"], "blend", "front")
    line = revised(job.panel[0].feature[0], {"name": "[x] Front \\[/] " + "n" * 200})
    panel = revised(job.panel[0], {"feature": (line, *job.panel[0].feature[1:])})
    path = desk.folder / "[x].toml"
    path.write_text(new_text(revised(job, {"panel": (panel,)})), encoding="utf-8")
    desk.open(path)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for stop in WAY:
            await pilot.press(stop.key.lower())
            await pilot.pause()
            assert app.view is not None
            assert app.view.view == stop.view
            assert "[/x]" in screen_text(app)
        await pilot.press("f4", "down")
        await pilot.pause()
        assert "[x] Front" in screen_text(app)

    play(desk, script, view="colour", size=size)
    assert panel_id == "front-door"


def test_forty_lines_and_forty_panels_fit_by_scrolling(
    desk: Desk, play: Play, screen_text: Text, shipped_house: House
) -> None:
    """The last of them can be reached and is in sight."""
    job = with_colour(OpenJob.new("40"), flake="fine", stages=2)
    job, _ = add_panel(job, shipped_house.outlines["front-door"], "blend", "front")
    lines = tuple(
        Feature(id=f"L{at}", kind="edge", path=((0.1, at / 50), (0.9, at / 50)), reach="machine")
        for at in range(1, 41)
    )
    panel = revised(job.panel[0], {"feature": lines})
    path = desk.folder / "40.toml"
    path.write_text(new_text(revised(job, {"panel": (panel,)})), encoding="utf-8")
    desk.open(path)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key in ("f4", "f5", "f6"):
            await pilot.press(key)
            await pilot.pause()
            await pilot.press("end")
            for _ in range(50):  # a view is loaded when it is first shown, which takes its time
                await pilot.pause()
                if any(line.lstrip("║│").startswith("►") for line in screen_text(app).splitlines()):
                    break
            else:
                pytest.fail(f"the cursor is not in sight after {key}")
        assert app.desk.session is not None
        assert app.desk.session.part_id in {"L40", "face"}

    play(desk, script, view="lines", size=(60, 18))


@pytest.mark.parametrize(
    "size", [(10, 3), (20, 5), (30, 8), (59, 17)], ids=lambda size: f"{size[0]}x{size[1]}"
)
def test_a_window_far_too_small_breaks_nothing(demo: Desk, play: Play, size: tuple[int, int]) -> None:
    """Every view can be gone to, and after a larger window it is as it was."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key in ("f2", "f4", "f5", "f6", "f7", "f8", "f3", "a", "escape"):
            await pilot.press(key)
        await pilot.pause()
        assert app.view is not None
        assert app.view.view == "panels"

    play(demo, script, view="panels", size=size)


def test_signs_differ_as_text_without_colour(demo: Desk, play: Play, screen_text: Text) -> None:
    """On and off, chosen and not chosen, fine and held are told by signs."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        text = screen_text(app)
        assert "[x] 5 very fine" in text
        assert "[ ] 1 solid" in text
        await pilot.press("f5")
        await pilot.pause()
        assert "√" in screen_text(app)

    play(demo, script, view="colour")


def test_no_colour_keeps_to_the_terminals_own(demo: Desk) -> None:
    """Under NO_COLOR the theme has no colours of its own."""
    app = BenchApp(demo, no_colour=True)
    assert app.theme == "terminal"
    assert app.current_theme.ansi


def test_a_terminal_without_signs_gets_plain_ones(
    demo: Desk, play: Play, monkeypatch: pytest.MonkeyPatch
) -> None:
    """LANG=C: frames, marks, plates and the drawing are in ASCII, each line as wide as before."""
    monkeypatch.setenv("LC_ALL", "C")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for key in ("f4", "f6", "escape"):
            await pilot.press(key)
            await pilot.pause()
            strips = app.screen._compositor.render_strips()
            assert all(strip.text.isascii() for strip in strips)
            assert {strip.cell_length for strip in strips} == {80}

    play(demo, script, view="colour")


@pytest.mark.parametrize("size", [(60, 18), (80, 24)], ids=["small", "usual"])
def test_nothing_is_cut(demo: Desk, play: Play, screen_text: Text, size: tuple[int, int]) -> None:
    """No "…" in any view, at the first row of its list and at the last."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for stop in WAY:
            for key in (stop.key.lower(), "end"):
                await pilot.press(key)
                await pilot.pause()
                assert "…" not in screen_text(app), f"{stop.view}: {screen_text(app)}"

    play(demo, script, size=size)
