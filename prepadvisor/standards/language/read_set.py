"""Reads the `set` of a rule and the `expect` of an example, telling everything that is wrong at once."""

from collections.abc import Mapping
from math import isfinite
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import Facts
from prepadvisor.records import (
    TEXT_MAX,
    UNSEEN_KINDS,
    Decision,
    KeyPath,
    NotAGradeError,
    OutputName,
    Problem,
    did_you_mean,
    grade,
)
from prepadvisor.standards.engine import NUMBER_RANGES, OUTPUTS, Example, Output, Setting, output_named

if TYPE_CHECKING:
    from prepadvisor.records import Grade

NO_VALUE = "none"
"""What an example expects of a grade or number that no rule sets."""


class _WrongError(Exception):
    """A value that an output cannot have, with its mend."""

    def __init__(self, says: str, mend: str = "") -> None:
        self.says, self.mend = says, mend
        super().__init__(says)


def read_set(raw: Mapping[str, object], path: KeyPath) -> tuple[dict[OutputName, Setting], list[Problem]]:
    """Return the outputs a rule sets, with their values in their one form, and every problem."""
    settings: dict[OutputName, Setting] = {}
    problems: list[Problem] = []
    for name, value in raw.items():
        output = output_named(name)
        if output is None:
            problems.append(_unknown(name, path))
            continue
        try:
            settings[output.name] = _setting(output, value)
        except _WrongError as wrong:
            problems.append(Problem((*path, name), f"{name}: {wrong.says}", wrong.mend))
    return settings, problems


def read_expect(raw: Mapping[str, object], path: KeyPath) -> tuple[dict[OutputName, object], list[Problem]]:
    """Return the outputs an example expects, and every problem.

    A grade or number may be "none": no rule sets it, kept as None. Of holds, cautions and notes an example
    expects texts that stand in them, in whole or in part; `[]` or "none" means that there are none, and
    `{ not = [...] }` that these do not stand there, kept as a dict.
    """
    expected: dict[OutputName, object] = {}
    problems: list[Problem] = []
    for name, value in raw.items():
        output = output_named(name)
        if output is None:
            problems.append(_unknown(name, path))
            continue
        try:
            if output.is_union and isinstance(value, Mapping) and set(value) == {"not"}:
                expected[output.name] = {"not": _texts(value["not"])}
            elif output.is_union and value in ([], NO_VALUE):
                expected[output.name] = ()
            elif value == NO_VALUE and not output.words:
                expected[output.name] = None
            else:
                expected[output.name] = _setting(output, value)
        except _WrongError as wrong:
            problems.append(Problem((*path, name), f"{name}: {wrong.says}", wrong.mend))
    return expected, problems


_COATS: Final = "write bed_coats_min for the least, bed_coats_max for the most"
_OUTPUTS_MEANT: Final = {
    "bed_coats": _COATS,
    "coats": _COATS,
    "finish": "write finish_coarsest for the limit, finish_target for the usual grade",
    "final": "write finish_coarsest for the limit, finish_target for the usual grade",
    "hand": "write hand_coarsest ahead of a DA, hand_last_coarsest where hand is the last touch",
    "powder": "write guide_coat",
}
"""A word that a lead may try for an output, and what says it here."""


def _unknown(name: str, path: KeyPath) -> Problem:
    return Problem(
        (*path, name),
        f'no output is called "{name}"',
        _OUTPUTS_MEANT.get(name) or did_you_mean(name, tuple(OUTPUTS)),
    )


def _setting(output: Output, value: object) -> Setting:
    if output.is_grade:
        return _grade(value)
    if output.is_union:
        return _texts(value)
    if output.is_number:
        return _number(output, value)
    word = next((each for each in output.words if each == value), None)
    if word is None:
        raise _WrongError(f"cannot be {_shown(value)}", did_you_mean(str(value), output.words))
    return word


def _grade(value: object) -> "Grade":
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise _WrongError(f"cannot be {_shown(value)}", 'write a grade such as "P1000"')
    try:
        return grade(str(value))
    except NotAGradeError as wrong:
        raise _WrongError(str(wrong)) from None


def _texts(value: object) -> tuple[str, ...]:
    texts = [text for text in (value if isinstance(value, list) else [value]) if isinstance(text, str)]
    if (
        not texts
        or not all(text.strip() for text in texts)
        or (isinstance(value, list) and len(texts) < len(value))
    ):
        raise _WrongError("takes a sentence, or a list of sentences, in quotes")
    if any(len(text) > TEXT_MAX for text in texts):
        raise _WrongError(f"takes sentences of {TEXT_MAX} letters at most", "shorten it, or make it two")
    return tuple(sorted({text.strip() for text in texts}))


def _number(output: Output, value: object) -> float | int:
    low, high = NUMBER_RANGES[output.name]
    unit = f" {output.unit}" if output.unit else ""
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise _WrongError(f"cannot be {_shown(value)}", f"write a number from {low:g} to {high:g}{unit}")
    if not low <= value <= high:
        raise _WrongError(f"{value:g} is out of range", f"write a number from {low:g} to {high:g}{unit}")
    if output.whole and not float(value).is_integer():
        raise _WrongError(f"{value:g} is not a whole number")
    return int(value) if output.whole else float(value)


def _shown(value: object) -> str:
    return (
        f'"{value}"'
        if isinstance(value, str)
        else str(value).lower()
        if isinstance(value, bool)
        else repr(value)
    )


# Worked cases: from stated facts to a whole case, and what differs from what was expected.


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
