"""Promises held against every possible case: the neighbouring cases, or the two outputs, that break one."""

from itertools import islice
from typing import Final

from prepadvisor.cases.facts import ORDER
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.audited import Audited, RegionPart, place_of
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.diagram import Masks
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.growth import largest_outside
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.promise_claims import Claim, claims
from prepadvisor.standards.rules import BASE, Promise
from prepadvisor.standards.space import cells, shared
from prepadvisor.standards.strengths import told, unset_strength

_MOST: Final = 5
"""Findings told at most for one promise: mending the largest often mends the rest."""
_ENOUGH: Final = 100
"""Broken steps looked for at most: a promise that breaks more often is told as broken in many more."""


def broken_promises(audited: Audited) -> list[Finding]:
    """Return findings for each promise that some case breaks, or that speaks of no possible case."""
    found = []
    for promise in audited.engine.promises:
        if audited.space.region(audited.space.masks(promise.where)) == audited.diagrams.no:
            found.append(_about_nothing(audited, promise, "no possible case"))
        elif not _is_read(audited, promise):
            found.append(_about_nothing(audited, promise, f"no case in which a card reads {promise.output}"))
        else:
            found.extend(_of_promise(audited, promise))
    return found


def _of_promise(audited: Audited, promise: Promise) -> list[Finding]:
    broken = list(islice((claim for claim in claims(audited, promise) if claim.is_broken()), _ENOUGH))
    broken.sort(key=lambda claim: -cells(claim.box))
    found = []
    for number, claim in enumerate(broken[:_MOST], start=1):
        grown = largest_outside(claim.covers, claim.box, claim.among, claim.free)
        if grown is None:
            raise RuntimeError("a broken promise has a case")
        masks, case = grown
        rest = _rest(len(broken)) if number == _MOST else ""
        part = _part(audited, promise, claim, masks)
        if promise.than is not None:
            found.append(_of_two_outputs(audited, promise, promise.than, case=case, part=part, rest=rest))
        else:
            found.append(_of_a_step(audited, promise, claim, case=case, part=part, rest=rest))
    return sorted(found, key=lambda finding: -finding.cases)


def _rest(broken: int) -> str:
    """Return what to say of the broken steps that are not told one by one."""
    if broken <= _MOST:
        return ""
    at_least = "At least " if broken == _ENOUGH else ""
    return f" {at_least}{broken - _MOST} more steps between rules break it."


def _part(audited: Audited, promise: Promise, claim: Claim, masks: Masks) -> RegionPart:
    """Return the box with both values of the step; cases are counted once for each pair."""
    space, diagrams = audited.space, audited.diagrams
    if promise.along is None or claim.step is None:
        return RegionPart(masks, space.axes.limits(masks), diagrams.count(space.region(masks)))
    level = ORDER.index(promise.along)
    first, both = 1 << claim.step[0], 1 << claim.step[0] | 1 << claim.step[1]
    pair = (*masks[:level], both, *masks[level + 1 :])
    one = (*masks[:level], first, *masks[level + 1 :])
    return RegionPart(pair, space.axes.limits(pair), diagrams.count(space.region(one)))


def _of_two_outputs(
    audited: Audited, promise: Promise, than: OutputName, case: tuple[int, ...], part: RegionPart, rest: str
) -> Finding:
    one, rules = _answer(audited, promise.output, case)
    other, rules_other = _answer(audited, than, case)
    return _finding(
        audited,
        promise,
        f"{promise.output} is {one} and {than} is {other}",
        part=part,
        rest=rest,
        rules=(*rules, *rules_other),
    )


def _of_a_step(
    audited: Audited, promise: Promise, claim: Claim, case: tuple[int, ...], part: RegionPart, rest: str
) -> Finding:
    along, at = promise.along or "", list(case)
    answers: list[str] = []
    rules: list[str] = []
    for value in claim.step or ():
        at[ORDER.index(along)] = value
        answer, deciding = _answer(audited, promise.output, tuple(at))
        answers.append(f"{answer} at {along} {audited.space.axes.one(along, 1 << value)}")
        rules.extend(deciding)
    return _finding(
        audited,
        promise,
        f"{promise.output} is {' and '.join(answers)}",
        part=part,
        rest=rest,
        rules=tuple(rules),
    )


def _answer(audited: Audited, output: OutputName, case: tuple[int, ...]) -> tuple[str, tuple[str, ...]]:
    """Return an output of one case in words with the rule that decides it, and the rule's id."""
    ranking = audited.ranking(output)
    place = ranking.decider(case)
    if place is None:
        return told(output, unset_strength(output)), ()
    rule = ranking.rules[place]
    return f'{told(output, ranking.strengths[place])} by "{rule.id}"', (rule.id,)


def _finding(
    audited: Audited, promise: Promise, says: str, part: RegionPart, rest: str, rules: tuple[str, ...]
) -> Finding:
    """Tell it at the house's rule where one takes part: nobody is to change a file that is not his."""
    own = [rule for rule in audited.engine.rules if rule.id in rules and rule.layer != BASE]
    named = " or ".join(f'"{rule}"' for rule in dict.fromkeys([rule.id for rule in own] or rules))
    file, line = place_of(own) if own else (promise.file, promise.line)
    return Finding(
        "promise",
        f'Broken promise: "{promise.says}" But {says}, for: {in_words(part.limits)}.{rest}',
        f"Change {named} so that both agree, or write a rule that tightens the laxer case.",
        rules=tuple(dict.fromkeys(rules)),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
    )


def _is_read(audited: Audited, promise: Promise) -> bool:
    """Say whether a card can read the output of a promise in some case of it, held or not."""
    read = shared(*map(audited.space.masks, (promise.where, OUTPUTS[promise.output].read)))
    return audited.diagrams.both(audited.diagrams.box(read), audited.world.judged) != audited.diagrams.no


def _about_nothing(audited: Audited, promise: Promise, nothing: str) -> Finding:
    limits = audited.space.axes.limits(audited.space.masks(promise.where))
    return Finding(
        "unreachable",
        f'The promise "{promise.says}" speaks of {nothing} ({in_words(limits)}).',
        "Correct its `where`, or take the promise away.",
        limits=limits,
        file=promise.file,
        line=promise.line,
    )
