"""What a replacement or withdrawal does, looked for case by case, against whole comparisons."""

import random
from typing import Any

import pytest

from prepadvisor.standards.engine import Engine, Rule, Withdraw
from prepadvisor.standards.proof import doing
from prepadvisor.standards.proof.exchanged import Exchanges
from tests.standards.language.test_many_layers import over

SETTINGS: list[tuple[str, list[Any]]] = [
    ("finish_coarsest", ["P600", "P800", "P1000"]),
    ("hand_coarsest", ["P600", "P800"]),
    ("wet_bed", ["advised", "required"]),
    ("risk_limit", [0.1, 0.2]),
    ("holds", ["Stop.", "Wait."]),
    ("cautions", ["Look.", "Ask."]),
    ("machine", ["interface-pad", "never"]),
    ("bed_coats_max", [0, 1, 2]),
    ("film_off_max_um", [4.0, 8.0]),
]
CONDITIONS: dict[str, list[Any]] = {
    "flake": ["fine", ">= fine", "<= medium", ["solid", "fine"]],
    "zone": ["fade", ["colour", "fade"], "clear"],
    "film_um": [">= 100", "< 150", "90 .. 200", "no reading"],
    "reach": ["hand", "machine"],
    "feature": [["edge"], {"not": ["face", "patch"]}, ["face"]],
}


def a_rule(draw: random.Random, name: str, **more: str) -> dict[str, Any]:
    """Draw a rule that sets one or two outputs."""
    some = [fact for fact in CONDITIONS if draw.random() < 0.45]
    setting = {
        output: draw.choice(values) for output, values in draw.sample(SETTINGS, draw.choice((1, 1, 2)))
    }
    when = {"when": {fact: draw.choice(CONDITIONS[fact]) for fact in some}} if some else {}
    return {"id": name, "says": f"{name}.", "set": setting, "source": "house"} | when | more


def two_layers(draw: random.Random) -> Engine:
    """Draw a layer and one above it that replaces and withdraws rules of it."""
    below = [a_rule(draw, f"below-{number}") for number in range(6)]
    letting = [{"lets_go": "We look."} if "holds" in rule["set"] else {} for rule in below]
    above = [a_rule(draw, f"own-{at}", replaces=f"below-{at}", **letting[at]) for at in range(3)]
    withdrawn = [{"rule": f"below-{at}", "because": "x", **letting[at]} for at in (3, 4)]
    return over({"rule": below}, {"rule": [*above, a_rule(draw, "own")], "withdraw": withdrawn})


def told_otherwise(seed: int) -> list[tuple[str, str, str]]:
    """Return the entries of drawn layers that do something else by one way than by the other."""
    engine = two_layers(random.Random(seed))
    exchanges = Exchanges(engine)
    other: list[tuple[str, str, str]] = []
    entries: list[Rule | Withdraw] = [rule for rule in engine.rules if rule.replaces]
    for entry in entries + list(engine.withdrawals):
        whole, searched = doing._compared(engine, entry), doing._searched(engine, entry, exchanges)
        if whole.does != searched.does or bool(searched.differences) != (searched.does != "nothing"):
            went = exchanges.of(entry).went
            if went is not None and went.set.get("machine") == "never" and searched.does == "both":
                continue  # also asks something by machine where all was done by hand before
            other.append((whole.rule, whole.does, searched.does))
    return other


@pytest.mark.parametrize("seed", [1, 2])
def test_one_case_of_each_kind_says_what_a_whole_comparison_does(seed: int) -> None:
    """Laxer, stricter, both, words or nothing; more seeds in tests/long."""
    assert told_otherwise(seed) == []


def own(name: str, replaces: str | None = None, when: dict[str, Any] | None = None, **sets: object) -> Any:
    """Write a rule that sets something, and what it replaces."""
    written = {"id": name, "says": "x", "when": when or {}, "set": sets, "source": "x"}
    return written | ({"replaces": replaces} if replaces else {})


def done(*rules: dict[str, Any], withdraw: str = "", base: tuple[dict[str, Any], ...] = ()) -> list[Any]:
    """Return the word for each replacement or withdrawal over a layer of some rules."""
    layer = {"rule": list(rules), "withdraw": [{"rule": withdraw, "because": "x"}] if withdraw else []}
    engine = over({"rule": list(base)}, layer)
    exchanges = Exchanges(engine)
    entries: list[Rule | Withdraw] = [rule for rule in engine.rules if rule.replaces]
    found = []
    for entry in entries + list(engine.withdrawals):
        doing_ = doing._searched(engine, entry, exchanges)
        assert doing_.does == doing._compared(engine, entry).does
        assert bool(doing_.differences) == (doing_.case is not None) == (doing_.does != "nothing")
        found.append((doing_.rule, doing_.does))
    return found


NO_BED = own("below", wet_bed="no")
GRADED = own("below", notes=["Lamp."], finish_target="P1200")
SAYS = own("again", notes=["Lamp."])
FINE: dict[str, Any] = {"flake": "vapour"}
LAMP, HOLDING = own("below", notes=["Lamp."]), own("below", None, FINE, holds=["Wait."])

OVER_WORD = own("below", None, {"flake": ">= fine"}, finish_target="P1200", notes=["Lamp."])
TIGHTER = [("b", "tightens")]


CHANGES: list[tuple[tuple[Any, ...], str, tuple[Any, ...], list[tuple[str, str]]]] = [
    # what a rule asked that holds without any rule is not missed, and not new
    ((), "below", (NO_BED,), [("below", "nothing")]),
    ((own("b", "below", wet_bed="no"),), "", (own("below", notes=["x"]),), [("b", "words")]),
    # the text stays, since another rule says it; the grade goes
    ((), "below", (GRADED, SAYS), [("below", "loosens")]),
    ((own("b", "below", finish_target="P1200", notes=["Lamp."]),), "", (GRADED,), [("b", "nothing")]),
    ((own("b", "below", finish_target="P1200"),), "", (GRADED, SAYS), [("b", "nothing")]),
    ((own("b", "below", finish_target="P1500"),), "", (GRADED, SAYS), [("b", "tightens")]),
    ((own("b", "below", FINE, finish_target="P1200"),), "", (GRADED, SAYS), [("b", "loosens")]),
    ((own("b", "below", FINE, finish_target="P1500"),), "", (GRADED, SAYS), [("b", "both")]),
    # the same in more cases than before
    (
        (own("b", "below", finish_target="P1500"),),
        "",
        (own("below", None, FINE, finish_target="P1500"),),
        [("b", "tightens")],
    ),
    # another text
    ((own("b", "below", finish_target="P1200", notes=["Look."]),), "", (GRADED, SAYS), [("b", "words")]),
    (
        (own("b", "below", FINE, notes=["Look."]),),
        "",
        (own("below", notes=["Lamp."]), SAYS),
        [("b", "words")],
    ),
    # of two that replace one rule, neither alone takes anything away
    (
        (own("b", "below", notes=["Look."]), own("c", "below", FINE, notes=["Look."])),
        "",
        (own("below", finish_target="P1200"),),
        [("b", "words"), ("c", "nothing")],
    ),
    (
        (own("b", "below", finish_target="P1500"), own("c", "below", FINE, finish_target="P1500")),
        "",
        (GRADED, SAYS),
        [("b", "tightens"), ("c", "nothing")],
    ),
    # a hold that came or went, beside a grade that stays or goes; words beside it do not count then
    ((own("b", "below", holds=["Wait."], notes=["Look."]),), "", (own("below", notes=["x"]),), TIGHTER),
    ((own("b", "below", FINE, holds=["Wait."]),), "", (GRADED, SAYS), [("b", "both")]),
    ((own("b", "below", FINE, finish_target="P1200"),), "", (OVER_WORD,), [("b", "loosens")]),
    # a hold stays where nobody says what guards instead
    (
        (own("b", "below", notes=["Stop."]),),
        "",
        (own("below", None, FINE, holds=["Wait."]),),
        [("b", "words")],
    ),
]


@pytest.mark.parametrize(("rules", "withdraw", "base", "expected"), CHANGES)
def test_what_two_rules_that_change_hands_come_to_is_said_plainly(
    rules: tuple[Any, ...], withdraw: str, base: tuple[Any, ...], expected: list[tuple[str, str]]
) -> None:
    """Nothing, words, laxer, stricter or both, with a case that shows it; as a whole comparison says."""
    assert done(*rules, withdraw=withdraw, base=base) == expected
