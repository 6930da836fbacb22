"""What a rule asks and sets, fact by fact and answer by answer, in the words of the trade."""

from collections.abc import Mapping
from math import inf
from typing import Final

from prepadvisor.cases.fact import Category, Value
from prepadvisor.cases.facts import FACT, NUMBER, NUMBERS
from prepadvisor.standards.conditions import Box, Interval
from prepadvisor.standards.outputs import Setting
from prepadvisor.tui.model.what_if import POWDER
from prepadvisor.wording import trade

FACT_LABEL: Final = {
    "flake": "Flake", "tone": "Tone", "zone": "Zone", "stages": "Stages", "role": "Panel is",
    "surface": "Surface", "next": "Next coat", "feature": "Place", "reach": "Reached by", "seen": "Seen",
    "panel": "Panel", "special": "Special", "book": "Book colour", "film_um": "Film, um",
    "length_mm": "Line, mm", "panel_m2": "Panel, m2",
}  # fmt: skip
"""Facts as labels; one without an entry goes by its name."""

ANSWER_LABEL: Final = {
    "finish_coarsest": "DA at the coarsest", "finish_target": "DA, the usual grade",
    "finish_finest": "DA at the finest", "hand_coarsest": "by hand, then DA",
    "hand_last_coarsest": "by hand, last touch", "risk_limit": "risk allowed",
    "bed_coats_max": "bed coats at most", "bed_coats_min": "bed coats at least",
    "film_off_max_um": "film off, um at most", "film_left_min_um": "film left, um",
    "step_ratio_min": "next grain, share", "wet_bed": "wet bed", "guide_coat": "powder",
    "machine": "sander", "holds": "STOP", "cautions": "caution", "notes": "note",
}  # fmt: skip
"""Answers as labels; one without an entry goes by its longer words."""

_VALUES: Final[Mapping[str, Mapping[str, str]]] = {
    "tone": trade.TONE, "zone": trade.ZONE, "surface": trade.SURFACE,
    "next": trade.NEXT, "feature": trade.KIND, "panel": trade.OUTLINE, "special": trade.SPECIAL,
    "role": {"repair": "repair panel", "blend": "blend panel", "clear-only": "clear only"},
}  # fmt: skip
_ANSWERS: Final[Mapping[str, Mapping[str, str]]] = {
    "wet_bed": {"no": "no", "advised": "advised", "required": "NEEDED"},
    "guide_coat": dict(POWDER.items()),
    "machine": {"any": "any sander", "interface-pad": "interface pad only", "never": "no sander"},
}


def fact_label(fact: str) -> str:
    """Return a fact as a label."""
    return FACT_LABEL.get(fact, fact.replace("_", " "))


def value_words(fact: str, value: Value) -> str:
    """Return one value of a fact in words."""
    about = FACT[fact]
    if isinstance(about, Category) and value in about.said:
        return about.said[value]
    return _VALUES.get(fact, {}).get(str(value), str(value).replace("-", " "))


def condition_words(box: Box, fact: str) -> str:
    """Return what a box asks of one fact, in words."""
    if fact in NUMBER:
        return range_words(fact, box.range_of(fact))
    about = FACT[fact]
    assert isinstance(about, Category)  # noqa: S101 - what is no number is one
    if left_out := box.left_out(fact):
        return about.but.format(" or ".join(value_words(fact, value) for value in left_out))
    values = box.values(fact)
    names = [value_words(fact, value) for value in values]
    if about.ordered and 1 < len(values) < len(about.values):
        if values == tuple(about.values[-len(values) :]):
            return f"{names[0]} or {'finer' if fact == 'flake' else 'stricter'}"
        if values == tuple(about.values[: len(values)]):
            return f"{names[-1]} or {'coarser' if fact == 'flake' else 'less strict'}"
    left = [value for value in about.stated if value not in values]
    if left and len(left) * 2 < len(values) and not about.is_open:
        return "any but " + " or ".join(value_words(fact, value) for value in left)
    return " or ".join(names)


def range_words(fact: str, range_: Interval | None) -> str:
    """Return the range of a number in words, such as "film under 90 µm"."""
    unit = NUMBERS[NUMBER[fact]].unit
    if range_ is None:
        return f"any {fact}"
    if range_.numberless:
        return "no reading"
    name = fact.rpartition("_")[0]
    low = (
        ""
        if range_.low == 0 and range_.low_closed
        else f" {'from' if range_.low_closed else 'over'} {range_.low:g}"
    )
    high = "" if range_.high == inf else f" {'up to' if range_.high_closed else 'under'} {range_.high:g}"
    told = f"{name}{low}{high} {unit}" if low or high else f"{name} known"
    return f"{told}, or no reading" if range_.unknown else told


def setting_words(output: str, value: Setting) -> str:
    """Return the value of an answer in words."""
    if isinstance(value, tuple):
        return "; ".join(value)
    if isinstance(value, float):
        return f"{value:g}"
    return _ANSWERS.get(output, {}).get(str(value), str(value))


def answer_label(output: str) -> str:
    """Return what an answer is about, as a label of a few words."""
    return ANSWER_LABEL.get(output, trade.OUTPUT.get(output, output.replace("_", " ")))
