"""The colour view by its keys."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir
from prepadvisor.records import BookColour
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import FLAKE_HELP, colour_fields
from prepadvisor.tui.screens.colour import ColourView
from prepadvisor.tui.widgets import Rows
from tests.tui.conftest import Play, Text, job_of


def test_a_number_takes_a_flake_and_advises_at_once(demo: Desk, play: Play, screen_text: Text) -> None:
    """1 is solid: no wet bed is needed any more, and the screen says so on the same press."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "bed NEEDED" in " ".join(screen_text(app).split())
        await pilot.press("1")
        await pilot.pause()
        assert job_of(app).colour.flake == "solid"
        assert "NEEDED" not in screen_text(app)

    play(demo, script, view="colour")


def test_not_sure_takes_one_class_finer(demo: Desk, play: Play) -> None:
    """2 then S: medium."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("2", "s")
        await pilot.pause()
        assert job_of(app).colour.flake == "medium"

    play(demo, script, view="colour")


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_every_flake_is_in_sight_without_scrolling(
    demo: Desk, play: Play, screen_text: Text, size: tuple[int, int]
) -> None:
    """Most of all the finest, which are the last of the list."""

    async def script(_pilot: Pilot[Any], app: BenchApp) -> None:
        text = screen_text(app)
        assert [help_.flake for help_ in FLAKE_HELP if help_.judge not in text] == []

    play(demo, script, view="colour", size=size)


def test_all_facts_are_in_sight_at_the_usual_size(demo: Desk, play: Play, screen_text: Text) -> None:
    """At 80 x 24 neither the flakes nor the facts below them scroll."""

    async def script(_pilot: Pilot[Any], app: BenchApp) -> None:
        text = screen_text(app)
        labels = [field.label for field in colour_fields(job_of(app))]
        assert [label for label in labels if f"  {label} " not in text] == []

    play(demo, script, view="colour", size=(80, 24))


def test_tilt_and_spread_can_be_measured_too(demo: Desk, play: Play, screen_text: Text) -> None:
    """The fourth fact asks which of the three numbers was measured, then for it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("tab", "down", "down", "down", "enter", "2", "6", ".", "5", "enter")
        await pilot.press("enter", "1", "9", "enter")
        await pilot.pause()
        assert (job_of(app).colour.tilt_deg, job_of(app).colour.flake_um) == (6.5, 9.0)
        assert "9 um, tilt 6.5" in screen_text(app)

    play(demo, script, view="colour")


def test_a_colour_of_the_book_is_found_by_its_code(shipped_house: House, tmp_path: Path, play: Play) -> None:
    """K, a part of the code, Enter: flake, stages and tone come from the book, and the job names it."""
    entry = BookColour(
        book="hm-3", name="Harbour mist", code="HM3", flake="fine", stages=3, tone="dark", sealed_by="JB"
    )
    desk = Desk(replace(shipped_house, book={"hm-3": entry}), tmp_path)
    desk.open(demo_jobs_dir() / "solid.toml", read_only=True)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("k", "h", "m", "3", "enter")
        await pilot.pause()
        colour = job_of(app).colour
        assert (colour.book, colour.flake, colour.stages, colour.tone) == ("hm-3", "fine", 3, "dark")

    play(desk, script, view="colour")


def test_without_a_book_it_is_said_how_to_get_one(demo: Desk, play: Play, screen_text: Text) -> None:
    """The key is no dead end."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("k")
        await pilot.pause()
        assert "no colour book yet" in screen_text(app)

    play(demo, script, view="colour")


def test_day_and_customer_are_set_on_the_screen(demo: Desk, play: Play, screen_text: Text) -> None:
    """They share a line with number and car; a day that is none is refused and told."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        app.screen.query_one("#facts", Rows).focus()
        await pilot.press("end", "up", "up", "enter", "2", *"Fleet North", "enter")
        await pilot.pause()
        assert job_of(app).job.customer == "Fleet North"
        assert "five-door hatchback, Fleet North" in screen_text(app)
        await pilot.press("up", "enter", "2", *"2026-13-02", "enter")
        await pilot.pause()
        assert "is not a day" in screen_text(app)
        await pilot.press("ctrl+u", *"2026-04-02", "enter")
        await pilot.pause()
        assert f"{job_of(app).job.date}" == "2026-04-02"

    play(demo, script, view="colour")


def test_a_key_that_comes_before_the_view_is_filled_does_nothing() -> None:
    """T and C typed while the view comes up: nothing to turn yet, and nothing to ask for."""
    view = ColourView()
    view.action_turn("tone")
    view.action_ask("name")
