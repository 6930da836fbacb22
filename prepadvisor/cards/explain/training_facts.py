"""What the sheet for training shows, gathered from what the card is made from: why, panel by panel."""

from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cards.explain.deciding import decides
from prepadvisor.cards.explain.section import source
from prepadvisor.cards.figures.ruler import Ruler, Stair, Staircase
from prepadvisor.cards.figures.scratch import Scratch
from prepadvisor.cases import flake_numbers
from prepadvisor.planning import LINE_ZONES, LineModel
from prepadvisor.records import (
    RANK,
    Done,
    LadderStep,
    Patch,
    Place,
    Silence,
    Spot,
    is_finer,
    is_grade,
)
from prepadvisor.wording import TOOL, answer_says, coats, estimate_word, minutes, reason_says, silence_says

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from prepadvisor.cards.explain.deciding import PanelVerdict
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.records import Grade

_PLAIN: Final = frozenset({"practice", "estimate", "measured", "model"})
"""Sources that are no document."""


class WhyPanel(NamedTuple):
    """Why one panel is worked as it is.

    Attributes:
        rulers: the grade ruler of each place that decides.
        governs: which scratch decides, in words; empty without an estimate.
        scratches: that scratch, bare and under its coats.
        stairs: the grit steps of patches and face.
    """

    rulers: tuple[Ruler, ...]
    governs: str
    scratches: tuple[Scratch, ...]
    stairs: tuple[Staircase, ...]


class WhyRule(NamedTuple):
    """A rule or model that decided, with all that it answers and where, in words."""

    rule: str
    answers: str
    where: str
    says: str


class WhySheet(NamedTuple):
    """The sheet for training: how sure the model is, why each panel by its id, and the reasons, each once."""

    sure: str
    panels: dict[str, WhyPanel]
    reasons: tuple[WhyRule, ...]


def training_of(papers: "Papers") -> WhySheet:
    """Gather what the sheet for training shows."""
    decided = {panel.id: decides(papers, panel.id) for panel in papers.advice.panels}
    shown = [spot for found in decided.values() for spot in found.spots]
    modelled = _modelled(papers, decided)
    panels = {
        panel: WhyPanel(
            _rulers(papers, found.spots, modelled.risks),
            _governs(papers, found.governs),
            modelled.scratches.get(panel, ()),
            staircases_of(papers, panel),
        )
        for panel, found in decided.items()
    }
    return WhySheet(_sure(papers), panels, _reasons(papers, shown))


def _sure(papers: "Papers") -> str:
    """Return how sure the model is: an estimate, or measured here, with the tools that it is measured for."""
    here = papers.house.constants.measured_here
    tools = f" for {', '.join(TOOL[tool] for tool in here.tools)}" if here and here.tools else ""
    return f"{estimate_word(here)}{tools}"


def _rulers(
    papers: "Papers", spots: "Iterable[Spot]", risks: "Mapping[str, dict[Grade, float]]"
) -> tuple[Ruler, ...]:
    """Return the rulers of some spots; one that adds nothing to those before it is left out."""
    shown: list[Ruler] = []
    for ruler in (ruler_of(papers, spot, risks.get(spot.id, {})) for spot in spots):
        if not any(_alike(ruler, other) for other in shown):
            shown.append(ruler)
    return tuple(shown)


def _governs(papers: "Papers", spot: Spot | None) -> str:
    """Return which scratch decides, in words."""
    if spot is None or spot.finish is None:
        return ""
    return f"{papers.words.where(spot.id)}, {spot.finish.chosen} with {TOOL[spot.finish.tool]}"


def _alike(one: Ruler, other: Ruler) -> bool:
    """Say whether a ruler adds nothing: the same range, choice and risks; a face has no hand limit."""
    told = one.hand_limit in {None, other.hand_limit} and one.done in {None, other.done}
    plain = [ruler._replace(title="", hand_limit=None, done=None) for ruler in (one, other)]
    return told and plain[0] == plain[1]


def _reasons(papers: "Papers", spots: "Iterable[Spot]") -> tuple[WhyRule, ...]:
    """Return every rule that decided at these spots once, with all it answers and where."""
    found: dict[tuple[str, str], tuple[dict[str, None], dict[str, None]]] = {}
    for spot in spots:
        number = papers.words.number(papers.places[papers.place_of_spot[spot.id]])
        for item in spot.because:
            place = f", {item.file}:{item.line}" if item.file else ""
            known = item.source if item.source in _PLAIN else source(papers, item.source)
            rule, says = f"{item.rule} ({item.layer}{place})", f"{reason_says(item)} [{known}]"
            answers, where = found.setdefault((rule, says), ({}, {}))
            answers[answer_says(item.output, item.value, papers.units)] = None
            where[number] = None
    return tuple(
        WhyRule(rule, "; ".join(answers), ", ".join(where), says)
        for (rule, says), (answers, where) in found.items()
    )


class _Modelled(NamedTuple):
    """What the line model says: the risk of each grade by spot id, and scratches by panel id."""

    risks: dict[str, dict["Grade", float]]
    scratches: dict[str, tuple[Scratch, ...]]


def _modelled(papers: "Papers", decided: "Mapping[str, PanelVerdict]") -> _Modelled:
    """Ask the line model for what is shown.

    Of each spot that decides the risk of each grade of the shelf, with the coats that its estimate counts; of
    each panel the governing scratch bare and, where a wet bed is asked for, under its coats.
    """
    shelf, solids = _shelf(papers), papers.house.shop.wet_bed.set_solids
    flake = flake_numbers(papers.house.constants, papers.house.judged(papers.job.colour))
    if flake is None:
        return _Modelled({}, {})
    model = LineModel(papers.house.constants)
    risks = {}
    for spot in (spot for found in decided.values() for spot in found.spots):
        tool = spot.finish.tool if spot.finish else papers.places[papers.place_of_spot[spot.id]].tool
        if tool is not None and spot.line is not None and spot.zone in LINE_ZONES:
            count = spot.wet_bed.coats_counted
            table = model.table(flake, [tool], shelf, zone=spot.zone, coats=count, set_solids=solids)
            risks[spot.id] = {grade: table[tool, grade].risk for grade in shelf}
    scratches: dict[str, tuple[Scratch, ...]] = {}
    for panel, found in decided.items():
        if found.governs is None or found.governs.finish is None:
            continue
        spot, finish = found.governs, found.governs.finish
        for count in dict.fromkeys((0, spot.wet_bed.coats if spot.wet_bed.need != "no" else 0)):
            groove = model.groove(finish.tool, finish.chosen, spot.zone, count, solids)
            scratch = Scratch(
                title=f"over {coats(count)} of wet bed" if count else "without a wet bed",
                depth_um=groove.depth_um,
                width_um=groove.width_um,
                flake_um=flake.d50_um,
                tilt_spread_deg=flake.tilt_deg,
                left=groove.left,
            )
            scratches[panel] = (*scratches.get(panel, ()), scratch)
    return _Modelled(risks, scratches)


def _shelf(papers: "Papers") -> tuple["Grade", ...]:
    return tuple(sorted(papers.house.shop.shelf, key=RANK.__getitem__))


def ruler_of(papers: "Papers", spot: Spot, risks: dict["Grade", float]) -> Ruler:
    """Return the grade ruler of a spot with the risk of each grade, where one is judged."""
    place = papers.places[papers.place_of_spot.get(spot.id, spot.id)]
    shelf = _shelf(papers)
    finish = spot.finish
    used = finish.tool if finish else place.tool
    tool = f" with {TOOL[used]}" if used else ""
    name = f"{papers.words.where(spot.id)}: {finish.chosen if finish else 'STOP'}{tool if finish else ''}"
    if finish and place.finish and place.finish != finish.chosen:
        name += f"; the place gets {place.finish}"
    counted = spot.wet_bed.coats_counted
    over = f" over {coats(counted)} of wet bed" if counted else ""
    return Ruler(
        title=name + (f"; risk{over}" if over else ""),
        shelf=shelf,
        allowed=(finish.coarsest, finish.finest) if finish else None,
        chosen=finish.chosen if finish else None,
        hand_limit=None if place.id in papers.hand_only else spot.hand_coarsest,
        done=place.done.grade,
        risks=risks,
        risk_limit=spot.risk_limit if risks else None,
        no_risk=_silence(spot),
        asked=None if finish else _asked(spot, by_hand=place.id in papers.hand_only),
    )


def _asked(spot: Spot, *, by_hand: bool) -> tuple["Grade", "Grade"] | None:
    """Return the range that the rules ask for at a spot without a finish, where they do ask for one."""
    found: dict[str, object] = {item.output: item.value for item in spot.because}
    coarsest = found.get("hand_last_coarsest" if by_hand else "finish_coarsest")
    finest = found.get("finish_finest")
    if not is_grade(coarsest) or not is_grade(finest) or is_finer(coarsest, finest):
        return None
    return coarsest, finest


def _silence(spot: Spot) -> str:
    said = next((item.says for item in spot.because if isinstance(item.says, Silence)), None)
    return f"no risk judged: {silence_says(said.why)}; the rules alone decide" if said else ""


def staircases_of(papers: "Papers", panel: str) -> tuple[Staircase, ...]:
    """Return the grit steps of a panel's patches and face, each from what is on it now."""
    advised = next(one for one in papers.advice.panels if one.id == panel)
    source = papers.job_panels.get(panel)
    cases = []
    for place in papers.places_of[panel]:
        if place.kind == "patch" and place.ladder:
            patch = papers.features.get(place.id)
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
            tool=TOOL[step.tool],
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
        papers.words.label(place), start, stairs, total, units.film(limit) if limit is not None else ""
    )
