"""Promises held against every possible case: the neighbouring cases, or the two outputs, that break one."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.standards.audited import Audited, Part
from prepadvisor.standards.axes import ORDER
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.diagram import Diagrams
from prepadvisor.standards.domains import NUMBER
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import Promise
from prepadvisor.standards.strengths import is_laxer, told

_BOXES_MOST: Final = 3
"""Boxes told at most for one step of a promise: mending the largest often mends the rest."""


def broken_promises(audited: Audited) -> list[Finding]:
    """Return findings for each promise that some possible case breaks, or that speaks of no possible case."""
    found = []
    for promise in audited.engine.promises:
        where = audited.space.region(promise.where)
        if where == audited.diagrams.no:
            found.append(_about_nothing(audited, promise))
        elif promise.than is not None:
            found.extend(_of_two_outputs(audited, promise, promise.than, where))
        elif promise.along is not None:
            found.extend(_along(audited, promise, promise.along, where))
    return found


def _of_two_outputs(audited: Audited, promise: Promise, than: str, where: int) -> Iterator[Finding]:
    def broken(one: object, other: object) -> bool:
        if not (isinstance(one, float) and isinstance(other, float)):
            return False  # a case that cannot be
        return is_laxer(promise.never, promise.output, one, than, other)

    cases = audited.cases
    region = audited.diagrams.pair(broken, cases.strength(promise.output), cases.strength(than))
    parts, rest = audited.parts(audited.diagrams.both(region, where), _BOXES_MOST)
    for place, part in enumerate(parts):
        case = _first_case(
            audited.diagrams, audited.diagrams.both(region, audited.diagrams.box(part.masks)), where
        )
        one, ids = _answer(audited, promise.output, case)
        other, ids_other = _answer(audited, than, case)
        yield _finding(
            promise,
            f"{promise.output} is {one}{_by(ids)} and {than} is {other}{_by(ids_other)}",
            part,
            rest if place == len(parts) - 1 else 0,
            (*ids, *ids_other),
        )


def _along(audited: Audited, promise: Promise, along: str, where: int) -> Iterator[Finding]:
    """Compare each case with its nearest possible neighbour one or more steps up the fact."""
    diagrams, level = audited.diagrams, ORDER.index(along)
    strength = audited.cases.strength(promise.output)
    runs = _runs(audited, level, [strength, where])
    at = {run: diagrams.fixed(strength, level, _first(run)) for run in runs}
    can_be = {run: diagrams.fixed(where, level, _first(run)) for run in runs}

    def broken(strict: object, stricter: object) -> bool:
        if not (isinstance(strict, float) and isinstance(stricter, float)):
            return False  # a case that cannot be
        return is_laxer(promise.never, promise.output, stricter, promise.output, strict)

    for place, low in enumerate(runs):
        left = can_be[low]
        for high in runs[place + 1 :]:
            if left == diagrams.no:
                break
            step = (high, low) if promise.falling else (low, high)
            laxer = diagrams.pair(broken, at[step[0]], at[step[1]])
            region = diagrams.both(laxer, diagrams.both(left, can_be[high]))
            left = diagrams.minus(left, can_be[high])
            if region != diagrams.no:
                yield from _step(audited, promise, along, step, region)


def _runs(audited: Audited, level: int, nodes: list[int]) -> list[int]:
    """Return the known values of an axis, rising, as sets of neighbours that no diagram tells apart."""
    size = audited.diagrams.sizes[level]
    if ORDER[level] not in NUMBER:
        return [1 << value for value in range(size)]
    cuts = set().union(*(audited.diagrams.cuts(node, level) for node in nodes))
    runs: list[int] = []
    last = None
    for value in range(1, size):
        kind = tuple(bool(cut >> value & 1) for cut in cuts)
        if kind == last:
            runs[-1] |= 1 << value
        else:
            runs.append(1 << value)
        last = kind
    return runs


def _first(run: int) -> int:
    return (run & -run).bit_length() - 1


def _step(
    audited: Audited, promise: Promise, along: str, step: tuple[int, int], region: int
) -> Iterator[Finding]:
    level = ORDER.index(along)
    diagrams, axes = audited.diagrams, audited.space.axes
    boxes, rest = audited.finder.take(region, _BOXES_MOST)
    missed = diagrams.count(rest) // diagrams.sizes[level]
    for number, box in enumerate(boxes):
        inside = diagrams.both(region, diagrams.box(box))
        case = list(_first_case(diagrams, inside, diagrams.yes))
        told_at = []
        rules: list[str] = []
        for run in step:
            case[level] = _first(run)
            answer, ids = _answer(audited, promise.output, tuple(case))
            told_at.append(f"{answer} at {along} {axes.one(along, run)}{_by(ids)}")
            rules.extend(ids)
        masks = tuple(step[0] | step[1] if place == level else mask for place, mask in enumerate(box))
        part = Part(masks, axes.limits(masks), diagrams.count(inside) // diagrams.sizes[level])
        yield _finding(
            promise,
            f"{promise.output} is {' and '.join(told_at)}",
            part,
            missed if number == len(boxes) - 1 else 0,
            tuple(rules),
        )


def _first_case(diagrams: Diagrams, region: int, where: int) -> tuple[int, ...]:
    """Return one case of a region as a value number per axis."""
    node = diagrams.both(region, where)
    case = [0] * diagrams.depth
    while diagrams.level(node) < diagrams.depth:
        mask, child = next(part for part in diagrams.parts(node) if part[1] != diagrams.no)
        case[diagrams.level(node)] = (mask & -mask).bit_length() - 1
        node = child
    return tuple(case)


def _answer(audited: Audited, output: str, case: tuple[int, ...]) -> tuple[str, tuple[str, ...]]:
    """Return an output of one case in words, and the ids of the rules that decide it."""
    strength = audited.diagrams.at(audited.cases.strength(output), case)
    if not isinstance(strength, float):
        raise TypeError(f"{output} has no answer in a case that cannot be")
    deciding = tuple(
        rule.id
        for rule in audited.cases.setting[output]
        if OUTPUTS[output].strength(rule.set[output]) == strength
        and all(mask >> value & 1 for mask, value in zip(audited.space.masks(rule.when), case, strict=True))
    )
    return told(output, strength), deciding


def _by(ids: tuple[str, ...]) -> str:
    return " by " + " and ".join(f'"{rule}"' for rule in ids) if ids else ""


def _finding(promise: Promise, says: str, part: Part, more: int, rules: tuple[str, ...]) -> Finding:
    rest = f" And so in {more} more cases." if more else ""
    return Finding(
        "promise",
        f'Broken promise: "{promise.says}" But {says}, for: {in_words(part.limits)}.{rest}',
        _mend(promise, rules),
        rules=tuple(dict.fromkeys(rules)),
        limits=part.limits,
        file=promise.file,
        line=promise.line,
        cases=part.cases,
    )


def _mend(promise: Promise, rules: tuple[str, ...]) -> str:
    named = " or ".join(f'"{rule}"' for rule in dict.fromkeys(rules))
    if not named:
        return f"Write a rule that sets {promise.output} there."
    return f"Change {named} so that both agree, or write a rule that tightens the laxer case."


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
