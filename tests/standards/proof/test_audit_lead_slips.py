"""Slips of a lead's own hand, planted one by one: each is found at his file; sound twins are silent."""

from pathlib import Path

import pytest

from prepadvisor.files import load_house, strays
from prepadvisor.records import BadInputError
from prepadvisor.standards import Finding, audit_house

CLEARS = 'surface = ["aged-clear", "cured-clear"], next = "base", zone = "fade"'


def rule(when: str, sets: str, says: str = "Ours.", more: str = "") -> str:
    """Write a rule."""
    text = f'[[rule]]\nid = "own"\nsays = "{says}"\nwhen = {{ {when} }}\nset = {{ {sets} }}\nsource = "x"\n'
    return f"{text}{more}\n"


def withdraw(name: str, more: str = "") -> str:
    """Write a withdrawal."""
    return f'[[withdraw]]\nrule = "{name}"\nbecause = "No time."\n{more}\n'


GUARD = 'lets_go = "The gauge."'
SLIPS: dict[str, tuple[str, str]] = {
    "radar hold withdrawn without a word": ("hold-gone", withdraw("special-radar")),
    "matt hold withdrawn without a word": ("hold-gone", withdraw("special-matt")),
    "fresh clear withdrawn without a word": ("hold-gone", withdraw("special-fresh-clear")),
    "wrap hold replaced by a caution": (
        "hold-gone",
        rule('special = "wrap"', 'cautions = "Mind the wrap."', more='replaces = "special-wrap"'),
    ),
    "lacquer hold replaced by a narrower one": (
        "hold-gone",
        rule(
            'special = "lacquer", zone = "fade"',
            'holds = "Lacquer: ask."',
            more='replaces = "special-lacquer"',
        ),
    ),
    "film threshold in mm": ("file", rule(f"{CLEARS}, film_um = '< 0.09'", 'cautions = "Thin."')),
    "film range in mm": ("file", rule(f"{CLEARS}, film_um = '0.08 .. 0.1'", 'cautions = "Thin."')),
    "film threshold in mil": ("file", rule(f"{CLEARS}, film_um = '< 4'", 'cautions = "Thin."')),
    "line length in metres": (
        "file",
        rule(f"{CLEARS}, length_mm = '> 0.5', reach = 'machine'", 'guide_coat = "every-change"'),
    ),
    "line length in µm": ("file", rule(f"{CLEARS}, length_mm = '< 500000'", 'cautions = "Long."')),
    "panel size in dm²": ("file", rule(f"{CLEARS}, panel_m2 = '< 60'", 'cautions = "Large."')),
    "panel size in mm²": ("file", rule(f"{CLEARS}, panel_m2 = '< 600000'", 'cautions = "Large."')),
    "film cut in mm": ("file", rule(CLEARS, "film_off_max_um = 0.004")),
    "film left in mm": (
        "file",
        rule(f'{CLEARS}, film_um = ">= 50", feature = "face"', "film_left_min_um = 0.09"),
    ),
    "says coarser than it sets": (
        "says",
        rule(f'{CLEARS}, flake = "fine", feature = "edge"', 'hand_coarsest = "P1000"', "Edges with P600."),
    ),
    "says finer than it sets": (
        "says",
        rule(
            f'{CLEARS}, flake = "fine", feature = "edge"',
            'hand_coarsest = "P1000"',
            "Edges with P1500 or P2000.",
        ),
    ),
    "says a grade with a blank": (
        "says",
        rule(f'{CLEARS}, flake = "fine", feature = "edge"', 'hand_coarsest = "P1000"', "Edges with P 320."),
    ),
}
SOUND = {
    "radar hold let go": withdraw("special-radar", GUARD),
    "hold said otherwise": rule('special = "wrap"', 'holds = "Wrap: off."', more='replaces = "special-wrap"'),
    "film in µm": rule(f"{CLEARS}, film_um = '< 95'", 'cautions = "Thin."'),
    "no reading or thin": rule(f"{CLEARS}, film_um = ['no reading', '< 95']", 'cautions = "Measure."'),
    "length in mm": rule(f"{CLEARS}, length_mm = '> 700'", 'cautions = "Long line."'),
    "small panel": rule(f"{CLEARS}, panel_m2 = '< 0.03'", 'cautions = "Small."'),
    "says a range and sets its end": rule(
        f'{CLEARS}, flake = "fine", feature = "edge"', 'hand_coarsest = "P1000"', "P1000 to P1500 on edges."
    ),
    "says no grade": rule(
        f'{CLEARS}, flake = "fine", feature = "edge"', 'hand_coarsest = "P1000"', "One finer."
    ),
    "says a grade, sets none": rule(CLEARS, 'notes = "Look twice."', "After P800 look twice."),
    "a note withdrawn": withdraw("hand-pad-grain"),
    "two coats of vapour": rule(f'{CLEARS}, flake = "vapour"', "bed_coats_min = 2"),
    "nothing but a name": '[standards]\nname = "Ours"\nversion = "1"\n',
}


def found(folder: Path, text: str) -> list[Finding]:
    """Audit a house of one file."""
    (folder / "ours.toml").write_text(text, encoding="utf-8")
    return [*audit_house(load_house(folder)).findings, *strays([str(folder)])]


@pytest.mark.parametrize(("kind", "text"), SLIPS.values(), ids=SLIPS)
def test_a_slip_is_found_at_its_file(kind: str, text: str, tmp_path: Path) -> None:
    """One finding of its kind, with a mend, at the house's own file; nothing else."""
    findings = found(tmp_path, text)
    assert [finding.kind for finding in findings] == [kind]
    assert Path(findings[0].file).name == "ours.toml"
    assert findings[0].line > 0
    assert findings[0].mend


@pytest.mark.parametrize("text", SOUND.values(), ids=SOUND)
def test_a_sound_twin_is_silent(text: str, tmp_path: Path) -> None:
    """No false alarm, not even a note."""
    assert found(tmp_path, text) == []


FINER = 'finish_coarsest = "P1000"'
DOOR, ROOF = f'{CLEARS}, flake = "fine", panel = "front-door"', f'{CLEARS}, flake = "fine", panel = "roof"'
STRAYS = {
    "rules.txt": rule(DOOR, FINER),
    "RULES.TXT": "# what we said on Monday\n",  # by its name alone
    "fade.txt": "nothing yet\n",  # beside fade.toml
    "hand.txt": f"# ours\n  [[ rule ]]\n{rule(DOOR, FINER)}",
    "saved-by-an-editor.text": "\ufeff[wet_bed]\noverlap_mm = 80\n",
    "colours of ours": '[[colour]]\nbook = "a-1"\n',
}


def test_a_text_that_was_meant_for_the_house_is_told_whatever_it_is_called(tmp_path: Path) -> None:
    """By its name, a file of its name beside it or a table in it, in any code page; letters are let be."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "fade.toml").write_text("", encoding="utf-8")
    (house / "letter.txt").write_text("Dear all,\nrule one: [clean hands].\n", encoding="utf-8")
    (house / "README.md").write_text("[[rule]]\n", encoding="utf-8")
    assert strays([str(house)]) == []
    for name, text in STRAYS.items():
        for page in ("utf-8", "utf-16"):
            (house / name).write_text(text, encoding=page)
            assert [Path(finding.file).name for finding in strays([str(house)])] == [name], (name, page)
        (house / name).unlink()


def test_one_sentence_of_two_rules_that_set_two_things_is_told(tmp_path: Path) -> None:
    """Once for the sentence, however it is written; of two rules that set the same, one is enough."""
    one = rule(DOOR, FINER, "Finer where one looks.")
    for sets, says, is_told in (
        ('finish_coarsest = "P1200"', "finer  where one looks.", True),
        ('finish_coarsest = "P1000"', "Finer where one looks.", False),
        ('finish_coarsest = "P1200"', "Finest where one looks.", False),
    ):
        other = rule(ROOF, sets, says).replace('"own"', '"other"')
        findings = found(tmp_path, one + other)
        told = [(each.kind, sorted(each.rules)) for each in findings if each.kind == "says"]
        assert told == [("says", ["other", "own"])] * is_told, (sets, says)


REFUSED = {
    "approved by nobody": ('[standards]\nname = "Ours"\nversion = "1"\napproved_by = " "\n', "names nobody"),
    "withdrawn and replaced": (
        withdraw("hand-fine") + rule(CLEARS, 'hand_coarsest = "P800"', more='replaces = "hand-fine"'),
        "withdrawn as well",
    ),
    "withdrawn twice": (withdraw("hand-fine") + withdraw("hand-fine"), "withdrawn twice"),
    "withdrawn, but no such rule": (withdraw("hand-fin"), 'did you mean "hand-fine"'),
    "replaces no rule": (
        rule(CLEARS, 'hand_coarsest = "P800"', more='replaces = "hand-fin"'),
        "no rule is called",
    ),
    "a bare number": (rule(CLEARS, "hand_coarsest = 800"), "has no P"),
    "a grade between two": (rule(CLEARS, 'hand_coarsest = "P1100"'), '"P1000" or "P1200"'),
    "not equal": (rule(f'{CLEARS}, flake = "!= fine"', 'notes = "x"'), '{ not = "fine" }'),
    "risk in percent": (rule(CLEARS, "risk_limit = 25"), "from 0 to 1"),
    "days backwards": (
        '[standards]\nname = "a"\nversion = "1"\nvalid_from = 2026-03-01\nvalid_to = 2026-02-01\n',
        "before valid_from",
    ),
    "says what cannot be": (
        '[[impossible]]\nwhen = { zone = "fade" }\nbecause = "x"\n',
        "cannot say what is impossible",
    ),
}


@pytest.mark.parametrize(("text", "says"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_meant_is_refused_at_load(text: str, says: str, tmp_path: Path) -> None:
    """With the hint that mends it."""
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    with pytest.raises(BadInputError) as refused:
        load_house(tmp_path)
    assert any(says in str(fault) for fault in refused.value.faults)
