"""What a card is told where a layer let go of a rule, and what each rule is said to do, stated plainly."""

from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.records import Grade, Laxer
from prepadvisor.standards import Audited, Difference, Loosened, audit, doings
from prepadvisor.standards.engine import Engine
from tests.standards.language.test_many_layers import over, rule

RADAR = Facts(special="radar")
LETS_GO = {"rule": "base-hold", "because": "Measured.", "lets_go": "The gauge."}


def laxer(engine: Engine, case: Facts = Facts()) -> list[tuple[Any, ...]]:  # noqa: B008 - a named tuple
    """Return output, before, after and rule of all that is laxer in a case."""
    found = Loosened(engine).laxer(case, engine.decide(case))
    return [(each.output, each.before, each.after, each.rule) for each in found]


def withdrawn(*names: str) -> dict[str, Any]:
    """Return a layer that takes rules back."""
    return {"withdraw": [{"rule": name, "because": "x", "lets_go": "y"} for name in names]}


def holding(name: str, says: str) -> dict[str, Any]:
    """Write a rule that holds."""
    return {"id": name, "says": f"{name}.", "set": {"holds": says}, "source": "house"}


def test_a_hold_that_was_let_go_is_told_by_its_text() -> None:
    """With the layer and what let it go; no other case is touched."""
    engine = over({"withdraw": [LETS_GO]})
    (by,) = engine.deviations
    (told,) = Loosened(engine).laxer(RADAR, engine.decide(RADAR))
    assert told == Laxer("holds", "Ask first.", None, "base-hold", by.by, "one")
    assert laxer(engine) == []


def test_a_hold_that_another_rule_says_as_well_is_not_let_go() -> None:
    """The text stands on the card all the same."""
    again = holding("again", "Ask first.") | {"when": {"special": "radar"}}
    assert laxer(over({"withdraw": [LETS_GO], "rule": [again]}), RADAR) == []
    other = holding("other", "Call.") | {"when": {"special": "radar"}}
    assert laxer(over({"withdraw": [LETS_GO], "rule": [other]}), RADAR) == [
        ("holds", "Ask first.", None, "base-hold")
    ]


def test_every_text_that_was_let_go_is_told() -> None:
    """Two holds, two lines; one that two rules said, of both."""
    group = {"rule": [holding("a", "Stop."), holding("b", "Wait."), holding("c", "Stop.")]}
    told = laxer(over(group, withdrawn("a", "b", "c")))
    assert sorted(each[1] for each in told) == ["Stop.", "Stop.", "Wait."]


@pytest.mark.parametrize("order", [("P1200", "P1500"), ("P1500", "P1200")])
def test_of_grades_that_were_let_go_the_strictest_is_told(order: tuple[str, str]) -> None:
    """Whichever rule comes first; what stands is said beside it."""
    group = {"rule": [rule("a", order[0]), rule("b", order[1])]}
    (told,) = laxer(over(group, withdrawn("a", "b")))
    assert told[:3] == ("finish_coarsest", "P1500", "P1000")


def test_of_two_that_asked_the_same_the_first_is_named() -> None:
    """In the order of the files."""
    group = {"rule": [rule("a", "P1500"), rule("b", "P1500")]}
    assert [each[3] for each in laxer(over(group, withdrawn("a", "b")))] == ["a"]


def test_each_output_of_a_rule_that_was_let_go_is_told_and_words_are_not() -> None:
    """Notes and cautions ask for nothing; one that is stricter now is no loosening."""
    setting = {"notes": "Look twice.", "cautions": "Hot.", "finish_coarsest": "P1500", "wet_bed": "required"}
    group = {"rule": [{"id": "a", "says": "A.", "set": setting, "source": "house"}]}
    engine = over(group, withdrawn("a"))
    bed = engine.decide(Facts()).wet_bed
    assert laxer(engine) == [("finish_coarsest", "P1500", "P1000", "a"), ("wet_bed", "required", bed, "a")]
    tighter = withdrawn("a") | {"rule": [rule("own", "P2000")]}
    assert [each[0] for each in laxer(over(group, tighter))] == ["wet_bed"]
    as_much = withdrawn("a") | {"rule": [rule("own", "P1500")]}
    assert [each[0] for each in laxer(over(group, as_much))] == ["wet_bed"]


def done_by(engine: Engine, name: str) -> Any:
    """Return what a rule is said to do."""
    return next(each for each in doings(Audited(engine)) if each.rule == name)


def test_a_rule_of_words_alone_is_shown_in_a_case_of_its_own() -> None:
    """Where it speaks, with the text that it adds; not in the usual case, of which it says nothing."""
    note = {"id": "own", "says": "A.", "set": {"notes": "Look."}, "source": "x"} | {
        "when": {"flake": "vapour"}
    }
    found = done_by(over({"rule": [note]}), "own")
    assert found.does == "words"
    assert found.case is not None
    assert found.case.flake == "vapour"
    assert found.differences == (Difference("notes", None, "Look."),)
    assert found.cases > 0


def test_a_rule_is_shown_where_it_changes_a_grade_not_where_it_only_speaks() -> None:
    """Another rule asks the grade of it in the usual tone: there it would only add its note."""
    other = rule("other", "P1500", when={"flake": "fine", "tone": "light"})
    own = rule("own", "P1500", when={"flake": "fine"})
    own["set"] = {"finish_coarsest": "P1500", "notes": "Look."}
    found = done_by(over({"rule": [other, own]}), "own")
    assert found.does == "tightens"
    assert found.case.tone != "light"
    assert set(found.differences) == {
        Difference("finish_coarsest", "P1000", "P1500"), Difference("notes", None, "Look."),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("layer", "name", "does"),
    [
        ({"rule": [rule("own", "P1200")]}, "own", "tightens"),
        ({"rule": [rule("own", "P800")]}, "own", "nothing"),
        ({"rule": [rule("own", "P1000")]}, "own", "nothing"),
        ({"rule": [rule("own", "P800", replaces="base-fine")]}, "own", "loosens"),
        ({"rule": [rule("own", "P1200", replaces="base-fine")]}, "own", "tightens"),
        ({"rule": [rule("own", "P1200", replaces="base-fine", when={"zone": "fade"})]}, "own", "both"),
        ({"withdraw": [LETS_GO]}, "base-hold", "loosens"),
    ],
)
def test_what_a_rule_does_is_said_in_one_word(layer: dict[str, Any], name: str, does: str) -> None:
    """Of a base with P1000 everywhere and one hold."""
    assert done_by(over(layer), name).does == does


def test_what_is_let_go_is_shown_with_all_that_changes_there() -> None:
    """The text, and the grade that counts once nothing holds."""
    (found,) = (each for each in doings(Audited(over({"withdraw": [LETS_GO]}))))
    assert found.differences == (Difference("holds", "Ask first.", None),)
    group = {
        "rule": [rule("a", set={"holds": "Stop.", "finish_coarsest": "P1500"}, when={"flake": "vapour"})]
    }
    took = doings(Audited(over(group, withdrawn("a"))))[-1]
    assert set(took.differences) == {
        Difference("holds", "Stop.", None), Difference("finish_coarsest", "P1500", "P1000"),
    }  # fmt: skip
    laid = done_by(over({"rule": [rule("own", "P800", replaces="base-fine")]}), "own")
    assert laid.differences == (Difference("finish_coarsest", "P1000", "P800"),)


def test_a_rule_that_does_nothing_says_why() -> None:
    """Set aside by another, met by no card, read by none, or shadowed; else none of these."""
    aside = doings(Audited(over({"rule": [rule("own", "P1500")]}, withdrawn("own"))))[0]
    assert (aside.rule, aside.does, aside.aside) == ("own", "nothing", True)
    nowhere = done_by(
        over({"rule": [rule("own", "P1500", when={"role": "clear-only", "zone": "fade"})]}), "own"
    )
    assert (nowhere.does, nowhere.unmet, nowhere.unread, nowhere.shadows) == ("nothing", True, False, ())
    unread = done_by(over({"rule": [rule("own", "P1500", when={"reach": "hand"})]}), "own")
    assert (unread.does, unread.unmet, unread.unread, unread.shadows) == ("nothing", False, True, ())
    both = {"finish_coarsest": "P1500", "hand_last_coarsest": "P800"}
    lines = [
        rule("every", set={"hand_last_coarsest": "P1200"}), rule("own", set=both, when={"reach": "hand"}),
    ]  # fmt: skip
    partly = done_by(over({"rule": lines}), "own")
    assert (partly.does, partly.unmet, partly.unread) == ("nothing", False, False)
    weak = done_by(over({"rule": [rule("own", "P800")]}), "own")
    assert (weak.does, weak.aside, weak.unmet, weak.unread) == ("nothing", False, False, False)
    assert [shadow.id for shadow in weak.shadows] == ["base-fine"]
    strong = done_by(over({"rule": [rule("own", "P1200")]}), "own")
    assert (strong.aside, strong.unmet, strong.unread, strong.shadows) == (False, False, False, ())


def test_grades_that_the_shop_lacks_are_named() -> None:
    """Of a rule that sets one; without a shelf none is missed."""
    audited = Audited(over({"rule": [rule("own", "P1200")]}))
    assert [each.off_shelf for each in doings(audited, (Grade("P1000"),))] == [("P1200",)]
    assert [each.off_shelf for each in doings(audited, (Grade("P1000"), Grade("P1200")))] == [()]
    assert [each.off_shelf for each in doings(audited)] == [()]


def test_a_dead_rule_is_told_as_what_it_is() -> None:
    """Alone it changes nothing, as another asks as much; two of a kind say the same."""
    dead = [each for each in audit(over({"rule": [rule("own", "P800")]})).findings if each.kind == "dead"]
    assert [(each.rules, each.shadows) for each in dead] == [(("own", "base-fine"), ("base-fine",))]
    assert "changes nothing. In all its cases " in dead[0].says
    assert "already asks as much or more." in dead[0].says
    assert dead[0].mend.startswith("Take it away, or narrow or tighten it")
    two = over({"rule": [rule("a", "P1200"), rule("b", "P1200")]})
    (twins,) = (each for each in audit(two).findings if each.kind == "dead")
    assert twins.says.endswith("say the same of the same cases.")
    assert (set(twins.rules), twins.mend) == ({"a", "b"}, "Keep one of them.")
