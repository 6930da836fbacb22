"""What each house rule really does, in one sentence with one case a lead can picture; and what got laxer."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any, Final

from prepadvisor.cases.facts import NUMBER, Facts
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.compare import Difference
from prepadvisor.standards.doing import Doing, Loosening
from prepadvisor.standards.outputs import OUTPUTS
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.strengths import told_setting
from prepadvisor.wording import trade
from prepadvisor.wording.paragraphs import paragraph

_USUAL: Final = Facts()
_SHADOWS_MOST: Final = 3
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
            "says": sentence(each),
            "case": {} if each.case is None else each.case._asdict(),
        }
        for each in found
    ]


def house_lines(found: Sequence[Doing], most: int | None) -> list[str]:
    """Return the lines that end a check: a sentence for each entry, at most so many (None: all)."""
    lines: list[str] = []
    told = 0
    for idle, run in groupby(found, key=lambda each: _why_nothing(each) if each.does == "nothing" else ""):
        alike = list(run)
        if idle and len(alike) > _ALIKE_MOST:
            first, last = alike[0], alike[-1]
            says = f"{first.rule} to {last.rule}, {len(alike)} rules, do nothing: {idle}."
            lines += paragraph(f"{first.entry.file}:{first.entry.line} {says}", "  ", "    ")
            told += len(alike)
            continue
        for each in alike[: None if most is None else max(0, most - told)]:
            lines += paragraph(f"{each.entry.file}:{each.entry.line} {sentence(each)}", "  ", "    ")
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
            "case": {} if change.case is None else change.case._asdict(),
        }
        for layer, change in found
    ]


def loosened_lines(found: Iterable[Loosening]) -> list[str]:
    """Return the lines that stand on top of a check: every case that is laxer than the layer below has it."""
    lines: list[str] = []
    for layer, change in found:
        cause = change.causes[0]
        told = "; ".join(map(_told, change.differences))
        where = f"{cause.file}:{cause.line}"
        head = f'{where} "{layer}" does without {cause.rule} ({cause.by}): {told}'
        lines += paragraph(head, "  ", "    ")
        cases = f"{change.cases:,}".replace(",", " ")
        lines += paragraph(f"in {in_words(change.limits)} ({cases} cases)", "      ", "      ")
    return ["LAXER THAN THE LAYER BELOW (stands on every card it touches)", *lines, ""] if lines else []


def sentence(doing: Doing) -> str:
    """Return what a rule or withdrawal does, in a sentence."""
    name = doing.rule if isinstance(doing.entry, Rule) else f"Doing without {doing.rule}"
    lacks = ""
    if doing.off_shelf:
        lacks = f" The shelf lacks {' and '.join(doing.off_shelf)}."
    if doing.does == "nothing":
        return f"{name} does nothing: {_why_nothing(doing)}.{lacks}"
    told = "; ".join(map(_told, doing.differences))
    does = {
        "tightens": "tightens",
        "loosens": "loosens",
        "both": "tightens some cases and loosens others",
        "words": "changes words on the card",
    }[doing.does]
    example = f"{picture(doing.case)}, " if doing.case is not None else ""
    cases = f" ({doing.cases:,} cases)".replace(",", " ") if doing.cases else ""
    return f"{name} {does}{cases}{f': {example}{told}' if told else ''}.{lacks}"


def _why_nothing(doing: Doing) -> str:
    if not isinstance(doing.entry, Rule):
        return "other rules ask as much in all its cases"
    if doing.aside:
        return "another entry replaces or withdraws it"
    if doing.unmet:
        return "no card ever meets its cases"
    if doing.shadows:
        some = [f"{rule.id} ({rule.file}:{rule.line})" for rule in doing.shadows[:_SHADOWS_MOST]]
        asks = "asks" if len(doing.shadows) == 1 else "ask"
        return f"in all its cases {' and '.join(some)} {asks} as much or more"
    return "nobody reads in its cases what it sets, or it asks for what holds anyway"


def _told(difference: Difference) -> str:
    output, before, after = difference
    if OUTPUTS[output].is_union:
        one = output.removesuffix("s")
        return f'{one} "{after}"' if before is None else f'no {one} "{before}" any more'
    return f"{output} {told_setting(output, before)} → {told_setting(output, after)}"


def picture(case: Facts) -> str:
    """Return a case as a lead sees it: "front door, very fine, light: body line in the fade"."""
    head = [trade.OUTLINE[case.panel], case.flake.replace("-", " "), case.tone]
    if case.stages != _USUAL.stages:
        head.append(f"{case.stages} stages")
    if case.role != _USUAL.role:
        head.append(case.role.replace("-", " "))
    if case.special != _USUAL.special:
        head.append(trade.SPECIAL[case.special])
    place = [trade.KIND[case.feature]]
    if case.reach == "hand":
        place.append("by hand only")
    if not case.seen and case.feature != "face":
        place.append("not seen")
    if case.surface != _USUAL.surface:
        place.append(f"on {trade.SURFACE[case.surface]}")
    if case.next != _USUAL.next:
        place.append(f"{trade.NEXT[case.next]} next")
    for fact in NUMBER:
        value = getattr(case, fact)
        if fact == "film_um" and value is not None:
            place.append(f"{value:g} µm of film")
    where = f"in the {trade.ZONE[case.zone]}" if case.zone != "clear" else "in clear only"
    return f"{', '.join(head)}: {', '.join(place)} {where}"
