"""The schemas held by a JSON Schema validator of its own: shipped files pass, typos do not, outputs pass."""

import contextlib
import io
import json
import re
from pathlib import Path
from typing import Any

import pytest
import tomli
from jsonschema import Draft202012Validator

from prepadvisor import cli
from prepadvisor.cli.main import main
from prepadvisor.cli.schema import schema_of
from prepadvisor.files import demo_jobs_dir, rules_dir

RULES = rules_dir()
GUIDE = (RULES / "README.md").read_text("utf-8")
README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
FILES = ("job", "rules", "shop", "constants", "panels", "sources", "in-force", "colours")
OUTPUTS = (
    "check", "compare", "replay", "verify", "table", "spots", "gate", "lines", "why", "day", "times", "fit",
    "flakes", "outcomes", "colour-records",
)  # fmt: skip
JOB = str(demo_jobs_dir() / "fine-two-panels.toml")


OWN_KINDS = tuple(re.findall(r'kind = "([\w-]+)"\nname = .*\nlike = ', GUIDE))
"""Panel kinds that the guide's house states itself."""


def valid(name: str, data: Any, kinds: tuple[str, ...] = ()) -> list[str]:
    """Return what a validator says of data."""
    validator = Draft202012Validator(schema_of(name, kinds))
    plain = json.loads(json.dumps(data, default=str))
    return [f"{list(error.path)}: {error.message[:120]}" for error in validator.iter_errors(plain)]


def shipped() -> list[tuple[str, str, str]]:
    """Return every file a person writes that ships or is shown: schema, what it is called, text."""
    found = [("job", path.name, path) for path in sorted(demo_jobs_dir().glob("*.toml"))]
    found += [("rules", path.name, path) for path in sorted((RULES / "base").glob("*.toml"))]
    found += [
        (name, f"{name}.toml", RULES / f"{name}.toml") for name in ("shop", "constants", "panels", "sources")
    ]
    found += [(name, f"start/{name}.toml", RULES / "start" / f"{name}.toml") for name in ("rules", "shop")]
    texts = [(schema, name, path.read_text("utf-8")) for schema, name, path in found]
    for number, text in enumerate(re.findall(r"```toml\n(.*?)```", GUIDE, re.DOTALL)):
        file = text.partition("\n")[0].rpartition("/")[2].removesuffix(".toml")
        schema = file if file in {"shop", "colours", "panels"} else "rules"
        texts.append((schema, f"guide {number}", text))
    return texts


SHIPPED = shipped()


@pytest.mark.parametrize("name", [*FILES, *OUTPUTS, "advice"])
def test_a_schema_is_a_schema(name: str) -> None:
    """Of draft 2020-12."""
    Draft202012Validator.check_schema(schema_of(name))


@pytest.mark.parametrize(("schema", "name", "text"), SHIPPED, ids=[name for _, name, _ in SHIPPED])
def test_what_ships_and_what_is_shown_passes(schema: str, name: str, text: str) -> None:
    """Jobs, rules, shop, constants, outlines, sources, what a house starts from, the guide's blocks."""
    assert valid(schema, tomli.loads(text), OWN_KINDS) == [], name


def unsaid(part: Any, path: str) -> list[str]:
    """Return the keys of a schema without a sentence."""
    found: list[str] = []
    if isinstance(part, list):
        return [each for one in part for each in unsaid(one, path)]
    if isinstance(part, dict):
        for key, each in part.get("properties", {}).items():
            if isinstance(each, dict) and not each.get("description"):
                found.append(f"{path}.{key}")
        for key, each in part.items():
            inner = each.items() if key in {"properties", "$defs"} else [(key, each)]
            for name, one in inner:
                found += unsaid(one, f"{path}.{name}")
    return found


@pytest.mark.parametrize("name", [*FILES, *OUTPUTS, "advice"])
def test_every_key_has_a_sentence(name: str) -> None:
    """An editor shows it; a new key gets its own in its record's docstring."""
    assert unsaid(schema_of(name), name) == []


JOB_TEXT = """\
[job]
number = "1"
date = 2026-03-02
[colour]
flake = "fine"
stages = 2
tone = "light"
[[panel]]
id = "p1"
kind = "front-door"
role = "blend"
surface = "aged-clear"
next = "base"
length_mm = 1050
height_mm = 640
colour_from = ["front"]
colour_mm = 150
fade_mm = 400
film_um = [118]
now = { tool = "da", grade = "P 320" }
[[panel.patch]]
id = "R1"
surface = "primer-surfacer"
at = [0.4, 0.6]
size_mm = [300, 250]
[[panel.feature]]
id = "E1"
kind = "edge"
path = [[0.0, 0.0], [0.0, 1.0]]
reach = "machine"
seen = true
[[check]]
at = 2026-03-02T09:40:00Z
by = "K. M."
panel = "p1"
feature = "E1"
step = "scuffed"
tool = "hand-pad"
grade = "p1000"
"""
RULE_TEXT = """\
[standards]
name = "Ours"
version = "1"
valid_from = 2026-03-02
[[rule]]
id = "a"
says = "b"
when = { flake = ">= fine", zone = ["colour", "fade"], film_um = "< 90", seen = true, stages = 2 }
set = { finish_coarsest = "P 1200", wet_bed = "required", bed_coats_max = 1, risk_limit = 0.2 }
source = "c"
replaces = "d"
lets_go = "e"
[[withdraw]]
rule = "a"
because = "b"
[[example]]
given = { flake = "fine", seen = true }
expect = { finish_coarsest = "none", holds = [] }
[[promise]]
says = "a"
along = "flake"
output = "finish_coarsest"
never = "coarser"
where = { zone = "fade" }
"""
SHOP_TEXT = """\
shelf = ["P800", "P 1000"]
finishing_tool = "da-soft"
mist_mm = 150
leads = ["K. M."]
[wet_bed]
volume_solids = 0.25
[pads]
"grey" = "P800"
[rates]
labour_per_hour = 60
"""
CONSTANTS_TEXT = """\
[groove.depth_per_grain]
da = { value = 0.05, unit = "1", source = "house", known = "measured" }
[sight]
viewing_distance_mm = { value = 500 }
"""
TEXTS = {"job": JOB_TEXT, "rules": RULE_TEXT, "shop": SHOP_TEXT, "constants": CONSTANTS_TEXT}
TYPOS: list[tuple[str, str, str]] = [
    *(
        ("job", old, new)
        for old, new in (
            ('number = "1"', "number = 1"),
            ("number =", "nummer ="),
            ("[colour]", "[colours]"),
            ('"fine"', '"finne"'),
            ("stages = 2", "stages = 4"),
            ("stages = 2", 'stages = "2"'),
            ('"light"', '"bright"'),
            ('"front-door"', '"frontdoor"'),
            ('"blend"', '"blent"'),
            ('"aged-clear"', '"clear-aged"'),
            ('next = "base"', 'next = "colour"'),
            ("length_mm = 1050", 'length_mm = "1050"'),
            ("length_mm = 1050", "length_mm = -1"),
            ("height_mm", "heigth_mm"),
            ('["front"]', '"front"'),
            ("fade_mm = 400", "fade_mm = 40000"),
            ("film_um = [118]", "film_um = 118"),
            ('"da"', '"orbital"'),
            ('"P 320"', '"320"'),
            ('"P 320"', "320"),
            ("at = [0.4, 0.6]", "at = [0.4, 1.6]"),
            ("size_mm = [300, 250]", "size_mm = [300]"),
            ('kind = "edge"', 'kind = "border"'),
            ('"machine"', '"robot"'),
            ("seen = true", 'seen = "yes"'),
            ('"scuffed"', '"scuft"'),
            ("[[check]]", "[[checks]]"),
        )
    ),
    *(
        ("rules", old, new)
        for old, new in (
            ("version =", "vers ="),
            ('version = "1"', "version = 1"),
            ("valid_from", "valid_since"),
            ("[[rule]]", "[[rules]]"),
            ("says =", "say ="),
            ("when = {", "wen = {"),
            ("flake =", "flak ="),
            ('">= fine"', '"=> fine"'),
            ('"colour", "fade"', '"colour", "fad"'),
            ('"< 90"', '"thin"'),
            ("seen = true,", 'seen = "true",'),
            ("stages = 2", "stages = 1"),
            ("finish_coarsest = ", "finish_corsest = "),
            ('"P 1200"', '"1200"'),
            ('"P 1200"', "1200"),
            ('"required"', '"needed"'),
            ("bed_coats_max = 1", "bed_coats_max = 1.5"),
            ("risk_limit = 0.2", "risk_limit = 20"),
            ('source = "c"\n', ""),
            ("replaces", "replace"),
            ("because =", "why ="),
            ("expect =", "expects ="),
            ('along = "flake"', 'along = "flakes"'),
            ('never = "coarser"', 'never = "worse"'),
        )
    ),
    *(
        ("shop", old, new)
        for old, new in (
            ('["P800", "P 1000"]', '["800", "1000"]'),
            ('"da-soft"', '"soft"'),
            ("mist_mm = 150", 'mist_mm = "150"'),
            ("mist_mm", "mist"),
            ("volume_solids = 0.25", "volume_solids = 25"),
            ("[rates]", "[rate]"),
            ("labour_per_hour", "labour"),
            ('leads = ["K. M."]', 'leads = "K. M."'),
        )
    ),
    *(
        ("constants", old, new)
        for old, new in (
            ("da =", "daa ="),
            ("value = 0.05", 'value = "0.05"'),
            ('"measured"', '"guessed"'),
            ("[sight]", "[eye]"),
        )
    ),
]


@pytest.mark.parametrize("name", TEXTS)
def test_the_text_that_typos_are_planted_in_passes(name: str) -> None:
    """Also a grade written "P 1200" or "p1000", as it is read."""
    assert valid(name, tomli.loads(TEXTS[name])) == []


@pytest.mark.parametrize(("name", "old", "new"), TYPOS, ids=[f"{n}: {new[:30]}" for n, _, new in TYPOS])
def test_a_planted_typo_is_refused(name: str, old: str, new: str) -> None:
    """One change to a good file, and the validator says so."""
    text = TEXTS[name]
    assert old in text
    assert valid(name, tomli.loads(text.replace(old, new, 1)))


def test_there_are_at_least_fifty_typos() -> None:
    """Each of its own."""
    assert len(set(TYPOS)) == len(TYPOS) >= 50


def printed(*words: str) -> str:
    """Return what a command prints."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        main(list(words))
    return out.getvalue()


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return a house with a rule that tightens, one that loosens and one that is wrong."""
    folder = tmp_path_factory.mktemp("ours")
    text = (
        '[[rule]]\nid = "a"\nsays = "P600."\nwhen = { flake = "fine", zone = "fade" }\n'
        'set = { finish_coarsest = "P1000" }\nsource = "x"\n'
        '[[withdraw]]\nrule = "hand-fine"\nbecause = "x"\n'
    )
    (folder / "rules.toml").write_text(text, encoding="utf-8")
    (folder / "shop.toml").write_text("[rates]\nlabour_per_hour = 60\n", encoding="utf-8")
    return str(folder)


def test_what_commands_print_passes_their_schemas(house: str, tmp_path: Path) -> None:
    """Run and validated, each key known and none missing."""
    card = tmp_path / "card.json"
    printed("card", JOB, "--to", "json", "--house", house, "--out", str(card))
    panels, sizes = tmp_path / "panels.csv", tmp_path / "sizes.csv"
    panels.write_text("flake,tool,grade,shows\nfine,da,P600,yes\nfine,da,P1000,no\n", encoding="utf-8")
    sizes.write_text("8.0\n" * 20, encoding="utf-8")
    reported = tmp_path / "reported.toml"
    outcome = 'at = 2026-05-04T10:00:00Z\nby = "K"\npanel = "left-rear-door"\nfeature = "all"\nseen = true\n'
    reported.write_text(f"{Path(JOB).read_text('utf-8')}\n[[outcome]]\n{outcome}", encoding="utf-8")
    book = tmp_path / "book"
    book.mkdir()
    (book / "colours.toml").write_text('[[colour]]\nbook = "hm-3"\nflake = "fine"\n', encoding="utf-8")
    runs = {
        "check": ["standards", "check", house, "--json"],
        "compare": ["standards", "compare", "base", house, "--json", "--jobs", JOB],
        "replay": ["standards", "replay", JOB, "--against", house, "--json"],
        "verify": ["standards", "verify", str(card), "--house", house, "--json"],
        "table": ["standards", "table", "--to", "json", "--where", "special=none", "--where", "flake=fine"],
        "spots": ["standards", "table", "--spots", JOB, "--to", "json"],
        "gate": ["gate", JOB, "--json"],
        "lines": ["lines", "--json"],
        "why": ["why", JOB, "left-rear-door", "--json"],
        "day": ["day", str(demo_jobs_dir()), "--to", "json"],
        "times": ["times", JOB, "--json"],
        "fit": ["fit", str(panels), JOB, "--next", "2", "--check", "--json"],
        "flakes": ["flakes", str(sizes), "--json"],
        "outcomes": ["outcomes", str(reported), "--json"],
        "colour-records": ["colours", "--house", str(book), "--json"],
    }
    assert set(runs) == set(OUTPUTS)
    for name, words in runs.items():
        assert valid(name, json.loads(printed(*words)))[:3] == [], name
    assert valid("advice", json.loads(card.read_text("utf-8")))[:3] == []


def test_every_command_that_prints_json_has_a_schema() -> None:
    """Each verb with `--json` stands in the list of schemas."""
    verbs = {
        path.stem for path in Path(cli.__file__).parent.glob("*.py") if '"--json"' in path.read_text("utf-8")
    }
    named = {"colours": "colour-records"}
    spoken = {named.get(verb, verb.removeprefix("standards_")) for verb in verbs - {"streams"}}
    assert spoken - set(OUTPUTS) == set()


def test_the_files_a_house_starts_from_name_a_schema_that_is_there(tmp_path: Path) -> None:
    """The first line of each, as editors read it."""
    folder = tmp_path / "ours"
    printed("standards", "new", str(folder))
    for path in folder.glob("*.toml"):
        named = re.match(r"#:schema (\S+)\n", path.read_text("utf-8"))
        assert named, path
        schema = json.loads((folder / named[1]).read_text("utf-8"))
        assert schema == schema_of(path.stem)
