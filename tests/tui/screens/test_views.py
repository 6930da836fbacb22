"""Each view by its keys: what is pressed, and what the open job is then."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from prepadvisor.files import load_house
from prepadvisor.files.journal import journal_folder
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.page import Page
from prepadvisor.tui.model.layout import set_borders
from prepadvisor.tui.model.open_job import OpenJob
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.widgets.panel_drawing import PanelDrawing
from prepadvisor.tui.widgets.rail import Rail
from prepadvisor.tui.widgets.rows import Rows

Play = Callable[..., None]
Text = Callable[[BenchApp], str]


def _open(app: BenchApp) -> Session:
    assert app.desk.session is not None
    return app.desk.session


def _job(app: BenchApp) -> OpenJob:
    return _open(app).job


def test_a_number_takes_a_flake_and_advises_at_once(demo: Desk, play: Play, screen_text: Text) -> None:
    """1 is solid: no wet bed is needed any more, and the screen says so on the same press."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        assert "bed NEEDED" in " ".join(screen_text(app).split())
        await pilot.press("1")
        await pilot.pause()
        assert _job(app).colour.flake == "solid"
        assert "NEEDED" not in screen_text(app)

    play(demo, script, view="colour")


def test_not_sure_takes_one_class_finer(demo: Desk, play: Play) -> None:
    """2 then S: medium."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("2", "s")
        await pilot.pause()
        assert _job(app).colour.flake == "medium"

    play(demo, script, view="colour")


def test_undo_and_redo_by_key_with_their_name(demo: Desk, play: Play, screen_text: Text) -> None:
    """F9 takes back and says what, F10 brings again."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("1", "f9")
        await pilot.pause()
        assert _job(app).colour.flake == "very-fine"
        assert "Undone: flake solid" in screen_text(app)
        await pilot.press("f10")
        await pilot.pause()
        assert _job(app).colour.flake == "solid"

    play(demo, script, view="colour")


def test_a_panel_is_added_from_an_outline_in_four_keys(demo: Desk, play: Play) -> None:
    """A, the outline, blend, front."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("a", "5", "2", "1")
        await pilot.pause()
        panel = _job(app).panel[-1]
        assert (panel.kind, panel.role, panel.colour_from) == ("bonnet", "blend", ("front",))
        assert _open(app).panel_id == panel.id

    play(demo, script, view="panels")


def test_arrows_move_the_border_by_a_centimetre(demo: Desk, play: Play, screen_text: Text) -> None:
    """Z, then right: the fade ends at 560 mm, and the screen shows it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "right")
        await pilot.pause()
        assert _job(app).panel[0].fade_mm == 410
        assert "150-560 mm" in screen_text(app)
        await pilot.press("space", "left")
        await pilot.pause()
        assert _job(app).panel[0].colour_mm == 140

    play(demo, script, view="panels")


def test_the_mouse_drags_the_border(demo: Desk, play: Play) -> None:
    """Taken at 550 mm and let go a few columns further, the fade is longer."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        drawing = app.screen.query_one(PanelDrawing)
        at = drawing.frame_now
        assert at is not None
        column = at.left + round(at.wide * 550 / 1050)
        await pilot.mouse_down(drawing, offset=(column, at.top + 8))
        await pilot.hover(drawing, offset=(column + 5, at.top + 8))
        await pilot.mouse_up(drawing, offset=(column + 5, at.top + 8))
        await pilot.pause()
        fade = _job(app).panel[0].fade_mm
        assert fade is not None
        assert fade > 450

    play(demo, script, view="panels")


def test_no_room_is_told_and_stays_told(demo: Desk, play: Play, screen_text: Text) -> None:
    """The border stops at the far end, and the note says what to do instead."""
    session = demo.session
    assert session is not None
    assert session.panel is not None
    session.put_panel("longer fade", set_borders(session.panel, 150, 890))

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "right", "right")
        await pilot.pause()
        assert _job(app).panel[0].fade_mm == 900
        assert "blend the next panel" in " ".join(screen_text(app).split())

    play(demo, script, view="panels")


def test_removing_a_panel_asks_first(demo: Desk, play: Play) -> None:
    """Enter does nothing there; N keeps it, Y takes it off."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("d", "enter", "n")
        await pilot.pause()
        assert len(_job(app).panel) == 2
        await pilot.press("d", "y")
        await pilot.pause()
        assert len(_job(app).panel) == 1

    play(demo, script, view="panels")


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
        assert _open(app).part_id == app.screen.query_one("#parts", Rows).current != "E1"

    play(demo, script, view="lines")


def test_reach_and_seen_by_key(demo: Desk, play: Play) -> None:
    """H and S on the front edge."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "h", "s")
        await pilot.pause()
        line = _job(app).panel[0].feature[0]
        assert (line.reach, line.seen) == ("hand", False)

    play(demo, script, view="lines")


def test_a_recorded_scuff_is_judged(demo: Desk, play: Play, screen_text: Text) -> None:
    """P600 by pad on the front edge of a very fine silver is too coarse, and the answer has the re-cut."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("down", "r", "3", "8", "f5")
        await pilot.pause()
        done = _job(app).panel[0].feature[0].done
        assert done is not None
        assert done.grade == "P600"
        text = screen_text(app)
        assert "TOO COARSE" in text

    play(demo, script, view="lines", size=(120, 40))


def test_a_line_is_drawn_by_pointing(demo: Desk, play: Play) -> None:
    """W, a point, some steps, a point, Enter, its kind."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        before = len(_job(app).panel[0].feature)
        await pilot.press("w", "space", *["right"] * 5, "space", "enter", "2")
        await pilot.pause()
        line = _job(app).panel[0].feature[-1]
        assert len(_job(app).panel[0].feature) == before + 1
        assert line.kind == "body-line"
        assert line.path[0][0] < line.path[1][0]
        assert _open(app).part_id == line.id

    play(demo, script, view="lines")


def test_a_patch_is_added_and_taken_away(demo: Desk, play: Play) -> None:
    """P, filler; D takes it off again."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("p", "6")
        await pilot.pause()
        patch = _job(app).panel[0].patch[-1]
        assert patch.surface == "filler"
        await pilot.press("d")
        await pilot.pause()
        assert patch.id not in {each.id for each in _job(app).panel[0].patch}

    play(demo, script, view="lines")


def test_a_what_if_is_marked_and_goes_back(demo: Desk, play: Play, screen_text: Text) -> None:
    """F tries vapour; X is back at the job, which never changed."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        before = _job(app)
        await pilot.press("f")
        await pilot.pause()
        assert "WHAT IF vapour flake" in screen_text(app)
        assert "finish P1000 → P1500" in screen_text(app)
        await pilot.press("x")
        await pilot.pause()
        assert "WHAT IF" not in screen_text(app)
        assert _job(app) is before

    play(demo, script, view="answer")


def test_every_number_of_a_place_is_one_key_away(demo: Desk, play: Play, screen_text: Text) -> None:
    """M shows the line model with its sources."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("m", "pagedown")
        await pilot.pause()
        assert isinstance(app.screen, Page)
        assert "FEPA" in app.screen._words
        assert "Every number here" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.view is not None

    play(demo, script, view="answer")


def test_initials_are_asked_once(demo: Desk, play: Play) -> None:
    """The first step asks for them, the second does not."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "m", "enter", "g")
        await pilot.pause()
        assert {check.by for check in _job(app).check} == {"km"}
        assert {check.step for check in _job(app).check} == {"cleaned", "guide-coated"}

    play(demo, script, view="check-off")


def test_scuffing_shows_the_grades_before_it_logs(demo: Desk, play: Play, screen_text: Text) -> None:
    """S asks whether these were used; Esc logs nothing, 1 logs each with its own grade."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("s", "k", "enter")
        await pilot.pause()
        assert "P1500" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert _job(app).check == ()
        await pilot.press("s", "1")
        await pilot.pause()
        grades = {check.feature: check.grade for check in _job(app).check}
        assert grades["E1"] == "P1000"
        assert grades["H1"] == "P1500"

    play(demo, script, view="check-off")


def test_a_look_is_for_one_place_only(demo: Desk, play: Play, screen_text: Text) -> None:
    """On a panel's row a look is refused; on a place's row it is logged for that place alone."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter", "1")
        await pilot.pause()
        assert "every place needs its own look" in " ".join(screen_text(app).split())
        await pilot.press("down", "1", "1", "1")
        await pilot.pause()
        looks = [check.feature for check in _job(app).check if check.step == "inspected"]
        assert set(looks) == {"E1"}

    play(demo, script, view="check-off")


def test_no_single_key_and_no_held_key_clears_the_gate(demo: Desk, play: Play, screen_text: Text) -> None:
    """Each key of the check-off pressed twice running leaves it not clear to mask."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("c", "k", "enter")
        for key in ("g", "w", "1", "down", "1"):
            await pilot.press(key, key)
        await pilot.pause()
        assert "× NOT CLEAR TO MASK" in screen_text(app)

    play(demo, script, view="check-off")


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

    play(demo, script, view="standards")


def test_f1_helps_with_the_view_that_is_on(demo: Desk, play: Play, screen_text: Text) -> None:
    """Its title and its words."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("f1")
        await pilot.pause()
        assert "Help: Check-off" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.view is not None

    play(demo, script, view="check-off")


def test_f1_helps_with_what_has_the_focus(demo: Desk, play: Play, screen_text: Text) -> None:
    """On the drawing it tells of the drawing."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("z", "f1")
        await pilot.pause()
        assert "On the drawing:" in screen_text(app)

    play(demo, script, view="panels")


def test_everything_is_in_the_menu(demo: Desk, play: Play) -> None:
    """Each act of each view is a plate or a line of its menu; Esc opens it and the same key does it."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        view = app.view
        assert view is not None
        await pilot.press("escape")
        await pilot.pause()
        ids = {row.id for row in app.screen.query_one(Rows).rows}
        assert {act.action for act in view.acts} <= ids
        await pilot.press("f3")
        await pilot.pause()
        assert app.view is not None
        assert app.view.view == "panels"

    play(demo, script, view="answer")


def test_plates_are_wide_enough_for_a_glove(demo: Desk, play: Play) -> None:
    """Three rows by twelve columns at least, at every size."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        for size in ((60, 18), (80, 24), (120, 40), (200, 60)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            rail = app.screen.query_one(Rail)
            assert rail.size.height == 3
            assert min(wide for _, wide, _ in rail.plates) >= 12

    play(demo, script, view="check-off")


def test_a_change_is_in_the_journal_before_anything_else_is_pressed(desk: Desk, play: Play) -> None:
    """Typed is kept: the state folder has the new flake, though the job was never saved."""

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("n", "5", "enter", "2")
        await pilot.pause()
        texts = [path.read_text(encoding="ascii") for path in journal_folder().iterdir()]
        assert any("coarse" in text for text in texts)
        assert not (desk.folder / "5.toml").exists()

    play(desk, script)


def test_going_on_saves_the_job(desk: Desk, play: Play) -> None:
    """After the next view the file has the panel, and the head says saved."""

    async def script(pilot: Pilot[Any], app: BenchApp) -> None:
        await pilot.press("n", "5", "enter", "2", "n", "a", "5", "3", "n")
        await pilot.pause()
        assert 'kind = "bonnet"' in (desk.folder / "5.toml").read_text(encoding="utf-8")
        assert not _open(app).is_dirty

    play(desk, script)


def test_a_demo_is_never_written(demo: Desk, play: Play) -> None:
    """Whatever is done to it."""
    assert demo.session is not None
    assert demo.session.path is not None
    path = demo.session.path
    before = path.read_bytes()

    async def script(pilot: Pilot[Any], _app: BenchApp) -> None:
        await pilot.press("1", "f3", "d", "y", "f4", "ctrl+s", "f5")
        await pilot.pause()

    play(demo, script, view="colour")
    assert path.read_bytes() == before
