"""The lines that mend a house rule: for which findings they are told, and that they mend and do no less."""

import pytest

from prepadvisor.standards.engine import Engine, Rule
from prepadvisor.standards.proof import audit as in_audit
from prepadvisor.standards.proof.audit import with_lines_to_paste
from prepadvisor.standards.proof.audited import Audited
from prepadvisor.standards.proof.collisions import beds_too_thin, collisions, forbidden_beds
from prepadvisor.standards.proof.findings import Finding
from tests.standards.proof.test_findings_told import ALL_BOUNDS, EDGE, rule

BASE = [
    rule("all", when={}, **ALL_BOUNDS),
    rule("key", when={"surface": "primer-surfacer"}, finish_finest="P1000"),
]
OWN = rule("own", "ours", EDGE, finish_coarsest="P1200")
CLEAR = 'surface = ["aged-clear", "cured-clear"], next = "base"'
EDGE_LINE = 'role = "blend", zone = "fade", feature = "edge", reach = "machine"'
SOME = ((), (in_audit._CLEAR,), (in_audit._CLEAR, in_audit._MACHINE))
"""A few of the narrower conditions: each trial takes its time."""


def findings_of(engine: Engine) -> list[Finding]:
    """Return what contradicts itself."""
    audited = Audited(engine)
    return [each for part in (collisions, forbidden_beds, beds_too_thin) for each in part(audited)]


def pastes(*rules: Rule) -> dict[tuple[str, ...], str]:
    """Return the lines of each finding, by its rules."""
    engine = Engine([*BASE, *rules])
    return {each.rules: each.paste for each in with_lines_to_paste(engine, findings_of(engine))}


def facts(lines: str) -> set[str]:
    """Return the conditions of one line, without their order."""
    return set(lines.removeprefix("when = { ").removesuffix(" }").replace('", "', '"+"').split(", "))


def test_a_rule_that_forgot_primer_is_narrowed_to_clear() -> None:
    """The first narrower condition that mends it, and nothing else changed."""
    (told,) = pastes(OWN).values()
    assert told.startswith("when = { ")
    assert facts(told) == facts(f"{EDGE_LINE}, {CLEAR}")


def test_a_finding_beside_it_changes_nothing() -> None:
    """Each rule is mended alone, however the other stands."""
    other = rule("other", "ours", EDGE | {"role": "repair"}, finish_coarsest="P1500")
    told = pastes(OWN, other)
    assert set(told) == {("key", "own"), ("key", "other")}
    assert facts(told["key", "own"]) == facts(f"{EDGE_LINE}, {CLEAR}")
    assert facts(told["key", "other"]) == facts(f"{EDGE_LINE.replace('blend', 'repair')}, {CLEAR}")


def test_only_rules_of_the_house_and_findings_that_lines_can_mend_get_them() -> None:
    """A base rule is not rewritten; a note, or a finding without a rule of the house, has no lines."""
    assert pastes(OWN._replace(layer="base")) == {("key", "own"): ""}
    engine = Engine([*BASE, OWN])
    note = Finding("dead", "x", "y", rules=("own",))
    base = Finding("gap", "x", "y", rules=("key",))
    none = Finding("gap", "x", "y")
    told = with_lines_to_paste(engine, [*findings_of(engine), note, base, none])
    assert [bool(each.paste) for each in told] == [True, False, False, False]
    assert told[1:] == [note, base, none]
    assert with_lines_to_paste(engine, [note]) == [note]


def test_they_are_looked_for_among_so_many_rules_and_for_so_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """As many as the limit still are, one more are not; of the rules at fault the first ones."""
    monkeypatch.setattr(in_audit, "_RULES_MOST", 3)
    assert all(pastes(OWN).values())
    monkeypatch.setattr(in_audit, "_RULES_MOST", 2)
    assert not any(pastes(OWN).values())
    monkeypatch.setattr(in_audit, "_RULES_MOST", 300)
    monkeypatch.setattr(in_audit, "_TOLD_MOST", 1)
    other = rule("other", "ours", EDGE | {"role": "repair"}, finish_coarsest="P1500")
    assert sorted(bool(each) for each in pastes(OWN, other).values()) == [False, True]


def test_fewer_coats_are_told_as_that() -> None:
    """As many as may be laid."""
    bed = rule("bed", when=EDGE, wet_bed="advised"), rule("most", when=EDGE, bed_coats_max=2)
    own = rule("own", "ours", EDGE, bed_coats_min=4)
    assert pastes(*bed, own) == {
        ("own", "most"): "# fewer coats than yours: no more may be laid there\nset = { bed_coats_min = 2 }"
    }


def test_a_rule_that_would_then_do_nothing_is_told_as_idle() -> None:
    """On clear another rule asks as much already: the lines say so."""
    asked = rule("asked", when={"surface": ["aged-clear", "cured-clear"]}, finish_coarsest="P1200")
    (told,) = pastes(asked, OWN).values()
    first, when = told.split("\n")
    assert first == "# in the cases it is meant for, other rules ask as much already"
    assert facts(when) == facts(f"{EDGE_LINE}, {CLEAR}")


def test_only_all_that_it_is_meant_for_is_told_as_idle(monkeypatch: pytest.MonkeyPatch) -> None:
    """By machine on clear it fits and by hand not: less than was meant is not told."""
    hand = rule("hand", when={"reach": "hand", "surface": "aged-clear"}, finish_finest="P1000")
    asked = rule("asked", when={"reach": "machine"}, finish_coarsest="P1200")
    both = {fact: value for fact, value in EDGE.items() if fact != "reach"}
    own = rule("own", "ours", both, finish_coarsest="P1200", hand_last_coarsest="P1200")
    monkeypatch.setattr(in_audit, "_NARROWER", SOME)
    assert set(pastes(hand, asked, own).values()) == {""}


def test_what_nothing_mends_has_no_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule for primer alone; one whose narrowing would leave cases without an answer."""
    monkeypatch.setattr(in_audit, "_NARROWER", SOME)
    own = rule("own", "ours", EDGE | {"surface": "primer-surfacer"}, finish_coarsest="P1200")
    assert pastes(own) == {("key", "own"): ""}
    bounds = {name: grade for name, grade in ALL_BOUNDS.items() if name != "finish_coarsest"}
    base = [
        rule("all", when={}, **bounds), BASE[1],
        rule("rest", when={"feature": {"not": "edge"}}, finish_coarsest="P800"),
    ]  # fmt: skip
    own = rule("own", "ours", {"feature": "edge"}, finish_coarsest="P1200")
    engine = Engine([*base, own])
    monkeypatch.setattr(in_audit, "_NARROWER", ((), (in_audit._SHINY,)))
    assert [each.paste for each in with_lines_to_paste(engine, findings_of(engine))] == [""]
