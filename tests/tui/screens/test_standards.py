"""The standards view: filter, audit, drafts, files that change."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from prepadvisor.files import load_house
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.widgets.rows import Rows

Play = Callable[..., None]
Text = Callable[[BenchApp], str]


def _open(app: BenchApp) -> Session:
    assert app.desk.session is not None
    return app.desk.session


def test_rules_are_filtered_by_words(demo: Desk, play: Play) -> None:
    """F, a word, Enter."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("f", *"vapour", "enter")
        await pilot.pause()
        ids = [row.id for row in app.screen.query_one("#rules", Rows).rows if row.id]
        assert "fade-vapour" in ids
        assert "clean-first" not in ids

    play(demo, script, view="standards")


def test_the_audit_is_one_key(demo: Desk, play: Play, screen_text: Text) -> None:
    """A looks through all cases of the shipped standards."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a")
        await pilot.pause()
        assert "possible cases" in screen_text(app)

    play(demo, script, view="standards")


def test_a_draft_is_tried_on_the_open_job(demo: Desk, play: Play, screen_text: Text, tmp_path: Path) -> None:
    """A draft that bounds the fade more tightly says which places change; the job keeps its standards."""
    draft = tmp_path / "draft"
    draft.mkdir()
    (draft / "fine.toml").write_text(
        '[standards]\nname = "Draft"\nversion = "1"\n\n[[rule]]\nid = "ours"\nsays = "Finer in the fade."\n'
        'when = { zone = "fade", reach = "machine" }\n'
        'set = { finish_coarsest = "P1200", finish_target = "P1200" }\nsource = "practice"\n',
        encoding="utf-8",
    )

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        before = _open(app).advice
        app.screen.post_message(app.screen.DraftWanted(str(draft)))  # type: ignore[attr-defined]
        await pilot.pause()
        assert "P1000 → P1200" in screen_text(app)
        assert _open(app).advice is before

    play(demo, script, view="standards", size=(120, 40))


def test_a_rule_file_that_changes_is_taken_over(
    demo: Desk, play: Play, screen_text: Text, tmp_path: Path
) -> None:
    """Reload judges the open job by the file as it now is; a faulty one is told and not taken over."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "shop.toml").write_text('shelf = ["P500", "P800"]\n', encoding="utf-8")
    demo.house = load_house(house)
    demo.session.use_house(demo.house)  # type: ignore[union-attr]

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        (house / "shop.toml").write_text('shelf = ["P800"]\n', encoding="utf-8")
        await pilot.press("r")
        await pilot.pause()
        assert app.desk.house.shop.shelf == ("P800",)
        assert _open(app).house.shop.shelf == ("P800",)
        (house / "shop.toml").write_text('shelf = ["800"]\n', encoding="utf-8")
        await pilot.press("r")
        await pilot.pause()
        assert app.desk.house.shop.shelf == ("P800",)
        assert "not taken over" in screen_text(app)
        await pilot.press("escape", "f5")
        await pilot.pause()
        assert "× shop.toml faulty, see F8" in screen_text(app)
        (house / "shop.toml").write_text('shelf = ["P800"]\n', encoding="utf-8")
        await pilot.press("f8", "r")
        await pilot.pause()
        assert "faulty" not in screen_text(app)

    play(demo, script, view="standards")
