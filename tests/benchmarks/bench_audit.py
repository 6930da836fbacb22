"""How long the exact audit takes on the base and on generated houses: python tests/benchmarks/bench_audit.py.

Numbers after it are counts of generated rules (500 and 5000). A generated rule limits two to five facts and
sets one or two outputs, all at random, so that most contradict some other: harder than what a shop writes.
Then 2,000 rules whose ranges of numbers are scattered, so that the axes have thousands of values.
"""

import random
import sys
import time
from collections.abc import Sequence
from typing import Any, Final

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS
from prepadvisor.files import load_house
from prepadvisor.records import Grade, OutputName
from prepadvisor.standards import audit, compare
from prepadvisor.standards.engine import Box, Engine, Interval, Rule, Setting, box_of

GOALS_S: Final = {0: 1.0, 500: 5.0, 5000: 20.0}
SCATTERED: Final = 2000
SCATTERED_GOAL_S: Final = 5.0
NUMBERS: Final = {"film_um": (60.0, 400.0), "length_mm": (50.0, 2500.0), "panel_m2": (0.1, 3.0)}
GRADE_OUTPUTS: Final[tuple[OutputName, ...]] = (
    "finish_coarsest",
    "finish_finest",
    "finish_target",
    "hand_coarsest",
    "hand_last_coarsest",
)
GRADES: Final = tuple(map(Grade, ("P600", "P800", "P1000", "P1200", "P1500")))
SETTINGS: Final[dict[OutputName, tuple[Setting, ...]]] = {
    "finish_coarsest": GRADES,
    "finish_target": GRADES,
    "finish_finest": (Grade("P1200"), Grade("P1500")),
    "hand_coarsest": GRADES,
    "hand_last_coarsest": GRADES,
    "risk_limit": (0.1, 0.15, 0.2, 0.25),
    "wet_bed": ("advised", "required"),
    "guide_coat": ("before-final", "after-hand", "every-change"),
    "machine": ("interface-pad", "never"),
    "film_off_max_um": (3.0, 4.0, 6.0, 8.0),
}


def generated_box(draw: random.Random) -> Box:
    """Return a box that limits two to five facts."""
    allowed: dict[str, Any] = {}
    ranges = {}
    for fact in draw.sample(FACTS, draw.randint(2, 5)):
        if fact in NUMBERS:
            low = round(draw.uniform(*NUMBERS[fact]), 1)
            kinds = (Interval(low), Interval(0.0, True, low, False), Interval(low, True, 1.5 * low, True))
            ranges[fact] = draw.choice(kinds)
            continue
        category = CATEGORIES[CATEGORY[fact]]
        if category.ordered and draw.random() < 0.5:
            allowed[fact] = category.values[draw.randrange(len(category.values)) :]
        else:
            most = max(1, len(category.values) // 3)
            allowed[fact] = tuple(draw.sample(category.values, draw.randint(1, most)))
    return box_of(allowed, ranges)


def generated(count: int, seed: int = 1) -> list[Rule]:
    """Return rules of a generated house."""
    draw = random.Random(seed)
    rules = []
    for number in range(count):
        outputs = draw.sample(sorted(SETTINGS), draw.choice((1, 1, 1, 2)))
        setting = {output: draw.choice(SETTINGS[output]) for output in outputs}
        rules.append(Rule(f"house-{number}", "Generated.", generated_box(draw), setting, "practice", "house"))
    return rules


def scattered(
    count: int, facts: Sequence[str], seed: int = 3, outputs: Sequence[OutputName] = ()
) -> list[Rule]:
    """Return rules that each set one output within a range of its own of each of some numbers."""
    draw = random.Random(seed)
    rules = []
    for number in range(count):
        ranges = {}
        for fact in facts:
            low, high = NUMBERS[fact]
            start = draw.uniform(low, high)
            ranges[fact] = Interval(start, True, start + draw.uniform(0.02, 0.4) * (high - low), False)
        output = draw.choice(sorted(outputs or SETTINGS))
        setting = {output: draw.choice(SETTINGS[output])}
        rules.append(Rule(f"house-{number}", "Generated.", box_of({}, ranges), setting, "practice", "house"))
    return rules


def mixed(count: int, seed: int = 4) -> list[Rule]:
    """Return scattered rules that also limit one to three categories at random."""
    draw = random.Random(seed)
    names = [fact for fact in FACTS if fact in CATEGORY and not CATEGORIES[CATEGORY[fact]].is_open]
    rules = []
    for rule in scattered(count, tuple(NUMBERS), seed):
        allowed = {}
        for fact in draw.sample(names, draw.randint(1, 3)):
            values = CATEGORIES[CATEGORY[fact]].values
            allowed[fact] = tuple(draw.sample(list(values), draw.randint(1, max(1, len(values) * 2 // 3))))
        ranges = {fact: rule.when.range_of(fact) for fact in draw.sample(list(NUMBERS), draw.randint(1, 3))}
        rules.append(rule._replace(when=box_of(allowed, {k: v for k, v in ranges.items() if v is not None})))
    return rules


def of_three(count: int, seed: int = 11) -> list[Rule]:
    """Return rules as of `mixed` that each set up to three outputs."""
    draw = random.Random(seed)
    rules = []
    for rule in mixed(count, seed):
        outputs = draw.choices(sorted(SETTINGS), k=3)
        rules.append(rule._replace(set={output: draw.choice(SETTINGS[output]) for output in outputs}))
    return rules


def main() -> None:
    """Time the audit of the base alone, then with generated rules, and the comparison of both."""
    base = load_house().engine
    counts = [0, *(int(word) for word in sys.argv[1:] or ("500", "5000"))]
    for count in counts:
        engine = Engine([*base.rules, *generated(count)], base.impossibles, promises=base.promises)
        start = time.process_time()
        found = audit(engine)
        took = time.process_time() - start
        goal = f" (goal {GOALS_S[count]:g} s)" if count in GOALS_S else ""
        print(f"base + {count:>5} rules: {took:6.2f} s{goal}, {len(found.findings)} findings")
    loads = {
        f"scattered {', '.join(facts)}": scattered(SCATTERED, facts)
        for facts in (("film_um",), tuple(NUMBERS))
    }
    loads["scattered numbers on grades"] = scattered(SCATTERED, tuple(NUMBERS), outputs=GRADE_OUTPUTS)
    loads["scattered numbers on one output"] = scattered(SCATTERED, tuple(NUMBERS), outputs=GRADE_OUTPUTS[:1])
    loads["scattered numbers and random categories"] = mixed(SCATTERED)
    loads["the same, up to three outputs each"] = of_three(SCATTERED)
    for says, rules in loads.items():
        engine = Engine([*base.rules, *rules], base.impossibles, promises=base.promises)
        start = time.process_time()
        found = audit(engine)
        took = time.process_time() - start
        start = time.process_time()
        compare(base, engine)
        compared = time.process_time() - start
        unsure = " (not all judged)" if found.not_judged else ""
        print(
            f"base + {SCATTERED} rules with {says}: {took:6.2f} s (goal {SCATTERED_GOAL_S:g} s), "
            f"{len(found.findings)} findings{unsure}; "
            f"compared with the base in {compared / took:.2f} × that (goal 2)"
        )
    start = time.process_time()
    changed = compare(base, Engine([*base.rules, *generated(counts[1])], base.impossibles))
    took = time.process_time() - start
    print(f"compare base, base + {counts[1]} rules: {took:6.2f} s, {len(changed.changes)} changes")


if __name__ == "__main__":
    main()
