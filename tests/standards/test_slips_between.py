"""Slips that show only beside the rest of a house; sentences that say another thing than their rule does."""

from pathlib import Path

from prepadvisor.files import load_house, stale_schemas
from prepadvisor.standards import audit_house

LEADS = 'leads = ["K. M."]'
COLOUR = '[[colour]]\nbook = "a-1"\nflake = "{}"\n'
KIND = '[[outline]]\nkind = "lip"\nname = "{}"\nlike = "boot-lid"\n'
STANDARDS = '[standards]\nname = "Ours"\nversion = "1"\n'
FADE = 'flake = "{}", zone = "fade", surface = ["aged-clear", "cured-clear"], next = "base"'
SLIPS: dict[str, dict[str, str]] = {
    "no currency": {"shop": "[rates]\nlabour_per_hour = 60"},
    "disc_minutes is 0": {"shop": "disc_minutes = 0"},
    "wipe_minutes is 0": {"shop": "wipe_minutes = 0"},
    "a look is over before the wipe": {"shop": "gate_hours = 72\nlook_hours = 24"},
    "P180 twice": {"shop": 'shelf = ["P180", "P180", "P320", "P600", "P800", "P1000", "P1200", "P1500"]'},
    "ring_grade is P80": {"shop": 'ring_grade = "P80"'},
    "are read as one": {"shop": '[pads]\n"our grey" = "P800"\n"Our Grey" = "P1000"'},
    "approved by": {"shop": LEADS, "rules": f'{STANDARDS}approved_by = "X. Y."'},
    "sealed by": {"shop": LEADS, "colours": COLOUR.format("fine") + 'sealed_by = "X. Y."'},
    "both called": {"panels": KIND.format("boot lid")},
    "has tilt_deg 40": {"colours": COLOUR.format("fine") + "tilt_deg = 40"},
    "has log_sd 1.9": {"colours": COLOUR.format("fine") + "log_sd = 1.9"},
    "is solid and has a flake": {"colours": COLOUR.format("solid") + "flake_um = 12"},
}
SOUND = {
    "shop": f'{LEADS}\nmask_minutes = 0\n[pads]\n"grey" = "P800"\n[rates]\ncurrency = "EUR"\nper_disc = 1',
    "rules": f'{STANDARDS}approved_by = "KM"',
    "colours": COLOUR.format("fine") + 'flake_um = 14\nsealed_by = "K. M."',
    "panels": KIND.format("boot lip"),
}


def told(folder: Path, **files: str) -> list[str]:
    """Write a house folder and return what its check tells."""
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text + "\n", encoding="utf-8")
    return [finding.says for finding in audit_house(load_house(folder)).findings]


def rule(says: str, when: str, setting: str) -> str:
    """Write a rule."""
    return (
        f'[[rule]]\nid = "own"\nsays = "{says}"\nwhen = {{ {when} }}\nset = {{ {setting} }}\nsource = "ours"'
    )


def test_each_slip_is_told_once_and_sound_files_are_silent(tmp_path: Path) -> None:
    """The words of the finding name it."""
    for at, (words, files) in enumerate(SLIPS.items()):
        found = told(tmp_path / str(at), **files)
        assert sum(words in says for says in found) == 1, (words, found)
    assert told(tmp_path / "sound", **SOUND) == []


def test_a_sentence_that_names_other_coats_or_another_bed_is_told(tmp_path: Path) -> None:
    """As a word or a figure; "never one" names none, and what the sentence does not speak of is silent."""
    said = [
        ("Lay 2 coats of wet bed.", "vapour", "bed_coats_min = 1", True),
        ("Lay two thin coats, never one.", "vapour", "bed_coats_min = 1", True),
        ("Lay two coats, never one.", "vapour", "bed_coats_min = 2", False),
        ("Lay a bed.", "vapour", "bed_coats_min = 2", False),
        ("Solid too: a wet bed is required.", "solid", 'wet_bed = "advised"', True),
        ("Solid too: a wet bed is advised.", "solid", 'wet_bed = "advised"', False),
    ]
    for at, (says, flake, setting, is_told) in enumerate(said):
        found = told(tmp_path / str(at), own=rule(says, FADE.format(flake), setting))
        assert any("but sets" in each for each in found) == is_told, (says, found)


def test_a_schema_that_does_not_know_an_own_kind_is_told(tmp_path: Path) -> None:
    """Only where one lies in the house folder."""
    assert stale_schemas([str(tmp_path)], ["lip"]) == []
    (tmp_path / ".schemas").mkdir()
    (tmp_path / ".schemas" / "rules.json").write_text('{"enum": ["roof", "lip"]}', encoding="utf-8")
    assert stale_schemas([str(tmp_path)], ["lip"]) == []
    (finding,) = stale_schemas([str(tmp_path)], ["lip", "fin"])
    assert "fin" in finding.says
    assert "schema rules" in finding.mend


def test_a_sentence_that_speaks_of_other_cases_than_its_rule_is_told(tmp_path: Path) -> None:
    """Of another flake, zone or panel; of what a rule does not ask about it may say what it likes."""
    said = [
        ("Coarse flake: one looks closely.", 'flake = "fine"', True),
        ("Very fine flake: one looks closely.", 'flake = "fine"', True),
        ("Fine flake: one looks closely.", 'flake = ">= fine"', False),
        ("Use a fine grade.", 'flake = "coarse"', False),
        ("In the clear one may be quick.", 'zone = "fade"', True),
        ("In the fade one may not.", 'zone = ["fade", "colour"]', False),
        ("Bonnets are looked down at.", 'panel = "roof"', True),
        ("Front doors are looked at.", 'panel = ["front-door", "roof"]', False),
        ("Bonnets are looked down at.", 'flake = "fine"', False),
    ]
    for at, (says, when, is_told) in enumerate(said):
        clears = 'surface = ["aged-clear", "cured-clear"], next = "base"'
        found = told(tmp_path / str(at), rules=rule(says, f"{clears}, {when}", 'notes = "Look."'))
        assert sum("speaks of" in each for each in found) == is_told, (says, found)
