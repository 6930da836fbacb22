"""Holds the tool and grade of a logged scuff or sanding against the limits of its place.

Hand ahead of a DA is judged by the hand limit alone; the last touch, by hand or by machine, by the grit
range, whose fine end counts too: too fine does not stick. A tool or grade not stated is not recorded.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.records.advice import Place, Spot
from prepadvisor.records.job import Check
from prepadvisor.records.words import DA_TOOLS, HAND_TOOLS, Tool
from prepadvisor.surface.grades import coarsest, finest, is_finer


class Limits(NamedTuple):
    """The coarsest and the finest grade allowed; None where that side has no bound."""

    coarsest: str | None
    finest: str | None

    def admits(self, grade: str | None) -> bool:
        """Say whether a grade lies within; an unstated one never does."""
        return grade is not None and not self.too_coarse(grade) and not self.too_fine(grade)

    def too_coarse(self, grade: str) -> bool:
        """Say whether a grade is coarser than the coarsest allowed."""
        return self.coarsest is not None and is_finer(self.coarsest, grade)

    def too_fine(self, grade: str) -> bool:
        """Say whether a grade is finer than the finest allowed, so that the next coat would not hold."""
        return self.finest is not None and is_finer(grade, self.finest)

    @property
    def words(self) -> str:
        """The limits as people say them."""
        if self.coarsest is None or self.finest is None:
            return f"{self.coarsest} or finer" if self.coarsest else f"{self.finest} or coarser"
        return self.coarsest if self.coarsest == self.finest else f"{self.coarsest} to {self.finest}"


def last_touch_limits(place: Place, spots: Sequence[Spot]) -> tuple[Limits, ...]:
    """Return the grit range of a place's last touch: one for all of it, or one a zone where it is split.

    Empty where a spot has no finish: then there is nothing to judge by, and the advice itself is the hold.
    """
    ranges = [Limits(spot.finish.coarsest, spot.finish.finest) for spot in spots if spot.finish]
    if not ranges or len(ranges) < len(spots):
        return ()
    low = finest(*(each.coarsest for each in ranges if each.coarsest))
    high = coarsest(*(each.finest for each in ranges if each.finest))
    if place.split or is_finer(low, high):
        return tuple(dict.fromkeys(ranges))
    return (Limits(low, high),)


def hand_limits(place: Place, spots: Sequence[Spot]) -> Limits | None:
    """Return the limit of hand work ahead of a DA; where none is stated the range's coarse end serves."""
    if place.hand_coarsest is not None:
        return Limits(place.hand_coarsest, None)
    ranges = last_touch_limits(place, spots)
    return Limits(finest(*(each.coarsest for each in ranges if each.coarsest)), None) if ranges else None


def wrong_scuff(check: Check, limits: Limits) -> str:
    """Say what is wrong with a scuff's tool or grade, empty where it is within its limits."""
    return _not_recorded(check) or _not_by_hand(check) or _outside(check, limits)


def wrong_sanding(check: Check, limits: Limits, place: Place, floor: ShopFloor) -> str:
    """Say what is wrong with a sanding's tool or grade, empty where it is within its limits."""
    return _not_recorded(check) or _not_by_machine(check, place, floor) or _outside(check, limits)


def _not_recorded(check: Check) -> str:
    lacking = [word for word, value in (("tool", check.tool), ("grade", check.grade)) if value is None]
    verb = "is" if len(lacking) == 1 else "are"
    return f"the {' and the '.join(lacking)} {verb} not recorded" if lacking else ""


def _not_by_hand(check: Check) -> str:
    return f"scuffed with {check.tool}, which is no hand tool" if check.tool not in HAND_TOOLS else ""


def _not_by_machine(check: Check, place: Place, floor: ShopFloor) -> str:
    tool, asked = check.tool, place.tool or floor.shop.finishing_tool
    if place.reach == "hand":
        return "" if tool in HAND_TOOLS else f"sanded with {tool}, where no machine may be used"
    if tool == asked:
        return ""
    if tool not in DA_TOOLS:
        return f"sanded with {tool}, where {asked} is asked"
    if tool == "da-hard":
        return f"sanded with da-hard, which scratches deeper than the {asked} the grade was judged with"
    return ""


def _outside(check: Check, limits: Limits) -> str:
    grade = check.grade
    if grade is not None and limits.too_coarse(grade):
        return f"{grade} is coarser than the {limits.coarsest} allowed here"
    if grade is not None and limits.too_fine(grade):
        return f"{grade} is finer than the {limits.finest} allowed here: the next coat would not hold"
    return ""


def cuts_deeper(tool: Tool, asked: Tool, floor: ShopFloor) -> bool:
    """Say whether a tool scratches deeper than the one that the advice was reckoned with."""
    depth = floor.constants.groove.depth_per_grain
    return depth[tool].value > depth[asked].value


def one_grade_back(grade: str, shelf: Iterable[str]) -> str | None:
    """Return the next coarser grade on the shelf, None where there is none."""
    coarser = [each for each in shelf if is_finer(grade, each)]
    return finest(*coarser) if coarser else None
