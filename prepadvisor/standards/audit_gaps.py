"""Gaps: living cases that lack a bound they need."""

from collections.abc import Iterable, Mapping
from typing import Final

from prepadvisor.cases.fact import Value
from prepadvisor.cases.facts import CATEGORY, ORDER
from prepadvisor.cases.world import spot_facts
from prepadvisor.standards.audited import Audited, RegionPart
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.standards.space import cells
from prepadvisor.standards.world import freed

NEEDED: Final = ("finish_finest", "finish_coarsest", "hand_last_coarsest", "hand_coarsest")
"""The bounds that every living case needs in which they are read."""

_WHERE: Final = {
    "finish_finest": "",
    "finish_coarsest": " where a machine reaches",
    "hand_last_coarsest": " by hand only",
    "hand_coarsest": " on lines a machine reaches",
}
_MOST: Final = 40


def gaps(audited: Audited) -> list[Finding]:
    """Return a finding for each large box of cases that lack a bound and are not held."""
    diagrams, rules = audited.diagrams, audited.engine.rules
    lacking = {
        output: _left(
            audited,
            audited.world.read(output),
            (rule for rule in rules if output in rule.set),
        )
        for output in NEEDED
    }
    anywhere = diagrams.no
    for region in lacking.values():
        anywhere = diagrams.either(anywhere, region)
    parts, rest = audited.parts(anywhere, _MOST)
    found = [_finding(audited, part, lacking) for part in parts]
    if rest:
        says = f"{rest} more cases lack a bound, in smaller groups."
        file, line = (found[0].file, found[0].line) if found else ("", 0)
        found.append(Finding("gap", says, "Mend those above first.", file=file, line=line, cases=rest))
    return found


def _left(audited: Audited, region: int, rules: Iterable[Rule]) -> int:
    """Return the cases of a region that no rule meets.

    The plainest boxes are taken away first, those that cut no number, of those the largest: they mostly leave
    nothing, so that scattered ranges never cut up what is left.
    """
    diagrams, numbers = audited.diagrams, audited.space.axes.numbers
    full = diagrams.full

    def plain(masks: Masks) -> tuple[int, int]:
        return sum(masks[level] != full[level] for level in numbers), -cells(masks)

    for masks in sorted(map(audited.masks, rules), key=plain):
        if region == diagrams.no:
            break
        region = diagrams.minus(region, diagrams.box(masks))
    return region


def _finding(audited: Audited, part: RegionPart, lacking: dict[str, int]) -> Finding:
    diagrams = audited.diagrams
    box = diagrams.box(part.masks)
    missing = [output for output, region in lacking.items() if diagrams.both(region, box) != diagrams.no]
    bounds = " and ".join(f"{output}{_WHERE[output]}" for output in missing)
    set_aside = [
        rule
        for rule in audited.engine.set_aside
        if not rule.set.keys().isdisjoint({*missing, "holds"}) and _meets(rule, part)
    ]
    file, line, blamed = _opened_by(audited, set_aside)
    limits: Mapping[str, list[Value]] = part.limits
    rules: tuple[str, ...] = ()
    if not file and (rule := _kept_off_by(audited, part)) is not None:
        file, line, rules = rule.file, rule.line, (rule.id,)
        blamed = f' "{rule.id}" keeps the machine off, so they are done by hand.'
        limits = _of_rule(audited, part, rule)
    return Finding(
        "gap",
        f"No rule sets {bounds} for: {in_words(limits)}.{blamed}",
        f"Write a rule for these cases that sets {' and '.join(missing)}, or one that holds them.",
        rules=rules,
        limits=limits,
        file=file,
        line=line,
        cases=part.cases,
    )


def _meets(rule: Rule, part: RegionPart) -> bool:
    """Say whether a rule that is not in force would meet cases of a box.

    Its numbers may be cut elsewhere.
    """
    return all(
        not set(values).isdisjoint(rule.when.values(fact))
        for fact, values in part.limits.items()
        if fact in CATEGORY
    )


def _opened_by(audited: Audited, set_aside: list[Rule]) -> tuple[str, int, str]:
    """Return the place and words of the entry that set aside a rule which answered these cases."""
    for rule in set_aside:
        for withdrawal in audited.engine.withdrawals:
            if withdrawal.rule == rule.id:
                return withdrawal.file, withdrawal.line, f' Withdrawing "{rule.id}" opened this.'
        for other in audited.engine.rules:
            if other.replaces == rule.id:
                says = f' "{other.id}" replaces "{rule.id}" but leaves these cases out.'
                return other.file, other.line, says
    return "", 0, ""


def _of_rule(audited: Audited, part: RegionPart, rule: Rule) -> Mapping[str, list[Value]]:
    """Return the cases of a box as they are where a rule keeps the machine off: by hand there."""
    reach = ORDER.index("reach")
    own = audited.masks(rule)
    masks = tuple(
        mask if level == reach else mask & own[level] or mask for level, mask in enumerate(part.masks)
    )
    return audited.space.axes.limits(masks)


def _kept_off_by(audited: Audited, part: RegionPart) -> Rule | None:
    """Return the house rule that keeps the machine off such places."""
    diagrams = audited.diagrams
    region = diagrams.box(part.masks)
    for fact in ("reach", *spot_facts()):
        region = freed(diagrams, region, ORDER.index(fact))
    for rule in audited.engine.rules:
        meets = diagrams.both(region, diagrams.box(audited.masks(rule))) != diagrams.no
        if rule.set.get("machine") == "never" and rule.layer != BASE and meets:
            return rule
    return None
