"""The grade ruler of a spot, and line risks over a shelf and with more coats of wet bed."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from prepadvisor.cases import FlakeNumbers, flake_numbers
from prepadvisor.planning import LINE_ZONES, LineModel
from prepadvisor.records import RANK, Advice, Job, LineRisk, NamedTuple, Place, Spot, Verdict

if TYPE_CHECKING:
    from prepadvisor.records import Grade
    from prepadvisor.standards import House


class GradeTick(NamedTuple):
    """One grade of the ruler. `risk` is safe, borderline or will show; empty where none is estimated."""

    grade: "Grade"
    in_range: bool
    is_taken: bool
    is_hand_limit: bool
    is_done: bool
    risk: Verdict | Literal[""]


def ruler(
    spot: Spot, place: Place, shelf: tuple["Grade", ...], risks: Mapping["Grade", Verdict]
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


# Line risks as the screens show them: over the grades of a shelf, and with more coats of wet bed.


def job_flake(job: Job, house: "House") -> FlakeNumbers | None:
    """Return the flake a job is judged by; None for solid colour."""
    return flake_numbers(house.constants, house.judged(job.colour))


def shelf_risks(job: Job, house: "House", spot: Spot, extra_coats: int = 0) -> dict["Grade", float]:
    """Return the risk that lines show at a spot for each grade of the shelf; empty where none is known."""
    flake = job_flake(job, house)
    if flake is None or spot.zone not in LINE_ZONES or not spot.seen or spot.line is None:
        return {}
    tool = spot.finish.tool if spot.finish else house.shop.finishing_tool
    table = LineModel(house.constants).table(
        flake,
        [tool],
        house.shop.shelf,
        zone=spot.zone,
        coats=spot.wet_bed.coats_counted + extra_coats,
        set_solids=house.shop.wet_bed.set_solids,
    )
    return {grade: estimate.risk for (_, grade), estimate in table.items()}


def with_more_coats(job: Job, house: "House", advice: Advice, extra_coats: int) -> Advice:
    """Return the advice with each line estimate as it is with more coats of wet bed over it."""
    flake = job_flake(job, house)
    if flake is None:
        return advice
    model, solids = LineModel(house.constants), house.shop.wet_bed.set_solids

    def seen_through(spot: Spot) -> Spot:
        if spot.line is None or spot.finish is None or spot.zone not in LINE_ZONES:
            return spot
        estimate = model.estimate(
            flake,
            spot.finish.tool,
            spot.finish.chosen,
            zone=spot.zone,
            coats=spot.wet_bed.coats_counted + extra_coats,
            set_solids=solids,
        )
        return spot._replace(line=LineRisk(arcsec=estimate.arcsec, risk=estimate.risk))

    return advice._replace(spots=tuple(seen_through(spot) for spot in advice.spots))
