"""The audit against brute force: every case of small random standards, worked out without the program.

The outside here is the definition itself: each test tries all cases one by one and compares. Thousands of
examples were run by hand (raise `EXAMPLES`); the suite runs some hundred so that it stays quick.
"""

from math import inf
from types import SimpleNamespace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from prepadvisor.standards import Finding, audit
from prepadvisor.standards.engine import Promise

EXAMPLES = 70

Grid = NDArray[np.bool_]


def found(findings: tuple[Finding, ...], kind: str) -> list[Finding]:
    """Return the findings of one kind."""
    return [finding for finding in findings if finding.kind == kind]


def together(brute: SimpleNamespace, findings: list[Finding]) -> Grid:
    """Return the living cases in the boxes of the findings."""
    inside: Grid = np.zeros(brute.shape, np.bool_)
    for finding in findings:
        inside |= brute.box(finding.limits)
    inside &= brute.living
    return inside


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_gaps_are_the_cases_without_a_bound_or_a_hold(small: SimpleNamespace, data: st.DataObject) -> None:
    """The boxes of all gaps together are exactly the cases that a look at each case finds."""
    drawn = data.draw(small.standards(machine=True))
    brute = small.brute(drawn)
    outputs = brute.outputs()
    lacks = np.zeros(brute.shape, np.bool_)
    for output in ("finish_finest", "finish_coarsest", "hand_last_coarsest", "hand_coarsest"):
        lacks |= brute.read(output) & (outputs[output] == -inf)

    gaps = found(audit(drawn.engine()).findings, "gap")

    assert (together(brute, gaps) == lacks).all()


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_collisions_are_the_cases_without_a_grade_left(small: SimpleNamespace, data: st.DataObject) -> None:
    """The boxes of all collisions are exactly the cases whose coarse end is finer than the fine end."""
    drawn = data.draw(small.standards(machine=True))
    brute = small.brute(drawn)
    outputs = brute.outputs()
    machine = brute.box({"reach": ["machine"]})
    coarse_end = np.where(machine, outputs["finish_coarsest"], outputs["hand_last_coarsest"])
    fine_end = -outputs["finish_finest"]

    collisions = found(audit(drawn.engine()).findings, "collision")

    assert (together(brute, collisions) == ((coarse_end > fine_end) & brute.living)).all()


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_unreachable_rules_meet_no_possible_case(small: SimpleNamespace, data: st.DataObject) -> None:
    """A rule is called unreachable exactly if no possible case that a card meets lies in it."""
    drawn = data.draw(small.standards(machine=True))
    brute = small.brute(drawn)
    reached = brute.possible & brute.met_by_a_card()
    unmet = {rule.id for rule in brute.rules if not (brute.met[rule.id] & reached).any()}

    findings = found(audit(drawn.engine()).findings, "unreachable")

    assert {rule for finding in findings for rule in finding.rules} == unmet


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_dead_rules_change_no_output_when_taken_away(small: SimpleNamespace, data: st.DataObject) -> None:
    """A rule is called dead exactly if every output of every case is the same without it."""
    drawn = data.draw(small.standards(rules_most=9))
    brute = small.brute(drawn)
    whole = brute.outputs()
    idle = set()
    for rule in brute.rules:
        without = brute.outputs(without=rule.id)
        same = all((whole[name] == without[name])[brute.possible].all() for name in whole)
        reached = (brute.met[rule.id] & brute.possible).any()
        if same and reached and rule.set.keys() - {"cautions", "notes"}:
            idle.add(rule.id)

    findings = found(audit(drawn.engine()).findings, "dead")
    named = [rule for finding in findings for rule in finding.rules if rule not in finding.shadows]

    assert sorted(named) == sorted(idle)


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_a_dead_rule_is_dead_by_its_shadows_alone(small: SimpleNamespace, data: st.DataObject) -> None:
    """With only a dead rule, its twins and its shadows left, the rule still changes nothing."""
    drawn = data.draw(small.standards(rules_most=9))
    findings = found(audit(drawn.engine()).findings, "dead")

    for finding in findings:
        brute = small.brute(drawn)
        brute.rules = [rule for rule in brute.rules if rule.id in finding.rules]
        whole, without = brute.outputs(), brute.outputs(without=finding.rules[0])
        assert all((whole[name] == without[name])[brute.possible].all() for name in whole)


@settings(max_examples=EXAMPLES)
@given(data=st.data())
def test_twins_make_one_finding_that_names_both(small: SimpleNamespace, data: st.DataObject) -> None:
    """Two rules with the same cases and the same answers are told once."""
    drawn = data.draw(small.standards(rules_most=4))
    rule, condition = drawn.rules[0]
    twin = type(rule)("twin", rule.says, rule.when, rule.set, rule.source, file="b.toml", line=1)
    both = type(drawn)((*drawn.rules, (twin, condition)), drawn.impossible, drawn.promises)

    naming = [
        finding
        for finding in found(audit(both.engine()).findings, "dead")
        if {rule.id, "twin"} & (set(finding.rules) - set(finding.shadows))
    ]

    brute = small.brute(both)
    reached = (brute.met[rule.id] & brute.possible).any()
    expected = [True] if reached and rule.set.keys() - {"notes"} else []
    assert [{rule.id, "twin"} <= set(finding.rules) for finding in naming] == expected


def broken_steps(brute: SimpleNamespace, small: SimpleNamespace, promise: Promise, where: Grid) -> Grid:
    """Return the cases whose next possible neighbour up (or down) the fact has a laxer output."""
    assert promise.along
    axis = (*small.facts, "film_um").index(promise.along)
    grid = np.moveaxis(rank(brute, promise.output), axis, -1)
    can_be = np.moveaxis(where & brute.read(promise.output), axis, -1)
    broken = np.zeros_like(can_be)
    size = grid.shape[-1]
    first = 1 if promise.along == "film_um" else 0
    steps = range(first, size)
    for low in steps:
        open_ = can_be[..., low].copy()
        for high in steps[low - first + 1 :]:
            strict, lax = (high, low) if promise.falling else (low, high)
            here = open_ & can_be[..., high]
            broken[..., low] |= here & (grid[..., lax] < grid[..., strict])
            open_ &= ~can_be[..., high]
    return np.moveaxis(broken, -1, axis)


def rank(brute: SimpleNamespace, output: str) -> NDArray[np.float64]:
    """Return how fine, or else how strict, an output is; no bound is coarsest, or weakest."""
    grid = brute.outputs()[output]
    return np.where(grid == -inf, -inf, -grid) if output == "finish_finest" else grid


@settings(max_examples=2 * EXAMPLES)
@given(data=st.data())
def test_a_promise_is_broken_exactly_where_some_pair_of_cases_breaks_it(
    small: SimpleNamespace, data: st.DataObject
) -> None:
    """Each broken promise is told, no kept one is, and every box told holds nothing but broken cases."""
    drawn = data.draw(small.standards(machine=True))
    brute = small.brute(drawn)
    findings = found(audit(drawn.engine()).findings, "promise")

    for promise, condition in drawn.promises:
        where = brute.spread(condition)
        if promise.than:
            read = brute.read(promise.output) & brute.read(promise.than)
            broken = where & read & (rank(brute, promise.output) < rank(brute, promise.than))
        else:
            broken = broken_steps(brute, small, promise, where)
        boxes = [finding for finding in findings if finding.line == promise.line]
        assert bool(boxes) == broken.any()
        for finding in boxes:
            inside = brute.box(finding.limits) & brute.read(promise.output)
            if promise.than:
                assert (broken | ~(inside & brute.read(promise.than))).all()
            else:
                assert (broken & inside).any()
