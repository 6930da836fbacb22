"""Outputs: how the answers of several rules become one, and that only order-free combinations are used."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.records import GRADES, OutputName
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
