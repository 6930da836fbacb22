"""Cases in the words of the shop: "very-fine flake; fade zone; edge or wheel-arch; by hand only"."""

from collections.abc import Mapping, Sequence
from typing import Final

from prepadvisor.cases.fact import Category, Names, NumberFact, Value
from prepadvisor.cases.facts import FACT
from prepadvisor.standards.axes import Among

_RUN_FROM: Final = 2


def in_words(limits: Mapping[str, Sequence[Value]]) -> str:
    """Return the cases of a box in one line; `limits` maps a fact to the values it may have.

    Facts that are not limited are left out; no limit at all is "every case".
    """
    return "; ".join(_phrase(FACT[fact], values) for fact, values in limits.items()) or "every case"


def _phrase(fact: Category | NumberFact, values: Sequence[Value]) -> str:
    if isinstance(fact, NumberFact):
        return fact.phrase.format(" or ".join(_number(fact, str(value)) for value in values))
    every = values.every if isinstance(values, Among) else tuple(fact.values)
    missing = [value for value in every if value not in values]
    if isinstance(fact.values, Names) and fact.values.rest in values and missing:
        return fact.but.format(" or ".join(map(str, missing)))
    if all(value in fact.said for value in values):
        return " or ".join(fact.said[value] for value in values)
    return fact.phrase.format(_either(fact, values, every, missing))


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
