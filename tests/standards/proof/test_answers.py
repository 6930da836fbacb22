"""The answers of an output as a diagram, against the engine; how little is stepped through on the way."""

import random
from typing import Any

import pytest

from prepadvisor.cases import ORDER, Facts
from prepadvisor.records import Grade, OutputName
from prepadvisor.standards.engine import OUTPUTS, Engine, Rule, Setting, box_of
from prepadvisor.standards.proof import answers as in_answers
from prepadvisor.standards.proof.answers import Answer, Answers
from prepadvisor.standards.proof.diagram import TooIntricateError
from prepadvisor.standards.proof.space import Space
from tests.standards.proof.test_axes_and_usual_cases import place_of
from tests.standards.proof.tiny import leads_to

VALUES: dict[str, tuple[Any, ...]] = {
    "special": ("none", "radar", "wrap"), "surface": ("aged-clear", "filler"), "flake": ("solid", "fine"),
    "zone": ("fade", "clear"), "tone": ("dark", "mid"),
}  # fmt: skip
SETTINGS: list[dict[OutputName, Setting]] = [
    {"finish_coarsest": Grade("P800")}, {"finish_coarsest": Grade("P1000")}, {"notes": ("Look.", "Lamp.")},
    {"finish_finest": Grade("P1200"), "notes": ("Look.",)}, {"wet_bed": "advised"}, {"risk_limit": 0.3},
]  # fmt: skip


def some_values(draw: random.Random, chance: float) -> dict[str, tuple[Any, ...]]:
    """Draw a condition on some facts."""
    return {
        fact: tuple(draw.sample(values, draw.randint(1, len(values))))
        for fact, values in VALUES.items()
        if draw.random() < chance
    }


def leaf_of(space: Space, node: int, case: Facts) -> int:
    """Follow a case down to its leaf; it lies in one set of values below each node."""
    places = tuple(place_of(space.axes, fact, getattr(case, fact)) for fact in ORDER)
    return leads_to(space.diagrams, node, places)


def test_the_answer_of_a_case_is_the_engines_with_all_rules_that_give_it() -> None:
    """Inside the box asked for; outside it a case leads to some answer all the same, to one alone."""
    for seed in range(16):
        draw = random.Random(seed)
        rules = [
            Rule(f"r{at}", "x", box_of(some_values(draw, 0.4)), draw.choice(SETTINGS), "x")
            for at in range(draw.randint(1, 7))
        ]
        engine, within = Engine(rules), box_of(some_values(draw, 0.3))
        space = Space([*engine.boxes, within], [])
        answers = Answers(space, rules, draw.choice((None, space.masks(within))))
        somewhere = space.diagrams.box(space.masks(box_of(some_values(draw, 0.5))))
        kept = {name: answers.only_in(name, somewhere) for name in OUTPUTS}
        for _ in range(8):
            case = Facts(**{fact: draw.choice(values) for fact, values in VALUES.items()})
            decision = engine.decide(case)
            is_in = leaf_of(space, somewhere, case) == space.diagrams.yes
            for name in OUTPUTS:
                found = answers.answer(leaf_of(space, answers.of(name), case))
                if answers.within == space.diagrams.full or within.holds(case):
                    because = sorted({each.rule for each in decision.because if each.output == name})
                    assert found == Answer(getattr(decision, name), tuple(because))
                left = answers.answer(leaf_of(space, kept[name], case))
                assert left == (found if is_in else Answer(None))


def steps(*rules: Rule) -> int:
    """Return how many values are stepped through at most for one output."""

    def is_enough(most: int) -> bool:
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(in_answers, "STEPS_MOST", most)
            try:
                Answers(Space([rule.when for rule in rules], []), rules)
            except TooIntricateError:
                return False
        return True

    return next(most for most in range(9) if is_enough(most))


def test_only_what_tells_answers_apart_is_stepped_through() -> None:
    """Two sets of values for each fact asked; none where a stricter rule decides whatever it is."""
    fine = Rule("fine", "x", box_of({"flake": ("fine",)}), {"finish_coarsest": Grade("P800")}, "x")
    both = fine._replace(id="both", when=box_of({"flake": ("fine",), "zone": ("fade",)}))
    strict = Rule("strict", "x", box_of({}), {"finish_coarsest": Grade("P1000")}, "x")
    apart = strict._replace(id="apart", set={"finish_finest": Grade("P1000")})
    assert steps(strict) == 0
    assert steps(fine) == 2
    assert steps(both) == 4  # the zone, and the flake in the fade alone
    assert steps(fine, strict) == steps(both, fine, strict) == 0
    assert steps(fine, apart) == 2
