"""Find anything by typing."""

from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.choose import Findable, found
from tests.tui.conftest import Play, Text


def test_a_card_number_typed_jumps_to_the_place(demo: Desk, play: Play) -> None:
    """/ a 4 Enter: the handle recess of the first panel is selected, the view stays."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("slash", "a", "4", "enter")
        await pilot.pause()
        assert app.desk.session is not None
        assert app.desk.session.place_id == "left-front-door/H1"
        assert app.desk.session.view == "answer"

    play(demo, script, view="answer")


def test_a_rule_is_found_by_its_words(demo: Desk, play: Play, screen_text: Text) -> None:
    """Its view is opened with the rule shown."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("slash", *"clear-zone-hand", "enter")
        await pilot.pause()
        await pilot.pause()  # what was changed is saved once the view is painted
        assert "clear-zone-hand" in screen_text(app)
        assert app.desk.session is not None
        assert app.desk.session.view == "standards"

    play(demo, script, view="panels")


def test_esc_changes_nothing(demo: Desk, play: Play) -> None:
    """The view and the selection stay."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert app.desk.session is not None
        before = (app.desk.session.place_id, app.desk.session.view)
        await pilot.press("slash", "b", "escape")
        await pilot.pause()
        assert (app.desk.session.place_id, app.desk.session.view) == before

    play(demo, script, view="lines")


@pytest.mark.parametrize(("typed", "first"), [("a4", "A4 handle recess"), ("hand", "A4 handle recess")])
def test_a_whole_word_comes_first(typed: str, first: str) -> None:
    """A number typed whole is meant, however many words have its letters."""
    things = [
        Findable("rule", "any-4: and a rule for 4", "r"),
        Findable("place", "A4 handle recess", "p"),
        Findable("place", "A14 edge", "q"),
    ]
    assert found(things, typed)[0].says == first


def test_every_dialog_has_help(demo: Desk, play: Play, screen_text: Text) -> None:
    """F1 in a choice says what the keys do."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a", "f1")
        await pilot.pause()
        assert "Esc goes back" in " ".join(screen_text(app).replace("║", " ").split())

    play(demo, script, view="panels")
