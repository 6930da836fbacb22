"""Layers: a house tightens by being there, and loosens only by saying so, which stands on the card."""

from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.records import Problem
from prepadvisor.standards import BadRulesError, build
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.layers import RuleSource

BASE_RULES: list[dict[str, Any]] = [
    {"id": "base-fine", "says": "Fine: P800.", "set": {"finish_coarsest": "P800"}, "source": "practice"},
    {"id": "base-bed", "says": "Bed.", "set": {"wet_bed": "advised"}, "source": "practice"},
]


def rule(name: str, grade: str = "P600", **more: Any) -> dict[str, Any]:
    """Write a house rule."""
    return {"id": name, "says": f"{name}.", "set": {"finish_coarsest": grade}, "source": "house"} | more


def layered(**house: Any) -> Engine:
    """Lay a house over the small base."""
    return build(
        [
            RuleSource(
                "base/a.toml",
                "base",
                {"standards": {"name": "Base", "version": "1"}, "rule": BASE_RULES},
                "aa",
            ),
            RuleSource("shop/own.toml", "shop", house, "bb", line_of=lambda path: 10 * (int(path[1]) + 1)),
        ]
    )


def problems_of(**house: Any) -> tuple[Problem, ...]:
    """Return what is wrong with a house."""
    with pytest.raises(BadRulesError) as refused:
        layered(**house)
    assert {path for path, _ in refused.value.problems} == {"shop/own.toml"}
    return tuple(problem for _, problem in refused.value.problems)


def test_a_house_rule_tightens_by_being_there() -> None:
    """A finer house grade wins without a word about the base."""
    engine = layered(rule=[rule("own", "P1000")])
    assert engine.decide(Facts()).finish_coarsest == "P1000"
    assert engine.deviations == ()


def test_a_coarser_house_rule_changes_nothing_by_itself() -> None:
    """Without a word to the base a house cannot loosen it."""
    assert layered(rule=[rule("own", "P500")]).decide(Facts()).finish_coarsest == "P800"


def test_a_replaced_rule_loosens_and_is_named_as_a_deviation() -> None:
    """A house rule that replaces a base rule counts alone; the card can name both."""
    engine = layered(rule=[rule("own", "P500", replaces="base-fine")])
    (deviation,) = engine.deviations
    assert engine.decide(Facts()).finish_coarsest == "P500"
    assert (deviation.rule, deviation.kind, deviation.by) == ("base-fine", "replaced", "own")
    assert (deviation.says, deviation.file, deviation.line) == ("own.", "shop/own.toml", 10)


def test_a_withdrawn_rule_is_gone_and_named_as_a_deviation() -> None:
    """A withdrawal carries the house's reason."""
    engine = layered(withdraw=[{"rule": "base-bed", "because": "We never do."}])
    (deviation,) = engine.deviations
    assert engine.decide(Facts()).wet_bed == "no"
    assert (deviation.rule, deviation.kind, deviation.by) == ("base-bed", "withdrawn", "shop")
    assert (deviation.says, deviation.file, deviation.line) == ("We never do.", "shop/own.toml", 10)
    assert [rule.id for rule in engine.set_aside] == ["base-bed"]


def test_two_rules_may_replace_one() -> None:
    """A base rule split into two house rules is gone, and both stand for it."""
    engine = layered(rule=[rule("one", replaces="base-fine"), rule("two", replaces="base-fine")])
    assert [(deviation.rule, deviation.by) for deviation in engine.deviations] == [
        ("base-fine", "one"),
        ("base-fine", "two"),
    ]


def test_a_chain_of_replacements_names_the_rule_in_force() -> None:
    """Where a replacement is replaced in turn, the last one stands for the base rule."""
    engine = layered(rule=[rule("one", replaces="base-fine"), rule("two", "P500", replaces="one")])
    assert engine.decide(Facts()).finish_coarsest == "P500"
    assert [(deviation.rule, deviation.by) for deviation in engine.deviations] == [("base-fine", "two")]


def test_the_base_alone_stays_at_hand_under_a_house() -> None:
    """What the shipped standards say can be asked for beside what the house made of them."""
    engine = layered(rule=[rule("own", "P500", replaces="base-fine")])
    assert engine.base.decide(Facts()).finish_coarsest == "P800"
    assert [rule.id for rule in engine.base.rules] == ["base-bed", "base-fine"]


def test_the_files_used_are_listed_with_their_digests_base_first() -> None:
    """A card can print what it rests on."""
    used = layered(standards={"name": "Ours", "version": "7"}).used
    assert [(file.path, file.sha256) for file in used.files] == [
        ("base/a.toml", "aa"),
        ("shop/own.toml", "bb"),
    ]
    assert (used.name, used.version) == ("Base + Ours", "1 + 7")


def test_a_reason_tells_layer_file_line_and_source() -> None:
    """Every deciding rule can be looked up."""
    (reason, *_) = layered(rule=[rule("own", "P1000")]).decide(Facts()).because
    assert (reason.rule, reason.layer, reason.file, reason.line) == ("own", "shop", "shop/own.toml", 10)
    assert (reason.says, reason.source, reason.value) == ("own.", "house", "P1000")


@pytest.mark.parametrize(
    ("house", "path", "says", "mend"),
    [
        ({"rule": [rule("own"), rule("own")]}, ("rule", 1, "id"), "already taken in line 10", "of its own"),
        (
            {"rule": [rule("base-fine")]},
            ("rule", 0, "id"),
            "already taken in base/a.toml",
            'replaces = "base-fine"',
        ),
        (
            {"rule": [rule("own", replaces="base-fin")]},
            ("rule", 0, "replaces"),
            "which no rule is called",
            "base-fine",
        ),
        ({"rule": [rule("own", replaces="own")]}, ("rule", 0, "replaces"), "own → own", "away"),
        (
            {"withdraw": [{"rule": "base-bad", "because": "x"}]},
            ("withdraw", 0, "rule"),
            "base-bad",
            "base-bed",
        ),
        (
            {"rule": [rule("own")], "withdraw": [{"rule": "own", "because": "x"}]},
            ("withdraw", 0, "rule"),
            "rule of this house",
            "delete it",
        ),
        (
            {"withdraw": [{"rule": "base-bed", "because": "x"}] * 2},
            ("withdraw", 1, "rule"),
            "withdrawn twice",
            "one of them",
        ),
    ],
    ids=lambda value: str(value)[:40],
)
def test_a_wrong_word_to_another_rule_is_told_with_its_mend(
    house: dict[str, Any], path: tuple[str | int, ...], says: str, mend: str
) -> None:
    """Ids taken twice, unknown rules replaced or withdrawn, and empty withdrawals are load errors."""
    (problem,) = problems_of(**house)
    assert problem.path == path
    assert says in problem.says
    assert mend in problem.mend


def test_a_circle_of_replacements_is_told_at_each_of_its_rules() -> None:
    """Three rules that replace one another would all vanish; each is named with the whole circle."""
    ring = [rule("one", replaces="two"), rule("two", replaces="three"), rule("three", replaces="one")]
    problems = problems_of(rule=ring)
    assert [problem.path for problem in problems] == [("rule", number, "replaces") for number in range(3)]
    assert "one → two → three → one" in problems[0].says


def test_a_rule_that_leads_into_a_circle_is_not_blamed_for_it() -> None:
    """Only the rules in the circle are faulted."""
    rules = [rule("one", replaces="two"), rule("two", replaces="one"), rule("own", replaces="one")]
    assert len(problems_of(rule=rules)) == 2


def test_the_base_replaces_nothing() -> None:
    """The shipped base has no need to loosen itself."""
    with pytest.raises(BadRulesError, match="the base replaces nothing"):
        build([RuleSource("a.toml", "base", {"rule": [rule("one"), rule("two", replaces="one")]})])


def test_a_replaced_rule_with_a_fault_of_its_own_is_not_called_unknown() -> None:
    """One fault is told once, not again at every rule that refers to it."""
    wrong = rule("one", when={"flak": "fine"})
    problems = problems_of(rule=[wrong, rule("two", replaces="one")])
    assert [problem.path for problem in problems] == [("rule", 0, "when", "flak")]


def test_one_id_in_two_files_of_a_folder_is_told_with_both_places() -> None:
    """The second file, by name, is faulted and the first one named."""
    files = [RuleSource(f"shop/{name}.toml", "shop", {"rule": [rule("own")]}) for name in ("b", "a")]
    with pytest.raises(BadRulesError) as refused:
        build(files)
    ((path, problem),) = refused.value.problems
    assert path == "shop/b.toml"
    assert "shop/a.toml" in problem.says


def test_files_that_name_the_same_standards_name_them_once() -> None:
    """A folder of several files may repeat its [standards]; the card says the name once."""
    name = {"standards": {"name": "x", "version": "1"}}
    used = build([RuleSource("a.toml", "base", name), RuleSource("b.toml", "base", name)]).used
    assert (used.name, used.version) == ("x", "1")


def test_no_rules_at_all_is_a_standard_without_answers() -> None:
    """An empty set of files decides nothing and breaks nothing."""
    assert build([]).decide(Facts()).finish_coarsest is None
