"""Answers spots for one colour in one house: standards, line model and hand limit joined, with the reasons.

What does not change from spot to spot is worked out once: risks by zone, tool and coats, groove depths and
removal rates, and a decision's reasons.
"""

from typing import TYPE_CHECKING

from prepadvisor.cases import CaseSpot as SpotCase
from prepadvisor.cases import (
    Facts,
    JudgedColour,
    Subject,
    facts_of,
    flake_numbers,
    silence,
)
from prepadvisor.planning.ladder import hand_limit, rates_of
from prepadvisor.planning.line_model import LineModel
from prepadvisor.planning.window import Risks, Trouble, Window, window
from prepadvisor.records import (
    DA_TOOLS,
    LEVELLED_SURFACES,
    NO_FILM_SUMS,
    RANK,
    Decision,
    Estimate,
    ModelSaid,
    NamedTuple,
    Reason,
    Silence,
    SilenceWhy,
    Spot,
    Tool,
    Zone,
)
from prepadvisor.standards import House, Loosened

if TYPE_CHECKING:
    from prepadvisor.records import Grade

_REMEMBERED_MAX = 20_000
"""Answers kept at most, so that a long run over many jobs keeps its memory flat."""


class SpotPlan(NamedTuple):
    """A spot's record with what it was decided from: subject, decision, last touch, grit range, its case."""

    spot: Spot
    subject: Subject
    decision: Decision
    by_hand: bool
    trouble: tuple[Trouble, ...]
    case: Facts


class _Answer(NamedTuple):
    decision: Decision  # kept, so that its id stays its own
    window: Window
    reasons: tuple[Reason, ...]


class Planner:
    """Decides spots of one colour under one house's standards.

    Args:
        house: standards, shop, constants and outlines.
        colour: the job's colour as judged; its measured values enter the line model.
    """

    def __init__(self, house: House, colour: JudgedColour) -> None:
        """Prepare what all spots share."""
        self.house = house
        self.shelf = tuple(sorted(set(house.shop.shelf), key=RANK.__getitem__))
        self._model = LineModel(house.constants)
        self.judged = colour
        self.flake = self.judged.flake
        self._numbers = flake_numbers(house.constants, self.judged)
        self._risks: dict[tuple[Zone, Tool, int], Risks] = {}
        self._answers: dict[tuple[int, bool, Zone, Tool, SilenceWhy | None], _Answer] = {}
        self._hand_limits: dict[tuple[str | None, str, float | None], Grade | None] = {}
        self._loosened = Loosened(house.engine)
        self.rates = rates_of(house.constants, house.shop)

    def spots(self, subject: Subject) -> tuple[SpotPlan, ...]:
        """Decide all spots of a place.

        A place is sanded in one go: where the standards keep the machine off a part, all of it is by hand.
        """
        plans = tuple(self.spot(subject, zone, amount) for zone, amount in subject.amounts)
        if len({plan.by_hand for plan in plans}) == 1:
            return plans
        never = tuple(
            dict.fromkeys(
                reason for plan in plans if plan.by_hand for reason in plan.spot.because
                if (reason.output, reason.value) == ("machine", "never")
            )
        )  # fmt: skip
        return tuple(self.spot(subject, zone, amount, never) for zone, amount in subject.amounts)

    def spot(
        self, subject: Subject, zone: Zone, amount: float, no_machine: tuple[Reason, ...] = ()
    ) -> SpotPlan:
        """Decide one spot.

        Args:
            subject: the place it is a part of.
            zone: its zone.
            amount: mm of a line, or m² of a face or patch, in this zone.
            no_machine: why the machine is kept off another part of the place, and so off this one.
        """
        case = facts_of(SpotCase(self.judged, subject, zone, amount))
        decision = self.house.engine.decide(case)
        by_hand = case.reach == "hand"
        if (decision.machine == "never" or no_machine) and not by_hand:
            by_hand = True
            if decision.machine == "never":
                no_machine = tuple(reason for reason in decision.because if reason.output == "machine")
            case = case._replace(reach="hand")
            decision = self.house.engine.decide(case)
        tool = self._tool(decision, subject, by_hand=by_hand)
        found = self._answer(decision, zone, tool, silence(case), by_hand=by_hand)
        answer = found.window
        grade = answer.finish.chosen if answer.finish else None
        spot = Spot(
            id=f"{subject.id}/{zone}",
            panel=subject.panel.id,
            feature=subject.feature,
            zone=zone,
            kind=subject.kind,
            name=subject.name,
            reach="hand" if by_hand else subject.reach,
            seen=subject.seen,
            length_mm=amount if subject.is_line else None,
            area_m2=self.strip_m2(amount) if subject.is_line else amount,
            finish=answer.finish,
            hand_coarsest=self.hand_limit(subject, decision, grade, by_hand=by_hand),
            guide_coat=decision.guide_coat,
            wet_bed=answer.wet_bed,
            line=answer.line,
            risk_limit=decision.risk_limit,
            because=tuple(dict.fromkeys((*no_machine, *found.reasons))),
            notes=decision.notes,
            laxer=self._loosened.laxer(case, decision),
        )
        return SpotPlan(
            spot=spot, subject=subject, decision=decision, by_hand=by_hand, trouble=answer.trouble, case=case
        )

    def strip_m2(self, length_mm: float) -> float:
        """Return the area in m² that is worked along a line of a length in mm."""
        return length_mm * self.house.shop.edge_strip_mm / 1e6

    def hand_limit(
        self, subject: Subject, decision: Decision, chosen: "Grade | None", *, by_hand: bool
    ) -> "Grade | None":
        """Return the coarsest hand grade ahead of the final DA, None where no DA follows a hand scuff."""
        if chosen is None or by_hand or not subject.is_line:
            return None
        shop = self.house.shop
        film = film_max_um(subject, decision)
        key = (decision.hand_coarsest, chosen, film)
        if key not in self._hand_limits:
            minutes = shop.clearing_minutes_per_dm2_max
            self._hand_limits[key] = hand_limit(
                decision.hand_coarsest,
                chosen,
                shop.hand_tool,
                shelf=self.shelf,
                rates=self.rates,
                minutes_max=minutes,
                film_max_um=film,
            )
        return self._hand_limits[key]

    def between_tool(self, subject: Subject, decision: Decision) -> Tool:
        """Return the tool of the grit steps ahead of the last one."""
        if subject.surface in LEVELLED_SURFACES:
            return self._levelling_tool(subject)
        return "da-soft" if self._soft(decision) else "da"

    def _tool(self, decision: Decision, subject: Subject, *, by_hand: bool) -> Tool:
        if by_hand:
            return self.house.shop.hand_tool
        if subject.surface in LEVELLED_SURFACES:
            return self._levelling_tool(subject)
        return "da-soft" if self._soft(decision) else self.house.shop.finishing_tool

    def _soft(self, decision: Decision) -> bool:
        """Say whether a soft pad is asked for and there is one; the care it stands for is owed anyway."""
        return decision.machine == "interface-pad" and self.house.shop.interface_pad

    @staticmethod
    def _levelling_tool(subject: Subject) -> Tool:
        used = subject.was.tool if subject.was else None
        return used if used in {"block", *DA_TOOLS} and used is not None else "block"

    def _answer(
        self, decision: Decision, zone: Zone, tool: Tool, silent: SilenceWhy | None, *, by_hand: bool
    ) -> "_Answer":
        key = (id(decision), by_hand, zone, tool, silent)
        known = self._answers.get(key)
        if known is None:
            if len(self._answers) >= _REMEMBERED_MAX:
                self._answers.clear()
            risks = Risks(None) if silent else self._risks_of(zone, tool, _coats_judged(decision))
            found = window(
                decision, by_hand=by_hand, tool=tool, shelf=self.shelf, risks=risks, flake=self.flake
            )
            reasons = (*decision.because, *_model_reasons(found, decision, silent, risks.panels))
            known = self._answers[key] = _Answer(decision, found, reasons)
        return known

    def _risks_of(self, zone: Zone, tool: Tool, most_coats: int) -> Risks:
        key = (zone, tool, most_coats)
        if key not in self._risks:
            assert self._numbers is not None  # noqa: S101 - silent for solid colours
            solids = self.house.shop.wet_bed.set_solids
            self._risks[key] = Risks(
                {
                    (grade, coats): self._model.estimate(
                        self._numbers, tool, grade, zone=zone, coats=coats, set_solids=solids
                    )
                    for grade in self.shelf
                    for coats in range(most_coats + 1)
                },
                self.house.constants.uncertainty.borderline_risk.value,
                here.rows if (here := self.house.constants.measured_for(tool)) else None,
            )
        return self._risks[key]


def _coats_judged(decision: Decision) -> int:
    """Return the most coats of wet bed that a line may be judged under: those that rules ask for or allow."""
    return max(decision.bed_coats_max or 1, decision.bed_coats_min or 1)


def film_max_um(subject: Subject, decision: Decision) -> float | None:
    """Return the film in µm that may be cut at a place, None where film is not counted."""
    return None if subject.surface in NO_FILM_SUMS else decision.film_off_max_um


def _of_model(says: ModelSaid, value: str | float, source: str = "estimate") -> Reason:
    return Reason(
        output="line",
        value=value,
        rule="line-model",
        layer="model",
        file="",
        line=0,
        says=says,
        source=source,
    )


def _model_reasons(
    answer: Window, decision: Decision, silent: SilenceWhy | None, panels: int | None
) -> tuple[Reason, ...]:
    if silent is not None:
        return (_of_model(Silence(silent), silent, "model"),)
    if answer.line is None or answer.finish is None:
        return ()
    limit = 1.0 if decision.risk_limit is None else decision.risk_limit
    coats = answer.wet_bed.coats_counted
    line, finish = answer.line, answer.finish
    said = Estimate(
        grade=finish.chosen,
        tool=finish.tool,
        coats=coats,
        arcsec=line.arcsec,
        risk=line.risk,
        risk_limit=limit,
        panels=panels,
    )
    return (_of_model(said, round(line.risk, 4), "estimate" if panels is None else "measured"),)
