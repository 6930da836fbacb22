"""A panel kind that a house states itself: read, judged, audited, compared, tabled, told, refused."""

import itertools
import json
from pathlib import Path

import jsonschema
import pytest

from prepadvisor.cases import Facts
from prepadvisor.cli.main import main
from prepadvisor.cli.schema import schema_of
from prepadvisor.files import load_house, load_job
from prepadvisor.records import OUTLINES, BadInputError
from prepadvisor.standards import (
    Space,
    Table,
    audit,
    audit_house,
    build,
    compare,
    data_changes,
    in_words,
    read_when,
    when_line,
)
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.layers import RuleSource

KINDS = {"roof-spoiler": "boot-lid", "box-side": "rear-quarter"}

SPOILER = """[[outline]]
kind = "roof-spoiler"
name = "roof spoiler"
like = "boot-lid"
length_mm = 1200
height_mm = 300
colour_from = ["front"]
colour_mm = 100
fade_mm = 150
"""

JOB = """[job]
number = "7"
[colour]
flake = "very-fine"
stages = 2
[[panel]]
id = "spoiler"
kind = "roof-spoiler"
role = "blend"
surface = "aged-clear"
length_mm = 1200
height_mm = 300
colour_from = ["top"]
colour_mm = 60
fade_mm = 80
"""


def ruled(kinds: dict[str, str], **when: object) -> Engine:
    """Return standards of one rule with a hold, over those kinds."""
    rule = {"id": "r", "says": "s", "when": when, "set": {"holds": "h"}, "source": "practice"}
    return build([RuleSource("a.toml", "base", {"rule": [rule]})], kinds)


def held(engine: Engine) -> set[str]:
    """Return the panel kinds that are held."""
    kinds = (*OUTLINES, *engine.kinds)
    return {kind for kind in kinds if engine.decide(Facts(panel=kind)).holds}


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """Return a house folder with an own kind and a rule for it."""
    folder = tmp_path / "shop"
    folder.mkdir()
    (folder / "panels.toml").write_text(SPOILER, encoding="utf-8")
    rule = """[[rule]]
id = "spoiler-look"
says = "Roof spoiler in a fade: the lead looks first."
when = { panel = "roof-spoiler", zone = "fade" }
set = { holds = "Roof spoiler in a fade: the lead looks first." }
source = "ours"
"""
    (folder / "rules.toml").write_text(rule, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("panel", "meets"),
    [
        ("roof-spoiler", {"roof-spoiler"}),
        ("boot-lid", {"boot-lid", "roof-spoiler"}),
        (["box-side", "roof"], {"box-side", "roof"}),
        ({"not": "roof-spoiler"}, {*OUTLINES, "box-side"}),
        ({"not": ["boot-lid", "box-side"]}, set(OUTLINES) - {"boot-lid"}),
        ({"not": list(OUTLINES)}, None),
    ],
)
def test_a_rule_for_a_kind_counts_for_those_that_are_like_it(panel: object, meets: set[str] | None) -> None:
    """Naming a shipped kind means own ones like it too; naming an own one means that alone."""
    if meets is None:
        _, (problem,) = read_when({"panel": panel}, (), KINDS)
        assert "never applies" in problem.says
    else:
        assert held(ruled(KINDS, panel=panel)) == meets


def test_an_own_kind_no_rule_names_is_as_any_other() -> None:
    """A kind that no rule names meets what asks for no kind, and what leaves others out."""
    assert held(ruled({"tank": "fuel-flap"}, panel={"not": "roof"})) == {*OUTLINES, "tank"} - {"roof"}


def test_the_space_has_the_kinds_of_its_house_only() -> None:
    """A kind that another house of this process states is no case here."""
    sizes = [Space(ruled(kinds, zone="fade").boxes, []).axes.values("panel") for kinds in ({}, KINDS)]
    assert list(map(set, sizes)) == [set(OUTLINES), {*OUTLINES, *KINDS}]


def test_the_audit_counts_the_cases_of_an_own_kind() -> None:
    """One kind more: fifteen fourteenths of the cases."""
    plain, own = (audit(ruled(kinds, zone="fade")).cells for kinds in ({}, {"tank": "fuel-flap"}))
    assert own * 14 == plain * 15


def test_the_table_says_what_the_engine_says_for_every_kind() -> None:
    """Every kind lies in the rows that hold it, and in no other."""
    for panel in ("roof-spoiler", "boot-lid", {"not": "roof-spoiler"}, {"not": "boot-lid"}):
        engine = ruled(KINDS, panel=panel)
        table = Table(engine)
        rows = [cells for cells in map(table.cells, table.rows()) if cells["holds"]]
        told = set()
        for cells in rows:
            told |= set(str(cells["panel"]).split("|")) if cells["panel"] else {*OUTLINES, *KINDS}
        assert told == held(engine)


@pytest.mark.parametrize(
    ("panel", "says"),
    [
        ("roof-spoiler", "roof-spoiler"),
        ("boot-lid", "boot-lid or roof-spoiler"),
        ({"not": "roof-spoiler"}, "any but roof-spoiler"),
        ({"not": "boot-lid"}, "any but boot-lid or roof-spoiler"),
    ],
)
def test_kinds_are_told_as_the_condition_means_them(panel: object, says: str) -> None:
    """In words and in lines to paste; what is pasted means the same."""
    box, _ = read_when({"panel": panel}, (), KINDS)
    axes = Space(ruled(KINDS, panel=panel).boxes, []).axes
    assert in_words(axes.limits(axes.masks(box))) == says
    pasted = when_line(box).removeprefix("{ panel = ").removesuffix(" }")
    value = json.loads(pasted.replace("{ not = ", '{"not": '))
    assert read_when({"panel": value}, (), KINDS)[0] == box


@pytest.mark.parametrize(("not_", "says"), [("hm-3", "any colour but hm-3, in the book or not")])
def test_all_colours_but_one_are_told_truly(not_: str, says: str) -> None:
    """What is left out is named, and colours that are in no book count."""
    box, _ = read_when({"book": {"not": not_}}, ())
    axes = Space([box], []).axes
    assert in_words(axes.limits(axes.masks(box))) == says


def test_compare_tells_a_new_kind_and_no_case_of_it(house: Path) -> None:
    """No card had such a case before: it is a change of outlines, not of what is decided."""
    before, after = load_house(), load_house(house)
    assert compare(before.engine, after.engine).changes == ()
    (told,) = data_changes(before, after)
    assert told.says == "panels.toml roof-spoiler: not stated → a kind of panel, like boot-lid"
    (house / "rules.toml").write_text(
        (house / "rules.toml").read_text(encoding="utf-8").replace('"roof-spoiler", z', '"roof", z'),
        encoding="utf-8",
    )
    changes = compare(before.engine, load_house(house).engine).changes
    assert {tuple(change.limits["panel"]) for change in changes} == {("roof",)}


def test_a_job_may_be_of_an_own_kind(house: Path, tmp_path: Path) -> None:
    """It takes the outline's lines, and is judged as the kind that it is like."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    (house / "rules.toml").write_text('[standards]\nname = "Ours"\nversion = "1"\n', encoding="utf-8")
    own = load_house(house)
    job = load_job(tmp_path / "job.toml", own)
    assert job.panel[0].feature == own.outlines["boot-lid"].feature
    from prepadvisor import advise

    spoiler, lid = (
        advise(job.model_copy(update={"panel": (job.panel[0].model_copy(update={"kind": kind}),)}), own)
        for kind in ("roof-spoiler", "boot-lid")
    )
    assert spoiler.spots == lid.spots
    assert spoiler.panels[0]._replace(kind="", name="") == lid.panels[0]._replace(kind="", name="")
    assert (spoiler.panels[0].name, spoiler.panels[0].seen_as) == ("roof spoiler", "boot-lid")


def test_the_card_draws_and_names_an_own_kind(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A flat panel's "top" is the car's right side, on an own kind like on the one that it is like."""
    (house / "rules.toml").write_text('[standards]\nname = "Ours"\nversion = "1"\n', encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace('id = "spoiler"', 'id = "p1"'), encoding="utf-8")
    assert main(["card", str(path), "--house", str(house)]) == 0
    text = capsys.readouterr().out
    assert "P1, ROOF SPOILER" in text
    assert "from RIGHT edge" in text


def test_a_job_of_a_kind_that_the_house_lacks_is_refused(house: Path, tmp_path: Path) -> None:
    """With the kind that was meant, else with where own kinds are stated."""
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace("roof-spoiler", "rof-spoiler"), encoding="utf-8")
    with pytest.raises(BadInputError, match=r'job.toml:8:8: kind "rof-spoiler" .* mean "roof-spoiler"\?'):
        load_job(path, load_house(house))
    path.write_text(JOB, encoding="utf-8")
    with pytest.raises(BadInputError, match=r'kind "roof-spoiler" is not known.*panels\.toml'):
        load_job(path, load_house())


def test_the_schema_of_a_house_has_its_kinds() -> None:
    """A job and a rule may name them; a slip in one is still refused."""
    panel = {"id": "a", "kind": "roof-spoiler", "role": "repair", "surface": "bare"}
    panel |= {"length_mm": 9, "height_mm": 9}  # type: ignore[dict-item]
    job = {"job": {"number": "1"}, "colour": {}, "panel": [panel]}
    rule = {"id": "a", "says": "a", "source": "a", "set": {"notes": "a"}, "when": {"panel": "roof-spoiler"}}
    for name, data in (("job", job), ("rules", {"rule": [rule]})):
        known = jsonschema.Draft202012Validator(schema_of(name, tuple(KINDS)))
        assert known.is_valid(data)
        assert not jsonschema.Draft202012Validator(schema_of(name)).is_valid(data)
        assert not known.is_valid(json.loads(json.dumps(data).replace("roof-spoiler", "rof-spoiler")))
    like = jsonschema.Draft202012Validator(schema_of("panels", tuple(KINDS)))
    assert like.is_valid({"outline": [{"kind": "tank", "name": "t", "like": "sill"}]})
    assert not like.is_valid({"outline": [{"kind": "tank", "name": "t", "like": "roof-spoiler"}]})


WRONG = {
    'kind = "tank"\nname = "t"': '"tank" is no shipped kind, and does not say which one it is like',
    'kind = "front-dor"\nname = "t"': 'did you mean "front-door"',
    'kind = "roof"\nlike = "sill"': '"roof" is a shipped kind, which is like no other',
    'kind = "tank"\nname = "t"\nlike = "bonet"': 'like "bonet" is not known; did you mean "bonnet"',
    'kind = "my tank"\nname = "t"\nlike = "sill"': "an id has no slash, no backslash and no blank",
    'kind = "tank|x"\nname = "t"\nlike = "sill"': "letters, digits and dashes",
    'kind = "tank"\nlike = "sill"': "name",
    'kind = "tank"\nname = "t"\nlike = "sill"\nlength_mm = 9000': "length_mm is 9000",
    'kind = "tank"\nname = "t"\nlike = "sill"\ncolour_from = ["left"]': '"left" is not known',
    'kind = "tank"\nname = "t"\nlike = "sill"\nshape = [[0, 0], [1, 1]]': "shape needs at least 3 entries",
    'kind = "tank"\nname = "t"\nlike = "sill"\nshap = []': 'did you mean "shape"',
    'kind = "tank"\nname = "t"\nlike = "sill"\n[[outline]]\nkind = "tank"\nlike = "roof"': "twice",
}


def test_wrong_outlines_are_refused_all_at_once(tmp_path: Path) -> None:
    """Each with its line; one file with all of them has all of the faults."""
    everything = ""
    path = tmp_path / "panels.toml"
    for text, says in WRONG.items():
        path.write_text(f"[[outline]]\n{text}\n", encoding="utf-8")
        with pytest.raises(BadInputError, match=says) as refused:
            load_house(tmp_path)
        assert all(fault.line for fault in refused.value.faults)
        assert len(refused.value.faults) == 1 + ("twice" in says), (text, refused.value.lines)
        everything += f"[[outline]]\n{text}\n"
    for number in itertools.count():
        if '"tank"\n' not in everything:
            break
        everything = everything.replace('"tank"\n', f'"t{number}"\n', 1)
    path.write_text(everything, encoding="utf-8")
    with pytest.raises(BadInputError) as refused:
        load_house(tmp_path)
    assert len(refused.value.faults) >= len(WRONG) - 1


def test_a_rule_for_a_kind_that_is_not_there_is_refused(house: Path) -> None:
    """With the own kind that was meant."""
    text = (house / "rules.toml").read_text(encoding="utf-8")
    (house / "rules.toml").write_text(text.replace('"roof-spoiler"', '"roof-spoler"'), encoding="utf-8")
    with pytest.raises(BadInputError, match=r'panel cannot be "roof-spoler"; did you mean "roof-spoiler"\?'):
        load_house(house)


def test_zones_that_have_no_room_are_a_finding(house: Path) -> None:
    """What starts every new panel of the kind must fit on it."""
    wide = SPOILER.replace("fade_mm = 150", "fade_mm = 1150")
    (house / "panels.toml").write_text(wide, encoding="utf-8")
    (finding,) = [each for each in audit_house(load_house(house)).findings if each.kind == "shop"]
    assert "roof-spoiler" in finding.says
    assert "fade_mm" in finding.says
