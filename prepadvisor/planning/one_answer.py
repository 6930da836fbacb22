"""One answer for the places of a panel that are worked together.

Nobody changes discs at a line he cannot see: the face and all lines a DA reaches get one final grade, the
lines one hand grade ahead of it, hand-only places one of their own. A place whose key limit forbids it is
named as an exception, and so is a hand-only place that only clear goes on: it takes the hand grade that is in
use anyway. Patches stand alone.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import LEAST_MM, Standing, patch_rect, path_mm
from prepadvisor.planning.drafts import Draft, one_grade
from prepadvisor.planning.places import no_hand_grade, place, steps_of
from prepadvisor.planning.window import Trouble
from prepadvisor.planning.work.ground import (
    FaceClimb,
    Ground,
    area_ground,
    hand_only_ground,
    line_ground,
    start_of,
)
from prepadvisor.records import (
    RANK,
    CannotCutOut,
    Grade,
    HandOnlyInClear,
    Hold,
    KeyAllowsNoFiner,
    LadderStep,
    NamedTuple,
    PanelException,
    Place,
    SplitPlace,
    TooMuchFilm,
    finest,
)
from prepadvisor.surface import Layout, length_below_mm

if TYPE_CHECKING:
    from prepadvisor.planning.planner import Planner

KEY_BY_HAND: Final = (Grade("P800"), Grade("P1500"))
"""Hand grades that key for clear; where none in use lies between, hand-only work takes the coarse one."""


class PanelAnswer(NamedTuple):
    """What the places of a panel come to: records, the work at those not held, holds, the panel's grades."""

    drafts: tuple[Draft, ...]
    places: tuple[Place, ...]
    grounds: tuple[Ground, ...]
    holds: tuple[Hold, ...]
    face: Grade | None
    hand: Grade | None
    hand_only: Grade | None
    face_steps: tuple[LadderStep, ...]
    exceptions: tuple[PanelException, ...]


def one_answer(drafts: Sequence[Draft], planner: "Planner", standing: Standing) -> PanelAnswer:
    """Give the places of a panel their grades and their work.

    Args:
        drafts: the joined spots of its places, the face first.
        planner: the shop's rates and limits.
        standing: where patches and the rings round them lie on the panel.
    """
    face = one_grade([made for made in drafts if made.goes_with_face])
    hand = _hand_grade(drafts, face, planner)
    hand_only = one_grade([made for made in drafts if made.by_hand and not _only_clear(made)])
    in_clear: list[tuple[str, Grade]] = []
    places, grounds, holds = [], [], []
    exceptions: list[PanelException] = []
    climb = FaceClimb()
    for made in drafts:
        grade, exception = _grade(made, face, hand, hand_only)
        if exception is not None:
            exceptions.append(exception)
        if made.by_hand and _only_clear(made) and grade:
            in_clear.append((made.subject.id, grade))
        steps, trouble = steps_of(made, grade, planner)
        one = place(made, grade, steps if made.subject.kind == "patch" else None, planner, hand)
        trouble = (*trouble, *no_hand_grade(made, one, planner), *_not_cut_out(one))
        places.append(one)
        if made.subject.kind == "face" and steps:
            climb = FaceClimb(start_of(made, planner), steps)
        own = _holds(made, trouble)
        if not own and grade is not None:
            ground = _ground(
                made,
                one,
                grade,
                steps=steps or (),
                climb=climb,
                hand=hand,
                planner=planner,
                standing=standing,
            )
            own = _holds(made, _too_much(ground, grade))
            grounds += [] if own else [ground]
        holds += own
    if in_clear:
        exceptions += [HandOnlyInClear(tuple(where for where, _ in in_clear), in_clear[0][1])]
    used = hand_only or (in_clear[0][1] if in_clear else None)
    return PanelAnswer(
        drafts=tuple(drafts),
        places=tuple(places),
        grounds=tuple(grounds),
        holds=tuple(holds),
        face=face,
        hand=hand,
        hand_only=used,
        face_steps=climb.steps,
        exceptions=tuple(exceptions),
    )


def _only_clear(made: Draft) -> bool:
    return all(plan.spot.zone == "clear" for plan in made.plans)


def _hand_grade(drafts: Sequence[Draft], face: Grade | None, planner: "Planner") -> Grade | None:
    """Return the panel's one hand grade ahead of the DA: the finest limit of the lines that a DA reaches."""
    limits = []
    for made in drafts:
        if not made.goes_with_face or not made.subject.is_line:
            continue
        grade = face if face and made.takes(face) else made.finish
        limits += [
            planner.hand_limit(made.subject, plan.decision, grade, by_hand=False) for plan in made.plans
        ]
    found = [limit for limit in limits if limit]
    return finest(*found) if found else None


def _grade(
    made: Draft, face: Grade | None, hand: Grade | None, hand_only: Grade | None
) -> tuple[Grade | None, PanelException | None]:
    """Return the grade that a place is finished with, and how it departs from its panel's if it does."""
    if made.by_hand and _only_clear(made):
        return _in_clear(made, hand), None
    wanted = hand_only if made.by_hand else made.finish if made.subject.kind == "patch" else face
    grade = wanted if wanted and made.takes(wanted) else made.finish
    if grade is None:
        return None, None
    if made.split:
        return grade, SplitPlace(made.subject.id, made.split)
    return grade, KeyAllowsNoFiner(made.subject.id, grade) if grade != wanted else None


def _in_clear(made: Draft, hand: Grade | None) -> Grade | None:
    """Return the grade of hand-only work under clear alone: the hand grade in use where it keys."""
    low, high = KEY_BY_HAND
    wanted = hand if hand and RANK[low] <= RANK[hand] <= RANK[high] else low
    if not made.takes(wanted):
        return made.finish
    return wanted if all(RANK[wanted] >= RANK[finish.coarsest] for finish in made.finishes) else made.finish


def _not_cut_out(one: Place) -> tuple[Trouble, ...]:
    """Hold a place whose recorded scuff is too coarse and cannot be cut out: the lead decides."""
    done = one.done
    if done.verdict != "too-coarse" or done.recut is not None or done.grade is None:
        return ()
    return (Trouble(CannotCutOut(done.grade)),)


def _too_much(ground: Ground, grade: Grade) -> tuple[Trouble, ...]:
    """Hold a line that its work would cut too deep: mostly one that climbs the face's grit steps."""
    most = ground.draft.film_max_um
    if most is None or ground.film_um <= most + 1e-9:
        return ()
    return (Trouble(TooMuchFilm(None, grade, ground.film_um, most)),)


def _ground(
    made: Draft,
    one: Place,
    grade: Grade,
    steps: tuple[LadderStep, ...],
    climb: FaceClimb,
    hand: Grade | None,
    planner: "Planner",
    standing: Standing,
) -> Ground:
    if not made.subject.is_line:
        return area_ground(made, one, steps, start_of(made, planner), planner)
    length = _own_mm(made, standing)
    if length <= 1:
        return Ground(made, one)
    if made.by_hand:
        return hand_only_ground(made, one, grade, planner, length)
    return line_ground(made, one, grade, climb, planner, length_mm=length, hand=hand)


def _own_mm(made: Draft, standing: Standing) -> float:
    """Return the length of a line outside the patches it crosses: its part there is sanded with the patch."""
    subject, panel = made.subject, made.subject.panel
    if not subject.crosses:
        return subject.amount
    path = next(path_mm(panel, line.path) for line in panel.feature if line.id == subject.feature)
    patches = [patch_rect(panel, patch) for patch in panel.patch if patch.id in subject.crosses]
    rings = [ring.rect for ring in standing.rings if ring.patch in subject.crosses]
    layout = Layout(panel.length_mm, panel.height_mm, (), (*patches, *rings))
    return subject.amount - length_below_mm(layout, path, LEAST_MM)


def _holds(made: Draft, trouble: Sequence[Trouble]) -> list[Hold]:
    found = [(plan.spot.id, one) for plan in made.plans for one in plan.trouble]
    where = made.subject.id if made.by_shop else made.plans[0].spot.id
    found += [(where, one) for one in trouble]
    return [Hold(spot=spot, fact=one.fact, rules=one.rules, lacks=one.lacks) for spot, one in found]
