"""How fast the standards decide, as ratios within one run: against a plain loop over the same rules.

Run by itself: `python tests/benchmarks/bench_engine.py`. The peer is the loop that one would write first: for
every case go through all rules, look at each condition, keep the tightest value and who gave it.
"""

import random
import sys
from collections.abc import Callable
from time import perf_counter
from typing import Any, NamedTuple

import numpy as np

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER, Facts
from prepadvisor.files import load_house
from prepadvisor.records import Reason
from prepadvisor.standards.engine import OUTPUTS, Engine, Rule

CASES = 60_000
ROWS = 300_000


class Ratios(NamedTuple):
    """How many times as fast as the plain loop, and the loop's own decisions a second."""

    one_by_one: float
    swept: float
    loop_per_second: float


def some_cases(count: int) -> list[Facts]:
    """Draw cases over all categories, with film unknown, thin, usual or thick."""
    draw = random.Random(1)
    film = (None, 80.0, 120.0, 350.0)
    return [
        Facts._make([*(draw.choice(fact.values) for fact in CATEGORIES), draw.choice(film), None, None])
        for _ in range(count)
    ]


def plain_rules(rules: tuple[Rule, ...]) -> list[tuple[dict[int, frozenset[object]], dict[int, Any], Rule]]:
    """Write each rule as a dict of allowed values, as a plain loop would have it."""
    return [
        (
            {
                FACTS.index(fact): frozenset(rule.when.values(fact))
                for fact in rule.when.asked
                if fact in CATEGORY
            },
            {FACTS.index(fact): rule.when.range_of(fact) for fact in rule.when.asked if fact in NUMBER},
            rule,
        )
        for rule in rules
    ]


def plain_decision(
    rules: list[tuple[dict[int, frozenset[object]], dict[int, Any], Rule]], case: Facts
) -> list[Reason]:
    """Go through the rules one by one and return the deciding ones."""
    best: dict[str, tuple[float, list[Reason]]] = {}
    for allowed, ranges, rule in rules:
        if all(case[fact] in values for fact, values in allowed.items()) and all(
            range_.holds(case[fact]) for fact, range_ in ranges.items()
        ):
            for name, value in rule.set.items():
                output = OUTPUTS[name]
                strength = 0.0 if output.is_union else output.strength(value)
                reason = Reason(
                    name, str(value), rule.id, rule.layer, rule.file, rule.line, rule.says, rule.source
                )
                known = best.get(name)
                if known is None or strength > known[0]:
                    best[name] = (strength, [reason])
                elif strength == known[0]:
                    known[1].append(reason)
    return [reason for _, reasons in best.values() for reason in reasons]


def per_second(work: Callable[[], object], count: int) -> float:
    """Return how many are done a second, the best of three runs."""
    times = []
    for _ in range(3):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return count / min(times)


def measured() -> Ratios:
    """Time the plain loop, single decisions with reasons and a sweep, on the shipped rules.

    Single decisions start from an engine just compiled, so that finding each answer once is counted.
    """
    rules = load_house().engine.rules
    cases, plain = some_cases(CASES), plain_rules(rules)
    few = cases[: CASES // 20]
    loop = per_second(lambda: [plain_decision(plain, case) for case in few], len(few))

    def from_nothing() -> None:
        engine = Engine(rules)
        for case in cases:
            engine.decide(case)

    one = per_second(from_nothing, CASES)
    engine = Engine(rules)
    draw = np.random.default_rng(1)
    columns = {fact.name: draw.integers(0, len(fact.values), ROWS) for fact in CATEGORIES}
    swept = per_second(lambda: engine.sweep(columns), ROWS)
    return Ratios(one / loop, swept / loop, loop)


if __name__ == "__main__":
    ratios = measured()
    sys.stdout.write(
        f"plain loop {ratios.loop_per_second:,.0f}/s; single decisions {ratios.one_by_one:.0f} times that, "
        f"a sweep {ratios.swept:.0f} times\n"
    )
