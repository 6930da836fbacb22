"""Outputs: how the answers of several rules become one, and that only order-free combinations are used."""

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import CATEGORIES, CATEGORY, Facts
from prepadvisor.records import GRADES, OutputName
from prepadvisor.standards import read_set
from prepadvisor.standards.engine import NUMBER_RANGES, OUTPUTS, Setting


def settings_of(name: OutputName) -> st.SearchStrategy[Setting]:
    """Draw a value that a rule may set for an output."""
    output = OUTPUTS[name]
    if output.is_grade:
        return st.sampled_from(GRADES)
    if output.words:
        return st.sampled_from(output.words)
    if output.is_number:
        low, high = NUMBER_RANGES[name]
        return st.integers(int(low), int(high)) if output.whole else st.floats(low, high)
    return st.lists(st.sampled_from(["a", "b", "c"]), min_size=1).map(lambda texts: tuple(sorted(set(texts))))


@pytest.mark.parametrize("name", OUTPUTS)
@settings(max_examples=40)
@given(data=st.data())
def test_combining_is_a_semilattice(name: OutputName, data: st.DataObject) -> None:
    """Combining is commutative, associative and idempotent, so no order can matter."""
    output = OUTPUTS[name]
    one, two, three = (data.draw(settings_of(name)) for _ in range(3))
    both, rest = output.combine([one, two]), output.combine([two, three])
    assert both is not None
    assert rest is not None
    assert both == output.combine([two, one])
    assert output.combine([both, three]) == output.combine([one, rest])
    assert output.combine([one, one]) == one


@pytest.mark.parametrize("name", OUTPUTS)
@settings(max_examples=40)
@given(data=st.data())
def test_one_more_rule_only_tightens(name: OutputName, data: st.DataObject) -> None:
    """The combined value is never weaker than any of those that went in."""
    output = OUTPUTS[name]
    values = data.draw(st.lists(settings_of(name), min_size=1, max_size=5))
    combined = output.combine(values)
    assert combined is not None
    if output.is_union:
        assert isinstance(combined, tuple)
        assert all(set(value) <= set(combined) for value in values if isinstance(value, tuple))
    else:
        assert all(output.strength(combined) >= output.strength(value) for value in values)


@pytest.mark.parametrize(
    ("name", "values", "combined"),
    [
        ("finish_coarsest", ["P800", "P1000", "P600"], "P1000"),
        ("finish_target", ["P800", "P1000"], "P1000"),
        ("hand_coarsest", ["P600", "P500"], "P600"),
        ("hand_last_coarsest", ["P1200", "P1500"], "P1500"),
        ("finish_finest", ["P1500", "P1000", "P1200"], "P1000"),
        ("risk_limit", [0.35, 0.25, 0.5], 0.25),
        ("bed_coats_max", [3, 2], 2),
        ("film_off_max_um", [10.0, 5.0], 5.0),
        ("step_ratio_min", [0.4, 0.6], 0.6),
        ("film_left_min_um", [80.0, 90.0], 90.0),
        ("wet_bed", ["advised", "no", "required"], "required"),
        ("guide_coat", ["after-hand", "before-final"], "after-hand"),
        ("guide_coat", ["after-hand", "every-change"], "every-change"),
        ("machine", ["interface-pad", "any"], "interface-pad"),
        ("machine", ["interface-pad", "never"], "never"),
        ("holds", [("b",), ("a", "b")], ("a", "b")),
    ],
)
def test_the_tightest_answer_wins(name: OutputName, values: list[Setting], combined: Setting) -> None:
    """Each output combines in its own direction."""
    assert OUTPUTS[name].combine(values) == combined


@pytest.mark.parametrize("name", OUTPUTS)
def test_no_rule_leaves_an_output_unset(name: OutputName) -> None:
    """Without any rule a decision holds what its record starts with."""
    assert OUTPUTS[name].combine([]) == OUTPUTS[name].unset


def test_the_union_outputs_have_no_strength() -> None:
    """Texts are gathered, not ranked."""
    with pytest.raises(ValueError, match="no strength"):
        OUTPUTS["holds"].strength(("a",))


CUT_OFF = {"filler", "feather-edge", "primed-plastic"}
"""Surfaces whose film no gauge tells."""


def is_read(name: str, case: Facts) -> bool:
    """Say whether card or gate read an output of a case, by the words of the guide to rules."""
    machine, line = case.reach == "machine", case.feature not in ("face", "patch")
    grounds = {"aged-clear", "cured-clear", "primer-surfacer", "sealer", "primed-plastic"}
    shown = case.zone != "clear" and case.next == "base" and case.flake != "solid" and case.seen
    where = {
        "finish_coarsest": machine,
        "hand_coarsest": machine and line,
        "hand_last_coarsest": not machine,
        "risk_limit": shown and case.surface in grounds,
        "film_off_max_um": case.surface not in CUT_OFF,
        "film_left_min_um": (
            case.feature == "face" and case.film_um is not None and case.surface not in CUT_OFF
        ),
        "guide_coat": machine,
        "machine": machine,
    }
    return where.get(name, True)


def test_an_output_is_read_where_the_work_asks_for_it() -> None:
    """Tried over every value of the facts that this hangs on."""
    facts = ("surface", "next", "feature", "reach", "seen", "zone", "flake")
    draw = random.Random(8)
    for _ in range(1500):
        stated: dict[str, Any] = {fact: draw.choice(CATEGORIES[CATEGORY[fact]].values) for fact in facts}
        case = Facts()._replace(film_um=draw.choice((None, 0.0, 95.0)), **stated)
        for name, output in OUTPUTS.items():
            assert output.read.holds(case) == is_read(name, case), (name, case)


def test_a_number_may_be_set_from_its_least_to_its_most() -> None:
    """Both included, and nothing beyond; coats in whole ones."""
    spans: dict[str, tuple[float, float, float]] = {
        "risk_limit": (0, 1, 0.001), "bed_coats_max": (0, 10, 1), "bed_coats_min": (0, 10, 1),
        "film_off_max_um": (0, 1000, 0.5), "film_left_min_um": (0, 5000, 0.5),
        "step_ratio_min": (0, 1, 0.001),
    }  # fmt: skip
    assert set(spans) == {name for name, output in OUTPUTS.items() if output.is_number}
    for name, (least, most, more) in spans.items():
        for value, wrong in ((least, 0), (most, 0), (least - more, 1), (most + more, 1)):
            assert len(read_set({name: value}, ())[1]) == wrong, (name, value)
    assert {name for name in spans if OUTPUTS[name].whole} == {"bed_coats_max", "bed_coats_min"}  # type: ignore[index]
