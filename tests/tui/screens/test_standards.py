"""The standards view: filter, audit, drafts, files that change."""

from pathlib import Path
from typing import Any

import tomli
from textual.pilot import Pilot

from prepadvisor.files import demo_jobs_dir, house_files, load_house
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.screens.wishes import FreshWanted
from prepadvisor.tui.widgets import Note, Rows
from tests.tui.conftest import Play, Text, session_of, until


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
        await until(pilot, lambda: "possible cases" in screen_text(app))

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
        before = session_of(app).advice
        await pilot.press("d", "1", *str(draft), "enter")
        await until(pilot, lambda: "P1000 → P1200" in screen_text(app))
        assert "by ours (fine.toml:5)" in screen_text(app)
        assert session_of(app).advice is before

    play(demo, script, view="standards", size=(120, 40))


def test_standards_that_are_read_anew_but_say_the_same_change_nothing(
    demo: Desk, play: Play, screen_text: Text
) -> None:
    """What was told stays when other houses were read meanwhile, and the one in force is no longer kept."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a")
        await until(pilot, lambda: "possible cases" in screen_text(app))
        house_files._loaded.cache_clear()
        assert app.desk.fresh_house() == ""
        app.view.post_message(FreshWanted(asked=False))  # type: ignore[union-attr]
        await pilot.pause()
        assert "possible cases" in screen_text(app)

    play(demo, script, view="standards")


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
        assert session_of(app).house.shop.shelf == ("P800",)
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


JOBS = ("very-fine-door-and-wing", "vapour-bonnet", "three-stage", "unknown-flake", "coarse-silver")

TIGHTEN = (
    "f8", "f", *"hand-very", "enter",  # the rule, found by a few letters
    "g", "s",  # a grade finer, looked at and put into the draft
    "a",  # checked
    "j",  # what it changes on ten jobs
)  # fmt: skip


def test_a_rule_is_tightened_checked_and_seen_on_ten_jobs(desk: Desk, play: Play, screen_text: Text) -> None:
    """As a lead, with keys only, forty presses at most; nothing counts before it is made live."""
    assert len(TIGHTEN) <= 40
    for at, name in enumerate(JOBS * 2):
        text = (demo_jobs_dir() / f"{name}.toml").read_text(encoding="utf-8")
        (desk.folder / f"{at}.toml").write_text(text, encoding="utf-8")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press(*TIGHTEN[:-2])
        await pilot.pause()
        assert "WHAT IT DOES" in screen_text(app)
        assert "hand-very-fine" in screen_text(app)
        await pilot.press("a")
        await until(pilot, lambda: "possible cases were looked at" in screen_text(app))
        await pilot.press("j")
        await until(pilot, lambda: "all 10 jobs of the shop" in screen_text(app))
        assert "by our-hand-very-fine" in screen_text(app)
        assert not app.desk.house.folders
        await pilot.press("m", "y")
        await pilot.pause()
        live = desk.folder / "our-standards"
        assert "our-hand-very-fine" in "".join(path.read_text() for path in live.glob("*.toml"))
        assert app.desk.house.folders == (str(live),)
        assert not (desk.folder / "our-standards-draft").exists()

    play(desk, script, size=(120, 40))


def test_a_rule_is_written_as_a_form_and_the_file_keeps_its_comments(
    desk: Desk, play: Play, screen_text: Text, tmp_path: Path
) -> None:
    """A condition is chosen from its list, an answer is turned; the preview says at once what it does."""
    house = tmp_path / "house"
    house.mkdir()
    before = (
        '[standards]\nname = "Ours"\nversion = "1"\n\n# by J. B.\n[[rule]]\nid = "ours"\n'
        'says = "P1000 by hand."  # asked for\nwhen = { feature = "edge", surface = "aged-clear" }\n'
        'set = { hand_coarsest = "P1000" }\nsource = "house"\n'
    )
    (house / "hand.toml").write_text(before, encoding="utf-8")
    desk.house = load_house(house)
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("enter", "c", "1", "5", "6", "enter")  # on the flake: very fine and vapour
        await pilot.pause()
        assert "very fine or finer" in screen_text(app)
        await pilot.press("end", "up", "up", "right")  # the answer, one grade finer
        await pilot.pause()
        assert "P1200" in screen_text(app)
        assert "What it would do" in screen_text(app)
        await pilot.press("s")
        await pilot.pause()
        draft = (tmp_path / "house-draft" / "hand.toml").read_text(encoding="utf-8")
        expected = before.replace('"P1000" }', '"P1200" }')
        assert draft == expected.replace('"aged-clear" }', '"aged-clear", flake = ">= very-fine"}')
        assert (house / "hand.toml").read_text(encoding="utf-8") == before
        assert "* ours" in screen_text(app)

    play(desk, script, view="standards", size=(120, 40))


def test_a_draft_is_told_no_more_once_another_job_is_open(desk: Desk, play: Play, screen_text: Text) -> None:
    """What it changes on one job says nothing of the next."""
    for name in JOBS[:2]:
        text = (demo_jobs_dir() / f"{name}.toml").read_text(encoding="utf-8")
        (desk.folder / f"{name}.toml").write_text(text, encoding="utf-8")
    desk.open(desk.folder / f"{JOBS[0]}.toml")

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("f", *"hand-very", "enter", "g", "s", "d", "1")
        await pilot.pause()
        assert "DRAFT beside what is in force, on 1042" in screen_text(app)
        await app.errands.begin(lambda: desk.open(desk.folder / f"{JOBS[1]}.toml"))
        await pilot.press("f8")
        await pilot.pause()
        assert "on 1042" not in screen_text(app)

    play(desk, script, view="standards", size=(120, 40))


def test_the_shop_file_is_changed_as_a_form(desk: Desk, play: Play) -> None:
    """S 1, down to the soft pad: there is none, which is refused until the last sander is another one."""
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("s", "1", "down", "down", "down", "right")
        assert "a sander with that pad" in app.screen.query_one(Note).says
        await pilot.press("up", "left", "down", "right", "escape")
        draft = next(desk.folder.glob("*-draft/shop.toml")).read_text(encoding="utf-8")
        assert 'finishing_tool = "da"' in draft
        assert "interface_pad = false" in draft

    play(desk, script, view="standards")


def test_a_pad_is_put_in_by_name_and_grade(desk: Desk, play: Play) -> None:
    """S 1, the last line: its name, then the coarse end of its range from the list."""
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("s", "1", "end", "enter", *"grey", "enter", "1")
        await until(
            pilot, lambda: any(row.label == "Pad: grey" for row in app.screen.query_one("#form", Rows).rows)
        )
        draft = next(desk.folder.glob("*-draft/shop.toml"))
        assert set(tomli.loads(draft.read_text(encoding="utf-8"))["pads"]) == {"grey"}

    play(desk, script, view="standards")


def test_a_number_of_the_model_is_changed_as_a_form(desk: Desk, play: Play, screen_text: Text) -> None:
    """S 2: a tool's groove depth, how it is known is asked; D takes it out again."""
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("s", "2", "enter", *"0.08", "enter")
        await until(pilot, lambda: "how is it known?" in screen_text(app))
        await pilot.press("1")
        await until(pilot, lambda: "0.08, practice" in screen_text(app))
        draft = next(desk.folder.glob("*-draft/constants.toml"))
        told = tomli.loads(draft.read_text(encoding="utf-8"))["groove"]["depth_per_grain"]
        assert told["hand-paper"]["value"] == 0.08
        await pilot.press("d")
        await until(pilot, lambda: "0.09, assumption" in screen_text(app))
        assert "groove" not in tomli.loads(draft.read_text(encoding="utf-8"))

    play(desk, script, view="standards")


def test_a_worked_case_is_kept_changed_and_taken_out(desk: Desk, play: Play) -> None:
    """K on a rule keeps its case as it is now; another grade is told as not so; X takes it out."""
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("f", *"hand-very-fine", "enter", "k", "1")
        words = [row.text for row in app.screen.query_one("#form", Rows).rows]
        assert "P1000" in words
        await pilot.press("s")
        draft = next(desk.folder.glob("*-draft/rules.toml"))
        told = tomli.loads(draft.read_text(encoding="utf-8"))["example"]
        assert told[0]["expect"]["hand_coarsest"] == "P1000"
        await pilot.press("k", "2", *["down"] * words.index("P1000"), "enter", *"P1200", "enter")
        assert "P1200   × now P1000" in [row.text for row in app.screen.query_one("#form", Rows).rows]
        await pilot.press("s")
        assert 'hand_coarsest = "P1200"' in draft.read_text(encoding="utf-8")
        await pilot.press("k", "2", "x")
        assert "example" not in tomli.loads(draft.read_text(encoding="utf-8"))

    play(desk, script, view="standards")


def test_a_promise_is_made_by_choices_checked_and_taken_out(
    desk: Desk, play: Play, screen_text: Text
) -> None:
    """Y: what is never laxer, along which fact, where; it is checked like any other, and goes out again."""
    desk.scratch()

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("y", "1", "1", "1", "3", "enter")
        await until(pilot, lambda: "the promise is in the draft" in app.screen.query_one(Note).says)
        draft = next(desk.folder.glob("*-draft/rules.toml"))
        told = tomli.loads(draft.read_text(encoding="utf-8"))["promise"]
        assert "never a coarser grade in the fade only" in told[0].pop("says")
        made = {"along": "flake", "output": "finish_coarsest", "never": "coarser", "where": {"zone": "fade"}}
        assert told == [made]
        await pilot.press("a")
        await until(pilot, lambda: "possible cases were looked at" in screen_text(app))
        await pilot.press("y", "2", "y")
        await until(pilot, lambda: "out of the draft" in app.screen.query_one(Note).says)
        assert "promise" not in tomli.loads(draft.read_text(encoding="utf-8"))

    play(desk, script, view="standards")
