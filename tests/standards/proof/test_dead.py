"""Rules that change nothing: which are told, what shadows them, and how they are mended."""

import pytest

from prepadvisor.standards.engine import Engine, Impossible, Rule, box_of
from prepadvisor.standards.proof import dead as in_dead
from prepadvisor.standards.proof.audited import Audited
from prepadvisor.standards.proof.dead import dead_rules, shadows_of, unreachable
from prepadvisor.standards.proof.findings import Finding
from tests.standards.proof.test_findings_told import EDGE, rule

FINE, VAPOUR = EDGE | {"flake": "fine"}, EDGE | {"flake": "vapour"}
BOTH = EDGE | {"flake": ["fine", "vapour"]}


def dead(*rules: Rule) -> dict[str, Finding]:
    """Return what is told of dead rules, by the first rule of each finding."""
    return {each.rules[0]: each for each in dead_rules(Audited(Engine(rules)))}


def test_a_rule_that_others_exceed_everywhere_is_told_with_them() -> None:
    """Those that share most of its cases first, as few as it takes; one that does it all stands alone."""
    own = rule("own", "ours", BOTH, finish_coarsest="P800")
    fine, vapour = (
        rule("fine", when=FINE, finish_coarsest="P1000"),
        rule("v", when=VAPOUR, finish_coarsest="P800"),
    )
    dark = rule("dark", when=FINE | {"tone": "dark"}, finish_coarsest="P1500")
    told = dead(own, dark, vapour, fine)["own"]
    assert told.shadows == ("fine", "v")
    assert told.rules == ("own", "fine", "v")
    assert told.says == (
        '"own" (ours.toml:3) changes nothing. In all its cases "fine" (base.toml:4) and "v" (base.toml:1) '
        "already ask as much or more."
    )
    assert told.mend == "Take it away, or narrow or tighten it until it says more than they do."
    assert (told.kind, told.file, told.line) == ("dead", "ours.toml", 3)
    assert told.limits["flake"] == ["fine", "vapour"]
    assert told.cases > 0
    whole = dead(own, dark, vapour, fine, rule("whole", finish_coarsest="P800"))["own"]
    assert whole.shadows == ("whole",)
    assert whole.says.endswith('In all its cases "whole" (base.toml:5) already asks as much or more.')


def test_as_few_shadows_are_named_as_it_takes() -> None:
    """Two wide ones, not the narrow one that comes first by its letters."""
    own = rule("own", "ours", EDGE | {"flake": "<= medium"}, finish_coarsest="P800")
    parts = {"a": "solid", "b": ["coarse", "medium"], "c": ["solid", "coarse"]}
    others = [
        rule(name, when=EDGE | {"flake": flake}, finish_coarsest="P1000") for name, flake in parts.items()
    ]
    assert dead(own, *others)["own"].shadows == ("b", "c")


def test_what_is_needed_somewhere_is_not_dead() -> None:
    """One case is enough; a rule of weaker grade beyond the others, one that holds or says something else."""
    strict = rule("strict", when=FINE, finish_coarsest="P1500")
    assert dead(strict, rule("own", "ours", BOTH, finish_coarsest="P800")) == {}
    assert dead(strict, rule("own", "ours", FINE, finish_coarsest="P1500", wet_bed="advised")) == {}
    asks = rule("asks", holds="Ask.")
    assert list(dead(asks, rule("own", "ours", FINE, holds="Ask."))) == ["own"]
    assert dead(asks, rule("own", "ours", FINE, holds="Stop.")) == {}
    assert list(dead(strict, rule("own", "ours", FINE, finish_coarsest="P1000", notes="Look."))) == []


def test_twins_are_told_once_with_what_exceeds_both() -> None:
    """Of two that say the same one is kept; what asks more is named and not the other twin."""
    twins = [rule(name, "ours", FINE, finish_coarsest="P800") for name in ("a1", "a2")]
    told = dead(*twins)["a1"]
    assert (told.rules, told.shadows, told.mend) == (("a1", "a2"), (), "Keep one of them.")
    assert told.says == '"a1" (ours.toml:2) and "a2" (ours.toml:2) say the same of the same cases.'
    told = dead(*twins, rule("b", finish_coarsest="P1000"))["a1"]
    assert (told.rules, told.shadows) == (("a1", "a2", "b"), ("b",))
    weaker = rule("w", "ours", VAPOUR, finish_coarsest="P600")
    assert list(dead(*twins, weaker)) == ["a1"]
    holds = [rule(name, "ours", FINE, holds="Ask.") for name in ("h1", "h2")]
    assert [each.rules for each in dead(*holds).values()] == [("h1", "h2")]


def test_a_rule_that_asks_for_what_holds_anyway_has_no_shadow() -> None:
    """No bed is what no rule asks for as well; only what else it sets is shadowed."""
    told = dead(rule("own", "ours", wet_bed="no"))["own"]
    assert (told.shadows, told.says) == ((), '"own" (ours.toml:3) changes nothing.')
    assert told.mend == "Take it away: it asks for what holds without any rule."
    own = rule("own", "ours", wet_bed="no", finish_coarsest="P800")
    more = rule("bed", wet_bed="advised"), rule("strict", finish_coarsest="P1000")
    assert dead(own, *more)["own"].shadows == ("strict",)


def test_as_many_dead_rules_as_are_told_leave_no_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """One more is told as the rest."""
    rules = [rule("s", finish_coarsest="P1500"), rule("a", "ours", FINE, finish_coarsest="P800")]
    rules.append(rule("b", "ours", VAPOUR, finish_coarsest="P800"))
    monkeypatch.setattr(in_dead, "_MOST", 2)
    assert list(dead(*rules)) == ["a", "b"]
    monkeypatch.setattr(in_dead, "_MOST", 1)
    assert dead(*rules)["b"].says == "1 more rules change nothing."


def test_a_rule_that_only_sets_another_aside_is_told_as_that() -> None:
    """With the word that says so plainly."""
    own = rule("own", "ours", wet_bed="no")._replace(replaces="old")
    told = dead(own)["own"]
    assert told.says.startswith('"own" (ours.toml:3) does nothing but set "old" aside.')
    assert told.mend == 'Say that by [[withdraw]] with rule = "old", or tighten it.'


def test_of_two_dead_rules_in_a_row_one_is_to_be_taken_away_at_a_time() -> None:
    """A rule is shadowed by one that is dead as well."""
    rules = [
        rule("one", "ours", FINE, finish_coarsest="P800"), rule("two", "ours", FINE, finish_coarsest="P1000"),
        rule("three", finish_coarsest="P1000"),
    ]  # fmt: skip
    told = dead(*rules)
    once = " Take away one rule at a time and check again: one that shadows it is dead itself."
    assert told["two"].shadows == ("three",)
    assert not told["two"].mend.endswith(once)
    assert told["one"].shadows == ("three",)
    assert not told["one"].mend.endswith(once)
    pair = rule("p", "ours", FINE, finish_coarsest="P800"), rule("q", "ours", FINE, finish_coarsest="P1000")
    again = rule("r", "ours", FINE, finish_coarsest="P1000")
    told = dead(*pair, again)
    assert told["p"].mend.endswith(once)


def test_what_is_not_told_as_dead() -> None:
    """Mere words, base rules that a house exceeds, rules that no case meets; base rules alone are told."""
    strict, weak = rule("strict", finish_coarsest="P1500"), rule("weak", finish_coarsest="P800")
    assert list(dead(strict, weak)) == ["weak"]
    assert dead(strict._replace(layer="ours"), weak) == {}
    words = (
        rule("w1", "ours", notes="Look.", cautions="Hot."),
        rule("w2", "ours", notes="Look.", cautions="Hot."),
    )
    assert dead(*words) == {}
    nothing = rule("nothing", "ours", {"flake": "fine"}, finish_coarsest="P800")
    nothing = nothing._replace(when=nothing.when._replace(masks=(0, *nothing.when.masks[1:])))
    assert dead(strict, nothing) == {}


def test_shadows_may_be_asked_for_where_a_card_reads_the_output_alone() -> None:
    """A grade of the sander is read by machine; by hand nobody needs what exceeds it there."""
    both = {"feature": "edge", "reach": ["machine", "hand"]}
    own = rule("own", "ours", both, finish_coarsest="P800")
    others = [
        rule(name, when={"feature": "edge", "reach": reach}, finish_coarsest="P1000")
        for name, reach in (("m", "machine"), ("h", "hand"))
    ]
    audited = Audited(Engine([own, *others]))
    assert [each.id for each in shadows_of(audited, own)] == ["h", "m"]
    assert [each.id for each in shadows_of(audited, own, only_read=True)] == ["m"]


def test_rules_that_meet_no_case_are_told_each_by_itself() -> None:
    """Beside those that do; of one that a card could meet nothing is told."""
    hand = {"feature": "face", "reach": "hand"}
    rules = [rule("fits", wet_bed="no"), rule("never", when=hand, wet_bed="no"), rule("z", wet_bed="advised")]
    (told,) = unreachable(Audited(Engine(rules)))
    assert told.rules == ("never",)
    assert (told.file, told.line, told.cases) == ("base.toml", 5, 0)
    assert told.limits == {"feature": ["face"], "reach": ["hand"]}


def test_why_no_case_meets_a_rule_is_told_in_three_reasons_at_most() -> None:
    """Those that leave something out of it, one that leaves all of it out before all others."""
    flakes = ("solid", "coarse", "medium", "fine")
    parts = [Impossible(box_of({"flake": (flake,)}), f"No {flake}.") for flake in flakes]
    own = rule("own", "ours", {"flake": list(flakes)}, wet_bed="no")
    (told,) = unreachable(Audited(Engine([own], parts)))
    assert told.says.endswith("). No coarse. No fine. No medium.")
    whole = Impossible(box_of({"flake": ("solid", "coarse", "medium", "fine", "vapour")}), "Not here.")
    (told,) = unreachable(Audited(Engine([own], [*parts, whole])))
    assert told.says.endswith("). Not here.")
    beside = Impossible(box_of({"flake": ("vapour",)}), "No vapour.")
    (told,) = unreachable(Audited(Engine([own._replace(when=parts[0].when)], [beside, *parts])))
    assert told.says.endswith("). No solid.")
