"""Rules that contradict one another: which pairs are told, largest first, and beds where none can be."""

import pytest

from prepadvisor.standards.engine import Engine, Rule
from prepadvisor.standards.proof import collisions as in_collisions
from prepadvisor.standards.proof import pairs as in_pairs
from prepadvisor.standards.proof.audited import Audited
from prepadvisor.standards.proof.collisions import beds_nowhere, beds_too_thin, collisions, forbidden_beds
from tests.standards.proof.test_findings_told import EDGE, findings, rule

FINE, VAPOUR = EDGE | {"flake": "fine"}, EDGE | {"flake": "vapour"}
COARSER = EDGE | {"flake": "<= medium"}


def pairs(*rules: Rule) -> list[tuple[str, ...]]:
    """Return the rules of each collision told, in order."""
    return [each.rules for each in findings("collision", *rules)]


def test_collisions_are_told_largest_first_then_by_name() -> None:
    """Whatever grade they ask: a wide one before a narrow one, of two as wide the first by its letters."""
    wide = rule("wide", when=COARSER, finish_coarsest="P1200")
    narrow = rule("narrow", when=FINE, finish_coarsest="P2000")
    also = rule("also", when=VAPOUR, finish_coarsest="P1500")
    assert pairs(rule("key", finish_finest="P1000"), narrow, also, wide) == [
        ("key", "wide"), ("also", "key"), ("key", "narrow"),
    ]  # fmt: skip
    keys = rule("k2", when=FINE, finish_finest="P800"), rule("k1", when=VAPOUR, finish_finest="P1000")
    assert pairs(*keys, rule("a", finish_coarsest="P1500")) == [("a", "k1"), ("a", "k2")]


def test_a_rule_that_does_not_count_hides_none_after_it() -> None:
    """A stricter one by hand, one that decides nowhere, a key limit that repeats another."""
    key = rule("key", finish_finest="P1000")
    by_hand = rule("hand", when=EDGE | {"reach": "hand"}, finish_coarsest="P2000")
    weak = rule("weak", when=FINE, finish_coarsest="P1200")
    assert pairs(key, by_hand, weak) == [("key", "weak")]
    strong = (
        rule("strong", when=FINE, finish_coarsest="P1500"),
        rule("twin", when=FINE, finish_coarsest="P1500"),
    )
    wide = rule("wide", when=VAPOUR, finish_coarsest="P1200")
    assert pairs(key, *strong, wide) == [("key", "strong"), ("key", "wide")]
    keys = (
        rule("k1", when=FINE, finish_finest="P800"), rule("k2", when=FINE, finish_finest="P800"),
        rule("k3", when=VAPOUR, finish_finest="P1000"),
    )  # fmt: skip
    assert pairs(*keys, rule("a", finish_coarsest="P1500")) == [("a", "k1"), ("a", "k3")]


def test_after_very_many_pairs_a_rule_and_a_key_limit_that_stand_in_some_are_not_asked_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of two by two the last one is left out then; each rule at fault is named all the same."""
    rules = (
        rule("a", when=EDGE | {"tone": "dark"}, finish_coarsest="P1500"),
        rule("b", when=EDGE | {"tone": "mid"}, finish_coarsest="P1500"),
        rule("k1", when=FINE, finish_finest="P1000"), rule("k2", when=VAPOUR, finish_finest="P1000"),
        rule("k3", when=COARSER, finish_finest="P1000"),
    )  # fmt: skip
    assert set(pairs(*rules)) == {(one, other) for one in ("a", "b") for other in ("k1", "k2", "k3")}
    monkeypatch.setattr(in_pairs, "_PAIRS_MOST", 0)
    monkeypatch.setattr(in_pairs, "_ROUNDS_MOST", 1)
    assert set(pairs(*rules)) == {("a", "k1"), ("a", "k2"), ("a", "k3"), ("b", "k1")}
    monkeypatch.setattr(in_pairs, "_PAIRS_MOST", 5)
    assert set(pairs(*rules)) == {("a", "k1"), ("a", "k2"), ("a", "k3"), ("b", "k1"), ("b", "k2")}


def test_one_rule_may_contradict_itself() -> None:
    """It is named once."""
    own = rule("own", finish_coarsest="P1500", finish_finest="P1000")
    (told,) = findings("collision", own)
    assert told.rules == ("own",)
    assert told.cases > 0


def test_beds_that_may_not_be_laid_are_told_largest_first_and_the_rest_together(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Those beyond as many as are told are named once, at the first of the house's."""
    rules = (
        rule("none", bed_coats_max=0), rule("narrow", "ours", VAPOUR, wet_bed="required"),
        rule("wide", when=COARSER, wet_bed="required"),
    )  # fmt: skip
    assert [each.rules for each in forbidden_beds(Audited(Engine(rules)))] == [
        ("wide", "none"), ("narrow", "none"),
    ]  # fmt: skip
    monkeypatch.setattr(in_collisions, "_MOST_BEDS", 1)
    first, rest = forbidden_beds(Audited(Engine(rules)))
    assert first.rules == ("wide", "none")
    assert rest.says.startswith("1 more pairs of rules ask for beds that may not be laid")
    assert (rest.rules, rest.file, rest.line) == (("narrow", "none"), "ours.toml", 6)


def test_too_many_coats_are_told_largest_first_in_the_widest_part_where_a_bed_is_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of two rules that ask for a bed in one place the wider one's cases; the rest together."""
    beds = rule("v", when=VAPOUR, wet_bed="advised"), rule("c", when=COARSER, wet_bed="required")
    most = rule("most", bed_coats_max=1)
    dark = EDGE | {"tone": "dark", "flake": ["fine", "vapour"]}
    two_beds = (
        rule("b1", when=EDGE | {"tone": "dark"}, wet_bed="advised"),
        rule("b2", when=FINE, wet_bed="required"),
    )
    asking = (
        rule("two", when=dark, bed_coats_min=2),
        rule("five", when=VAPOUR | {"tone": "dark"}, bed_coats_min=5),
    )
    told = {each.rules[0]: each for each in beds_too_thin(Audited(Engine((*two_beds, most, *asking))))}
    assert told["two"].limits["flake"] == ["fine", "vapour"]
    assert told["two"].cases > told["five"].cases > 0
    parts = rule("four", when=VAPOUR, bed_coats_min=4), rule("two", when=COARSER, bed_coats_min=2)
    engine = Engine((*beds, most, *parts))
    assert [each.rules for each in beds_too_thin(Audited(engine))] == [("two", "most"), ("four", "most")]
    monkeypatch.setattr(in_collisions, "_MOST_BEDS", 1)
    first, rest = beds_too_thin(Audited(engine))
    assert first.rules == ("two", "most")
    assert rest.rules == ("four", "most")


def nowhere(*rules: Rule) -> list[str]:
    """Return the rules that ask for coats where no bed is."""
    return [each.rules[0] for each in beds_nowhere(Audited(Engine(rules)))]


def test_coats_of_a_bed_that_nobody_asks_for_are_told_of_a_house() -> None:
    """An advised bed is enough, in some of the cases; the base's own are let be, and what meets no case."""
    bed = rule("bed", when=VAPOUR, wet_bed="advised")
    base, own = rule("base", bed_coats_min=1), rule("own", "ours", FINE, bed_coats_min=2)
    (told,) = beds_nowhere(Audited(Engine((bed, base, own))))
    assert (told.kind, told.rules, told.file, told.line) == ("bed", ("own",), "ours.toml", 3)
    assert told.limits["flake"] == ["fine"]
    assert told.says.startswith('"own" (ours.toml:3) asks for 2 coats of wet bed at least, where no rule')
    assert nowhere(bed, base) == []
    assert nowhere(base, own) == ["own"]
    assert nowhere(rule("no", when=FINE, wet_bed="no"), own) == ["own"]
    assert nowhere(bed, rule("wide", "ours", bed_coats_min=2)) == []
    cannot = rule("cannot", "ours", {"feature": "face", "reach": "hand"}, bed_coats_min=3)
    assert nowhere(bed, cannot, own) == ["own"]
    both = rule("fits", "ours", VAPOUR, bed_coats_min=3)
    assert nowhere(bed, both, own) == ["own"]


def test_no_contradiction_no_finding() -> None:
    """Nothing is told of rules that agree."""
    rules = rule("a", finish_coarsest="P800", wet_bed="advised"), rule("b", finish_finest="P1000")
    audited = Audited(Engine(rules))
    for part in (collisions, forbidden_beds, beds_too_thin, beds_nowhere):
        assert part(audited) == []
