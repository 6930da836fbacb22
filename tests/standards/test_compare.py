"""Comparing two standards against a cell-by-cell difference, worked out without the program."""

from math import inf
from types import SimpleNamespace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.standards.compare import Difference, compare
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.surface import grades

EXAMPLES = 60


def pair(
    small: SimpleNamespace, data: st.DataObject
) -> tuple[SimpleNamespace, SimpleNamespace, list[object]]:
    """Draw two standards that share some rules and all impossible cases, with the film readings of both."""
    one, other = data.draw(small.standards()), data.draw(small.standards(rules_most=4))
    kept = [entry for entry in one.rules if data.draw(st.booleans())]
    new = [(type(rule)(f"n{rule.id}", *rule_rest(rule)), condition) for rule, condition in other.rules]
    two = type(one)((*kept, *new), one.impossible, ())
    films = {film for drawn in (one, two) for film in drawn.films()}
    return one, two, [None, *sorted(film for film in films if film is not None)]


def rule_rest(rule: SimpleNamespace) -> tuple[object, ...]:
    """Return all of a rule but its id."""
    return (rule.says, rule.when, rule.set, rule.source, rule.layer, rule.file, rule.line)


def grid_name(difference: Difference) -> str:
    """Return the name that the brute-force grid has for a difference's output or text."""
    if OUTPUTS[difference.output].is_union:
        return f"{difference.output}: {difference.before or difference.after}"
    return difference.output


def grid_strength(small: SimpleNamespace, output: str, value: Setting | None) -> float:
    """Return the strength that the brute-force grid has for a value."""
    if OUTPUTS[output].is_union:
        return 0.0 if value is None else 1.0
    return -inf if value is None else float(small.strength_of(output, value))


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_the_changes_are_exactly_the_cells_that_differ(small: SimpleNamespace, data: st.DataObject) -> None:
    """For every output each cell with a difference lies in a box that tells it, and no other cell does."""
    one, two, films = pair(small, data)
    old, new = small.brute(one, films), small.brute(two, films)
    before, after = old.outputs(), new.outputs()
    told = {name: np.zeros(old.shape, np.bool_) for name in before}

    for change in compare(one.engine(), two.engine()).changes:
        inside = old.box(change.limits) & old.possible
        for difference in change.differences:
            name = grid_name(difference)
            told[name] |= inside
            first, last = (
                grid_strength(small, difference.output, value)
                for value in (difference.before, difference.after)
            )
            assert (before[name][inside] == first).all()
            assert (after[name][inside] == last).all()

    for name, cells in told.items():
        assert (cells == ((before[name] != after[name]) & old.possible)).all()


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_the_count_is_that_of_the_cells_that_differ_at_all(
    small: SimpleNamespace, data: st.DataObject
) -> None:
    """The share of changed cases is that of a grid cut at the same film readings."""
    one, two, _ = pair(small, data)
    cuts = small.film_pieces(one, two)
    old, new = small.brute(one, cuts), small.brute(two, cuts)
    before, after = old.outputs(), new.outputs()
    differs = sum((before[name] != after[name]) & old.possible for name in before) > 0

    found = compare(one.engine(), two.engine())

    assert found.cases * int(old.possible.sum()) == int(np.sum(differs)) * found.possible


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_standards_do_not_differ_from_themselves(small: SimpleNamespace, data: st.DataObject) -> None:
    """The same rules in another order, and with other ids, change nothing."""
    one = data.draw(small.standards())
    renamed = [(type(rule)(f"z{rule.id}", *rule_rest(rule)), condition) for rule, condition in one.rules]
    two = type(one)(tuple(reversed(renamed)), one.impossible, ())

    assert compare(one.engine(), two.engine()).changes == ()


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_the_largest_change_comes_first(small: SimpleNamespace, data: st.DataObject) -> None:
    """Changes run from the one with the most cases to the one with the fewest."""
    one, two, _ = pair(small, data)

    cases = [change.cases for change in compare(one.engine(), two.engine()).changes]

    assert cases == sorted(cases, reverse=True)


def test_a_tightened_rule_is_told_as_one_box_with_before_and_after(small: SimpleNamespace) -> None:
    """One rule from P800 to P1000 on one flake is one change, in the words of the rule."""
    condition = small.condition({"flake": ("fine",)}, None)
    before, after = (small.of_settings(condition, {"finish_coarsest": grade}) for grade in ("P800", "P1000"))

    (change,) = compare(before.engine(), after.engine()).changes

    assert (change.limits, change.differences) == (
        {"flake": ["fine"]},
        (Difference("finish_coarsest", "P800", "P1000"),),
    )
    assert grades.is_finer("P1000", "P800")
