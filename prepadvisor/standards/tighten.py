"""A rule some grades finer than another: the same cases, its grade limits so many shelf steps finer."""

import re
from collections.abc import Sequence
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.standards.rules import Rule
from prepadvisor.surface.grades import RANK, Grade, is_grade

_FINER: Final = tuple(name for name, output in OUTPUTS.items() if output.kind == "grade finest")
"""The outputs that a finer grade tightens; the key limit is not one of them."""


class Tightened(NamedTuple):
    """What a tightened rule sets, its sentence, and each grade before and after."""

    id: str
    says: str
    set: dict[OutputName, Setting]
    steps: dict[OutputName, tuple[Grade, Grade]]


class NoGradeError(ValueError):
    """A rule that sets no grade to make finer, or a shelf that has no finer one."""


def tightened(rule: Rule, steps: int, shelf: Sequence[Grade]) -> Tightened:
    """Return a rule's grade limits so many steps of the shelf finer.

    Args:
        rule: the rule.
        steps: how many grades finer, at least 1.
        shelf: the grades there are.

    Raises:
        NoGradeError: the rule sets no such grade, or the shelf has none that is so much finer.
    """
    ordered = sorted(set(shelf), key=RANK.__getitem__)
    changed: dict[OutputName, tuple[Grade, Grade]] = {}
    for output in _FINER:
        grade = rule.set.get(output)
        if is_grade(grade):
            finer = [each for each in ordered if RANK[each] > RANK[grade]]
            if len(finer) < steps:
                raise NoGradeError(f"the shelf has nothing {steps} finer than {grade}")
            changed[output] = (grade, finer[steps - 1])
    if not changed:
        raise NoGradeError(f'"{rule.id}" sets no grade that could be finer')
    grades: dict[str, Grade] = dict(changed.values())
    says = re.sub(r"\b[Pp] ?(\d+)\b", lambda found: grades.get(f"P{found[1]}", found[0]), rule.says)
    settings: dict[OutputName, Setting] = {output: after for output, (_, after) in changed.items()}
    return Tightened(f"our-{rule.id}", says, settings, changed)
