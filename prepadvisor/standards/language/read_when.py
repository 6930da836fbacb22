"""Reads the `when` of a rule file into a box, telling everything that is wrong with it at once."""

import re
from collections.abc import Mapping, Sequence
from math import inf, isfinite
from typing import Final

from prepadvisor.cases import (
    CATEGORIES,
    CATEGORY,
    FACTS,
    NO_KINDS,
    NUMBER,
    NUMBERS,
    OTHER,
    Category,
    Kinds,
    Names,
    Value,
)
from prepadvisor.records import KeyPath, Problem, did_you_mean, key_of
from prepadvisor.standards.engine import EVERYTHING, NO_READING, Box, Interval

_COMPARED: Final = re.compile(r"(>=|<=|>|<)\s*(\S+)")
_NO_READING: Final = frozenset({"no reading", "unknown", "not known", "not measured", "none"})
_SIGNS: Final = {
    "!=": "not",
    "<>": "not",
    "not ": "not",
    "==": "",
    "=": "",
    "=>": ">=",
    "=<": "<=",
    "≥": ">=",
    "≤": "<=",
}
"""Signs of other languages to what they are here; "not" is { not = "…" }."""
_OR_WORDS: Final = re.compile(r"(.+?)\s*(?:\+|or\s+(finer|stricter|more|coarser|less))$")
_RANGE: Final = re.compile(r"(\S+)\s*\.\.\s*(\S+)|(\S+?)\.\.(\S+)")


class _WrongError(Exception):
    """A condition that cannot be read, with its mend and the key inside the condition that is meant."""

    def __init__(self, says: str, mend: str = "", inside: KeyPath = ()) -> None:
        self.says, self.mend, self.inside = says, mend, inside
        super().__init__(says)


def read_when(raw: Mapping[str, object], path: KeyPath, kinds: Kinds = NO_KINDS) -> tuple[Box, list[Problem]]:
    """Return the box that the conditions mean, and every problem with its key path.

    Args:
        raw: fact to condition as in the file: a value, a list, `{ not = [...] }`, ">= x", "> x", "<= x",
            "< x", "a .. b".
        path: the key path of `when` itself.
        kinds: panel kinds of the house; one is meant too where the kind that it is like is named.
    """
    masks, ranges = list(EVERYTHING.masks), list(EVERYTHING.ranges)
    problems: list[Problem] = []
    for fact, condition in raw.items():
        try:
            if fact in CATEGORY:
                masks[CATEGORY[fact]] = _mask(CATEGORIES[CATEGORY[fact]], condition, kinds)
            elif fact in NUMBER:
                ranges[NUMBER[fact]] = _interval(fact, condition)
            else:
                problems.append(Problem((*path, fact), f'no fact is called "{fact}"', _fact_meant(fact)))
        except _WrongError as wrong:
            problems.append(Problem((*path, fact, *wrong.inside), wrong.says, wrong.mend))
    return Box(tuple(masks), tuple(ranges)), problems


def read_value(
    fact: str, raw: object, path: KeyPath, kinds: Kinds = NO_KINDS
) -> tuple[object, list[Problem]]:
    """Return one stated value of a fact, as an example gives it, and what is wrong with it."""
    try:
        if fact in CATEGORY:
            category = CATEGORIES[CATEGORY[fact]]
            return category.values[_place(category, raw, kinds)], []
        if fact in NUMBER:
            return _number(fact, raw), []
    except _WrongError as wrong:
        return None, [Problem((*path, fact), wrong.says, wrong.mend)]
    return None, [Problem((*path, fact), f'no fact is called "{fact}"', _fact_meant(fact))]


def _mask(category: Category, condition: object, kinds: Kinds) -> int:
    if isinstance(condition, Mapping):
        if set(condition) != {"not"}:
            raise _WrongError(f"{category.name}: the only table here is {{ not = [...] }}")
        left = category.full & ~_mask_of_list(category, condition["not"], ("not",), kinds)
        if not left & category.always:  # a kind of the house goes with the one it is like
            raise _WrongError(f"{category.name}: every value is ruled out, so the rule never applies")
        return left
    if isinstance(condition, str) and not category.takes_any_word:
        compared, ranged = _COMPARED.fullmatch(condition.strip()), _RANGE.fullmatch(condition.strip())
        if compared or ranged:
            return _ordered_mask(category, condition)
    return _mask_of_list(category, condition, (), kinds)


def _mask_of_list(category: Category, condition: object, inside: KeyPath, kinds: Kinds) -> int:
    if not isinstance(condition, list):
        return _bits(category, condition, kinds, inside)
    if not condition:
        raise _WrongError(f"{category.name}: the list is empty, so the rule never applies", "", inside)
    return _union([_bits(category, value, kinds, (*inside, at)) for at, value in enumerate(condition)])


def _bits(category: Category, value: object, kinds: Kinds, inside: KeyPath) -> int:
    """Return the set of one value: of a panel kind with those of the house that are like it."""
    bits = 1 << _place(category, value, kinds, inside)
    if category.name == "panel" and isinstance(category.values, Names):
        for kind, like in kinds.items():
            if like == value:
                bits |= 1 << category.values.place(kind)
    return bits


def _union(masks: Sequence[int]) -> int:
    together = 0
    for mask in masks:
        together |= mask
    return together


def _ordered_mask(category: Category, condition: str) -> int:
    text = condition.strip()
    if not category.ordered:
        raise _WrongError(f'{category.name} has no order, so "{text}" means nothing', "list the values: [..]")
    compared = _COMPARED.fullmatch(text)
    if compared:
        place = _place(category, _typed(category, compared[2]), NO_KINDS)
        above = category.full & ~((1 << place) - 1)
        mask = {
            ">=": above,
            ">": above & ~(1 << place),
            "<=": category.full & ~above | 1 << place,
            "<": category.full & ~above,
        }[compared[1]]
        if not mask:
            raise _WrongError(f'{category.name}: no value is "{text}", so the rule never applies')
        return mask
    low, high = (_place(category, _typed(category, end), NO_KINDS) for end in _ends(text))
    if low > high:
        order = " < ".join(str(value) for value in category.values)
        raise _WrongError(f'{category.name}: "{text}" runs backwards', f"the order is {order}")
    return (1 << high + 1) - (1 << low)


def _ends(text: str) -> tuple[str, str]:
    ranged = _RANGE.fullmatch(text)
    if ranged is None:
        raise _WrongError(f'"{text}" is not a range', 'write "a .. b"')
    return (ranged[1] or ranged[3], ranged[2] or ranged[4])


def _typed(category: Category, word: str) -> object:
    return int(word) if isinstance(category.values[0], int) and word.isdecimal() else word


def _place(category: Category, value: object, kinds: Kinds, inside: KeyPath = ()) -> int:
    if isinstance(category.values, Names):
        if category.values.rest is not None:
            return category.values.place(_name(category, value, inside))
        if isinstance(value, str) and value in kinds:
            return category.values.place(value)
    known = _known(category, kinds)
    for place, each in enumerate(known):
        if type(value) is type(each) and value == each:
            return place
    raise _WrongError(*_no_such_value(category, known, value), inside)


def _known(category: Category, kinds: Kinds) -> Sequence[Value]:
    """Return the values that a rule of the house may name, those first that are always there."""
    return (*category.stated, *kinds) if category.is_open else category.stated


def _name(category: Category, value: object, inside: KeyPath) -> str:
    """Return a name as it is compared: case and blanks do not matter."""
    if not isinstance(value, str) or not key_of(value):
        raise _WrongError(f"{category.name} cannot be {value!r}", 'write the colour\'s word: "hm-3"', inside)
    if key_of(value) == OTHER:
        mend = "write { not = [...] } with the colours that are not meant"
        raise _WrongError(f'{category.name} cannot be "{value}": that is what no rule names', mend, inside)
    return key_of(value)


def _meant_condition(category: Category, values: Sequence[Value], text: str) -> str:
    """Return how a condition that is written in another language is written here, "" if it is none."""
    known = {str(value).lower(): value for value in values}
    for sign, ours in _SIGNS.items():
        rest = text.removeprefix(sign).strip().strip("\"'")
        if not text.startswith(sign) or rest not in known:
            continue
        if ours == "not":
            return f"write {category.name} = {{ not = {_quoted(known[rest])} }}"
        if not ours:
            return f"write {category.name} = {_quoted(known[rest])}"
        if category.ordered:
            return f'write {category.name} = "{ours} {rest}"'
    told = _OR_WORDS.fullmatch(text)
    if told and told[1] in known and category.ordered:
        sign = "<=" if told[2] in {"coarser", "less"} else ">="
        return f'write {category.name} = "{sign} {told[1]}"'
    several = [part.strip() for part in re.split(r",|/|;|\bor\b|\band\b|\|", text) if part.strip()]
    if len(several) > 1 and all(part in known for part in several):
        return f"write {category.name} = [{', '.join(_quoted(known[part]) for part in several)}]"
    if text in {"*", "any", "all", "every"}:
        return f"leave {category.name} out: what a rule does not ask does not matter"
    return ""


def _quoted(value: Value) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value).lower()


_FACT_MEANT: Final = {
    "colour": 'write book = "…", the colour\'s word in the colour book, or flake or tone',
    "customer": "a customer has a layer of his own: customer in [standards] of its folder",
}


def _fact_meant(fact: str) -> str:
    return _FACT_MEANT.get(fact) or did_you_mean(fact, FACTS)


_MEANT: Final = {
    ("flake", "metallic"): 'flake = { not = "solid" }',
    ("surface", "clear"): 'surface = ["aged-clear", "cured-clear"]',
    ("feature", "line"): 'feature = { not = ["face", "patch"] }',
    ("feature", "lines"): 'feature = { not = ["face", "patch"] }',
    ("zone", "blend"): 'zone = "fade"',
}
"""A fact and a word of the trade that is none of its values, and what says it here."""


def _no_such_value(category: Category, values: Sequence[Value], value: object) -> tuple[str, str]:
    first = values[0]
    known = [str(word).lower() for word in values]
    shown = str(value).lower() if isinstance(value, bool) else repr(value)
    meant = ""
    if isinstance(value, str):
        word = value.strip().lower()
        said = _MEANT.get((category.name, word))
        meant = f"write {said}" if said else _meant_condition(category, values, word)
    if meant:
        return f'{category.name} cannot be "{value}"', meant
    if not isinstance(first, str):
        return f"{category.name} cannot be {shown}", f"use {' or '.join(known)}, without quotes"
    if not isinstance(value, str):
        return f"{category.name} cannot be {shown}", f"use one of: {', '.join(known)}"
    return f'{category.name} cannot be "{value}"', did_you_mean(value, known)


def _interval(fact: str, condition: object) -> Interval:
    if isinstance(condition, list):
        return _reading_or_none(fact, condition)
    if not isinstance(condition, str):
        exact = _number(fact, condition)
        return Interval(exact, True, exact, True)
    text = condition.strip()
    if text.lower() in _NO_READING:
        return NO_READING
    compared = _COMPARED.fullmatch(text)
    if compared:
        end = _number(fact, _as_number(fact, compared[2]))
        interval = {
            ">=": Interval(end, True, inf, False),
            ">": Interval(end, False, inf, False),
            "<=": Interval(0.0, True, end, True),
            "<": Interval(0.0, True, end, False),
        }[compared[1]]
        if interval.empty:
            raise _WrongError(f'{fact}: no number is "{text}", so the rule never applies')
        return interval
    if not _RANGE.fullmatch(text):
        raise _WrongError(
            f'{fact}: "{text}" is no condition on a number',
            f'write ">= 90", "< 90", "90 .. 300" or "no reading", in {_unit(fact)}',
        )
    low, high = (_number(fact, _as_number(fact, end)) for end in _ends(text))
    if low > high:
        raise _WrongError(f'{fact}: "{text}" runs backwards', f'write "{high:g} .. {low:g}"')
    return Interval(low, True, high, True)


def _reading_or_none(fact: str, conditions: list[object]) -> Interval:
    """Return the box side of ["no reading", "< 90"]: one range, and the number that is not known as well."""
    ranges = [_interval(fact, each) for each in conditions if not isinstance(each, list)]
    known = [each for each in ranges if each != NO_READING]
    if len(known) != 1 or len(ranges) != 2 or len(ranges) != len(conditions):
        raise _WrongError(
            f"{fact} cannot be this list: it takes one range, or one range and no reading",
            f'write ["no reading", "< 90"]; for two ranges write two rules, in {_unit(fact)}',
        )
    return known[0]._replace(unknown=True)


def _as_number(fact: str, word: str) -> float:
    try:
        return float(word)
    except ValueError:
        raise _WrongError(
            f'{fact}: "{word}" is not a number', f"write the bare number; it counts in {_unit(fact)}"
        ) from None


def _number(fact: str, raw: object) -> float:
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not isfinite(raw):
        raise _WrongError(f"{fact} cannot be {raw!r}", f"write a number; it counts in {_unit(fact)}")
    if raw < 0:
        raise _WrongError(f"{fact} is never below 0", "")
    return float(raw)


def _unit(fact: str) -> str:
    return NUMBERS[NUMBER[fact]].unit
