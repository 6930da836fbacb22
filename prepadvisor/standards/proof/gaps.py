"""Gaps: living cases that lack a bound they need."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import CATEGORY, ORDER, Value, spot_facts
from prepadvisor.standards.engine import BASE, Rule
from prepadvisor.standards.language.as_words import in_words
from prepadvisor.standards.proof.diagram import Masks, TooIntricateError
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.space import cells
from prepadvisor.standards.proof.told import largest_outside
from prepadvisor.standards.proof.world import freed

if TYPE_CHECKING:
    from prepadvisor.standards.proof.audited import Audited, Ranking, RegionPart

NEEDED: Final = ("finish_finest", "finish_coarsest", "hand_last_coarsest", "hand_coarsest")
"""The bounds that every living case needs in which they are read."""

_WHERE: Final = {
    "finish_finest": "",
    "finish_coarsest": " where a machine reaches",
    "hand_last_coarsest": " by hand only",
    "hand_coarsest": " on lines a machine reaches",
}
_MOST: Final = 40
_SEARCHED_MOST: Final = 5
"""Gaps of one bound that are searched for one by one, where they are too intricate to be told whole."""
_NODES_MOST: Final = 60_000
_RULES_MANY: Final = 300
_NODES_OF_MANY: Final = 6_000
"""With many rules one case is looked for first, and less is spent on telling all of them in boxes."""
_PARTED_MOST: Final = 6_000
"""So intricate may cases become while they are worked out, and to be told in boxes."""


def gaps(audited: "Audited") -> list[Finding]:
    """Return a finding for each large box of cases that lack a bound and are not held."""
    diagrams, rules = audited.diagrams, audited.engine.rules
    anywhere = diagrams.no
    many = len(rules) > _RULES_MANY
    if many and not any(_has_gap(audited.ranking(output)) for output in NEEDED):
        return []
    try:
        with diagrams.at_most(_NODES_OF_MANY if many else _NODES_MOST):
            lacking = {
                output: _left(
                    audited, audited.world.read(output), (rule for rule in rules if output in rule.set)
                )
                for output in NEEDED
            }
            for region in lacking.values():
                anywhere = diagrams.either(anywhere, region)
    except TooIntricateError:
        return _searched(audited)
    if anywhere == diagrams.no:
        return []
    if not audited.world.is_whole or diagrams.size(anywhere, _PARTED_MOST) >= _PARTED_MOST:
        return _searched(audited)
    parts, rest = audited.parts(anywhere, _MOST)
    found = []
    for part in parts:
        box = diagrams.box(part.masks)
        missing = [output for output, region in lacking.items() if diagrams.both(region, box) != diagrams.no]
        found.append(_finding(audited, part, missing))
    if rest:
        says = f"{rest} more cases lack a bound, in smaller groups."
        found.append(_more(says, found[0], rest))
    return found


def _has_gap(ranking: "Ranking") -> bool:
    """Say whether some case that counts meets none of the rules."""
    covers = ranking.covers
    return Outside(covers, covers.diagrams.full, covers.everyone).case() is not None


def _searched(audited: "Audited") -> list[Finding]:
    """Return findings for some large boxes of cases that lack a bound, each found by itself."""
    found: list[Finding] = []
    is_all = True
    for output in NEEDED:
        ranking = audited.ranking(output)
        told: list[Masks] = []
        for _ in range(_SEARCHED_MOST):
            covers = audited.space.covers([*told, *ranking.boxes], ranking.outside, ranking.supports)
            free = ranking.free << len(told)
            grown = largest_outside(covers, audited.diagrams.full, covers.everyone, free)
            if grown is None:
                break
            told.append(grown[0])
            found.append(_finding(audited, audited.part(audited.world.read(output), grown[0]), [output]))
        else:
            is_all = False
    if not is_all:
        found.append(_more("There may be more such cases: they are too many small groups.", found[0], 0))
    return found


def _more(says: str, first: Finding, cases: int) -> Finding:
    return Finding("gap", says, "Mend those above first.", file=first.file, line=first.line, cases=cases)


def _left(audited: "Audited", region: int, rules: Iterable[Rule]) -> int:
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


def _finding(audited: "Audited", part: "RegionPart", missing: list[str]) -> Finding:
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


def _meets(rule: Rule, part: "RegionPart") -> bool:
    """Say whether a rule that is not in force would meet cases of a box.

    Its numbers may be cut elsewhere.
    """
    return all(
        not set(values).isdisjoint(rule.when.values(fact))
        for fact, values in part.limits.items()
        if fact in CATEGORY
    )


def _opened_by(audited: "Audited", set_aside: list[Rule]) -> tuple[str, int, str]:
    """Return the place and words of the entry that set aside a rule which answered these cases."""
    withdrawn = {entry.rule: entry for entry in reversed(audited.engine.withdrawals)}
    replaced = {rule.replaces: rule for rule in reversed(audited.engine.rules)}
    for rule in set_aside:
        if rule.id in withdrawn:
            entry = withdrawn[rule.id]
            return entry.file, entry.line, f' Withdrawing "{rule.id}" opened this.'
        if rule.id in replaced:
            other = replaced[rule.id]
            says = f' "{other.id}" replaces "{rule.id}" but leaves these cases out.'
            return other.file, other.line, says
    return "", 0, ""


def _of_rule(audited: "Audited", part: "RegionPart", rule: Rule) -> Mapping[str, list[Value]]:
    """Return the cases of a box as they are where a rule keeps the machine off: by hand there."""
    reach = ORDER.index("reach")
    own = audited.masks(rule)
    masks = tuple(
        mask if level == reach else mask & own[level] or mask for level, mask in enumerate(part.masks)
    )
    return audited.space.axes.limits(masks)


def _kept_off_by(audited: "Audited", part: "RegionPart") -> Rule | None:
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
