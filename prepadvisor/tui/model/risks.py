"""Line risks as the screens show them: over the grades of a shelf, and with more coats of wet bed."""

from prepadvisor.cases.colour import FlakeNumbers, flake_numbers
from prepadvisor.planning.line_model import LINE_ZONES, LineModel
from prepadvisor.records.advice import Advice, LineRisk, Spot
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House
from prepadvisor.surface.grades import Grade


def job_flake(job: Job, house: House) -> FlakeNumbers | None:
    """Return the flake a job is judged by; None for solid colour."""
    return flake_numbers(house.constants, house.judged(job.colour))


def shelf_risks(job: Job, house: House, spot: Spot, extra_coats: int = 0) -> dict[Grade, float]:
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


def with_more_coats(job: Job, house: House, advice: Advice, extra_coats: int) -> Advice:
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
