"""Sentences held against what their rules set: coats, beds, films, lengths, machines; each told or let be."""

from typing import Any

import pytest

from prepadvisor.standards import Audited
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.proof.slips import saying_otherwise, saying_the_same
from tests.standards.proof.test_findings_told import rule

SAYINGS: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    # coats: as words and figures, each that is said
    ("Lay one coat.", {}, {"bed_coats_min": 5}, "1 coat but sets bed_coats_min 5"),
    ("Lay Two coats.", {}, {"bed_coats_min": 5}, "2 coats but sets bed_coats_min 5"),
    ("Lay three wet coats.", {}, {"bed_coats_max": 5}, "3 coats but sets bed_coats_max 5"),
    ("Lay four thin coats.", {}, {"bed_coats_max": 5}, "4 coats but sets bed_coats_max 5"),
    ("Lay 9 full coats.", {}, {"bed_coats_max": 5}, "9 coats but sets bed_coats_max 5"),
    ("Lay two coats or 1 coat.", {}, {"bed_coats_max": 5}, "1 coat and 2 coats but sets bed_coats_max 5"),
    ("Two coats.", {}, {"bed_coats_min": 1, "bed_coats_max": 2}, ""),  # one of them is enough
    ("3 coats.", {}, {"bed_coats_min": 1, "bed_coats_max": 2},
     "3 coats but sets bed_coats_min 1, bed_coats_max 2"),
    ("Never one coat.", {}, {"bed_coats_min": 2}, ""),
    ("Not 1 coat, two coats.", {}, {"bed_coats_min": 2}, ""),
    ("Not 1 coat, two coats.", {}, {"bed_coats_min": 3}, "2 coats but sets bed_coats_min 3"),
    ("Coats of wet bed.", {}, {"bed_coats_min": 2}, ""),
    ("Two coats.", {}, {"notes": "Look."}, ""),
    # the bed: one word, not the one that is set
    ("A bed is required.", {}, {"wet_bed": "advised"}, '"required" but sets wet_bed advised'),
    ("A bed is Advised.", {}, {"wet_bed": "required"}, '"advised" but sets wet_bed required'),
    ("A bed is advised.", {}, {"wet_bed": "no"}, '"advised" but sets wet_bed no'),
    ("A bed is advised.", {}, {"wet_bed": "advised"}, ""),
    ("Advised on fine, required on vapour.", {}, {"wet_bed": "no"}, ""),
    ("A bed.", {}, {"wet_bed": "required"}, ""),
    ("A bed is required.", {}, {"notes": "Look."}, ""),
    # film: what is set, unless it is what the condition asks for
    ("Cut 5 µm.", {}, {"film_off_max_um": 4}, "5 µm but sets film_off_max_um 4"),
    ("Cut 5.5 um.", {}, {"film_off_max_um": 4.5}, "5.5 µm but sets film_off_max_um 4.5"),
    ("Cut 4,5 micron.", {}, {"film_off_max_um": 4.5}, ""),
    ("Cut 4 of 8 µm.", {}, {"film_off_max_um": 8}, ""),
    ("Cut 5 µm, leave 80 µm.", {}, {"film_off_max_um": 4, "film_left_min_um": 90},
     "5 and 80 µm but sets film_off_max_um 4, film_left_min_um 90"),
    ("Cut 4 µm, leave 80 µm.", {}, {"film_off_max_um": 4, "film_left_min_um": 90}, ""),
    ("Cut little.", {}, {"film_off_max_um": 4}, ""),
    ("Cut 5 µm.", {}, {"notes": "Look."}, ""),
    ("Under 95 µm.", {"film_um": "< 95"}, {"film_off_max_um": 4}, ""),
    ("Under 95 µm cut 5 µm.", {"film_um": "< 95"}, {"film_off_max_um": 4}, "5 µm but sets film_off_max_um 4"),
    ("Under 95 µm cut 4 µm.", {"film_um": "< 95"}, {"film_off_max_um": 4}, ""),
    ("Under 90 µm cut 4 µm.", {"film_um": "< 95"}, {"film_off_max_um": 4}, ""),
    ("Under 90 µm.", {"film_um": "< 95"}, {"film_off_max_um": 4}, "90 µm but sets film_off_max_um 4"),
    # a condition alone, by its ends
    ("Under 80 µm.", {"film_um": "< 85"}, {"notes": "x"}, "80 µm but sets what it does from film_um 85 µm"),
    ("Above 80 µm.", {"film_um": "> 85"}, {"notes": "x"}, "80 µm but sets what it does from film_um 85 µm"),
    ("By 80 µm.", {"film_um": "85 .. 90"}, {"notes": "x"},
     "80 µm but sets what it does from film_um 85 and 90 µm"),
    ("By 2 µm.", {"film_um": "<= 0.5"}, {"notes": "x"}, "2 µm but sets what it does from film_um 0.5 µm"),
    ("Under 85 µm, never 80 µm.", {"film_um": "< 85"}, {"notes": "x"}, ""),
    ("Where thin.", {"film_um": "< 85"}, {"notes": "x"}, ""),
    ("Unmeasured, as under 80 µm.", {"film_um": "no reading"}, {"notes": "x"}, ""),
    ("Over 800 mm.", {"length_mm": "> 80"}, {"notes": "x"},
     "800 mm but sets what it does from length_mm 80 mm"),
    ("Over 800 mm.", {"length_mm": "> 800"}, {"notes": "x"}, ""),
    ("Long ones.", {"length_mm": "> 800"}, {"notes": "x"}, ""),
    ("Over 800 mm.", {}, {"notes": "x"}, ""),
    # the machine
    ("By hand only.", {}, {"machine": "interface-pad"}, '"by hand only" but sets machine interface-pad'),
    ("Only by hand.", {}, {"machine": "any"}, '"only by hand" but sets machine any'),
    ("HAND ONLY!", {}, {"machine": "any"}, '"hand only" but sets machine any'),
    ("No machine.", {}, {"machine": "any"}, '"no machine" but sets machine any'),
    ("No sander.", {}, {"machine": "any"}, '"no sander" but sets machine any'),
    ("By hand only.", {}, {"machine": "never"}, ""),
    ("By hand only.", {}, {"notes": "x"}, ""),
    ("By hand, then the pad.", {}, {"machine": "interface-pad"}, ""),
    # grades: coarse before fine
    ("P1000 or P80.", {}, {"finish_coarsest": "P800", "wet_bed": "no"},
     "P80 and P1000 but sets finish_coarsest P800"),
]  # fmt: skip
"""Sentence, condition, setting, and what is told."""


@pytest.mark.practice
def test_a_sentence_is_told_where_it_says_another_thing_than_its_rule_sets() -> None:
    """All in one house; each finding at its rule. A rule of the base is not the house's to correct."""
    rules = [
        rule(f"{at}", "ours", when, **sets)._replace(says=says)
        for at, (says, when, sets, _) in enumerate(SAYINGS)
    ]
    found = saying_otherwise(Audited(Engine(rules)))
    told = {each.rules[0]: each.says.partition(" says ")[2] for each in found}
    expected = {f"{at}": f"{words}." for at, (*_, words) in enumerate(SAYINGS) if words}
    assert told == expected
    assert len(found) == len(expected)
    assert all(each.kind == "says" and each.file == "ours.toml" and each.mend for each in found)
    assert saying_otherwise(Audited(Engine([each._replace(layer="base") for each in rules]))) == []


def test_one_sentence_on_two_rules_is_told_at_the_last_of_the_house() -> None:
    """Whether the other is the base's or the house's; not where both set the same, nor in the base alone."""
    base, same = rule("a", "base", finish_target="P800"), rule("bb", "ours", finish_target="P800")
    ours, last = rule("ccc", "ours", finish_target="P1000"), rule("dddd", "ours", finish_target="P1200")
    for rules, told in (((base, ours), 3), ((ours, last), 4), ((last, base, ours), 4), ((base, same), 0)):
        found = list(saying_the_same(Audited(Engine(rules))))
        assert [(each.file, each.line) for each in found] == [("ours.toml", told)] * bool(told), rules
        assert [set(each.rules) for each in found] == [{each.id for each in rules}] * bool(told)
    assert (
        list(saying_the_same(Audited(Engine([each._replace(layer="base") for each in (base, ours)])))) == []
    )
