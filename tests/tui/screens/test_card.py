"""The card view: preview and writing."""

from typing import Any

from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.widgets import Reading
from tests.tui.conftest import Play, Text


def test_the_card_is_shown_as_it_prints_and_written(demo: Desk, play: Play, screen_text: Text) -> None:
    """T writes the text card beside the job; the note has its path."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "HARBOUR MIST" in screen_text(app)
        await pilot.press("t")
        await pilot.pause()
        assert "√ written:" in screen_text(app)

    play(demo, script, view="card")
    assert "HARBOUR MIST" in (demo.folder / "very-fine-door-and-wing-card.txt").read_text(encoding="utf-8")


def test_the_page_and_the_pdf_are_written(demo: Desk, play: Play) -> None:
    """H and P."""

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("h", "p")
        await pilot.pause()

    play(demo, script, view="card")
    assert (demo.folder / "very-fine-door-and-wing-card.html").read_text(encoding="utf-8").startswith("<!")
    assert (demo.folder / "very-fine-door-and-wing-card.pdf").read_bytes().startswith(b"%PDF")


def test_a_narrow_window_shows_every_word_of_the_card(demo: Desk, play: Play) -> None:
    """At 60 columns long lines are folded, none is cut."""

    async def script(_pilot: Pilot[Any], app: BenchApp) -> None:
        preview = app.screen.query_one("#preview", Reading)
        shown = " ".join(text for text, _ in preview._laid).split()
        whole = " ".join(line.text for line in preview.lines).split()
        assert [word for word in shown if word.strip("=-")] == [word for word in whole if word.strip("=-")]
        assert max(len(text) for text, _ in preview._laid) <= preview.size.width

    play(demo, script, view="card", size=(60, 18))
