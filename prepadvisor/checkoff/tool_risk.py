"""Whether a machine that scratches deeper than the one asked would leave lines that show.

A grit range is found with one tool. The same grade with another tool cuts another depth: without its soft pad
a DA leaves a groove a quarter deeper. So what was really used goes through the line model again.
"""

from collections.abc import Sequence

from prepadvisor.cases.colour import FlakeNumbers
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.limits import cuts_deeper
from prepadvisor.planning.line_model import LineModel
from prepadvisor.records.advice import Place, Spot
from prepadvisor.records.job import Check


def would_show(
    check: Check, place: Place, spots: Sequence[Spot], grain: FlakeNumbers | None, floor: ShopFloor
) -> str:
    """Say where the tool really used would leave lines that show, empty where it would not.

    Judged as the grit range was: with the coats of a required wet bed, else with none, and only where the
    advice judged a line at all. What was advised as borderline is not asked to be better than that.

    Args:
        check: the sanding.
        place: where.
        spots: its spots.
        grain: the flake that lines are judged by.
        floor: the shop.
    """
    asked = place.tool or floor.shop.finishing_tool
    if grain is None or check.tool is None or check.grade is None:
        return ""
    if check.tool == asked or not cuts_deeper(check.tool, asked, floor):
        return ""
    model = LineModel(floor.constants)
    for spot in spots:
        if spot.line is None or spot.risk_limit is None:
            continue
        coats = spot.wet_bed.coats if spot.wet_bed.need == "required" else 0
        risk = model.estimate(
            grain, check.tool, check.grade, spot.zone, coats, floor.shop.wet_bed.set_solids
        ).risk
        limit = max(spot.risk_limit, spot.line.risk)
        if risk > limit:
            return (
                f"{check.tool} {check.grade} scratches deeper than the {asked} it was judged with: "
                f"risk that a line shows {risk:.2f} of {limit:.2f} allowed in {spot.zone}"
            )
    return ""
