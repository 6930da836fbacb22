"""The lines that a check ends with: what each house rule really does, and what got laxer; and as JSON."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any, Final

from prepadvisor.cards import doing_says, told_difference, why_nothing
from prepadvisor.standards import Doing, Loosening, in_words
from prepadvisor.wording import paragraph, thousands

_ALIKE_MOST: Final = 5
"""More rules in a row than this that do nothing for one and the same reason are told together."""


def house_data(found: Iterable[Doing]) -> list[dict[str, Any]]:
    """Return one entry for each rule or withdrawal, as `standards check --json` has them under "house"."""
    return [
        {
            "rule": each.rule,
            "file": each.entry.file,
            "line": each.entry.line,
            "does": each.does,
            "says": doing_says(each),
            "case": {} if each.case is None else each.case._asdict(),
        }
        for each in found
    ]


def house_lines(found: Sequence[Doing], most: int | None) -> list[str]:
    """Return the lines that end a check: a sentence for each entry, at most so many (None: all)."""
    lines: list[str] = []
    told = 0
    for idle, run in groupby(found, key=lambda each: why_nothing(each) if each.does == "nothing" else ""):
        alike = list(run)
        if idle and len(alike) > _ALIKE_MOST:
            first, last = alike[0], alike[-1]
            says = f"{first.rule} to {last.rule}, {len(alike)} rules, do nothing: {idle}."
            lines += paragraph(f"{first.entry.file}:{first.entry.line} {says}", "  ", "    ")
            told += len(alike)
            continue
        for each in alike[: None if most is None else max(0, most - told)]:
            lines += paragraph(f"{each.entry.file}:{each.entry.line} {doing_says(each)}", "  ", "    ")
            told += 1
    if told < len(found):
        lines.append(f"  … and {len(found) - told} more (--all tells them).")
    return ["WHAT EACH RULE DOES", *lines] if lines else []


def loosened_data(found: Iterable[Loosening]) -> list[dict[str, Any]]:
    """Return what layers make laxer, as `standards check --json` has it under "loosened"."""
    return [
        {
            "layer": layer,
            "direction": change.direction,
            "differences": [difference._asdict() for difference in change.differences],
            "facts": {
                fact: values[0] if len(values) == 1 else list(values)
                for fact, values in change.limits.items()
            },
            "cases": change.cases,
            "causes": [cause._asdict() for cause in change.causes],
            "case": change.case._asdict(),
        }
        for layer, change in found
    ]


def loosened_lines(found: Iterable[Loosening]) -> list[str]:
    """Return the lines that stand on top of a check: every case that is laxer than the layer below has it."""
    lines: list[str] = []
    for layer, change in found:
        cause = change.causes[0]
        told = "; ".join(map(told_difference, change.differences))
        where = f"{cause.file}:{cause.line}"
        head = f'{where} "{layer}" does without {cause.rule} ({cause.by}): {told}'
        lines += paragraph(head, "  ", "    ")
        cases = thousands(change.cases)
        lines += paragraph(f"in {in_words(change.limits)} ({cases} cases)", "      ", "      ")
    return ["LAXER THAN THE LAYER BELOW (stands on every card it touches)", *lines, ""] if lines else []
