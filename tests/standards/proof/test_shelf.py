"""What a shelf lacks under a few rules: each range, usual grade, key for the hand and step, told once."""

from typing import Any

import pytest

from prepadvisor.records import DS50_UM, Grade
from prepadvisor.standards import Audited, Finding, House
from prepadvisor.standards.engine import Engine, Rule
from prepadvisor.standards.proof import shelf as in_shelf
from tests.standards.proof.test_findings_told import EDGE
from tests.standards.proof.test_findings_told import rule as compiled

FACE: dict[str, Any] = {"feature": "face", "reach": "machine"}


def lacks(house: House, shelf: str, *rules: Rule, **first: str) -> list[Finding]:
    """Return what is said of a shelf under some rules; the grades that the shop names are there."""
    grades = tuple(map(Grade, shelf.split()))
    named = {"shelf": grades, "ring_grade": grades[0], "first_grade": first}
    return in_shelf.shelf_lacks(Audited(Engine(rules)), house.shop.model_copy(update=named))


def test_a_range_of_one_grade_is_told_by_that_grade(shipped_house: House) -> None:
    """By machine and by hand each; where a range is empty by itself the rules collide, not the shelf."""
    hand = EDGE | {"reach": "hand"}
    rules = [
        compiled("limit", finish_coarsest="P1000"), compiled("key", finish_finest="P1000"),
        compiled("by-hand", when=hand, hand_last_coarsest="P1200"),
        compiled("key-by-hand", when=hand, finish_finest="P1200"),
    ]  # fmt: skip
    found = lacks(shipped_house, "P800 P1500", *rules)
    assert [(each.says.split(",")[0], each.mend, each.rules) for each in found] == [
        ("P1000 is asked for (finish_coarsest", "Put P1000 on the shelf.", ("limit", "key")),
        ("P1200 is asked for (hand_last_coarsest", "Put P1200 on the shelf.", ("by-hand", "key-by-hand")),
    ]  # fmt: skip
    assert lacks(shipped_house, "P1000 P1200", *rules) == []
    collide = [compiled("limit", finish_coarsest="P1200"), compiled("key", finish_finest="P1000")]
    assert lacks(shipped_house, "P800 P1500", *collide) == []


def test_a_finding_on_the_shelf_says_by_which_rules_and_in_which_cases(shipped_house: House) -> None:
    """At the house's rule, with all living cases that both decide."""
    rules = compiled("limit", "ours", finish_coarsest="P1000"), compiled("key", finish_finest="P1200")
    (finding,) = lacks(shipped_house, "P800 P1500", *rules)
    assert finding.says.endswith(
        'by "limit" (ours.toml:5) and "key" (base.toml:3) for: fade zone; blend panel; edge; where a machine '
        "reaches."
    )
    assert (finding.file, finding.line, finding.key) == ("ours.toml", 5, ("shop.toml", "shelf"))
    assert finding.limits == {fact: [value] for fact, value in EDGE.items()}
    # of 7 pairs of role and zone one; of 30 ways to be a place (7 lines by reach and seen, 2 areas) two
    audited = Audited(Engine(rules))
    assert finding.cases * 7 * 15 == audited.diagrams.count(audited.world.living)


def test_of_two_places_with_the_same_grades_the_larger_is_told_and_larger_ones_first(
    shipped_house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One finding for each two settings, so many of them at most."""
    one = EDGE | {"flake": "fine"}
    rules = [
        compiled("few", when=one | {"tone": "mid"}, finish_coarsest="P1000"),
        compiled("most", when={"feature": "face"}, finish_coarsest="P1000"),
        compiled("some", when=one | {"tone": ["dark", "light"]}, finish_coarsest="P1000"),
        compiled("other", when=EDGE | {"flake": "vapour"}, finish_coarsest="P800"),
        compiled("key", when={}, finish_finest="P1200"),
    ]
    found = lacks(shipped_house, "P600 P1500", *rules)
    assert [each.rules for each in found] == [("most", "key"), ("other", "key")]
    assert found[0].cases > found[1].cases
    twin = compiled(
        "alike", when={"feature": "patch"}, finish_coarsest="P1000"
    )  # as large: the first by name
    assert lacks(shipped_house, "P600 P1500", *rules, twin)[0].rules == ("alike", "key")
    monkeypatch.setattr(in_shelf, "_MOST", 1)
    assert lacks(shipped_house, "P600 P1500", *rules) == found[:1]


def test_a_usual_grade_is_told_only_where_a_coarser_one_can_be_taken(shipped_house: House) -> None:
    """Where nothing at all is left that is told instead; without a coarsest grade nobody knows."""
    usual, key = compiled("usual", finish_target="P1000"), compiled("key", finish_finest="P1200")
    lax = compiled("lax", finish_coarsest="P800")
    assert [each.rules for each in lacks(shipped_house, "P800 P1500", usual, key, lax)] == [("usual", "key")]
    (whole,) = lacks(shipped_house, "P600 P1500", usual, key, lax)
    assert whole.rules == ("lax", "key")
    assert lacks(shipped_house, "P800 P1500", usual, key) == []
    one = compiled("usual", finish_target="P1200")
    (only,) = lacks(shipped_house, "P800 P1500", one, key, lax)
    assert only.says.startswith("P1200 is the usual grade, yet nothing of P1200 is on the shelf")
    wide = {"feature": "face"}
    more = [
        compiled("none", when=wide, finish_coarsest="P1000"),
        compiled("t", when=wide, finish_target="P1000"),
    ]
    keys = compiled("k", when=wide, finish_finest="P1200"), key
    found = lacks(shipped_house, "P800 P1500", *more, *keys, one, lax)
    assert [each.rules for each in found] == [("none", "k"), ("usual", "key")]
    apart = compiled("usual", finish_target="P1200"), compiled("key", finish_finest="P1000")
    assert lacks(shipped_house, "P800 P1500", *apart, lax) == []


def test_the_strictest_key_by_hand_that_counts_is_told(shipped_house: House) -> None:
    """Only that one, and only where it decides: not under a hold. The finest of the shelf is enough."""
    rules = [
        compiled("held", when=EDGE | {"flake": "vapour"}, hand_coarsest="P2000"),
        compiled("hold", when=EDGE | {"flake": "vapour"}, holds="Ask."),
        compiled("strict", when=EDGE | {"flake": "fine"}, hand_coarsest="P1500"),
        compiled("less", when=EDGE | {"flake": "medium"}, hand_coarsest="P1200"),
    ]
    (finding,) = lacks(shipped_house, "P600 P800 P1000", *rules)
    assert finding.says.startswith(
        "P1500 or finer is asked for by hand (hand_coarsest) and the shelf ends at P1000, by "
        '"strict" (base.toml:6) for: fine flake;'
    )
    assert finding.mend == "Put P1500 or finer on the shelf."
    assert lacks(shipped_house, "P600 P1500", *rules) == []


def test_a_step_too_wide_is_told_once_with_the_grades_that_would_do(shipped_house: House) -> None:
    """From P320 on sound clear 0.6 of its 46.2 µm is left at P500 (30.2), not at P600 (25.8)."""
    ratio = compiled("ratio", when=FACE, step_ratio_min=0.6)
    fine, finer = (
        compiled(name, when=FACE | {"flake": flake}, finish_coarsest=grade)
        for name, flake, grade in (("a", "fine", "P1000"), ("b", "vapour", "P1200"))
    )
    (finding,) = lacks(shipped_house, "P320 P800 P1000 P1200", ratio, fine, finer)
    assert finding.says.startswith(
        "P1200 or finer is asked for on aged-clear, and from P320 the shelf has no step: the next grain must "
        'be at least 0.6 of the last, by "ratio"'
    )
    assert finding.mend == "Put P360 or P400 or P500 on the shelf."
    assert finding.limits["surface"] == ["aged-clear"]
    assert lacks(shipped_house, "P320 P500 P800 P1000 P1200", ratio, fine, finer) == []
    wider = compiled("wider", when=FACE | {"tone": "mid"}, step_ratio_min=0.7)
    found = lacks(shipped_house, "P320 P800 P1000 P1200", ratio, fine, finer, wider)
    assert [each.rules[0] for each in found] == ["ratio", "wider"]
    # nothing finer than what the surface is met with is asked for: no step is needed
    coarse = compiled("c", when=FACE, finish_coarsest="P320")
    assert lacks(shipped_house, "P80 P320 P1000", ratio, coarse) == []
    # lines are scuffed by hand first, and have no steps
    lines = compiled("line", when=EDGE, finish_coarsest="P1000"), compiled("r", when=EDGE, step_ratio_min=0.6)
    assert lacks(shipped_house, "P320 P1000", *lines) == []


def test_a_grade_that_stands_in_exactly_the_ratio_is_a_step(shipped_house: House) -> None:
    """Rounding does not take it away, neither on the shelf nor among those to buy."""
    goal = compiled("goal", when=FACE, finish_coarsest="P500")
    exact = compiled("ratio", when=FACE, step_ratio_min=DS50_UM[Grade("P500")] / DS50_UM[Grade("P320")])
    assert lacks(shipped_house, "P320 P500", goal, exact) == []
    (finding,) = lacks(shipped_house, "P320 P600", goal, exact)
    assert finding.mend == "Put P360 or P400 or P500 on the shelf."
    most = compiled("ratio", when=FACE, step_ratio_min=0.99)
    (finding,) = lacks(shipped_house, "P320 P500", goal, most)
    assert finding.mend == "Lower step_ratio_min."


def test_each_surface_that_no_steps_lead_from_is_told(shipped_house: House) -> None:
    """Filler from its first grade, clear from what it is met with; at another ratio once more."""
    rules = [
        compiled("wide", when=FACE | {"surface": ["filler", "aged-clear"]}, step_ratio_min=0.6),
        compiled("narrow", when=FACE | {"surface": "cured-clear"}, step_ratio_min=0.7),
        compiled("goal", when=FACE, finish_coarsest="P800"),
    ]
    found = lacks(shipped_house, "P80 P240 P320 P600 P800", *rules, filler="P80")
    told = [each.says.split(" the shelf")[0].split("asked for on ")[1] for each in found]
    assert told == ["aged-clear, and from P320", "cured-clear, and from P320", "filler, and from P80"]
    assert [each.rules[0] for each in found] == ["wide", "narrow", "wide"]


@pytest.mark.parametrize(
    ("layer", "surface", "shelf", "is_offered"),
    [
        ("ours", ["aged-clear", "filler"], "P80 P320 P500 P800 P1000", True),
        ("base", ["aged-clear", "filler"], "P80 P320 P500 P800 P1000", False),  # nobody changes the base
        ("ours", ["filler"], "P80 P320 P500 P800 P1000", False),  # it is for no clear
        ("ours", ["aged-clear", "filler"], "P80 P320 P800 P1000", False),  # on clear there is no way either
        ("ours", ["aged-clear", "filler"], "P80 P320 P500 P800 P2000", False),  # not to the shelf's finest
    ],
)
def test_a_ratio_that_only_sound_clear_can_keep_is_offered_for_that(
    shipped_house: House, layer: str, surface: list[str], shelf: str, *, is_offered: bool
) -> None:
    """As a line to paste: from P80 of filler no step of 0.6 is on the shelf, from P320 of clear there is."""
    when = FACE | {"surface": surface}
    rules = (
        compiled("own", layer, when, step_ratio_min=0.6),
        compiled("goal", when=FACE, finish_coarsest="P800"),
    )
    found = [each for each in lacks(shipped_house, shelf, *rules, filler="P80") if "on filler" in each.says]
    (finding,) = found
    offer = ', or say in "own" that it is for sound clear.'
    assert finding.mend == f"Put P100 or P120 on the shelf{offer if is_offered else '.'}"
    assert finding.paste == (
        'when = { surface = "aged-clear", feature = "face", reach = "machine" }' if is_offered else ""
    )


def test_a_ratio_for_sound_clear_alone_is_offered_no_narrower_one(shipped_house: House) -> None:
    """It is for that already, and the shop itself begins there with P80."""
    when = FACE | {"surface": "aged-clear"}
    rules = (
        compiled("own", "ours", when, step_ratio_min=0.6),
        compiled("goal", when=FACE, finish_coarsest="P800"),
    )
    first = {"aged-clear": "P80"}
    (finding,) = lacks(shipped_house, "P80 P320 P500 P800 P1000", *rules, **first)
    assert (finding.mend, finding.paste) == ("Put P100 or P120 on the shelf.", "")
