"""Own keys and themes from a file: in force, shown, and refused where they cannot be."""

import asyncio
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from prepadvisor.records import BadInputError
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.keys import EVERYWHERE
from prepadvisor.tui.own_choices import named_acts, read_choices, template
from prepadvisor.tui.views import VIEWS
from prepadvisor.tui.widgets import Head, Rail, Reading

OWN = """
theme = "bright"

[keys.everywhere]
undo = "u"

[keys.check-off]
log-next = "k"

[themes.bright]
like = "daylight"
paper = "#fffbe8"
"""


def _file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "screens.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_own_keys_are_in_force_and_shown(demo: Desk, tmp_path: Path) -> None:
    """The new key does it, the old one no more; plates, menu and the table of the help say the new one."""
    own = read_choices(_file(tmp_path, OWN))

    async def on_stage() -> None:
        assert demo.session is not None
        demo.session.view = "check-off"
        app = BenchApp(demo, own=own)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            assert app.theme == "bright"
            await script(pilot, app)

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        session = demo.session
        assert session is not None
        plates = {act.label: act.key for _, _, act in app.screen.query_one(Rail).plates}
        assert plates["Log NEXT"] == "K"
        await pilot.press("l")
        await pilot.pause()
        assert app.view is not None
        await pilot.press("k", *"km", "enter")
        await pilot.pause()
        assert session.job.check[-1].step == "cleaned"
        await pilot.press("f9")
        await pilot.pause()
        assert session.job.check
        await pilot.press("u")
        await pilot.pause()
        assert not session.job.check
        await pilot.press("f1", "end")
        await pilot.pause()
        keys = [line.text for line in app.screen.query_one(Reading).lines]
        assert any(line.startswith("  K        Log what NEXT names") for line in keys)
        assert "  U        Undo" in keys

    asyncio.run(on_stage())


@pytest.mark.parametrize(
    ("text", "line", "says", "mend"),
    [
        ('[keys.check-off]\nlog-nxt = "k"\n', 2, 'nothing of check-off is called "log-nxt"', "log-next"),
        ('[keys.chek-off]\nlog-next = "k"\n', 1, 'no view is called "chek-off"', "check-off"),
        ('[keys.check-off]\nlog-next = "esc"\n', 2, "no key that always arrives", "use a letter"),
        ('[keys.check-off]\nlog-next = "f3"\n', 2, 'also the key of "Panels" in check-off', "another"),
        ('[keys.check-off]\nlog-next = "s"\n', 2, 'also the key of "Scuffed"', "another"),
        ('[keys.everywhere]\nundo = "z"\n', 2, 'also the key of "Borders" in panels', "another"),
        ('theme = "nigt"\n', 1, 'no theme is called "nigt"', "night"),
        ('[themes.x]\npaper = "white"\n', 2, "paper cannot be 'white'", "#1a2b3c"),
        ('[themes.x]\npapper = "#ffffff"\n', 2, 'no colour is called "papper"', "paper"),
        ('[themes.x]\nink = "#cccccc"\n', 2, "too faint to read", "darker"),
        ('colour = "red"\n', 1, 'no setting is called "colour"', "known"),
    ],
)
def test_what_cannot_be_is_refused_with_line_and_mend(
    tmp_path: Path, text: str, line: int, says: str, mend: str
) -> None:
    """Never a key that does two things, or a text that nobody can read."""
    with pytest.raises(BadInputError) as refused:
        read_choices(_file(tmp_path, text))
    fault = refused.value.faults[0]
    assert fault.line == line
    assert says in fault.says
    assert mend in fault.mend


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    """By line."""
    with pytest.raises(BadInputError) as refused:
        read_choices(_file(tmp_path, 'theme = "x"\n[keys.card]\nroll = "1"\n[themes.y]\nink = "#fff"\n'))
    assert [fault.line for fault in refused.value.faults] == [1, 3, 5]


def test_two_things_may_change_their_keys_with_one_another(tmp_path: Path) -> None:
    """What clashes with a key that is itself given away does not clash."""
    text = "[keys.check-off]\npanel-step-cleaned = 's'\nwork-scuffed = 'c'\n"
    assert len(read_choices(_file(tmp_path, text)).keys) == 2


def test_the_printed_file_has_every_key_and_can_be_read(tmp_path: Path) -> None:
    """Taking away all comment signs leaves the keys as they are built in."""
    written = [line.removeprefix("# ") for line in template().splitlines()[2:]]
    own = read_choices(_file(tmp_path, "\n".join(written)))
    assert len(own.keys) == sum(len(named_acts(view)) for view in (EVERYWHERE, *VIEWS))


def test_a_view_and_the_help_may_get_another_key(demo: Desk) -> None:
    """F11 leads to the card, F12 to the help; F7 leads nowhere then, and the head says so."""
    keys = {"everywhere.go-card": "F11", "everywhere.help": "F12"}
    text = "[keys.everywhere]\ngo-card = 'F11'\nhelp = 'f12'\n"
    assert demo.session is not None
    demo.session.view = "answer"

    async def on_stage() -> None:
        own = read_choices(_file(demo.folder, text))
        assert own.keys == keys
        app = BenchApp(demo, own=own)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("f7")
            assert app.view is not None
            assert app.view.view == "answer"
            await pilot.press("f11")
            assert app.view.view == "card"
            assert [stop.key for stop in app.screen.query_one(Head).way][5] == "F11"
            await pilot.press("f12")
            assert "  F11      Go to Card" in [line.text for line in app.screen.query_one(Reading).lines]

    asyncio.run(on_stage())
