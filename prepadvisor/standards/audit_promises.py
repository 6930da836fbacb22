"""Promises held against every possible case: the neighbouring cases, or the two outputs, that break one."""

from typing import Final, NamedTuple

from prepadvisor.standards.audited import Audited, Part
from prepadvisor.standards.axes import ORDER
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outside import Outside
from prepadvisor.standards.promise_claims import Claim, claims
from prepadvisor.standards.rules import Promise
from prepadvisor.standards.strengths import told, unset_strength

_MOST: Final = 5
"""Findings told at most for one promise: mending the largest often mends the rest."""


class _Broken(NamedTuple):
    """One claim that has cases: a case of it, their region and number."""

    claim: Claim
    case: tuple[int, ...]
    region: int
    cases: int


def broken_promises(audited: Audited) -> list[Finding]:
    """Return findings for each promise that some possible case breaks, or that speaks of no possible case."""
    found = []
    for promise in audited.engine.promises:
        if audited.space.region(audited.space.masks(promise.where)) == audited.diagrams.no:
            found.append(_about_nothing(audited, promise))
        else:
            found.extend(_of_promise(audited, promise))
    return found


def _of_promise(audited: Audited, promise: Promise) -> list[Finding]:
    broken = []
    for claim in claims(audited, promise):
        outside = Outside(claim.covers, claim.box, claim.among)
        case = outside.case()
        if case is not None:
            region = outside.region()
            broken.append(_Broken(claim, case, region, _cases(audited, promise, region)))
    broken.sort(key=lambda each: -each.cases)
    told_of, rest = broken[:_MOST], sum(each.cases for each in broken[_MOST:])
    found = []
    for number, each in enumerate(told_of, start=1):
        part = _largest_part(audited, promise, each)
        more = each.cases - part.cases + (rest if number == len(told_of) else 0)
        if each.claim.step is None:
            found.append(_of_two_outputs(audited, promise, each, part, more))
        else:
            found.append(_of_a_step(audited, promise, each, part, more))
    return found


def _cases(audited: Audited, promise: Promise, region: int) -> int:
    """Return the number of broken cases, or of broken pairs of cases along a fact."""
    size = 1 if promise.along is None else audited.diagrams.sizes[ORDER.index(promise.along)]
    return audited.diagrams.count(region) // size


def _largest_part(audited: Audited, promise: Promise, broken: _Broken) -> Part:
    diagrams = audited.diagrams
    (masks,), _ = audited.finder.take(broken.region, 1)
    cases = _cases(audited, promise, diagrams.both(broken.region, diagrams.box(masks)))
    if promise.along is not None and broken.claim.step is not None:
        level = ORDER.index(promise.along)
        values = 1 << broken.claim.step[0] | 1 << broken.claim.step[1]
        masks = (*masks[:level], values, *masks[level + 1 :])
    return Part(masks, audited.space.axes.limits(masks), cases)


def _of_two_outputs(audited: Audited, promise: Promise, broken: _Broken, part: Part, more: int) -> Finding:
    one, rules = _answer(audited, promise.output, broken.case)
    other, rules_other = _answer(audited, promise.than or "", broken.case)
    return _finding(
        promise,
        f"{promise.output} is {one} and {promise.than} is {other}",
        part,
        more,
        (*rules, *rules_other),
    )


def _of_a_step(audited: Audited, promise: Promise, broken: _Broken, part: Part, more: int) -> Finding:
    along, case = promise.along or "", list(broken.case)
    answers: list[str] = []
    rules: list[str] = []
    for value in broken.claim.step or ():
        case[ORDER.index(along)] = value
        answer, deciding = _answer(audited, promise.output, tuple(case))
        answers.append(f"{answer} at {along} {audited.space.axes.one(along, 1 << value)}")
        rules.extend(deciding)
    return _finding(promise, f"{promise.output} is {' and '.join(answers)}", part, more, tuple(rules))


def _answer(audited: Audited, output: str, case: tuple[int, ...]) -> tuple[str, tuple[str, ...]]:
    """Return an output of one case in words with the rule that decides it, and the rule's id."""
    ranking = audited.ranking(output)
    place = ranking.decider(case)
    if place is None:
        return told(output, unset_strength(output)), ()
    rule = ranking.rules[place]
    return f'{told(output, ranking.strengths[place])} by "{rule.id}"', (rule.id,)


def _finding(promise: Promise, says: str, part: Part, more: int, rules: tuple[str, ...]) -> Finding:
    rest = f" {more} more cases break it." if more else ""
    named = " or ".join(f'"{rule}"' for rule in dict.fromkeys(rules))
    return Finding(
        "promise",
        f'Broken promise: "{promise.says}" But {says}, for: {in_words(part.limits)}.{rest}',
        f"Change {named} so that both agree, or write a rule that tightens the laxer case.",
        rules=tuple(dict.fromkeys(rules)),
        limits=part.limits,
        file=promise.file,
        line=promise.line,
        cases=part.cases,
    )


def _about_nothing(audited: Audited, promise: Promise) -> Finding:
    limits = audited.space.axes.limits(audited.space.masks(promise.where))
    return Finding(
        "unreachable",
        f'The promise "{promise.says}" speaks of no possible case ({in_words(limits)}).',
        "Correct its `where`, or take the promise away.",
        limits=limits,
        file=promise.file,
        line=promise.line,
    )
