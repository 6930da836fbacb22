"""Sizes, prices, guards and promises that cannot be meant; all in one house, so that one check sees all."""

import datetime as dt
from importlib import import_module
from pathlib import Path

import pytest

from prepadvisor.files import load_house, sealed_ahead
from prepadvisor.records import BookColour
from prepadvisor.standards import Audited, audit_house, doings

CLEARS = 'zone = "fade", surface = ["aged-clear", "cured-clear"], next = "base"'
SAID = [
    ("Never cut more than 5 µm.", 'flake = "fine"', "film_off_max_um = 4", True),
    ("Never cut more than 3 µm, a coat has 8 µm.", 'tone = "dark"', "film_off_max_um = 3", False),
    ("Under 95 µm cut 5 µm at most.", 'film_um = "< 95"', "film_off_max_um = 4.5", True),
    ("Under 90 µm cut little.", 'film_um = "< 90"', "film_off_max_um = 4", False),
    ("Under 80 µm: mind it.", 'film_um = "< 85"', 'cautions = "Mind it."', True),
    ("Lines over 800 mm: two people.", 'length_mm = "> 80"', 'notes = "Two people."', True),
    ("Lines over 700 mm: a lamp.", 'length_mm = "> 700"', 'notes = "A lamp."', False),
    ("Pillars: by hand only.", 'panel = "pillar"', 'machine = "interface-pad"', True),
    ("Sills: with the soft pad.", 'panel = "sill"', 'machine = "interface-pad"', False),
]
"""Sentence, condition, setting, and whether they differ."""

PROMISE = """
[[promise]]
says = "{}"
along = "flake"
output = "hand_coarsest"
never = "coarser"
where = {{ surface = "{}" }}
"""
COLOURS = """
[[colour]]
book = "a-1"
flake = "fine"
code = "77"
flake_um = 14

[[colour]]
book = "a-2"
flake = "{}"
code = "77"
flake_um = {}
"""


def rule(name: str, says: str, when: str, setting: str) -> str:
    """Write a rule."""
    return (
        f'[[rule]]\nid = "{name}"\nsays = "{says}"\nwhen = {{ {when} }}\nset = {{ {setting} }}\n'
        'source = "ours"\n'
    )


def test_sentences_are_held_against_sizes_and_promises_against_holds(tmp_path: Path) -> None:
    """Only those that differ are told; a promise about bare metal is never put to the test."""
    rules = [rule(f"own-{at}", each[0], f"{CLEARS}, {each[1]}", each[2]) for at, each in enumerate(SAID)]
    promises = PROMISE.format("Idle.", "bare") + PROMISE.format("At work.", "aged-clear")
    (tmp_path / "own.toml").write_text("".join(rules) + promises, encoding="utf-8")
    (tmp_path / "shop.toml").write_text(
        '[rates]\ncurrency = "EUR"\nlabour_per_hour = 60\nwet_bed_per_litre = 0.045\nper_disc = 0.9\n',
        encoding="utf-8",
    )
    (tmp_path / "colours.toml").write_text(COLOURS.format("very-fine", 40), encoding="utf-8")
    found = audit_house(load_house(tmp_path)).findings
    said = {name for finding in found if finding.kind == "says" for name in finding.rules}
    assert said == {f"own-{at}" for at, each in enumerate(SAID) if each[3]}
    rest = [finding.says for finding in found if finding.kind not in {"says", "promise", "collision"}]
    words = [
        "as much as 0.00075 hours",
        "have one code",
        "flake of 40 µm",
        '"Idle." speaks of cases that are',
    ]
    assert [sum(each in says for says in rest) for each in words] == [1, 1, 1, 1], rest
    assert len(rest) == len(words), rest


def test_film_for_thick_paint_alone_and_a_batch_with_the_code_of_another_are_silent(tmp_path: Path) -> None:
    """More film than a panel as built has holds nearly every place."""
    thick = rule("thick", "Leave the film.", 'film_um = ">= 300"', "film_left_min_um = 250")
    every = rule("every", "Leave the film.", 'role = "blend"', "film_left_min_um = 250")
    gone = '[[withdraw]]\nrule = "special-fresh-clear"\nbecause = "We bake."\nlets_go = "{}"\n'
    (tmp_path / "colours.toml").write_text(COLOURS.format("fine", 15), encoding="utf-8")
    own = tmp_path / "own.toml"
    own.write_text(thick + every + gone.format("The booth's record."), encoding="utf-8")
    assert [finding.rules for finding in audit_house(load_house(tmp_path)).findings] == [("every",)]
    own.write_text(gone.format("-"), encoding="utf-8")
    assert [finding.kind for finding in audit_house(load_house(tmp_path)).findings] == ["hold-gone"]


def test_a_seal_of_a_day_to_come_is_told() -> None:
    """Today's is not."""
    day = dt.date(2026, 3, 2)
    book = [BookColour(book=name, sealed_by="K. M.", sealed_on=on) for name, on in (("a", day), ("b", None))]
    assert list(sealed_ahead(book, day)) == []
    assert [each.kind for each in sealed_ahead(book, day - dt.timedelta(days=1))] == ["shop"]


def test_a_rule_for_sound_clear_is_told_how_to_say_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A step too wide for filler, coats above the most, a grade that is asked for on sound clear already."""
    proof = import_module("prepadvisor.standards.proof.audit")
    monkeypatch.setattr(proof, "_NARROWER", proof._NARROWER[:2])  # the rest is tried in test_natural_rules
    asks = {
        "steps": ('flake = "vapour"', "step_ratio_min = 0.75", 'surface = ["aged-clear", "cured-clear"]'),
        "coats": ('tone = "dark"', "bed_coats_min = 3", "bed_coats_min = 2"),
        "idle": ('flake = ">= medium", zone = "colour"', 'finish_coarsest = "P600"', "ask as much already"),
    }
    rules = [rule(name, f"Ours: {name}.", when, setting) for name, (when, setting, _) in asks.items()]
    (tmp_path / "own.toml").write_text("".join(rules), encoding="utf-8")
    pastes = {name: each.paste for each in audit_house(load_house(tmp_path)).findings for name in each.rules}
    assert all(words in pastes[name] for name, (*_, words) in asks.items()), pastes


def test_a_rule_that_does_nothing_says_whether_its_cases_are_held(tmp_path: Path) -> None:
    """Radar is always held; on sound clear its key limit is named, none of other surfaces."""
    radar = rule("radar", "Ours.", 'special = "radar"', "film_off_max_um = 5")
    key = rule("key", "Ours.", f"{CLEARS}", 'finish_finest = "P1500"')
    (tmp_path / "own.toml").write_text(radar + key, encoding="utf-8")
    held, idle = doings(Audited(load_house(tmp_path).engine))
    assert (held.held, idle.held, [each.id for each in idle.shadows]) == (True, False, ["key-on-clear"])
