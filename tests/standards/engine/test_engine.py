"""The engine against a naive evaluator: same answers, same deciding rules, whatever the order."""

import random
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER, Facts, Names
from prepadvisor.records import OUTLINES
from prepadvisor.standards import build
from prepadvisor.standards.engine import OUTPUTS, Engine, code
from prepadvisor.standards.language.layers import RuleSource

Meets = Callable[[Any], bool]
Condition = tuple[object, Meets]
"""A condition as a rule file has it, and what it means, written down a second time."""

ORDER = {category.name: category.values for category in CATEGORIES if category.ordered}
FINER = ("P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000")
WORDS = {
    "wet_bed": ("no", "advised", "required"),
    "guide_coat": ("no", "before-final", "after-hand", "every-change"),
    "machine": ("any", "interface-pad", "never"),
}
LOWEST = ("risk_limit", "bed_coats_max", "film_off_max_um")
HIGHEST = ("bed_coats_min", "step_ratio_min", "film_left_min_um")
UNIONS = ("holds", "cautions", "notes")
POINTS = (0.0, 80.0, 90.0, 100.0, 300.0)
BOOK = ("hm-1", "hm-2", "hm-3", "hm-4")
KINDS = {"spoiler": "roof", "box-side": "sill", "box-lid": "roof"}
"""Panel kinds of a house, each with the one it is like."""
for fact_, names_ in (("book", BOOK), ("panel", KINDS)):
    for open_ in (category.values for category in CATEGORIES if category.name == fact_):
        assert isinstance(open_, Names)
        for name_ in names_:
            open_.place(name_)
NUMBERS = (None, 0.0, 79.5, 80.0, 85.0, 90.0, 95.0, 100.0, 200.0, 300.0, 301.0)


@st.composite
def conditions(draw: st.DrawFn, fact: str) -> Condition:
    """Draw a condition on a fact, with its meaning as a plain function."""
    if fact in NUMBER:
        return draw(number_conditions())
    values = CATEGORIES[CATEGORY[fact]].values
    ways = ["value", "list", "not"] + (["from", "to", "between"] if fact in ORDER else [])
    way = draw(st.sampled_from(ways))
    values = {"panel": (*OUTLINES, *KINDS), "book": ("other", *BOOK)}.get(fact, values)
    named = BOOK if fact == "book" else values
    if fact == "panel":
        kinds = draw(st.lists(st.sampled_from(named), min_size=1, max_size=3, unique=True))
        met = {*kinds, *(kind for kind, like in KINDS.items() if like in kinds)}
        if way == "not":
            return {"not": kinds}, lambda value: value not in met
        return kinds, lambda value: value in met
    some = draw(st.lists(st.sampled_from(named), min_size=1, max_size=3, unique=True))
    if way == "value":
        return some[0], lambda value: value == some[0]
    if way == "not" and len(some) < len(values):
        return {"not": some}, lambda value: value not in some
    if way in {"value", "list", "not"}:
        return some, lambda value: value in some
    place = {value: index for index, value in enumerate(values)}
    low, high = sorted((place[some[0]], place[some[-1]]))
    if way == "from":
        return f">= {values[low]}", lambda value: place[value] >= low
    if way == "to":
        return f"<= {values[high]}", lambda value: place[value] <= high
    return f"{values[low]} .. {values[high]}", lambda value: low <= place[value] <= high


@st.composite
def number_conditions(draw: st.DrawFn) -> Condition:
    """Draw a condition on a number; an unknown number meets none."""
    low, high = sorted(draw(st.tuples(st.sampled_from(POINTS), st.sampled_from(POINTS))))
    found: Condition = draw(
        st.sampled_from(
            [
                (f">= {low:g}", lambda value: value is not None and value >= low),
                (f"> {low:g}", lambda value: value is not None and value > low),
                (f"<= {high:g}", lambda value: value is not None and value <= high),
                (f"{low:g} .. {high:g}", lambda value: value is not None and low <= value <= high),
                (high, lambda value: value == high),
            ]
        )
    )
    return found


def settings_for(output: str) -> st.SearchStrategy[object]:
    """Draw what a rule may set."""
    if output in WORDS:
        return st.sampled_from(WORDS[output])
    if output in UNIONS:
        return st.sampled_from(["Stop.", "Look twice.", ["Stop.", "Ask."]])
    if output in {"bed_coats_max", "bed_coats_min"}:
        return st.integers(0, 4)
    if output in {*LOWEST, *HIGHEST}:
        return st.sampled_from([0.1, 0.25, 0.5, 1.0])
    return st.sampled_from(FINER)


@st.composite
def rule_lists(draw: st.DrawFn) -> list[tuple[dict[str, Any], dict[str, Meets]]]:
    """Draw rules as a file has them, each with the meaning of its conditions."""
    rules = []
    for number in range(draw(st.integers(1, 8))):
        facts = draw(st.lists(st.sampled_from(FACTS), max_size=4, unique=True))
        when = {fact: draw(conditions(fact)) for fact in facts}
        outputs = draw(st.lists(st.sampled_from(list(OUTPUTS)), min_size=1, max_size=3, unique=True))
        rules.append(
            (
                {
                    "id": f"r{number}",
                    "says": "Do it.",
                    "when": {fact: condition for fact, (condition, _) in when.items()},
                    "set": {output: draw(settings_for(output)) for output in outputs},
                    "source": "test",
                },
                {fact: meets for fact, (_, meets) in when.items()},
            )
        )
    return rules


@st.composite
def facts(draw: st.DrawFn) -> Facts:
    """Draw any case."""
    stated = [draw(st.sampled_from(category.values)) for category in CATEGORIES]
    return Facts._make([*stated, *(draw(st.sampled_from(NUMBERS)) for _ in NUMBER)])


def naive(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], case: Facts
) -> dict[str, tuple[Any, set[str]]]:
    """Return per output the combined value and the deciding rules, by going through the rules one by one."""
    met = [rule for rule, meets in rules if all(meets[fact](getattr(case, fact)) for fact in meets)]
    answers: dict[str, tuple[Any, set[str]]] = {}
    for output in OUTPUTS:
        stated = {rule["id"]: rule["set"][output] for rule in met if output in rule["set"]}
        if output in UNIONS:
            texts = {key: [value] if isinstance(value, str) else value for key, value in stated.items()}
            gathered = sorted({text for each in texts.values() for text in each})
            answers[output] = tuple(gathered), set(texts)
        elif not stated:
            answers[output] = (WORDS[output][0] if output in WORDS else None), set()
        else:
            best = _tightest(output, list(stated.values()))
            answers[output] = best, {key for key, value in stated.items() if value == best}
    return answers


def _tightest(output: str, values: list[Any]) -> object:
    if output in WORDS:
        return max(values, key=WORDS[output].index)
    if output in LOWEST:
        return min(values)
    if output in HIGHEST:
        return max(values)
    return (min if output == "finish_finest" else max)(values, key=FINER.index)


def engine_of(rules: list[tuple[dict[str, Any], dict[str, Meets]]]) -> Engine:
    """Compile drawn rules."""
    return build([RuleSource("base.toml", "base", {"rule": [rule for rule, _ in rules]})], KINDS)


@settings(max_examples=150)
@given(rules=rule_lists(), cases=st.lists(facts(), min_size=1, max_size=6))
def test_a_decision_is_what_going_through_the_rules_gives(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], cases: list[Facts]
) -> None:
    """Values and deciding rules equal those of the naive evaluator, for every output."""
    engine = engine_of(rules)
    for case in cases:
        decision = engine.decide(case)
        for output, (value, deciding) in naive(rules, case).items():
            assert getattr(decision, output) == value
            assert {reason.rule for reason in decision.because if reason.output == output} == deciding


@settings(max_examples=80)
@given(rules=rule_lists(), cases=st.lists(facts(), min_size=1, max_size=20))
def test_a_sweep_gives_what_single_decisions_give(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], cases: list[Facts]
) -> None:
    """Every column of a sweep holds the values that decide gives row by row."""
    engine = engine_of(rules)
    swept = engine.sweep(columns_of(cases))
    for name, output in OUTPUTS.items():
        expected = [code(output, getattr(engine.decide(case), name)) for case in cases]
        np.testing.assert_array_equal(swept[name].astype(float), expected, err_msg=name)


@settings(max_examples=30)
@given(rules=rule_lists(), cases=st.lists(facts(), min_size=1, max_size=20))
def test_a_sweep_without_tables_gives_the_same(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], cases: list[Facts]
) -> None:
    """Where tables would be too large the rules are laid over the rows, with the same result."""
    engine, plain = engine_of(rules), engine_of(rules)
    plain._sweeper._tables.update(dict.fromkeys(OUTPUTS))
    columns = columns_of(cases)
    tables, laid = engine.sweep(columns), plain.sweep(columns)
    for name in OUTPUTS:
        np.testing.assert_array_equal(tables[name], laid[name], err_msg=name)


@pytest.mark.parametrize("with_tables", [True, False])
def test_a_sweep_keeps_a_number_that_is_not_known_out_of_every_range(*, with_tables: bool) -> None:
    """Below, on and above the end, not known; and where only what is not known is meant."""
    films = np.array([89.0, 90.0, 91.0, np.nan])
    for condition, met in {
        ">= 90": [0, 1, 1, 0], "> 90": [0, 0, 1, 0], "<= 90": [1, 1, 0, 0], "< 90": [1, 0, 0, 0],
        "no reading": [0, 0, 0, 1],
    }.items():  # fmt: skip
        rule = {"id": "r", "says": "x", "when": {"film_um": condition}, "set": {"notes": "x"}, "source": "x"}
        engine = build([RuleSource("base.toml", "base", {"rule": [rule]})])
        if not with_tables:
            engine._sweeper._tables.update(dict.fromkeys(OUTPUTS))
        assert engine.sweep({"film_um": films}, ["notes"])["notes"].tolist() == [bool(each) for each in met]


def columns_of(cases: list[Facts]) -> Mapping[str, np.ndarray[Any, Any]]:
    """Return cases as the columns of a sweep."""
    columns: dict[str, np.ndarray[Any, Any]] = {}
    for fact in FACTS:
        values = [getattr(case, fact) for case in cases]
        if fact in CATEGORY:
            columns[fact] = np.array([CATEGORIES[CATEGORY[fact]].values.index(value) for value in values])
        else:
            columns[fact] = np.array([np.nan if value is None else value for value in values])
    return columns


@settings(max_examples=30)
@given(rules=rule_lists(), case=facts(), seed=st.integers(0, 1 << 16))
def test_the_order_of_rules_and_files_changes_nothing(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], case: Facts, seed: int
) -> None:
    """Shuffled rules, dealt out to two files in either order, give the same values and deciding rules."""
    shuffled = [rule for rule, _ in rules]
    random.Random(seed).shuffle(shuffled)
    half = len(shuffled) // 2
    files = [
        RuleSource("a.toml", "base", {"rule": shuffled[:half]}),
        RuleSource("b.toml", "base", {"rule": shuffled[half:]}),
    ]
    one, two, three = engine_of(rules), build(files, KINDS), build(files[::-1], KINDS)
    assert one.decide(case)[:-1] == two.decide(case)[:-1] == three.decide(case)[:-1]
    assert two.decide(case) == three.decide(case)
    assert one.digest == two.digest == three.digest


@settings(max_examples=30)
@given(rules=rule_lists(), case=facts())
def test_one_more_rule_never_loosens_a_decision(
    rules: list[tuple[dict[str, Any], dict[str, Meets]]], case: Facts
) -> None:
    """With a rule more, every output is as strong or stronger."""
    fewer, more = engine_of(rules[:-1]).decide(case), engine_of(rules).decide(case)
    for name, output in OUTPUTS.items():
        before, after = getattr(fewer, name), getattr(more, name)
        if output.is_union:
            assert set(before) <= set(after)
        elif before is not None:
            assert output.strength(after) >= output.strength(before)


def test_all_rules_that_a_case_meets_can_be_asked_for(shipped_house: Any) -> None:
    """Meeting lists exactly the rules whose box holds the case, deciding or not."""
    engine: Engine = shipped_house.engine
    case = Facts(flake="vapour", feature="edge", film_um=85)
    assert engine.meeting(case) == tuple(rule for rule in engine.rules if rule.when.holds(case))


def test_what_cannot_be_has_its_reason() -> None:
    """A case in the impossible list gives the reason, another gives none."""
    given_ = {"impossible": [{"when": {"role": "clear-only", "zone": "fade"}, "because": "No colour there."}]}
    engine = build([RuleSource("base.toml", "base", given_)])
    assert engine.impossible(Facts(role="clear-only", zone="fade")) == "No colour there."
    assert engine.impossible(Facts(role="blend", zone="fade")) is None


def test_a_misspelt_value_is_an_error_not_a_case_without_rules() -> None:
    """A value that no fact can have is refused."""
    with pytest.raises(KeyError, match="finee"):
        engine_of([]).decide(Facts(flake="finee"))


@pytest.mark.parametrize(
    ("columns", "error", "says"),
    [
        ({"flak": np.array([1])}, KeyError, "no fact"),
        ({"flake": np.array([1]), "zone": np.array([1, 2])}, ValueError, "different lengths"),
        ({"flake": np.array([6])}, ValueError, "from 0 to 5"),
        ({"flake": np.array([-1])}, ValueError, "from 0 to 5"),
        ({"flake": np.array([1.5])}, ValueError, "whole codes"),
    ],
)
def test_a_sweep_refuses_columns_it_cannot_read(
    columns: dict[str, np.ndarray[Any, Any]], error: type[Exception], says: str
) -> None:
    """Unknown facts, unequal lengths and codes outside the domain are errors."""
    with pytest.raises(error, match=says):
        engine_of([]).sweep(columns)


def test_the_digest_changes_with_what_a_rule_says_or_sets_and_not_with_its_place() -> None:
    """A digest stands for the advice: other words or values change it, another file does not."""
    rule = {"id": "a", "says": "Do it.", "set": {"wet_bed": "advised"}, "source": "test"}
    plain = build([RuleSource("a.toml", "base", {"rule": [rule]})])
    assert build([RuleSource("b.toml", "base", {"rule": [rule]})]).digest == plain.digest
    other = [
        rule | {"says": "Do that."},
        rule | {"set": {"wet_bed": "required"}},
        rule | {"when": {"seen": True}},
    ]
    for changed in other:
        assert build([RuleSource("a.toml", "base", {"rule": [changed]})]).digest != plain.digest


def test_what_is_remembered_stays_bounded(monkeypatch: pytest.MonkeyPatch, shipped_house: Any) -> None:
    """A long run over many cases forgets and decides again, with the same answers."""
    monkeypatch.setattr("prepadvisor.standards.engine.engine._REMEMBERED_MAX", 3)
    engine: Engine = shipped_house.engine
    small = Engine(engine.rules)
    for flake in ("solid", "coarse", "medium", "fine", "very-fine", "vapour"):
        case = Facts(flake=flake)
        assert small.decide(case) == engine.decide(case)
        assert len(small._decided) <= 3
