"""Base, group, site, customer: a layer tightens freely, loosens only by saying so, and may count by day."""

import datetime as dt
from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.standards import BadRulesError, Layers, Loosened, audit, build
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.layers import RuleSource

HOLD = {"id": "base-hold", "says": "Stop.", "set": {"holds": "Ask first."}, "source": "practice"}


def rule(name: str, grade: str = "P800", **more: Any) -> dict[str, Any]:
    """Write a rule that sets the coarsest finish."""
    return {"id": name, "says": f"{name}.", "set": {"finish_coarsest": grade}, "source": "house"} | more


BASE = {"rule": [rule("base-fine", "P1000"), HOLD | {"when": {"special": "radar"}}]}


def sources(*layers: dict[str, Any]) -> list[RuleSource]:
    """Return the base and layers called one, two, three over it."""
    named = zip(("one", "two", "three"), layers, strict=False)
    return [
        RuleSource("base.toml", "base", BASE),
        *(
            RuleSource(f"{name}.toml", name, data, height=height)
            for height, (name, data) in enumerate(named, 1)
        ),
    ]


def over(*layers: dict[str, Any]) -> Engine:
    """Compile the base and layers over it."""
    return build(sources(*layers))


def said(*layers: dict[str, Any]) -> list[str]:
    """Return what is wrong with some layers."""
    with pytest.raises(BadRulesError) as refused:
        over(*layers)
    return [problem.says for _, problem in refused.value.problems]


def finish(engine: Engine) -> str | None:
    """Return the coarsest finish of the usual case."""
    return engine.decide(Facts()).finish_coarsest


def test_every_layer_tightens() -> None:
    """The finest of all layers wins, whichever it stands in."""
    assert finish(over({"rule": [rule("a", "P1200")]}, {"rule": [rule("b", "P1500")]})) == "P1500"


def test_a_layer_loosens_the_one_below_and_it_is_told_with_both() -> None:
    """The site takes back what the group asks: the deviation names site and group."""
    engine = over({"rule": [rule("group", "P1200")]}, {"withdraw": [{"rule": "group", "because": "No."}]})
    (told,) = engine.deviations
    assert finish(engine) == "P1000"
    assert (told.rule, told.layer, told.below, told.says) == ("group", "two", "one", "No.")


def test_each_layer_can_be_asked_for_without_those_above() -> None:
    """What the group alone says stays at hand."""
    engine = over({"rule": [rule("a", "P800", replaces="base-fine")]}, {"rule": [rule("b", "P1500")]})
    assert [finish(engine.up_to(rank)) for rank in (0, 1, 2)] == ["P1000", "P800", "P1500"]


def test_a_layer_cannot_touch_one_above() -> None:
    """Both ways of setting a rule aside look down only."""
    above = {"rule": [rule("high", "P1500")]}
    assert "lies above" in said({"withdraw": [{"rule": "high", "because": "x"}]}, above)[0]
    assert "lies above" in said({"rule": [rule("low", replaces="high")]}, above)[0]


def test_a_rule_cannot_be_replaced_and_withdrawn() -> None:
    """One of the two would be silent."""
    (only,) = said(
        {"rule": [rule("a", replaces="base-fine")], "withdraw": [{"rule": "base-fine", "because": "x"}]}
    )
    assert "replaced by" in only
    assert "withdrawn as well" in only


@pytest.mark.parametrize(
    "house",
    [
        {"withdraw": [{"rule": "base-hold", "because": "no time"}]},
        {"rule": [rule("a", replaces="base-hold")]},
        {"rule": [HOLD | {"id": "b", "when": {"special": "radar", "zone": "fade"}, "replaces": "base-hold"}]},
    ],
    ids=["withdrawn", "replaced by a grade", "replaced by a narrower hold"],
)
def test_a_hold_does_not_go_without_a_word_on_what_guards_now(house: dict[str, Any]) -> None:
    """It holds on in every case, and the check says so at the line."""
    engine = over(house)
    cases = [Facts(special="radar", zone=zone) for zone in ("clear", "colour", "fade")]
    found = [finding for finding in audit(engine).findings if finding.kind == "hold-gone"]
    assert [engine.decide(case).holds for case in cases] == [("Ask first.",)] * 3
    assert [(finding.file, finding.is_error) for finding in found] == [("one.toml", True)]
    assert "base-hold" in found[0].rules


def test_a_hold_goes_with_a_word_on_what_guards_now() -> None:
    """And the deviation carries the word."""
    entry = {"rule": "base-hold", "because": "Measured.", "lets_go": "The gauge before paint."}
    engine = over({"withdraw": [entry]})
    assert engine.decide(Facts(special="radar")).holds == ()
    assert [told.lets_go for told in engine.deviations] == ["The gauge before paint."]


def test_a_hold_that_is_only_said_otherwise_needs_no_word() -> None:
    """Another text over all of its cases lets nothing go."""
    other = {"id": "b", "says": "Stop.", "set": {"holds": "Call."}, "source": "x", "replaces": "base-hold"}
    assert over({"rule": [other | {"when": {"special": "radar"}}]}).kept == ()


def test_what_is_laxer_in_a_case_is_told_with_rule_and_layer() -> None:
    """A card can say it beside the place it touches."""
    engine = over({"rule": [rule("own", "P600", when={"zone": "fade"}, replaces="base-fine")]})
    laxer = Loosened(engine).laxer
    fade, colour = Facts(), Facts(zone="colour")
    (told,) = laxer(fade, engine.decide(fade))
    assert (told.output, told.before, told.after, told.rule, told.by, told.layer) == (
        "finish_coarsest", "P1000", "P600", "base-fine", "own", "one",
    )  # fmt: skip
    assert [each.after for each in laxer(colour, engine.decide(colour))] == [None]


def test_nothing_is_laxer_where_another_rule_asks_as_much() -> None:
    """A withdrawal that a tighter rule makes up for is no loosening there."""
    engine = over({"withdraw": [{"rule": "base-fine", "because": "x"}], "rule": [rule("own", "P1000")]})
    assert Loosened(engine).laxer(Facts(), engine.decide(Facts())) == ()


DATED = {
    "standards": {
        "name": "Trial",
        "version": "2",
        "valid_from": dt.date(2026, 3, 1),
        "valid_to": dt.date(2026, 6, 30),
        "customer": "Blue Fleet",
    },
    "rule": [
        rule("tight", "P1500", when={"zone": "fade"}),
        rule("lax", "P600", when={"zone": "colour"}, replaces="base-fine"),
    ],
}


@pytest.mark.parametrize(
    ("day", "customer", "state", "fade", "colour"),
    [
        (dt.date(2026, 3, 1), "Blue Fleet", "in force", "P1500", "P600"),
        (dt.date(2026, 6, 30), " blue  fleet", "in force", "P1500", "P600"),
        (dt.date(2026, 2, 28), "Blue Fleet", "not yet", "P1000", "P1000"),
        (dt.date(2026, 7, 1), "Blue Fleet", "over", "P1000", "P1000"),
        (dt.date(2026, 4, 1), "Red Fleet", "other customer", "P1000", "P1000"),
        (None, "Blue Fleet", "unsure", "P1500", "P1000"),
        (dt.date(2026, 4, 1), "", "unsure", "P1500", "P1000"),
    ],
)
def test_a_layer_counts_by_day_and_customer(
    day: dt.date | None, customer: str, state: str, fade: str, colour: str
) -> None:
    """Where the job does not say, the layer tightens and loosens nothing: a blank never loosens."""
    layers = Layers(sources(DATED))
    engine = layers.engine(layers.states(day, customer))
    assert engine.used.layers[1].state == state
    assert engine.decide(Facts()).finish_coarsest == fade
    assert engine.decide(Facts(zone="colour")).finish_coarsest == colour


def test_days_in_the_wrong_order_are_refused() -> None:
    """A span that never is would put a layer out of force unnoticed."""
    wrong = {"name": "x", "version": "1", "valid_from": dt.date(2026, 3, 1), "valid_to": dt.date(2026, 2, 1)}
    assert "before valid_from" in said({"standards": wrong})[0]
