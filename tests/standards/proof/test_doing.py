"""What a rule or withdrawal of a house does: told with its case and count, or why it does nothing."""

from typing import Any

import pytest

from prepadvisor.records import Grade, OutputName
from prepadvisor.standards import Audited, build, compare, doings
from prepadvisor.standards.language.layers import RuleSource
from prepadvisor.standards.proof import doing as in_doing
from prepadvisor.standards.proof.doing import Doing, compared_most
from tests.standards.language.test_many_layers import BASE, over, rule

SHELF = tuple(map(Grade, ("P800", "P1000")))


def sets(name: str, when: dict[str, Any] | None = None, **setting: object) -> dict[str, Any]:
    """Write a house rule."""
    return rule(name, when=when or {}, set=setting)


def done(*layers: Any, shelf: tuple[Grade, ...] = ()) -> dict[str, Doing]:
    """Return what each entry of some layers does, by its rule."""
    return {each.rule: each for each in doings(Audited(over(*layers)), shelf)}


def outputs(doing: Doing) -> set[OutputName]:
    """Return the outputs that differ in the case told."""
    return {each.output for each in doing.differences}


def test_how_many_are_compared_one_by_one_falls_with_the_number_of_rules() -> None:
    """200 up to 400 rules, then as many as make 8,000 rules together, three at least."""
    told = {1: 200, 400: 200, 401: 19, 1000: 8, 2000: 4, 2666: 3, 2667: 3, 9000: 3}
    assert {rules: compared_most(rules) for rules in told} == told


def test_entries_stand_lowest_layer_first_and_one_that_is_set_aside_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The rule of the lower layer is replaced by that of the upper one; what works is none of these."""
    lower = {"rule": [sets("a", finish_target="P1000"), sets("b", {"flake": "fine"}, finish_target="P1500")]}
    upper = {"rule": [sets("c", finish_target="P1200") | {"replaces": "a"}]}
    files = [
        RuleSource(f"{name}.toml", name, data, height=at, line_of=lambda path: 1 + int(path[1]))
        for at, (name, data) in enumerate((("base", BASE), ("one", lower), ("two", upper)))
    ]
    asked: list[int] = []

    def counted(rules: int) -> int:
        asked.append(rules)
        return 9

    monkeypatch.setattr(in_doing, "compared_most", counted)
    found = {each.rule: each for each in doings(Audited(build(files)))}
    assert asked == [2 + 2 + 1]  # of all layers, set aside or not
    assert list(found) == ["a", "b", "c"]
    assert [each.does for each in found.values()] == ["nothing", "tightens", "tightens"]
    assert [each.aside for each in found.values()] == [True, False, False]
    for each in found.values():
        assert (each.unmet, each.unread, each.held, each.shadows, each.off_shelf) == (
            False, False, False, (), (),
        )  # fmt: skip


def test_grades_that_the_shop_lacks_are_named() -> None:
    """Of all that the rule sets; where no shelf is stated none is missed."""
    layer = {"rule": [sets("a", finish_finest="P2000", finish_coarsest="P1200", hand_coarsest="P1000")]}
    assert done(layer, shelf=SHELF)["a"].off_shelf == ("P1200", "P2000")
    assert done(layer)["a"].off_shelf == ()


def test_what_does_nothing_says_why() -> None:
    """No card meets it; none reads it; all of it is held; another asks as much: with the rule that does."""
    layer = {
        "rule": [
            sets("unmet", {"feature": "face", "reach": "hand"}, finish_coarsest="P1200"),
            sets("unread", {"reach": "hand"}, finish_coarsest="P1200"),
            sets("held", {"special": "radar"}, finish_finest="P800"),
            sets("key", finish_finest="P1000"),
            sets("shadowed", {"flake": "fine"}, finish_finest="P1200"),
            sets("in-part", {"reach": "hand"}, finish_coarsest="P1200", finish_finest="P1500"),
            sets("twin", {"flake": "solid"}, notes=["Look."]),
            sets("twin-too", {"flake": "solid"}, notes=["Look."]),
        ]
    }
    found = done(layer)
    why = {
        name: (each.unmet, each.unread, each.held, tuple(rule.id for rule in each.shadows))
        for name, each in found.items()
        if each.does == "nothing"
    }
    assert why == {
        "unmet": (True, False, False, ()),
        "unread": (False, True, False, ()),
        "held": (False, False, True, ()),
        "shadowed": (False, False, False, ("key",)),
        "in-part": (False, False, False, ("key",)),
        "twin": (False, False, False, ("twin-too",)),
        "twin-too": (False, False, False, ("twin",)),
    }
    assert all(each.case is None and not each.cases for each in found.values() if each.does == "nothing")


RULES = [
    sets("fine", {"flake": "fine"}, finish_coarsest="P1200"),
    sets("texts", {"flake": ["fine", "coarse"]}, notes=["Look.", "Lamp."]),
    sets("said", {"flake": "fine"}, notes=["Look."]),
    sets("mixed", {"zone": "fade"}, finish_coarsest="P1200", cautions=["Hot."]),
    sets("stop", {"flake": "vapour"}, holds=["Ask."], finish_coarsest="P2000"),
    sets("radar", {"special": "radar"}, notes=["Off."], finish_coarsest="P1500"),
    sets("no-bed", wet_bed="no", notes=["None."]),
    sets("by-hand", {"reach": "hand"}, finish_coarsest="P2000", hand_last_coarsest="P1000"),
]
"""A grade, texts one of which is said elsewhere, both, a hold with a grade, held cases, what nobody reads."""


def test_a_rule_that_replaces_none_changes_as_many_cases_as_a_comparison_without_it_counts() -> None:
    """Whether answers or texts change, or both."""
    engine = over({"rule": RULES})
    found = doings(Audited(engine))
    assert {each.rule: each.does for each in found} == {
        "fine": "tightens", "texts": "words", "said": "nothing", "mixed": "tightens", "stop": "tightens",
        "radar": "words", "no-bed": "words", "by-hand": "tightens",
    }  # fmt: skip
    for each in found:
        assert each.cases == compare(engine.without(each.entry), engine).cases, each.rule


def test_what_differs_in_the_case_told_is_what_a_painter_reads_there() -> None:
    """With a hold that comes also the grade beside it; where all is held anyway only the words."""
    found = done({"rule": RULES})
    assert {name: outputs(each) for name, each in found.items() if each.differences} == {
        "fine": {"finish_coarsest"}, "texts": {"notes"}, "mixed": {"finish_coarsest", "cautions"},
        "stop": {"holds", "finish_coarsest"}, "radar": {"notes"}, "no-bed": {"notes"},
        "by-hand": {"hand_last_coarsest"},
    }  # fmt: skip
    told = [(each.output, each.before, each.after) for each in found["stop"].differences]
    assert told == [("finish_coarsest", "P1200", "P2000"), ("holds", None, "Ask.")]
    (words,) = found["radar"].differences
    assert (words.before, words.after) == (None, "Off.")


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        ({"flake": "fine"}, {"finish_finest", "finish_target"}),  # both in the rest
        ({"flake": {"not": "fine"}}, {"finish_finest"}),  # never both: the first
    ],
)
def test_one_case_shows_all_that_a_rule_tightens_where_there_is_one(
    other: dict[str, Any], expected: set[str]
) -> None:
    """Of two outputs one is asked as much by another rule in fine flake, one here or there."""
    layer = [
        sets("own", finish_finest="P1500", finish_target="P1200"),
        sets("key", {"flake": "fine"}, finish_finest="P1500"),
        sets("usual", other, finish_target="P1200"),
    ]
    own = done({"rule": layer})["own"]
    assert outputs(own) == expected
    assert own.case is not None
    assert own.case.flake != "fine"


def test_a_withdrawal_is_told_with_what_it_lets_go() -> None:
    """Of a hold: released, with the text that went; it is compared whole."""
    gone = {"withdraw": [{"rule": "base-hold", "because": "x", "lets_go": "y"}]}
    (doing,) = done(gone).values()
    assert (doing.rule, doing.does) == ("base-hold", "loosens")
    assert [(each.output, each.before, each.after) for each in doing.differences] == [
        ("holds", "Ask first.", None)
    ]
    assert doing.case is not None
    assert doing.case.special == "radar"
    assert doing.cases == compare(over(), over(gone)).cases > 0


def test_each_withdrawal_that_lets_nothing_go_is_told_to_hold_on() -> None:
    """Of three holds two are withdrawn without saying what guards instead; both hold on."""
    own = {"rule": [sets(name, {"special": "radar"}, holds=f"{name}.") for name in ("b", "c")]}
    gone = [{"rule": name, "because": "x"} for name in ("base-hold", "b")]
    found = done(own, {"withdraw": [*gone, {"rule": "c", "because": "x", "lets_go": "The gauge."}]})
    assert {name: each.holds_on for name, each in found.items()} == {"base-hold": True, "b": True, "c": False}
