"""Why a place is held: the kind, its facts, the rules in it and the grades to buy."""

from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from tests.recompute.house import GRAIN, finer


class Trouble(NamedTuple):
    """One reason to hold a place."""

    kind: str
    facts: Mapping[str, Any] = {}
    rules: frozenset[str] = frozenset()
    lacks: tuple[str, ...] = ()


BED: Final = ("wet_bed", "bed_coats_max")


def behind(says: Mapping[str, Any], *outputs: str) -> frozenset[str]:
    """Return the rules that decide some answers."""
    return frozenset(rule for output, rule, _ in says["because"] if output in outputs)


def of_rules(says: Mapping[str, Any], *, by_hand: bool) -> tuple[Trouble, ...]:
    """Return what in the rules' own words leaves a spot without a grade.

    Args:
        says: what all rules together say of it.
        by_hand: whether the limit for hand as last touch counts.
    """
    if says["holds"]:
        return tuple(_held(says, text) for text in says["holds"])
    least, most = says["bed_coats_min"] or 0, says["bed_coats_max"]
    if says["wet_bed"] == "required" and most == 0:
        return (Trouble("bed-forbidden", {}, behind(says, *BED)),)
    if says["wet_bed"] == "required" and most is not None and least > most:
        rules = behind(says, "bed_coats_min", "bed_coats_max")
        return (Trouble("bed-too-thin", {"least": least, "most": most}, rules),)
    limit = "hand_last_coarsest" if by_hand else "finish_coarsest"
    low, high = says[limit], says["finish_finest"]
    if low is None or high is None:
        return (Trouble("no-rule"),)
    if finer(low, high):
        return (
            Trouble("collision", {"coarsest": low, "finest": high}, behind(says, limit, "finish_finest")),
        )
    return ()


def _held(says: Mapping[str, Any], text: str) -> Trouble:
    rules = frozenset(rule for output, rule, value in says["because"] if (output, value) == ("holds", text))
    return Trouble("rule-hold", {"says": text}, rules)


def shelf_lacks(low: str, high: str) -> Trouble:
    """Return what says that no grade of a range is on the shelf: all of them would do."""
    lacks = tuple(grade for grade in GRAIN if GRAIN[high] <= GRAIN[grade] <= GRAIN[low])
    return Trouble("shelf-lacks", {"coarsest": low, "finest": high}, frozenset(), lacks)
