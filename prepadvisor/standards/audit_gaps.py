"""Gaps: possible cases without a hold that lack a bound they need."""

from typing import Final

from prepadvisor.records.words import LINE_KINDS
from prepadvisor.standards.audited import Audited, Part
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.conditions import EVERYTHING, Box, box_of
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.strengths import NO_BOUND

NEEDED: Final[dict[str, Box]] = {
    "finish_finest": EVERYTHING,
    "finish_coarsest": box_of({"reach": ("machine",)}),
    "hand_last_coarsest": box_of({"reach": ("hand",)}),
    "hand_coarsest": box_of({"reach": ("machine",), "feature": LINE_KINDS}),
}
"""The bounds that every case needs unless it is held, each with the cases that need it."""

_WHERE: Final = {
    "finish_finest": "",
    "finish_coarsest": " where a machine reaches",
    "hand_last_coarsest": " by hand only",
    "hand_coarsest": " on lines a machine reaches",
}
_MOST: Final = 40


def gaps(audited: Audited) -> list[Finding]:
    """Return a finding for each large box of cases that lack a bound and are not held."""
    diagrams, cases = audited.diagrams, audited.cases
    held = cases.where(cases.setting["holds"])
    lacking = {
        output: diagrams.minus(
            diagrams.both(
                diagrams.change(lambda strength: strength == NO_BOUND, cases.strength(output)),
                audited.space.region(box),
            ),
            held,
        )
        for output, box in NEEDED.items()
    }
    anywhere = diagrams.no
    for region in lacking.values():
        anywhere = diagrams.either(anywhere, region)
    parts, rest = audited.parts(anywhere, _MOST)
    found = [_finding(audited, part, lacking) for part in parts]
    if rest:
        found.append(
            Finding(
                "gap",
                f"{rest} more cases lack a bound, in smaller groups.",
                "Mend those above first.",
                cases=rest,
            )
        )
    return found


def _finding(audited: Audited, part: Part, lacking: dict[str, int]) -> Finding:
    diagrams = audited.diagrams
    box = diagrams.box(part.masks)
    missing = [output for output, region in lacking.items() if diagrams.both(region, box) != diagrams.no]
    bounds = " and ".join(f"{output}{_WHERE[output]}" for output in missing)
    set_aside = [
        rule
        for rule in audited.engine.set_aside
        if any(output in rule.set for output in missing) and _meets(audited, rule, part)
    ]
    file, line, blamed = _opened_by(audited, set_aside)
    return Finding(
        "gap",
        f"No rule sets {bounds} for: {in_words(part.limits)}.{blamed}",
        f"Write a rule for these cases that sets {' and '.join(missing)}, or one that holds them.",
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )


def _meets(audited: Audited, rule: Rule, part: Part) -> bool:
    return all(
        one & other for one, other in zip(audited.space.axes.masks(rule.when), part.masks, strict=True)
    )


def _opened_by(audited: Audited, set_aside: list[Rule]) -> tuple[str, int, str]:
    """Return the place and words of the entry that set aside a rule which answered these cases."""
    for rule in set_aside:
        for withdrawal in audited.engine.withdrawals:
            if withdrawal.rule == rule.id:
                return withdrawal.file, withdrawal.line, f' Withdrawing "{rule.id}" opened this.'
        for other in audited.engine.rules:
            if other.replaces == rule.id:
                return (
                    other.file,
                    other.line,
                    f' "{other.id}" replaces "{rule.id}" but leaves these cases out.',
                )
    return "", 0, ""
