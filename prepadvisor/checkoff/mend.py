"""What to do next, in the words of the shop: a step owed, lines, gloss, rub-through, a wrong grade."""

from collections.abc import Sequence
from math import ceil
from typing import Final, NamedTuple

from prepadvisor.cases.colour import FlakeNumbers, flake_numbers, judged
from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.limits import Limits, hand_limits, last_touch_limits, one_grade_back
from prepadvisor.records.advice import Advice, Place, Spot
from prepadvisor.records.job import Check, Job
from prepadvisor.records.kinds import TooCoarse
from prepadvisor.records.words import FLAKES
from prepadvisor.surface.grades import is_finer
from prepadvisor.wording.scuffs import bed_says, steps_by_tool

_BED_GRADE_COARSEST: Final = "P800"
"""From fine flake on no wet bed lies over a scuff coarser than this."""

LOOK: Final = "look at it under the lamp, from several sides, and log what is seen"


class Bench(NamedTuple):
    """A place at work: its spots, its own surface, the job's flake as judged, and the shop.

    `grain` is that flake in numbers, None where no flake comes over a scratch.
    """

    place: Place
    spots: tuple[Spot, ...]
    surface: str
    flake: str
    floor: ShopFloor
    grain: FlakeNumbers | None = None

    @property
    def asked_by_hand(self) -> str:
        """The grade to scuff with, such as "P1000 or finer"."""
        if self.place.reach == "hand":
            return _ranges(last_touch_limits(self.place, self.spots))
        limits = hand_limits(self.place, self.spots)
        return limits.words if limits else "the grade on the card"

    @property
    def asked_by_machine(self) -> str:
        """The tool and grade to sand with, such as "da-soft P1000"."""
        split = " / ".join(f"{grade} in {zone}" for zone, grade in self.place.split)
        grade = split or self.place.finish or "the grade on the card"
        return f"{self.place.tool or self.floor.shop.finishing_tool} {grade}"

    @property
    def minutes(self) -> int:
        """Whole minutes of one pass over the place, with guide coat and disc where a machine reaches."""
        shop = self.floor.shop
        area_m2 = sum(
            spot.area_m2 if spot.length_mm is None else spot.length_mm * shop.edge_strip_mm / 1e6
            for spot in self.spots
        )
        extra = shop.guide_coat_minutes + shop.disc_minutes if self.place.reach == "machine" else 0.0
        return max(1, ceil(area_m2 / shop.pass_m2_per_minute + extra))


def benches(job: Job, advice: Advice, floor: ShopFloor) -> dict[str, Bench]:
    """Lay every place out with its spots, by place id."""
    spots = {spot.id: spot for spot in advice.spots}
    surfaces: dict[tuple[str, str], str] = {}
    whole: dict[str, str] = {}
    grain = flake_numbers(floor.constants, judged(job.colour))
    for panel in job.panel:
        whole[panel.id] = panel.surface
        surfaces.update({(panel.id, patch.id): patch.surface for patch in panel.patch})
    return {
        place.id: Bench(
            place,
            tuple(spots[spot] for spot in place.spots if spot in spots),
            surfaces.get((place.panel, place.feature), whole.get(place.panel, "")),
            advice.job.flake,
            floor,
            grain,
        )
        for place in advice.places
    }


def _ranges(limits: Sequence[Limits]) -> str:
    return " / ".join(each.words for each in limits) or "the grade on the card"


def scuff(bench: Bench) -> str:
    """Say how the place is scuffed."""
    return f"scuff it by hand with {bench.asked_by_hand} until no gloss is left"


def guide_coat(bench: Bench) -> str:
    """Say how guide coat goes on."""
    return f"put dry guide coat on, then sand it out with {bench.asked_by_machine}"


def sand(bench: Bench) -> str:
    """Say how the place is sanded."""
    return f"sand it with {bench.asked_by_machine}"


def lines_left(bench: Bench, times: int, last_grade: str | None) -> str:
    """Say what to do where a look found lines: guide coat and the same grade; one grade back; the lead.

    Args:
        bench: the place.
        times: how many looks in a row found lines.
        last_grade: the grade last used there, if it is recorded.
    """
    by_hand = bench.place.reach == "hand"
    same = f"scuff by hand with {bench.asked_by_hand}" if by_hand else bench.asked_by_machine
    powder = "" if by_hand else "guide coat, "
    again = f"{powder}{same} again, about {bench.minutes} min, then look again"
    finish = bench.place.finish or last_grade
    back = one_grade_back(finish, bench.floor.shop.shelf) if finish else None
    coarser = f"one grade back: {powder}{back}, {powder}{same}" if back else "ask the lead"
    first = again if times < 2 else f"the same grade did not take them out; {coarser}, then look again"
    following = f"; still there: {coarser}" if times < 2 else ""
    return f"{first}{following}{_bed(bench, last_grade)}"


def _bed(bench: Bench, last_grade: str | None) -> str:
    coloured = any(spot.zone != "clear" for spot in bench.spots)
    if not coloured or bench.surface not in {"aged-clear", "cured-clear"}:
        return "; no wet bed goes over it here"
    fine = bench.flake not in FLAKES or FLAKES.index(bench.flake) >= FLAKES.index("fine")
    if fine and (last_grade is None or is_finer(_BED_GRADE_COARSEST, last_grade)):
        return f"; no wet bed: none covers a scuff coarser than {_BED_GRADE_COARSEST} in this flake"
    return "; a wet bed instead only with the lead's initials"


def gloss_left(bench: Bench) -> str:
    """Say what to do where a look found gloss."""
    if bench.place.kind in {"face", "patch"}:
        return f"unsanded gloss peels: sand it with {bench.asked_by_machine}, then look again"
    after = "" if bench.place.reach == "hand" else f", then {bench.asked_by_machine}"
    return f"unscuffed gloss peels: {scuff(bench)}{after}, then look again"


def rubbed_through(bench: Bench) -> str:
    """Say what a rub-through asks for, by the zones of the place as they are now."""
    zones = {spot.zone for spot in bench.spots}
    coloured = (
        "isolate the spot by the maker's sheet and re-plan it as full colour: a patch of its own "
        "that the colour comes in from"
    )
    clear = "the colour must reach it, or the panel is painted whole: re-plan the job so"
    says = ["stop, ring it, tell the painter"]
    if zones - {"clear"} or not zones:
        says.append(coloured if "clear" not in zones else f"in colour or fade {coloured}")
    if "clear" in zones:
        says.append(clear if len(zones) == 1 else f"in clear {clear}")
    return "; ".join([*says, "a wet bed never mends it"])


def recut(bench: Bench, used: Check, *, by_hand: bool, too_fine: bool) -> str:
    """Say how work outside its limits is mended: cut it again; the lead's word second.

    Where the advice was made for exactly this scuff (see `recorded`), its own re-cut with grades and minutes
    is what is said.

    Args:
        bench: the place.
        used: the entry with its tool and grade.
        by_hand: whether it is the scuff by hand that is mended.
        too_fine: whether it was too fine, so that only the key is lacking.
    """
    machine = bench.place.reach == "machine"
    done = bench.place.done
    if by_hand and done.recut and (done.tool, done.grade) == (used.tool, used.grade):
        # The last scuff is what counts: a DA pass alone would leave this hold standing for good.
        minutes = max(1, round(sum(step.minutes for step in done.recut)))
        again = f"scuff it again by hand with {bench.asked_by_hand}, then " if machine else "re-cut with "
        way = f"{again}{steps_by_tool(done.recut)}, look again (about {minutes} min)"
        bed = done.fact.bed if isinstance(done.fact, TooCoarse) else "none"
        says = "; ".join([f"{done.grade} is too coarse: {way}", *([bed_says(bed)] if bed != "none" else [])])
        return f"{says}; or the lead accepts it with initials and a reason"
    if by_hand:
        steps = [f"scuff it again by hand with {bench.asked_by_hand}"]
        if machine and bench.place.guide_coat != "no":
            steps.append("guide coat")
        if machine:
            steps.append(bench.asked_by_machine)
    else:
        steps = [] if too_fine else ["guide coat"]
        steps.append(f"{bench.asked_by_machine} until none of the old lines is left")
    second = "" if too_fine else "; or the lead accepts it with initials and a reason"
    return f"{', '.join(steps)}, about {bench.minutes} min, then look again{second}"
