"""What a rule or withdrawal really does, in one sentence with one case that a lead can picture."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from prepadvisor.cases import NUMBER, Facts
from prepadvisor.standards import OUTPUTS, Difference, Doing, Rule, told_setting
from prepadvisor.wording import KIND, NEXT, SPECIAL, SURFACE, ZONE, outline_words, thousands

AS_IN_FILES: Final[Mapping[str, str]] = MappingProxyType({})
"""Outputs go by the names that rule files have for them."""
_USUAL: Final = Facts()
_SHADOWS_MOST: Final = 3


def doing_says(doing: Doing, outputs: Mapping[str, str] = AS_IN_FILES) -> str:
    """Return what a rule or withdrawal does, in a sentence; `outputs` has words for what rules set."""
    name = doing.rule if isinstance(doing.entry, Rule) else f"Doing without {doing.rule}"
    lacks = ""
    if doing.off_shelf:
        lacks = f" The shelf lacks {' and '.join(doing.off_shelf)}."
    if doing.does == "nothing":
        return f"{name} does nothing: {why_nothing(doing)}.{lacks}"
    told = "; ".join(told_difference(each, outputs) for each in doing.differences)
    does = {
        "tightens": "tightens",
        "loosens": "loosens",
        "both": "tightens some cases and loosens others",
        "words": "changes words on the card",
    }[doing.does]
    example = f"{picture(doing.case)}, " if doing.case is not None else ""
    cases = f" ({thousands(doing.cases)} cases)" if doing.cases else ""
    return f"{name} {does}{cases}{f': {example}{told}' if told else ''}.{lacks}"


def why_nothing(doing: Doing) -> str:
    """Return why a rule or withdrawal changes nothing."""
    if doing.holds_on:
        return "it says nothing of what guards instead (lets_go), so the hold holds on"
    if not isinstance(doing.entry, Rule):
        return "other rules ask as much in all its cases"
    if doing.aside:
        return "another entry replaces or withdraws it"
    if doing.unmet:
        return "no card ever meets its cases"
    if doing.unread:
        return "in its cases no card reads what it sets, as of a DA where only the hand reaches"
    if doing.held:
        return "all its cases are on hold already"
    if doing.shadows:
        some = [f"{rule.id} ({rule.file}:{rule.line})" for rule in doing.shadows[:_SHADOWS_MOST]]
        asks = "asks" if len(doing.shadows) == 1 else "ask"
        return f"in all its cases {' and '.join(some)} {asks} as much or more"
    return "nobody reads in its cases what it sets, or it asks for what holds anyway"


def told_difference(difference: Difference, outputs: Mapping[str, str] = AS_IN_FILES) -> str:
    """Return one answer before and after, such as "hand_coarsest P1000 → P1200"."""
    output, before, after = difference
    if OUTPUTS[output].is_union:
        one = output.removesuffix("s")
        return f'{one} "{after}"' if before is None else f'no {one} "{before}" any more'
    return f"{outputs.get(output, output)} {told_setting(output, before)} → {told_setting(output, after)}"


def picture(case: Facts) -> str:
    """Return a case as a lead sees it: "front door, very fine, light: body line in the fade"."""
    head = [outline_words(case.panel), case.flake.replace("-", " "), case.tone]
    if case.stages != _USUAL.stages:
        head.append(f"{case.stages} stages")
    if case.role != _USUAL.role:
        head.append(case.role.replace("-", " "))
    if case.special != _USUAL.special:
        head.append(SPECIAL[case.special])
    place = [KIND[case.feature]]
    if case.reach == "hand":
        place.append("by hand only")
    if not case.seen and case.feature != "face":
        place.append("not seen")
    if case.surface != _USUAL.surface:
        place.append(f"on {SURFACE[case.surface]}")
    if case.next != _USUAL.next:
        place.append(f"{NEXT[case.next]} next")
    for fact in NUMBER:
        value = getattr(case, fact)
        if fact == "film_um" and value is not None:
            place.append(f"{value:g} µm of film")
    where = f"in the {ZONE[case.zone]}" if case.zone != "clear" else "in clear only"
    return f"{', '.join(head)}: {', '.join(place)} {where}"
