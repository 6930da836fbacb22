"""A rule as a rule file has it: its conditions and what it sets, in one line each, ready to paste."""

from collections.abc import Mapping
from math import inf

from prepadvisor.cases.fact import Value
from prepadvisor.cases.facts import CATEGORIES, CATEGORY
from prepadvisor.records.decision import OutputName
from prepadvisor.standards.conditions import Box, Interval
from prepadvisor.standards.outputs import Setting

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
