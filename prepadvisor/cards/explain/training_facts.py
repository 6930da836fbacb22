"""What the sheet for training shows, gathered from what the card is made from: why, panel by panel."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.explain.deciding import PanelVerdict, decides
from prepadvisor.cards.explain.section import source
from prepadvisor.cards.figures.ruler import Ruler, Stair, Staircase
from prepadvisor.cards.figures.scratch import Scratch
from prepadvisor.cases import flake_numbers
from prepadvisor.named import NamedTuple
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
    is_finer,
    is_grade,
)
from prepadvisor.wording import answer_says, estimate_word, minutes, reason_says, silence_says
from prepadvisor.wording import names as words

if TYPE_CHECKING:
    from collections.abc import Iterable

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
    scratched = _Scratched(papers)
    panels = {panel: _panel(papers, panel, found, scratched) for panel, found in decided.items()}
    shown = [spot for found in decided.values() for spot in found.spots]
    return WhySheet(_sure(papers), panels, _reasons(papers, shown))


def _sure(papers: "Papers") -> str:
    """Return how sure the model is: an estimate, or measured here, with the tools that it is measured for."""
    here = papers.house.constants.measured_here
    tools = f" for {', '.join(words.TOOL[tool] for tool in here.tools)}" if here and here.tools else ""
    return f"{estimate_word(here)}{tools}"


def _panel(papers: "Papers", panel: str, found: PanelVerdict, scratched: "_Scratched") -> WhyPanel:
    shown: list[Ruler] = []
    for ruler in (ruler_of(papers, spot, scratched) for spot in found.spots):
        if not any(_alike(ruler, other) for other in shown):
            shown.append(ruler)
    spot, governs = found.governs, ""
    if spot is not None and spot.finish is not None:
        tool = words.TOOL[spot.finish.tool]
        governs = f"{papers.words.where(spot.id)}, {spot.finish.chosen} with {tool}"
    scratches = scratched.under(spot) if spot else ()
    return WhyPanel(tuple(shown), governs, scratches, staircases_of(papers, panel))


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


class _Scratched:
    """The line model as the job's colour and shop have it: asked for risks and scratches of its spots."""

    def __init__(self, papers: "Papers") -> None:
        self.flake = flake_numbers(papers.house.constants, papers.house.judged(papers.job.colour))
        self.model = LineModel(papers.house.constants)
        self.set_solids = papers.house.shop.wet_bed.set_solids

    def risks(self, spot: Spot, tool: Tool | None, shelf: tuple["Grade", ...]) -> dict["Grade", float]:
        """Return the risk of each grade at a spot, with the coats that its estimate counts."""
        if self.flake is None or tool is None or spot.line is None or spot.zone not in LINE_ZONES:
            return {}
        table = self.model.table(
            self.flake,
            [tool],
            shelf,
            zone=spot.zone,
            coats=spot.wet_bed.coats_counted,
            set_solids=self.set_solids,
        )
        return {grade: table[tool, grade].risk for grade in shelf}

    def under(self, spot: Spot) -> tuple[Scratch, ...]:
        """Return the scratch of a spot's finish bare and, where a wet bed is asked for, under its coats."""
        if self.flake is None or spot.finish is None:
            return ()
        found = []
        for coats in dict.fromkeys((0, spot.wet_bed.coats if spot.wet_bed.need != "no" else 0)):
            groove = self.model.groove(
                spot.finish.tool, spot.finish.chosen, spot.zone, coats, self.set_solids
            )
            found.append(
                Scratch(
                    title=f"over {words.coats(coats)} of wet bed" if coats else "without a wet bed",
                    depth_um=groove.depth_um,
                    width_um=groove.width_um,
                    flake_um=self.flake.d50_um,
                    tilt_spread_deg=self.flake.tilt_deg,
                    left=groove.left,
                )
            )
        return tuple(found)


def ruler_of(papers: "Papers", spot: Spot, scratched: _Scratched) -> Ruler:
    """Return the grade ruler of a spot; its risk bars are judged with the coats that its estimate counts."""
    place = papers.places[papers.place_of_spot.get(spot.id, spot.id)]
    shelf = tuple(sorted(papers.house.shop.shelf, key=RANK.__getitem__))
    finish = spot.finish
    used = finish.tool if finish else place.tool
    tool = f" with {words.TOOL[used]}" if used else ""
    name = f"{papers.words.where(spot.id)}: {finish.chosen if finish else 'STOP'}{tool if finish else ''}"
    if finish and place.finish and place.finish != finish.chosen:
        name += f"; the place gets {place.finish}"
    coats = spot.wet_bed.coats_counted
    over = f" over {words.coats(coats)} of wet bed" if coats else ""
    risks = scratched.risks(spot, used, shelf)
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
        papers.words.label(place), start, stairs, total, units.film(limit) if limit is not None else ""
    )
