"""The standards against a rule package, as ratios within one run: python tests/benchmarks/bench_peer.py.

The peer is datalogic-py (`pip install datalogic-py`; for this script only): JSON logic compiled once to a
native core, the fastest general rule engine found among packages that install from the index. It is given the
same rules and the same cases, and asked only which rules a case meets; combining their values and telling the
reasons, which the standards do within their time, is spared it. It is measured in its own fastest way: in a
session that keeps its memory, and for many cases in its native batch. First both must agree on which rules
each of some cases meets.
"""

import random
import sys
from collections.abc import Callable
from importlib import import_module
from math import inf
from time import perf_counter
from typing import Any

import numpy as np

from prepadvisor.cases import CATEGORIES, CATEGORY, Facts
from prepadvisor.files import load_house
from prepadvisor.standards.engine import Engine, Interval, Rule

CASES = 60_000
COMPARED = 2_000
ROWS = 500_000
ROUNDS = 5


def some_cases(count: int) -> list[Facts]:
    """Draw cases over all categories, with film unknown, thin, usual or thick."""
    draw = random.Random(2)
    film = (None, 80.0, 120.0, 350.0)
    return [
        Facts._make([*(draw.choice(fact.values) for fact in CATEGORIES), draw.choice(film), None, None])
        for _ in range(count)
    ]


def in_json_logic(rule: Rule) -> Any:
    """Write where a rule applies as JSON logic: each fact in a list of values, or a number in a range."""
    parts: list[Any] = []
    for fact in rule.when.asked:
        asked = {"var": fact}
        if fact in CATEGORY:
            allowed = list(rule.when.values(fact))
            parts.append({"===": [asked, allowed[0]]} if len(allowed) == 1 else {"in": [asked, allowed]})
        elif range_ := rule.when.range_of(fact):
            parts += [{"!==": [asked, None]}, *_in_range(asked, range_)]
    return {"and": parts} if len(parts) > 1 else parts[0] if parts else True


def _in_range(asked: Any, range_: Interval) -> list[Any]:
    low = {">=" if range_.low_closed else ">": [asked, range_.low]}
    return [low] if range_.high == inf else [low, {"<=" if range_.high_closed else "<": [asked, range_.high]}]


def seconds_each(work: Callable[[], object], count: int) -> float:
    """Return the seconds one of `count` takes."""
    start = perf_counter()
    work()
    return (perf_counter() - start) / count


def main() -> None:
    """Check that both agree, then print the ratios, the best of some rounds each."""
    try:
        peer: Any = import_module("datalogic_py")
    except ImportError:
        sys.exit("to compare, run: pip install datalogic-py")
    rules = load_house().engine.rules
    cases = some_cases(CASES)
    stated = [case._asdict() for case in cases]
    native = peer.Engine()
    compiled, session = native.compile([in_json_logic(rule) for rule in rules]), native.session()
    engine = Engine(rules)
    for case, facts in zip(cases[:COMPARED], stated, strict=False):
        met = [rule for rule, meets in zip(rules, session.evaluate(compiled, facts), strict=True) if meets]
        if tuple(met) != engine.meeting(case):
            raise RuntimeError(f"peer and standards differ for {case}")

    def ours() -> None:
        fresh = Engine(rules)  # so that working out each answer once is counted
        for case in cases:
            fresh.decide(case)

    draw = np.random.default_rng(1)
    columns = {fact.name: draw.integers(0, len(fact.values), ROWS) for fact in CATEGORIES}
    handles = [peer.DataHandle(facts) for facts in stated]
    took: dict[str, list[float]] = {}
    for _ in range(ROUNDS):
        for name, work, count in (
            ("ours", ours, CASES),
            ("peer", lambda: [session.evaluate(compiled, facts) for facts in stated], CASES),
            ("our sweep", lambda: engine.sweep(columns), ROWS),
            ("peer batch", lambda: session.evaluate_batch(compiled, handles), CASES),
        ):
            took.setdefault(name, []).append(seconds_each(work, count))
    best = {name: min(times) for name, times in took.items()}
    print(f"{len(rules)} rules; a second: " + ", ".join(f"{name} {1 / t:,.0f}" for name, t in best.items()))
    print(f"one decision with its reasons {best['peer'] / best['ours']:.1f} × the peer, goal 4")
    print(f"a sweep {best['peer batch'] / best['our sweep']:.0f} × the peer's batch, goal 60")


if __name__ == "__main__":
    main()
