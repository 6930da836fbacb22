"""Dead rules: taking one away changes no output in any possible case."""

from collections import Counter
from typing import Final

from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import Audited, named, place_of
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.standards.shadows import shadows_of
from prepadvisor.standards.strengths import unset_strength

_ADVICE_ONLY: Final = frozenset({"cautions", "notes"})
_MOST: Final = 200
"""Dead rules told one by one at most; the rest is told together."""


def dead_rules(audited: Audited) -> list[Finding]:
    """Return a finding for each dead rule, one for twins, naming what shadows it.

    Rules that only caution or note are never dead, nor are base rules that a house tightens; a rule that no
    case meets is told as unreachable.
    """
    needed = _needed(audited)
    has_house = any(rule.layer != BASE for rule in audited.engine.rules)
    dead = [
        rule
        for rule in audited.engine.rules
        if rule.id not in needed
        and not rule.set.keys() <= _ADVICE_ONLY
        and not (has_house and rule.layer == BASE)
        and _reached(audited, rule)
    ]
    twins: dict[object, list[Rule]] = {}
    for rule in dead:
        cases = audited.space.region(audited.masks(rule))
        twins.setdefault((cases, frozenset(rule.set.items())), []).append(rule)
    ids = {rule.id for rule in dead}
    groups = list(twins.values())
    found = [_finding(audited, alike, ids) for alike in groups[:_MOST]]
    if len(groups) > _MOST:
        found.append(_rest([rule for alike in groups[_MOST:] for rule in alike]))
    return found


def _reached(audited: Audited, rule: Rule) -> bool:
    return audited.space.region(audited.masks(rule)) != audited.diagrams.no


def _needed(audited: Audited) -> set[str]:
    """Return the ids of the rules without which some output changes somewhere."""
    needed: set[str] = set()
    for output in OUTPUTS.values():
        if not output.is_union:
            needed |= _needed_for(audited, output.name, needed)
    for rules in audited.texts.values():
        needed |= _needed_for_text(audited, rules)
    return needed


def _needed_for(audited: Audited, output: OutputName, already: set[str]) -> set[str]:
    """Return the rules that in some case give the strongest answer alone."""
    ranking, read = audited.ranking_of_possible(output), audited.ranking(output)
    needed = set()
    alike = Counter(zip(ranking.boxes, ranking.strengths, strict=True))
    for place, rule in enumerate(ranking.rules):
        strength = ranking.strengths[place]
        if (
            rule.id in already
            or strength <= unset_strength(output)
            or alike[ranking.boxes[place], strength] > 1
        ):
            continue
        if read.case_alone(place) is not None or ranking.case_alone(place) is not None:
            needed.add(rule.id)
    return needed


def _needed_for_text(audited: Audited, rules: list[Rule]) -> set[str]:
    boxes = [audited.masks(rule) for rule in rules]
    alike = Counter(boxes)
    covers = audited.space.covers(boxes)
    everyone = (1 << len(covers.boxes)) - 1
    return {
        rule.id
        for place, rule in enumerate(rules)
        if alike[boxes[place]] == 1
        and Outside(covers, boxes[place], everyone ^ 1 << place).case() is not None
    }


def _finding(audited: Audited, alike: list[Rule], dead: set[str]) -> Finding:
    first = alike[0]
    twins = {rule.id for rule in alike}
    shadows = [rule for rule in shadows_of(audited, first, twins) if rule.id not in twins]
    file, line = place_of(alike)
    if len(alike) > 1:
        says = f"{named(alike)} say the same of the same cases."
        mend = "Keep one of them."
    elif first.replaces is not None:
        says = f'{named(alike)} does nothing but set "{first.replaces}" aside.'
        mend = f'Say that by [[withdraw]] with rule = "{first.replaces}", or tighten it.'
    else:
        says = f"{named(alike)} changes nothing."
        mend = (
            "Take it away, or narrow or tighten it until it says more than they do."
            if shadows
            else "Take it away: it asks for what holds without any rule."
        )
    if shadows:
        asks = "asks" if len(shadows) == 1 else "ask"
        says += f" In all its cases {named(shadows)} already {asks} as much or more."
        if dead & {rule.id for rule in shadows}:
            mend += " Take away one rule at a time and check again: one that shadows it is dead itself."
    masks = audited.masks(first)
    return Finding(
        "dead",
        says,
        mend,
        rules=tuple(rule.id for rule in (*alike, *shadows)),
        shadows=tuple(rule.id for rule in shadows),
        limits=audited.space.axes.limits(masks),
        file=file,
        line=line,
        cases=audited.diagrams.count(audited.space.region(masks)),
    )


def _rest(rules: list[Rule]) -> Finding:
    file, line = place_of(rules)
    return Finding(
        "dead",
        f"{len(rules)} more rules change nothing.",
        "Take those above away first and check again.",
        rules=tuple(rule.id for rule in rules),
        file=file,
        line=line,
    )
