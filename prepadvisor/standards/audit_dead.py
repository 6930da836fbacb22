"""Dead rules: taking one away changes no output in any possible case."""

from collections.abc import Iterable

from prepadvisor.standards.audited import Audited, named, place_of
from prepadvisor.standards.cases import texts_of
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.sole import SoleWinners
from prepadvisor.standards.strengths import unset_strength

_ADVICE_ONLY = frozenset({"cautions", "notes"})


def dead_rules(audited: Audited) -> list[Finding]:
    """Return a finding for each dead rule, one for twins, naming what shadows it.

    Rules that only caution or note are never dead, and a rule that no case meets is told as unreachable.
    """
    needed = _needed(audited)
    dead = [
        rule
        for rule in audited.engine.rules
        if rule.id not in needed and not rule.set.keys() <= _ADVICE_ONLY and _reached(audited, rule)
    ]
    twins: dict[object, list[Rule]] = {}
    for rule in dead:
        twins.setdefault((audited.space.region(rule.when), frozenset(rule.set.items())), []).append(rule)
    ids = {rule.id for rule in dead}
    return [_finding(audited, alike, ids) for alike in twins.values()]


def _reached(audited: Audited, rule: Rule) -> bool:
    return audited.space.region(rule.when) != audited.diagrams.no


def _needed(audited: Audited) -> set[str]:
    """Return the ids of the rules without which some output changes somewhere."""
    needed: set[str] = set()
    for name, output in OUTPUTS.items():
        setting = audited.cases.setting[name]
        if output.is_union:
            needed |= _needed_for_texts(audited, name)
        elif setting:
            sole = SoleWinners(
                audited.cases.strongest(name), audited.cases.strength(name), unset_strength(name)
            )
            needed |= {
                rule.id for place, rule in enumerate(setting) if rule.id not in needed and sole.wins(place)
            }
    return needed


def _needed_for_texts(audited: Audited, output: str) -> set[str]:
    needed: set[str] = set()
    for rules in audited.cases.texts(output).values():
        for rule in rules:
            others = audited.cases.where(other for other in rules if other is not rule)
            if audited.diagrams.minus(audited.space.region(rule.when), others) != audited.diagrams.no:
                needed.add(rule.id)
    return needed


def _shadows(audited: Audited, rule: Rule, apart: Iterable[Rule]) -> list[Rule]:
    """Return few rules that together give in every case all that the rule gives.

    Twins only if none else does.
    """
    apart = list(apart)
    found: dict[str, Rule] = {}
    for output, setting in rule.set.items():
        for text in texts_of(setting) if OUTPUTS[output].is_union else (None,):
            rivals = _rivals(audited, rule, output, text)
            others = [rival for rival in rivals if rival not in apart]
            found |= {rival.id: rival for rival in _cover(audited, rule, [*others, *apart])}
    return [found[key] for key in sorted(found)]


def _rivals(audited: Audited, rule: Rule, output: str, text: str | None) -> list[Rule]:
    """Return the other rules that answer the same or more strictly, those that share most cases first."""
    if text is not None:
        rivals = audited.cases.texts(output)[text]
    else:
        strength = OUTPUTS[output].strength
        least = strength(rule.set[output])
        if least <= unset_strength(output):
            return []
        rivals = [rival for rival in audited.cases.setting[output] if strength(rival.set[output]) >= least]
    shared = {rival.id: _shared(audited, rule, rival) for rival in rivals if rival is not rule}
    return sorted(
        (rival for rival in rivals if rival is not rule and shared[rival.id]),
        key=lambda rival: (-shared[rival.id], rival.id),
    )


def _shared(audited: Audited, one: Rule, other: Rule) -> int:
    cells = 1
    for mask, mask_other in zip(audited.space.masks(one.when), audited.space.masks(other.when), strict=True):
        cells *= (mask & mask_other).bit_count()
    return cells


def _cover(audited: Audited, rule: Rule, rivals: list[Rule]) -> list[Rule]:
    diagrams = audited.diagrams
    left = audited.space.region(rule.when)
    cover = []
    for rival in rivals:
        if left == diagrams.no:
            break
        still = diagrams.minus(left, diagrams.box(audited.space.masks(rival.when)))
        if still != left:
            cover.append(rival)
            left = still
    return cover


def _finding(audited: Audited, alike: list[Rule], dead: set[str]) -> Finding:
    first = alike[0]
    shadows = [rule for rule in _shadows(audited, first, alike[1:]) if rule not in alike]
    file, line = place_of(alike)
    if len(alike) > 1:
        says = f"{named(alike)} say the same of the same cases."
        mend = "Keep one of them."
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
    return Finding(
        "dead",
        says,
        mend,
        rules=tuple(rule.id for rule in (*alike, *shadows)),
        shadows=tuple(rule.id for rule in shadows),
        limits=audited.space.axes.limits(audited.space.masks(first.when)),
        file=file,
        line=line,
        cases=audited.diagrams.count(audited.space.region(first.when)),
    )
