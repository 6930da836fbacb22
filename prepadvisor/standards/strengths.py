"""The strength of an answer as a number, back to the answer, and which of two answers is the laxer one."""

from math import inf
from typing import Final

from prepadvisor.records.decision import OutputName
from prepadvisor.standards.outputs import OUTPUTS, Setting
from prepadvisor.surface import grades

NO_BOUND: Final = -inf
"""The strength of an output that no rule sets and that has no start value."""


def unset_strength(output: OutputName) -> float:
    """Return the strength of an output that no rule sets."""
    unset = OUTPUTS[output].unset
    return NO_BOUND if unset is None else float(OUTPUTS[output].strength(unset))


def setting_of(output: OutputName, strength: float) -> Setting | None:
    """Return the value that has this strength, None for no bound."""
    if strength == NO_BOUND:
        return None
    known = OUTPUTS[output]
    match known.kind:
        case "grade finest":
            return grades.GRADES[int(strength)]
        case "grade coarsest":
            return grades.GRADES[int(-strength)]
        case "number lowest":
            return int(-strength) if known.whole else -strength
        case "number highest":
            return int(strength) if known.whole else strength
        case _:
            return known.words[int(strength)]


def fineness(output: OutputName, strength: float) -> float:
    """Return how fine the grade of a strength is; no bound is coarser than any grade."""
    return -strength if OUTPUTS[output].kind == "grade coarsest" and strength != NO_BOUND else strength


def told(output: OutputName, strength: float) -> str:
    """Return an answer in words, such as "P800", "2 coats" or "no bound"."""
    return told_setting(output, setting_of(output, strength))


def told_setting(output: OutputName, setting: Setting | str | None) -> str:
    """Return an answer in words, None being "no bound"."""
    if setting is None:
        return "no bound"
    text = f"{setting:g}" if isinstance(setting, float) else str(setting)
    unit = OUTPUTS[output].unit
    return f"{text} {'coat' if unit == 'coats' and setting == 1 else unit}".rstrip()
