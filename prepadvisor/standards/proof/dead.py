"""Rules that do nothing: dead ones with what shadows them, and ones that no possible case meets."""

from collections.abc import Collection
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import ORDER
from prepadvisor.standards.engine import BASE, OUTPUTS, Rule
from prepadvisor.standards.language.as_words import in_words
from prepadvisor.standards.proof.audited import Audited, named, place_of, unset_strength
from prepadvisor.standards.proof.covers import values_of
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.space import cells, shared
from prepadvisor.standards.proof.told import values_met

if TYPE_CHECKING:
    from prepadvisor.records import OutputName

# What shadows a dead rule: few other rules that in all its cases ask as much or more.


def shadows_of(
    audited: Audited, rule: Rule, last: Collection[str] = (), *, only_read: bool = False
) -> list[Rule]:
    """Return rules that together give in every case all that the rule gives, sorted by id.

    `only_read`: in every case in which a card reads it. Rules whose ids are in `last` (its twins) are taken
    only where no others do.
    """
    found: dict[str, Rule] = {}
    for output, setting in rule.set.items():
        for text in setting if isinstance(setting, tuple) else (None,):
            rivals = _rivals(audited, rule, output, text)
            rivals.sort(key=lambda rival: rival.id in last)
            cases = audited.space.region(audited.masks(rule))
            if only_read:
                cases = audited.diagrams.both(cases, audited.world.read(output))
            found |= {rival.id: rival for rival in _cover(audited, cases, rivals)}
    return [found[key] for key in sorted(found)]


def _rivals(audited: Audited, rule: Rule, output: "OutputName", text: str | None) -> list[Rule]:
    """Return the other rules that answer the same or more strictly, those that share most cases first.

    Where one of them holds all cases of the rule it stands alone.
    """
    own = audited.masks(rule)
    if text is not None:
        every = audited.texts[output, text]
        covers = audited.covers_of_text(output, text)
        among = covers.everyone
    else:
        least = OUTPUTS[output].strength(rule.set[output])
        if least <= unset_strength(output):
            return []
        ranking = audited.ranking_of_possible(output)
        every, covers = ranking.rules, ranking.covers
        among = ranking.at_least(least)
    among &= ~(1 << every.index(rule))
    touched = covers.holding_box(own, among) or covers.touching(own, among)
    boxes = covers.boxes
    places = sorted(
        values_of(touched), key=lambda place: (-cells(shared(own, boxes[place])), every[place].id)
    )
    return [every[place] for place in places]


def _cover(audited: Audited, left: int, rivals: list[Rule]) -> list[Rule]:
    diagrams = audited.diagrams
    cover = []
    for rival in rivals:
        if left == diagrams.no:
            break
        still = diagrams.minus(left, diagrams.box(audited.masks(rival)))
        if still != left:
            cover.append(rival)
            left = still
    return cover


# Dead rules: taking one away changes no output in any possible case.

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


def _needed_for(audited: Audited, output: "OutputName", already: set[str]) -> set[str]:
    """Return the rules that in some case give the strongest answer alone."""
    ranking, read = audited.ranking_of_possible(output), audited.ranking(output)
    needed = set()
    for place, rule in enumerate(ranking.rules):
        if rule.id in already or ranking.strengths[place] <= unset_strength(output):
            continue
        if read.case_alone(place) is not None or ranking.case_alone(place) is not None:
            needed.add(rule.id)
    return needed


def _needed_for_text(audited: Audited, rules: list[Rule]) -> set[str]:
    boxes = [audited.masks(rule) for rule in rules]
    covers = audited.space.covers(boxes)
    return {
        rule.id
        for place, rule in enumerate(rules)
        if Outside(covers, boxes[place], covers.everyone ^ 1 << place).case() is not None
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
