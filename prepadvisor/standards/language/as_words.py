"""Rules and cases told: in the shop's words, as a rule file has them, or some grades finer."""

import re
from collections.abc import Mapping, Sequence
from math import inf
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import CATEGORIES, CATEGORY, FACT, Category, Names, NumberFact, Value
from prepadvisor.records import RANK, OutputName, is_grade
from prepadvisor.standards.engine import OUTPUTS, Box, Interval, Rule, Setting
from prepadvisor.standards.proof.space import Among

if TYPE_CHECKING:
    from prepadvisor.records import Grade

# Cases in the words of the shop: "very-fine flake; fade zone; edge or wheel-arch; by hand only".

_RUN_FROM: Final = 2


def in_words(limits: Mapping[str, Sequence[Value]]) -> str:
    """Return the cases of a box in one line; `limits` maps a fact to the values it may have.

    Facts that are not limited are left out; no limit at all is "every case".
    """
    phrases = [_phrase(FACT[fact], values, limits) for fact, values in limits.items()]
    return "; ".join(phrase for phrase in phrases if phrase) or "every case"


def _phrase(
    fact: Category | NumberFact, values: Sequence[Value], limits: Mapping[str, Sequence[Value]]
) -> str:
    if isinstance(fact, NumberFact):
        return _of_number(fact, values, limits)
    every = values.every if isinstance(values, Among) else tuple(fact.values)
    missing = [value for value in every if value not in values]
    if isinstance(fact.values, Names) and fact.values.rest in values and missing:
        return fact.but.format(" or ".join(map(str, missing)))
    if all(value in fact.said for value in values):
        return " or ".join(fact.said[value] for value in values)
    return fact.phrase.format(_either(fact, values, every, missing))


def _of_number(fact: NumberFact, values: Sequence[Value], limits: Mapping[str, Sequence[Value]]) -> str:
    """Tell ranges; "unknown" of a number that only some places lack as these, and not where that is told."""
    known = [value for value in values if value != "unknown"]
    lacking = fact.lacking
    if lacking is None or len(known) == len(values):
        return fact.phrase.format(" or ".join(_number(fact, str(value)) for value in values))
    told = [fact.phrase.format(" or ".join(_number(fact, str(value)) for value in known))] if known else []
    others = limits.get(lacking.fact)
    is_told = others is not None and all(value in lacking.values for value in others)
    cannot_be = others is not None and not any(value in lacking.values for value in others)
    if is_told and not known:
        return ""
    return ", or ".join(told if cannot_be and told else [*told, lacking.said])


def _number(fact: NumberFact, words: str) -> str:
    return words if words in {"unknown", "known"} else f"{words} {fact.unit}"


def _either(fact: Category, values: Sequence[Value], every: Sequence[Value], missing: Sequence[Value]) -> str:
    """Tell a long list by what is not in it, and a run to an end of the order by where it begins."""
    if fact.run and _RUN_FROM <= len(values) < len(every):
        up, down = fact.run
        if list(values) == list(every[-len(values) :]):
            return up.format(values[0])
        if list(values) == list(every[: len(values)]):
            return down.format(values[-1])
    if missing and len(every) > 3 and len(missing) * 2 < len(values):
        return fact.but.format(" or ".join(map(str, missing)))
    return " or ".join(map(str, values))


# A rule as a rule file has it: its conditions and what it sets, in one line each, ready to paste.

_LIST_MOST = 2
"""A run of an order with more values than this is written by its end."""


def when_line(box: Box) -> str:
    """Return a box as the value of `when`."""
    parts = []
    for fact in box.asked:
        if fact in CATEGORY:
            parts.append(f"{fact} = {_values(fact, box)}")
        else:
            limits = box.range_of(fact)
            assert limits is not None  # noqa: S101 - the box asks it
            parts.append(f"{fact} = {_range(limits)}")
    return f"{{ {', '.join(parts)} }}" if parts else "{ }"


def set_line(settings: Mapping[OutputName, Setting]) -> str:
    """Return settings as the value of `set`."""
    return f"{{ {', '.join(f'{name} = {_setting(value)}' for name, value in settings.items())} }}"


def rule_text(
    rule_id: str,
    says: str,
    when: Box,
    settings: Mapping[OutputName, Setting],
    source: str,
    replaces: str = "",
) -> str:
    """Return a whole rule as text."""
    lines = [
        "[[rule]]",
        f"id = {quoted(rule_id)}",
        f"says = {quoted(says)}",
        f"when = {when_line(when)}",
        f"set = {set_line(settings)}",
        f"source = {quoted(source)}",
    ]
    if replaces:
        lines.append(f"replaces = {quoted(replaces)}")
    return "\n".join(lines) + "\n"


def quoted(text: str) -> str:
    """Return a text as a TOML string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _word(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return quoted(value) if isinstance(value, str) else f"{value:g}"


def _values(fact: str, box: Box) -> str:
    category, values = CATEGORIES[CATEGORY[fact]], box.values(fact)
    every = category.values
    if len(values) == 1 and not category.is_open:
        return _word(values[0])
    if category.ordered and len(values) >= _LIST_MOST:
        if values == every[-len(values) :]:
            return quoted(f">= {values[0]}")
        if values == every[: len(values)]:
            return quoted(f"<= {values[-1]}")
    missing = box.left_out(fact) or tuple(value for value in every if value not in values)
    if box.left_out(fact) or (not category.is_open and len(missing) < len(values)):
        return f"{{ not = {_word(missing[0]) if len(missing) == 1 else _list(missing)} }}"
    return _word(values[0]) if len(values) == 1 else _list(values)


def _list(values: tuple[Value, ...]) -> str:
    return f"[{', '.join(map(_word, values))}]"


def _range(limits: Interval) -> str:
    if limits.numberless:
        return quoted("no reading")
    told = _known_range(limits)
    return f'["no reading", {told}]' if limits.unknown else told


def _known_range(limits: Interval) -> str:
    if limits.high == inf:
        return quoted(f"{'>=' if limits.low_closed else '>'} {limits.low:g}")
    if limits.low == 0 and limits.low_closed:
        return quoted(f"{'<=' if limits.high_closed else '<'} {limits.high:g}")
    if limits.low == limits.high:
        return f"{limits.low:g}"
    return quoted(f"{limits.low:g} .. {limits.high:g}")


def _setting(value: Setting) -> str:
    if isinstance(value, tuple):
        return _word(value[0]) if len(value) == 1 else f"[{', '.join(map(_word, value))}]"
    return _word(value)


_FINER: Final = tuple(name for name, output in OUTPUTS.items() if output.kind == "grade finest")
"""The outputs that a finer grade tightens; the key limit is not one of them."""


class Tightened(NamedTuple):
    """What a tightened rule sets, its sentence, and each grade before and after."""

    id: str
    says: str
    set: dict[OutputName, Setting]
    steps: dict[OutputName, tuple["Grade", "Grade"]]


class NoGradeError(ValueError):
    """A rule that sets no grade to make finer, or a shelf that has no finer one."""


def tightened(rule: Rule, steps: int, shelf: Sequence["Grade"]) -> Tightened:
    """Return a rule's grade limits so many steps of the shelf finer.

    Args:
        rule: the rule.
        steps: how many grades finer, at least 1.
        shelf: the grades there are.

    Raises:
        NoGradeError: the rule sets no such grade, or the shelf has none that is so much finer.
    """
    ordered = sorted(set(shelf), key=RANK.__getitem__)
    changed: dict[OutputName, tuple[Grade, Grade]] = {}
    for output in _FINER:
        grade = rule.set.get(output)
        if is_grade(grade):
            finer = [each for each in ordered if RANK[each] > RANK[grade]]
            if len(finer) < steps:
                raise NoGradeError(f"the shelf has nothing {steps} finer than {grade}")
            changed[output] = (grade, finer[steps - 1])
    if not changed:
        raise NoGradeError(f'"{rule.id}" sets no grade that could be finer')
    grades: dict[str, Grade] = dict(changed.values())
    says = re.sub(r"\b[Pp] ?(\d+)\b", lambda found: grades.get(f"P{found[1]}", found[0]), rule.says)
    settings: dict[OutputName, Setting] = {output: after for output, (_, after) in changed.items()}
    return Tightened(f"our-{rule.id}", says, settings, changed)
