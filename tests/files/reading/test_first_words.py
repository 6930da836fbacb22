"""Files may be written in either half of the trade's words: both are read alike and neither is a fault."""

from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.cases import CATEGORIES
from prepadvisor.files import edited, job_of_text, load_house, parse
from prepadvisor.records import KEY_WORDS, OTHER_WORDS, VALUE_WORDS, BadInputError, Check, Job
from prepadvisor.standards import House
from tests.files.disk.saving import append_check

UK = """\
[job]
number = "7"

[colour]   # spray-out 3
flake = "vapour"
stages = 2
tone = "light"

[[panel]]
id = "p"
kind = "bonnet"
role = "blend"
surface = "aged-clear"
next = "base"
length_mm = 1200
height_mm = 900
special = "none"
colour_from = ["front"]   # from the wing
colour_mm = 150
fade_mm = 400
now = { tool = "da", grade = "P800" }

[[panel.patch]]
id = "R1"
surface = "electrocoat"
next = "primer"
at = [0.9, 0.6]
size_mm = [100, 100]

[[panel.feature]]
id = "L1"
kind = "body-line"
path = [[0.0, 0.5], [1.0, 0.5]]

[[check]]
at = 2026-03-02T09:40:00Z
by = "K. M."
panel = "p"
feature = "L1"
step = "inspected"
result = "cut-through"
"""
SWAPS = [
    ("[colour]", "[color]"),
    ('"vapour"', '"vapor"'),
    ('"bonnet"', '"hood"'),
    ('"aged-clear"', '"aged-clearcoat"'),
    ("colour_from", "color_from"),
    ("colour_mm", "color_mm"),
    ('next = "base"', 'next = "base-coat"'),
    ('tool = "da"', 'tool = "random-orbital"'),
    ('"electrocoat"', '"e-coat"'),
    ('"body-line"', '"character-line"'),
    ('"cut-through"', '"burn-through"'),
]
US = UK
for first, other in SWAPS:
    US = US.replace(first, other, 1)

Read = Callable[[str], Job]


@pytest.fixture
def read(shipped_house: House) -> Read:
    """Read a job from text."""
    return lambda text: job_of_text(text.encode(), "job.toml", shipped_house)


@pytest.fixture
def faults(read: Read) -> Callable[[str], list[str]]:
    """Return the faults of a job's text, as printed."""

    def found(text: str) -> list[str]:
        try:
            read(text)
        except BadInputError as error:
            return [str(fault) for fault in error.faults]
        return []

    return found


def test_both_halves_of_the_trade_write_the_same_job(read: Read) -> None:
    """A job in the other words is the very same job."""
    assert US != UK
    assert read(US) == read(UK)


@pytest.mark.parametrize(("first", "other"), SWAPS, ids=[other for _, other in SWAPS])
def test_words_may_be_mixed(first: str, other: str, read: Read) -> None:
    """One other word among first ones is no fault."""
    assert read(UK.replace(first, other, 1)) == read(UK)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("color_mm = 150", 'color_mm = "wide"', "19:12: colour_mm is the text"),
        ('color_from = ["front"]', 'color_from = ["frunt"]', '18:15: "frunt" is neither a side nor a patch'),
        ('"vapor"', '"vapors"', '5:9: flake "vapors" is not known; did you mean "vapour"?'),
        ("tone = ", "tune = ", '7:1: the key "tune" is not known'),
        ('"hood"', '"hod"', '11:8: kind "hod" is not known'),
    ],
    ids=["a key's value", "in its list", "a value", "in a table of another spelling", "near another word"],
)
def test_a_fault_is_told_where_it_stands_in_the_file(
    old: str, new: str, told: str, faults: Callable[[str], list[str]]
) -> None:
    """Line and column are those of the file's own spelling."""
    assert old in US
    assert [line.startswith(f"job.toml:{told}") for line in faults(US.replace(old, new))] == [True]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (UK.replace("colour_mm = 150", "colour_mm = 150\ncolor_mm = 150"), "20:1:"),
        (US.replace("color_mm = 150", "colour_mm = 200\ncolor_mm = 150"), "20:1:"),
        (f'{UK}\n[color]\ntone = "dark"\n', "43:2:"),
    ],
    ids=["first, then other", "in a table of another spelling", "two tables"],
)
def test_both_spellings_of_one_key_are_a_fault(
    text: str, told: str, faults: Callable[[str], list[str]]
) -> None:
    """Which of the two was meant is not guessed."""
    found = faults(text)
    assert len(found) == 1
    assert told in found[0]
    assert found[0].endswith("which is there too; keep one of them")


def test_a_double_key_does_not_hide_other_faults(faults: Callable[[str], list[str]]) -> None:
    """All faults at once, and what is missing among them."""
    text = UK.replace("colour_mm = 150", "colour_mm = 150\ncolor_mm = 150").replace('role = "blend"\n', "")
    assert len(faults(text)) == 2


def test_words_with_two_meanings_are_asked_back(faults: Callable[[str], list[str]]) -> None:
    """A surface "clear" may be aged or freshly cured: that is not guessed."""
    found = faults(UK.replace('"aged-clear"', '"clear"'))
    assert found == ['job.toml:13:11: surface "clear" is not known; did you mean "aged-clear"?']


def test_ids_names_and_notes_are_never_turned(read: Read) -> None:
    """A panel whose id is a trade word keeps it."""
    text = UK.replace('id = "p"', 'id = "hood"').replace('panel = "p"', 'panel = "hood"')
    job = read(text.replace('id = "L1"', 'id = "arch"').replace('feature = "L1"', 'feature = "arch"'))
    assert (job.panel[0].id, job.panel[0].feature[0].id) == ("hood", "arch")
    assert (job.check[0].panel, job.check[0].feature) == ("hood", "arch")


def test_an_edit_keeps_the_words_of_the_file(read: Read) -> None:
    """Only the number changes; no key is there twice afterwards."""
    before = read(US)
    panel = before.panel[0].model_copy(update={"colour_mm": 180.0, "colour_from": ("rear",)})
    after = before.model_copy(update={"panel": (panel,)})
    text = edited(US, before, after)
    assert "color_mm = 180.0" in text
    assert 'color_from = ["rear"]   # from the wing' in text
    assert "colour" not in text
    assert read(text).panel[0].colour_mm == 180.0


def test_a_removed_key_is_removed_in_its_own_spelling(read: Read) -> None:
    """A blend taken out is out."""
    before = read(US)
    panel = before.panel[0].model_copy(update={"role": "clear-only", "colour_mm": None, "patch": ()})
    assert "color_mm" not in edited(US, before, before.model_copy(update={"panel": (panel,)}))


def test_an_entry_is_appended_to_a_file_of_any_words(tmp_path: Path, read: Read) -> None:
    """What stood there stays byte for byte."""
    path = tmp_path / "job.toml"
    path.write_text(US, encoding="utf-8")
    check = read(US).check[0]
    append_check(path, Check(at=check.at, by="K. M.", panel="p", feature="L1", step="scuffed"))
    text = path.read_text(encoding="utf-8")
    assert text.startswith(US)
    assert len(read(text).check) == 2


HOUSE = """\
[standards]
name = "Us"
version = "1"

[[rule]]
id = "hood-by-lead"
says = "A hood in vapor: the lead looks at it in color."
when = { panel = ["hood", "deck-lid"], flake = ">= vapor", zone = { not = ["clear-coat"] } }
set = { cautions = "The lead looks at the hood." }
source = "house"

[[example]]
given = { panel = "hood", flake = "vapor", zone = "color" }
expect = { cautions = "The lead looks at the hood." }
"""


def test_a_house_folder_may_use_either_word(tmp_path: Path) -> None:
    """Rules, worked cases, constants, outlines and the shop file; sentences stay as they were written."""
    (tmp_path / "house.toml").write_text(HOUSE, encoding="utf-8")
    (tmp_path / "constants.toml").write_text(
        "[film]\nearlier_color_coats_color = { value = 3 }\n[flake.vapor]\nd50_um = { value = 8.5 }\n",
        encoding="utf-8",
    )
    (tmp_path / "shop.toml").write_text(
        'finishing_tool = "dual-action"\n[first_grade]\nputty = "P120"\n[pads]\nputty = "P600"\n',
        encoding="utf-8",
    )
    (tmp_path / "panels.toml").write_text('[[outline]]\nkind = "hood"\nlength_mm = 1300\n', encoding="utf-8")
    house = load_house(tmp_path)
    rule = next(rule for rule in house.engine.rules if rule.id == "hood-by-lead")
    assert rule.says == "A hood in vapor: the lead looks at it in color."
    example = next(example for example in house.engine.examples if example.layer != "base")
    assert (example.facts.panel, example.facts.flake, example.facts.zone) == ("bonnet", "vapour", "colour")
    assert "The lead looks at the hood." in house.engine.decide(example.facts).cautions
    assert house.constants.film.earlier_colour_coats_colour.value == 3
    assert house.constants.flake["vapour"].d50_um.value == 8.5
    assert (house.shop.finishing_tool, house.shop.first_grade["filler"]) == ("da", "P120")
    assert house.shop.pads == {"putty": "P600"}
    assert house.outlines["bonnet"].length_mm == 1300


def test_a_faulty_condition_is_told_at_its_own_word(tmp_path: Path) -> None:
    """Column of the word in the list, also behind another word."""
    path = tmp_path / "house.toml"
    path.write_text(HOUSE.replace('"deck-lid"]', '"moon"]'), encoding="utf-8")
    with pytest.raises(BadInputError) as caught:
        load_house(tmp_path)
    assert [(fault.line, fault.column) for fault in caught.value.faults] == [(8, 27)]


def test_no_other_word_is_a_first_word_of_its_kind() -> None:
    """A word that already means something in that place is never turned into another."""
    values = {fact.name: set(map(str, fact.values)) for fact in CATEGORIES}
    wrong = [
        (kind, other, first)
        for kind, words in OTHER_WORDS.items()
        if kind in values
        for other, first in words.items()
        if other in values[kind] or first not in values[kind]
    ]
    assert wrong == []


def test_other_words_lead_to_first_words_at_once() -> None:
    """None leads to another other word."""
    for words in (*VALUE_WORDS.values(), *KEY_WORDS.values()):
        assert not set(words) & set(words.values())


def test_a_file_in_first_words_is_not_copied() -> None:
    """Most files have none of the other words; reading them costs one search."""
    text = parse(UK.encode(), "job.toml")
    assert text.written == {}
