"""Worked cases: from stated facts to a whole case, and what differs from what was expected."""

from collections.abc import Mapping

from prepadvisor.cases.facts import Facts
from prepadvisor.records.decision import Decision
from prepadvisor.records.words import UNSEEN_KINDS
from prepadvisor.standards.rules import Example


def whole_case(given: Mapping[str, object]) -> Facts:
    """Return a case in which facts that are not given have the value most jobs have.

    Those are the start values of `Facts`, with two that follow from what is given: a flange or cut-out is not
    seen, and a clear-only panel is all clear zone.
    """
    start: dict[str, object] = {}
    if given.get("feature") in UNSEEN_KINDS:
        start["seen"] = False
    if given.get("role") == "clear-only":
        start["zone"] = "clear"
    return Facts(**(start | dict(given)))  # type: ignore[arg-type]


def shortfalls(example: Example, decision: Decision) -> dict[str, tuple[object, object]]:
    """Return output → (expected, found) for every expectation that the decision does not meet.

    Grades, numbers and words must be equal, None means "no rule sets it". Of holds, cautions and notes, each
    expected text must be part of one that was found; an empty tuple means that there are none at all, and
    {"not": texts} that none of these is part of one that was found.
    """
    found = decision._asdict()
    return {
        output: (expected, found[output])
        for output, expected in example.expect.items()
        if not _met(expected, found[output])
    }


def _met(expected: object, found: object) -> bool:
    if not isinstance(found, tuple):
        return expected == found
    if isinstance(expected, Mapping):
        return not any(text in said for text in expected["not"] for said in found)
    if not isinstance(expected, tuple) or not expected:
        return not found
    return all(any(text in said for said in found) for text in expected)
