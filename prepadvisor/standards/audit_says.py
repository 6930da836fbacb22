"""Rules whose sentence names a grade they do not set: the painter reads one, the card does another."""

import re
from typing import Final

from prepadvisor.standards.audited import Audited, named
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.surface.grades import GRADES

_GRADE: Final = re.compile(r"\b[Pp] ?(\d{2,4})\b")


def saying_otherwise(audited: Audited) -> list[Finding]:
    """Return a note for each rule that sets grades and whose sentence names grades, but none of those."""
    return [_finding(rule) for rule in audited.engine.rules if rule.layer != BASE and says_otherwise(rule)]


def says_otherwise(rule: Rule) -> bool:
    """Say whether a rule names grades in its sentence and sets none of them, though it sets some."""
    said, does = grades_said(rule.says), grades_set(rule)
    return bool(said) and bool(does) and not said & does


def grades_said(says: str) -> set[str]:
    """Return the grades of the P series that a sentence names."""
    return {f"P{number}" for number in _GRADE.findall(says)} & set(GRADES)


def grades_set(rule: Rule) -> set[str]:
    """Return the grades a rule sets."""
    return {str(value) for output, value in rule.set.items() if OUTPUTS[output].is_grade}


def _finding(rule: Rule) -> Finding:
    said = " and ".join(sorted(grades_said(rule.says), key=GRADES.index))
    does = ", ".join(f"{output} {value}" for output, value in rule.set.items() if OUTPUTS[output].is_grade)
    return Finding(
        "says",
        f"{named([rule])} says {said} but sets {does}.",
        "Correct its sentence or what it sets: the painter reads the sentence.",
        rules=(rule.id,),
        file=rule.file,
        line=rule.line,
    )
