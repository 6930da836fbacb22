"""What the drawings of the second sheet show, taken from job, advice and house."""

from typing import TYPE_CHECKING

from prepadvisor.cards.figures.ruler import Ruler, Stair, Staircase
from prepadvisor.cards.figures.scratch import Scratch
from prepadvisor.cases import FlakeNumbers, flake_numbers
from prepadvisor.planning import LINE_ZONES, LineModel
from prepadvisor.records import (
    RANK,
    Done,
    LadderStep,
    Patch,
    Place,
    Silence,
    Spot,
    Tool,
    ds50_um,
    is_finer,
    is_grade,
)
from prepadvisor.surface import depth_um, print_through, width_um
from prepadvisor.wording import minutes, silence_says
from prepadvisor.wording import names as words

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.records import Grade


def flake_of(papers: "Papers") -> FlakeNumbers | None:
    """Return the flake the job is judged by; None for a solid colour."""
    return flake_numbers(papers.house.constants, papers.house.judged(papers.job.colour))


def ruler_of(papers: "Papers", spot: Spot) -> Ruler:
    """Return the grade ruler of a spot; its risk bars are judged with the coats that its estimate counts."""
    place = papers.places[papers.place_of_spot.get(spot.id, spot.id)]
    shelf = tuple(sorted(papers.house.shop.shelf, key=RANK.__getitem__))
    finish = spot.finish
    used = finish.tool if finish else place.tool
    tool = f" with {words.TOOL[used]}" if used else ""
    name = f"{papers.where(spot.id)}: {finish.chosen if finish else 'STOP'}{tool if finish else ''}"
    coats = spot.wet_bed.coats_counted
    over = f" over {coats} coat{'' if coats == 1 else 's'} of wet bed" if coats else ""
    risks = _risks(papers, spot, used, shelf, coats)
    return Ruler(
        title=name + (f"; risk{over}" if over else ""),
        shelf=shelf,
        allowed=(finish.coarsest, finish.finest) if finish else None,
        chosen=finish.chosen if finish else None,
        hand_limit=None if papers.is_hand_only(place) else spot.hand_coarsest,
        done=place.done.grade,
        risks=risks,
        risk_limit=spot.risk_limit if risks else None,
        no_risk=_silence(spot),
        asked=None if finish else _asked(spot, by_hand=papers.is_hand_only(place)),
    )


def _asked(spot: Spot, *, by_hand: bool) -> tuple["Grade", "Grade"] | None:
    """Return the range that the rules ask for at a spot without a finish, where they do ask for one."""
    found: dict[str, object] = {item.output: item.value for item in spot.because}
    coarsest = found.get("hand_last_coarsest" if by_hand else "finish_coarsest")
    finest = found.get("finish_finest")
    if not is_grade(coarsest) or not is_grade(finest) or is_finer(coarsest, finest):
        return None
    return coarsest, finest


def _risks(
    papers: "Papers", spot: Spot, tool: Tool | None, shelf: tuple["Grade", ...], coats: int
) -> dict["Grade", float]:
    flake = flake_of(papers)
    if flake is None or tool is None or spot.line is None or spot.zone not in LINE_ZONES:
        return {}
    solids = papers.house.shop.wet_bed.set_solids
    table = LineModel(papers.house.constants).table(
        flake, [tool], shelf, zone=spot.zone, coats=coats, set_solids=solids
    )
    return {grade: table[tool, grade].risk for grade in shelf}


def _silence(spot: Spot) -> str:
    said = next((item.says for item in spot.because if isinstance(item.says, Silence)), None)
    return f"no risk judged: {silence_says(said.why)}; the rules alone decide" if said else ""


def scratches_of(papers: "Papers", spot: Spot) -> tuple[Scratch, ...]:
    """Return the scratch of a spot's finish bare and, where a wet bed is asked for, under its coats."""
    flake = flake_of(papers)
    if flake is None or spot.finish is None:
        return ()
    groove, film, bed = papers.house.constants.groove, papers.house.constants.film, papers.house.shop.wet_bed
    depth = depth_um(ds50_um(spot.finish.chosen), groove.depth_per_grain[spot.finish.tool].value)
    wide = width_um(depth, groove.width_per_depth.value)
    in_colour = spot.zone == "colour"
    earlier = film.earlier_colour_coats_colour if in_colour else film.earlier_colour_coats_fade
    found = []
    for coats in dict.fromkeys((0, spot.wet_bed.coats if spot.wet_bed.need != "no" else 0)):
        left = print_through(coats, bed.set_solids, earlier.value, film.colour_set_solids.value)
        title = f"over {coats} coat{'' if coats == 1 else 's'} of wet bed" if coats else "without a wet bed"
        found.append(
            Scratch(
                title=title,
                depth_um=float(depth),
                width_um=float(wide),
                flake_um=flake.d50_um,
                tilt_spread_deg=flake.tilt_deg,
                left=left,
            )
        )
    return tuple(found)


def staircases_of(papers: "Papers", panel: str) -> tuple[Staircase, ...]:
    """Return the grit steps of a panel's patches and face, each from what is on it now."""
    advised = next(one for one in papers.advice.panels if one.id == panel)
    source = papers.job_panels.get(panel)
    cases = []
    for place in papers.of_panel(panel):
        if place.kind == "patch" and place.ladder:
            patch = papers.feature(place)
            now = patch.now if isinstance(patch, Patch) else None
            cases.append(_case(papers, place, place.ladder, now, None))
        elif place.kind == "face" and advised.ladder:
            now = source.now if source else None
            cases.append(_case(papers, place, advised.ladder, now, advised.film.off_max_um))
    return tuple(cases)


def _case(
    papers: "Papers", place: Place, steps: tuple[LadderStep, ...], now: Done | None, limit: float | None
) -> Staircase:
    units = papers.units
    stairs = tuple(
        Stair(
            grade=step.grade,
            tool=words.TOOL[step.tool],
            minutes=minutes(step.minutes),
            film_off_um=step.film_off_um,
            film_off=units.film(step.film_off_um),
            powder=step.guide_coat,
        )
        for step in steps
    )
    start = f"{now.grade} now" if now and now.grade else "as it is"
    total = units.film(sum(step.film_off_um for step in steps))
    return Staircase(
        papers.label(place), start, stairs, total, units.film(limit) if limit is not None else ""
    )
