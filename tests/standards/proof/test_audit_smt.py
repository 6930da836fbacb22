"""The audit against an SMT solver: gaps, collisions and dead rules of random standards over many facts.

Outside: z3 (de Moura & Bjørner 2008) decides the same statements from the rules as formulas, another way.
Films are real numbers there, with a flag for one that is not known.
"""

import random
from collections.abc import Sequence
from typing import Any, Final

import pytest
import z3

from prepadvisor.cases import CATEGORIES, NUMBERS
from prepadvisor.records import OutputName, is_finer
from prepadvisor.standards import audit
from prepadvisor.standards.engine import OUTPUTS, Box, Engine, Impossible, Interval, Rule, box_of, grade_set

SEEDS: Final = range(8)
"""Hundreds of seeds were run by hand; the suite runs few, as a solver takes its time."""
LINES: Final = ("edge", "body-line", "wheel-arch", "flange", "recess", "cut-out", "run-on")
GRADES: Final = ("P500", "P600", "P800", "P1000", "P1200")
CASE: Final = {category.name: z3.Int(category.name) for category in CATEGORIES}
NUMBER: Final = {number.name: z3.Real(number.name) for number in NUMBERS}
KNOWN: Final = {number.name: z3.Bool(f"{number.name} known") for number in NUMBERS}


def drawn_box(random_: random.Random, most: int) -> Box:
    """Draw a box that limits a few facts."""
    allowed, ranges = {}, {}
    for category in random_.sample(CATEGORIES, random_.randint(0, most)):
        allowed[category.name] = tuple(
            random_.sample(category.values, random_.randint(1, len(category.values)))
        )
    for number in NUMBERS:
        if random_.random() < 0.2:
            low, high = sorted(random_.sample((0.0, 1.0, 2.5, 90.0, 300.0), 2))
            ranges[number.name] = Interval(low, random_.random() < 0.5, high, random_.random() < 0.5)
    return box_of(allowed, ranges)


_BOUNDS: tuple[OutputName, ...] = (
    "finish_coarsest", "finish_finest", "hand_coarsest", "hand_last_coarsest",
)  # fmt: skip
_REACHED: tuple[tuple[OutputName, str], ...] = (
    ("finish_coarsest", "machine"),
    ("hand_last_coarsest", "hand"),
)


def drawn_standards(seed: int) -> Engine:
    """Draw standards; of some seeds they have rules for everything, of some no rules that collide."""
    random_ = random.Random(seed)
    rules = []
    for number in range(14):
        outputs = random_.sample(_BOUNDS, 2)
        coarse, fine = (GRADES[:3], GRADES[2:]) if seed % 2 else (GRADES, GRADES)
        setting: dict[OutputName, Any] = {
            output: random_.choice(fine if output == "finish_finest" else coarse) for output in outputs
        }
        if random_.random() < 0.25:
            setting["holds"] = ("Not here.",)
        box = drawn_box(random_, most=0 if number < 2 and seed % 3 else 3)
        rules.append(Rule(f"r{number}", "Says.", box, setting, "practice"))
    impossible = [Impossible(drawn_box(random_, most=2), "Cannot be.") for _ in range(2)]
    return Engine(rules, [entry for entry in impossible if entry.when.asked])


def inside(box: Box) -> Any:
    """Return the formula of a box, read from its definition."""
    parts = []
    for category in CATEGORIES:
        values = box.values(category.name)
        parts.append(z3.Or([CASE[category.name] == category.values.index(value) for value in values]))
    for number in NUMBERS:
        limits, value = box.range_of(number.name), NUMBER[number.name]
        if limits is None:
            continue
        above = value >= limits.low if limits.low_closed else value > limits.low
        below = value <= limits.high if limits.high_closed else value < limits.high
        parts.append(z3.And(KNOWN[number.name], above, below))
    return z3.And(parts)


def possible(engine: Engine) -> Any:
    """Return the formula of the cases that can be."""
    parts: list[Any] = [z3.Not(inside(entry.when)) for entry in engine.impossibles]
    parts += [z3.And(CASE[each.name] >= 0, CASE[each.name] < len(each.values)) for each in CATEGORIES]
    return z3.And([*parts, *(value >= 0 for value in NUMBER.values())])


def living(engine: Engine) -> Any:
    """Return the formula of the cases that a card meets and no rule holds, restated from the contract."""
    area = is_one_of("feature", ["face", "patch"])
    fine = is_one_of("flake", ["very-fine", "vapour"])
    parts = [
        possible(engine),
        z3.Not(met(engine, "holds")),
        z3.Implies(is_one_of("stages", [3]), fine),
        z3.Implies(area, z3.And(is_one_of("reach", ["machine"]), is_one_of("seen", [True]))),
        z3.Implies(is_one_of("role", ["clear-only"]), is_one_of("zone", ["clear"])),
        KNOWN["length_mm"] == z3.Not(area),
        KNOWN["panel_m2"],
    ]
    return z3.And(parts)


def satisfiable(*formulas: Any) -> bool:
    """Ask the solver whether some case meets all formulas."""
    solver = z3.Solver()
    solver.add(*formulas)
    answer = solver.check()
    assert answer != z3.unknown
    return bool(answer == z3.sat)


def is_one_of(fact: str, values: Sequence[object]) -> Any:
    """Return the formula that a fact has one of some values."""
    domain = next(category.values for category in CATEGORIES if category.name == fact)
    return z3.Or([CASE[fact] == domain.index(value) for value in values])


def met(engine: Engine, output: OutputName) -> Any:
    """Return the formula that some rule sets an output."""
    return z3.Or([inside(rule.when) for rule in engine.rules if output in rule.set])


def kinds(engine: Engine) -> set[str]:
    """Return the kinds of findings."""
    return {finding.kind for finding in audit(engine).findings}


@pytest.mark.parametrize("seed", SEEDS)
def test_there_is_a_gap_exactly_if_the_solver_finds_one(seed: int) -> None:
    """A possible case without a hold and without a bound it needs."""
    engine = drawn_standards(seed)
    machine, hand = is_one_of("reach", ["machine"]), is_one_of("reach", ["hand"])
    lacks = z3.Or(
        z3.Not(met(engine, "finish_finest")),
        z3.And(machine, z3.Not(met(engine, "finish_coarsest"))),
        z3.And(hand, z3.Not(met(engine, "hand_last_coarsest"))),
        z3.And(machine, is_one_of("feature", LINES), z3.Not(met(engine, "hand_coarsest"))),
    )

    assert ("gap" in kinds(engine)) == satisfiable(living(engine), lacks)


@pytest.mark.parametrize("seed", SEEDS)
def test_two_rules_collide_exactly_if_the_solver_says_so(seed: int) -> None:
    """A possible case that a rule and a key limit coarser than it both meet."""
    engine = drawn_standards(seed)
    contradictions = [
        z3.And(inside(fine.when), inside(key.when), is_one_of("reach", [reach]))
        for output, reach in _REACHED
        for fine in engine.rules
        for key in engine.rules
        if output in fine.set
        and "finish_finest" in key.set
        and is_finer(grade_set(fine, output), grade_set(key, "finish_finest"))
    ]

    assert ("collision" in kinds(engine)) == satisfiable(living(engine), z3.Or(contradictions))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rule_is_dead_exactly_if_the_solver_finds_no_case_that_changes_without_it(seed: int) -> None:
    """No possible case where the rule is met and no other gives an answer at least as strict."""
    engine = drawn_standards(seed)
    findings = [finding for finding in audit(engine).findings if finding.kind == "dead"]
    named = {rule for finding in findings for rule in set(finding.rules) - set(finding.shadows)}

    idle = set()
    for rule in engine.rules:
        here = z3.And(possible(engine), inside(rule.when))
        alone = [satisfiable(here, z3.Not(matched(engine, rule, output))) for output in rule.set]
        if not any(alone) and satisfiable(here):
            idle.add(rule.id)

    assert named == idle


def matched(engine: Engine, rule: Rule, output: OutputName) -> Any:
    """Return the formula that another rule answers an output the same or more strictly."""
    known = OUTPUTS[output]
    return z3.Or(
        [
            inside(other.when)
            for other in engine.rules
            if other is not rule
            and output in other.set
            and (known.is_union or known.strength(other.set[output]) >= known.strength(rule.set[output]))
        ]
    )
