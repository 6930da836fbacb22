"""Unreachable: rules, and values in their conditions, that no possible case meets."""

from prepadvisor.cases.facts import ORDER
from prepadvisor.standards.audited import Audited, named
from prepadvisor.standards.boxes import values_met
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import Rule


def unreachable(audited: Audited) -> list[Finding]:
    """Return a finding for each rule, and each listed value in a rule, that no possible case meets."""
    found = []
    for rule in audited.engine.rules:
        region = audited.space.region(audited.masks(rule))
        if region == audited.diagrams.no:
            found.append(_rule(audited, rule))
        elif not audited.world.sees(audited.masks(rule)):
            found.append(_no_card(audited, rule))
        else:
            found.extend(_values(audited, rule, region))
    return found


def _rule(audited: Audited, rule: Rule) -> Finding:
    limits = audited.space.axes.limits(audited.masks(rule))
    because = _because(audited, rule)
    return Finding(
        "unreachable",
        f"{named([rule])} meets no possible case ({in_words(limits)}).{because}",
        "Correct its conditions, or take the rule away.",
        rules=(rule.id,),
        limits=limits,
        file=rule.file,
        line=rule.line,
    )


def _no_card(audited: Audited, rule: Rule) -> Finding:
    limits = audited.space.axes.limits(audited.masks(rule))
    return Finding(
        "unreachable",
        f"No card ever meets {named([rule])} ({in_words(limits)}): a job is judged before rules are asked. "
        "Three stages count as very fine at least; a face or patch has no length; a line has one.",
        "Correct its conditions, or take the rule away.",
        rules=(rule.id,),
        limits=limits,
        file=rule.file,
        line=rule.line,
    )


def _because(audited: Audited, rule: Rule) -> str:
    masks = audited.masks(rule)
    if not all(masks):
        return f" Nothing lies in its condition on {ORDER[masks.index(0)]}."
    diagrams, left = audited.diagrams, audited.diagrams.box(masks)
    reasons = []
    for entry in sorted(audited.engine.impossibles, key=lambda entry: not entry.when.covers(rule.when)):
        still = diagrams.minus(left, diagrams.box(audited.space.masks(entry.when)))
        if still != left:
            reasons.append(entry.because)
            left = still
    return "".join(f" {reason}" for reason in reasons[:3])


def _values(audited: Audited, rule: Rule, region: int) -> list[Finding]:
    box = audited.masks(rule)
    found = []
    for level, met in enumerate(values_met(audited.diagrams, region)):
        unmet = box[level] & ~met
        if not unmet or ORDER[level] not in rule.listed:
            continue
        only = tuple(unmet if place == level else mask for place, mask in enumerate(box))
        limits = audited.space.axes.limits(only)
        values = " and ".join(f'"{value}"' for value in limits[ORDER[level]])
        found.append(
            Finding(
                "unreachable",
                f"{named([rule])} lists {ORDER[level]} {values}, which no possible case has with its other "
                f"conditions ({in_words(limits)}).",
                f"Take {values} out of the list, or correct the other conditions.",
                rules=(rule.id,),
                limits=limits,
                file=rule.file,
                line=rule.line,
            )
        )
    return found
