"""The grade ruler of a spot: the shelf's grades, the grit range on them, hand limit, what was done, risk."""

from collections.abc import Mapping
from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Place, Spot
from prepadvisor.records.words import Verdict
from prepadvisor.surface.grades import RANK, Grade


class GradeTick(NamedTuple):
    """One grade of the ruler. `risk` is safe, borderline or will show; empty where none is estimated."""

    grade: Grade
    in_range: bool
    is_taken: bool
    is_hand_limit: bool
    is_done: bool
    risk: Verdict | Literal[""]


def ruler(
    spot: Spot, place: Place, shelf: tuple[Grade, ...], risks: Mapping[Grade, Verdict]
) -> list[GradeTick]:
    """Return the ruler of a spot, coarse to fine; a grade used but not on the shelf comes along.

    Args:
        spot: the spot; its hand limit counts where a machine follows.
        place: its place, for what was done.
        shelf: the shop's grades.
        risks: risk in words by grade.
    """
    finish = spot.finish
    marked = (place.done.grade, spot.hand_coarsest, finish.chosen if finish else None)
    ticks = []
    for grade in sorted({*shelf, *filter(None, marked)}, key=RANK.__getitem__):
        rank = RANK[grade]
        in_range = finish is not None and RANK[finish.coarsest] <= rank <= RANK[finish.finest]
        ticks.append(
            GradeTick(
                grade=grade,
                in_range=in_range,
                is_taken=finish is not None and grade == finish.chosen,
                is_hand_limit=grade == spot.hand_coarsest,
                is_done=grade == place.done.grade,
                risk=risks.get(grade, ""),
            )
        )
    return ticks
