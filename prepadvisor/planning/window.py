"""The grit range of a spot, the grade chosen in it, and the wet bed that opens an empty one.

The standards set the coarsest and the finest grade; the shelf and the line model take grades out. If only
the line model empties the range, the finest grade of the standards' range with the fewest coats of wet bed
opens it again: a wet bed never buys a coarser grade.
"""

from typing import TYPE_CHECKING

from prepadvisor.cases import may_stay
from prepadvisor.planning.line_model import LineEstimate, verdict_of
from prepadvisor.records import (
    GRADES,
    RANK,
    WET_BED,
    BedForbidden,
    BedTooThin,
    Collision,
    Decision,
    Finish,
    HoldKind,
    LineRisk,
    NamedTuple,
    NoRule,
    OutputName,
    RuleHold,
    ShelfLacks,
    Tool,
    WetBedAdvice,
    WetBedNeed,
    WillShow,
)

if TYPE_CHECKING:
    from prepadvisor.records import Flake, Grade


class Trouble(NamedTuple):
    """Why a spot has no finish, the rules in it, the grades the shelf lacks."""

    fact: HoldKind
    rules: tuple[str, ...] = ()
    lacks: tuple["Grade", ...] = ()


class Risks:
    """What the line model says of a case: an estimate by grade and coats, none where it is silent."""

    def __init__(
        self,
        estimates: dict[tuple[str, int], LineEstimate] | None,
        borderline: float = 0.5,
        panels: int | None = None,
    ) -> None:
        """Take the estimates.

        Args:
            estimates: by (grade, coats of wet bed); None where no flake can be seen on the line.
            borderline: above the limit and up to this risk a spot is borderline, beyond it lines will show.
            panels: how many rows of the shop's own its numbers were fitted to; None where they are shipped.
        """
        self._estimates = estimates
        self.borderline = borderline
        self.panels = panels

    def line(self, grade: "Grade", coats: int) -> LineRisk | None:
        """Return the estimate for a grade under so many coats of wet bed."""
        if self._estimates is None:
            return None
        estimate = self._estimates[grade, coats]
        return LineRisk(arcsec=estimate.arcsec, risk=estimate.risk)

    def risk(self, grade: "Grade", coats: int) -> float:
        """Return the risk that lines show, 0 where the model is silent."""
        return 0.0 if self._estimates is None else self._estimates[grade, coats].risk


class Window(NamedTuple):
    """A spot's answer: its finish or what leaves it without one, its wet bed and line estimate."""

    finish: Finish | None
    wet_bed: WetBedAdvice
    line: LineRisk | None
    trouble: tuple[Trouble, ...] = ()


def window(
    decision: Decision, *, by_hand: bool, tool: Tool, shelf: tuple["Grade", ...], risks: Risks, flake: "Flake"
) -> Window:
    """Decide the finish of one spot.

    Args:
        decision: what the standards say of the spot.
        by_hand: hand is the last touch, so the limit for hand counts.
        tool: the tool of the last touch.
        shelf: the grades there are, coarse to fine.
        risks: what the line model says of this spot.
        flake: the flake it is judged for; from fine on no wet bed opens a window for a cut coarser than P800.
    """
    if decision.holds:
        return _without(decision, tuple(_held(decision, why) for why in decision.holds))
    if decision.wet_bed == "required" and decision.bed_coats_max == 0:
        return _without(decision, (_bed_forbidden(decision),))
    if decision.wet_bed == "required" and _coats_asked(decision) < (least := decision.bed_coats_min or 0):
        rules = _rules_behind(decision, "bed_coats_min") + _rules_behind(decision, "bed_coats_max")
        return _without(decision, (Trouble(BedTooThin(least, _coats_asked(decision)), rules),))
    coarsest = decision.hand_last_coarsest if by_hand else decision.finish_coarsest
    finest = decision.finish_finest
    if coarsest is None or finest is None:
        return _without(decision, (_GAP,))
    if RANK[coarsest] > RANK[finest]:
        return _without(decision, (_collision(decision, coarsest, finest, by_hand=by_hand),))
    grades = [grade for grade in shelf if RANK[coarsest] <= RANK[grade] <= RANK[finest]]
    if not grades:
        return _without(decision, (_shelf_lacks(coarsest, finest),))
    limit = 1.0 if decision.risk_limit is None else decision.risk_limit
    safe = [grade for grade in grades if risks.risk(grade, 0) <= limit]
    if safe:
        chosen = _chosen(safe, decision.finish_target)
        bed = _bed(decision, 0)
        coats = bed.coats_counted
        finish = Finish(coarsest=safe[0], finest=safe[-1], chosen=chosen, tool=tool, verdict="safe")
        return Window(finish, bed, risks.line(chosen, coats))
    most = (decision.bed_coats_max or 0) if may_stay(flake, grades[-1]) else 0
    return _opened(decision, grades[-1], most, (tool, limit, risks))


def _opened(decision: Decision, grade: "Grade", most: int, seen: tuple[Tool, float, Risks]) -> Window:
    tool, limit, risks = seen
    coats = next((n for n in range(1, most) if risks.risk(grade, n) <= limit), most)
    risk = risks.risk(grade, coats)
    bed = _bed(decision, coats)
    verdict = verdict_of(risk, limit, risks.borderline)
    if verdict == "will show":
        return Window(None, bed, None, (Trouble(WillShow(grade, coats, risk, risks.panels)),))
    finish = Finish(coarsest=grade, finest=grade, chosen=grade, tool=tool, verdict=verdict)
    return Window(finish, bed, risks.line(grade, bed.coats))


def _bed(decision: Decision, opened_by: int) -> WetBedAdvice:
    """Join the bed that the rules ask for and the coats that the line model needs.

    Where no coat may be laid there is no bed, whatever asks for one.
    """
    need: WetBedNeed = "required" if opened_by else _need(decision)
    if decision.bed_coats_max == 0:
        need = "no"
    if need == "no":
        return WetBedAdvice(need="no", coats=0)
    return WetBedAdvice(need=need, coats=max(opened_by, 1, _coats_asked(decision)))


def _coats_asked(decision: Decision) -> int:
    """Return the coats that rules ask for, no more than may be laid; no rule on the most is no bound."""
    least, most = decision.bed_coats_min or 0, decision.bed_coats_max
    return least if most is None else min(least, most)


def _need(decision: Decision) -> WetBedNeed:
    return (
        "required" if decision.wet_bed == "required" else "advised" if decision.wet_bed == "advised" else "no"
    )


def _chosen(grades: list["Grade"], target: "Grade | None") -> "Grade":
    if target is None:
        return grades[0]
    return next((grade for grade in grades if RANK[grade] >= RANK[target]), grades[-1])


def _without(decision: Decision, trouble: tuple[Trouble, ...]) -> Window:
    return Window(None, _bed(decision, 0), None, trouble)


_GAP = Trouble(NoRule())


def _held(decision: Decision, why: str) -> Trouble:
    rules = tuple(
        reason.rule for reason in decision.because if reason.output == "holds" and reason.value == why
    )
    return Trouble(RuleHold(why), rules)


def _rules_behind(decision: Decision, output: OutputName) -> tuple[str, ...]:
    return tuple(reason.rule for reason in decision.because if reason.output == output)


def _collision(decision: Decision, coarsest: "Grade", finest: "Grade", *, by_hand: bool) -> Trouble:
    limit: OutputName = "hand_last_coarsest" if by_hand else "finish_coarsest"
    rules = _rules_behind(decision, limit) + _rules_behind(decision, "finish_finest")
    return Trouble(Collision(coarsest, finest), rules)


def _bed_forbidden(decision: Decision) -> Trouble:
    rules = _rules_behind(decision, "wet_bed") + _rules_behind(decision, "bed_coats_max")
    return Trouble(BedForbidden(), rules)


def _shelf_lacks(coarsest: "Grade", finest: "Grade") -> Trouble:
    lacks = GRADES[RANK[coarsest] : RANK[finest] + 1]
    return Trouble(ShelfLacks(coarsest, finest), (), lacks)


def highest_bed(beds: list[WetBedAdvice]) -> WetBedAdvice:
    """Return the strongest need and the most coats of several wet beds; no bed for none."""
    need: WetBedNeed = max((bed.need for bed in beds), key=WET_BED.index, default="no")
    return WetBedAdvice(need=need, coats=max((bed.coats for bed in beds), default=0))
