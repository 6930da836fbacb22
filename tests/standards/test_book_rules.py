"""Rules that ask for a colour of the shop's colour book: the names are the house's own."""

import csv
import io
import json
from pathlib import Path

import pytest

from prepadvisor.cases import Facts
from prepadvisor.cli.main import main
from prepadvisor.files import load_house
from prepadvisor.standards import audit, audit_house, build, read_when
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.layers import RuleSource

COLOURS = '[[colour]]\nbook = "HM-3"\nflake = "fine"\n[[colour]]\nbook = "hm-9"\nflake = "fine"\n'
RULE = """
[[rule]]
id = "hm-3"
says = "hm-3: P1200 in the fade."
when = { book = "hm-3", zone = "fade", surface = "aged-clear", next = "base", reach = "machine" }
set = { finish_coarsest = "P1200", finish_target = "P1200" }
source = "practice"
"""
JOB = """
[job]
number = "1"
[colour]
flake = "fine"
stages = 2
tone = "light"
{book}
[[panel]]
id = "door"
kind = "front-door"
role = "blend"
surface = "aged-clear"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400
"""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """Return a house with two colours in its book and a rule for one of them."""
    folder = tmp_path / "ours"
    folder.mkdir()
    (folder / "colours.toml").write_text(COLOURS, "utf-8")
    (folder / "ours.toml").write_text(RULE, "utf-8")
    return folder


def ruled(*when: dict[str, object]) -> Engine:
    """Return standards of one rule a condition; each sets all that a last pass needs."""
    coarsest = dict.fromkeys(("finish_coarsest", "hand_coarsest", "hand_last_coarsest"), "P800")
    sets = {**coarsest, "finish_finest": "P1200"}
    rules = [
        {"id": f"r{at}", "says": "Do.", "when": each, "set": sets, "source": "test"}
        for at, each in enumerate(when)
    ]
    return build([RuleSource("a.toml", "base", {"rule": rules})])


@pytest.mark.parametrize(
    ("book", "meets"),
    [('book = "hm-3"', True), ('book = " Hm-3 "', True), ('book = "hm-9"', False), ('name = "hm-3"', False),
     ('book = "hm-77"', False), ("", False)],
)  # fmt: skip
def test_only_a_job_of_that_entry_meets_the_rule(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], book: str, meets: bool
) -> None:
    """Case and blanks aside; a name, another entry or a word that is no entry is not it."""
    job = tmp_path / "job.toml"
    job.write_text(JOB.format(book=book), "utf-8")
    main(["why", str(job), "door/face", "--house", str(house)])
    assert ("hm-3: P1200 in the fade." in capsys.readouterr().out) == meets


def test_lists_and_all_but_a_list() -> None:
    """What no rule names is among all but some names, whatever was named elsewhere."""
    engine = ruled({"book": ["a-1", "a-2"]}, {"book": {"not": "a-2"}})
    read_when({"book": "never-here"}, ())
    met = {
        name: [rule.id for rule in engine.meeting(Facts(book=name))]
        for name in ("a-1", "a-2", "never-here", "never-anywhere", "other")
    }
    rest = ["r1"]
    assert met == {
        "a-1": ["r0", "r1"], "a-2": ["r0"], "never-here": rest, "never-anywhere": rest, "other": rest
    }  # fmt: skip


def test_a_hole_for_one_colour_is_found() -> None:
    """The only rule leaves out one colour: just that one has no answer."""
    gaps = [finding for finding in audit(ruled({"book": {"not": "b-7"}})).findings if finding.kind == "gap"]
    assert gaps
    assert {tuple(gap.limits["book"]) for gap in gaps} == {("b-7",)}
    assert "colour b-7 of the book" in gaps[0].says


def test_a_hole_for_every_other_colour_is_found() -> None:
    """A rule for two colours leaves out the rest; rules for all parts leave out nothing."""
    gaps = [finding for finding in audit(ruled({"book": ["b-1", "b-2"]})).findings if finding.kind == "gap"]
    assert {tuple(gap.limits["book"]) for gap in gaps} == {("other",)}
    assert "any colour but b-1 or b-2, in the book or not" in gaps[0].says
    whole = audit(ruled({"book": ["b-1", "b-2"]}, {"book": {"not": ["b-1", "b-2"]}}))
    assert not [finding for finding in whole.findings if finding.kind == "gap"]


def test_a_collision_within_one_colour_is_found(house: Path) -> None:
    """P2000 against the base's key limit: for hm-3 alone."""
    (house / "ours.toml").write_text(RULE.replace("P1200", "P2000"), "utf-8")
    errors = [each for each in audit_house(load_house(house)).findings if each.kind == "collision"]
    assert {tuple(each.limits["book"]) for each in errors} == {("hm-3",)}


def test_a_colour_that_the_book_lacks_is_told(house: Path) -> None:
    """A note with what was probably meant; the house is sound without it."""
    assert not audit_house(load_house(house)).findings
    (house / "ours.toml").write_text(RULE.replace('book = "hm-3"', 'book = ["hm-3", "hm-99"]'), "utf-8")
    (note,) = audit_house(load_house(house)).findings
    assert (note.kind, note.rules) == ("dead", ("hm-3",))
    assert 'did you mean "hm-9"?' in note.mend.lower()


def test_compare_tells_the_colour(house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What the rule tightens is told for that colour."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "empty/shop.toml").write_text('name = "ours"', "utf-8")
    main(["standards", "compare", str(tmp_path / "empty"), str(house), "--json"])
    assert '"book": "hm-3"' in capsys.readouterr().out


def test_the_table_has_it_and_spots_join_it(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Rows tell hm-3 apart; a spot of an entry that no rule names is one of the others."""
    main(["standards", "table", str(house), "--where", "book=hm-3", "--where", "panel=front-door"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert {row["book"] for row in rows if "hm-3" in row["finish_coarsest_rule"].split("|")} == {"hm-3"}
    job = tmp_path / "job.toml"
    told = []
    for book in ("hm-3", "hm-9"):
        job.write_text(JOB.format(book=f'book = "{book}"'), "utf-8")
        main(["standards", "table", str(house), "--spots", str(job)])
        told.append({row["book"] for row in csv.DictReader(io.StringIO(capsys.readouterr().out))})
    assert told == [{"hm-3"}, {"other"}]


@pytest.mark.parametrize("wrong", [3, True, "", "other", [], {"not": []}, {"any": ["a"]}])
def test_what_is_no_colour_is_refused(wrong: object) -> None:
    """Told with the fact's name."""
    _, problems = read_when({"book": wrong}, ())
    assert [problem.path[0] for problem in problems] == ["book"]
    assert "book" in problems[0].says


def test_the_schema_takes_any_word(capsys: pytest.CaptureFixture[str]) -> None:
    """An editor cannot know the names of a house."""
    main(["schema", "rules"])
    schema = json.loads(capsys.readouterr().out)
    book = schema["$defs"]["RuleEntry"]["properties"]["when"]["properties"]["book"]
    assert {"type": "string", "minLength": 1} in book["anyOf"]


def test_a_digest_goes_by_names() -> None:
    """In another process the same names may stand at other places."""
    box, _ = read_when({"book": ["z-2", "z-1"]}, ())
    assert [False, 0, ["z-1", "z-2"]] in box.plain[0]  # type: ignore[operator]
