"""Why a place is held, what a recorded scuff is worth and what is on offer, as kinds with facts."""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.words import Grade, WetBedNeed

BedWay = Literal["none", "never", "lead"]
"""What a wet bed does for a scuff that is too coarse: no word of one, never saves it, if the lead signs."""


class RuleHold(NamedTuple):
    """A rule holds the place, in the words of its writer."""

    says: str
    kind: Literal["rule-hold"] = "rule-hold"


class NoRule(NamedTuple):
    """The standards do not say which grade the place gets."""

    kind: Literal["no-rule"] = "no-rule"


class Collision(NamedTuple):
    """One rule asks for `coarsest` or finer, another lets nothing finer than `finest` key."""

    coarsest: Grade
    finest: Grade
    kind: Literal["collision"] = "collision"


class BedForbidden(NamedTuple):
    """One rule asks for a wet bed where another lets no coat of it be laid."""

    kind: Literal["bed-forbidden"] = "bed-forbidden"


class BedTooThin(NamedTuple):
    """Rules ask for more coats of a required wet bed than others let be laid."""

    least: int
    most: int
    kind: Literal["bed-too-thin"] = "bed-too-thin"


class ShelfLacks(NamedTuple):
    """The place needs a grade of this range and the shelf has none of it."""

    coarsest: Grade
    finest: Grade
    kind: Literal["shelf-lacks"] = "shelf-lacks"


class WillShow(NamedTuple):
    """Lines will show: even this grade under so many coats leaves this risk.

    `panels` is how many rows of the shop's own the numbers behind it were fitted to, None for an estimate.
    """

    grade: Grade
    coats: int
    risk: float
    panels: int | None = None
    kind: Literal["will-show"] = "will-show"


class TooMuchFilm(NamedTuple):
    """The steps from `start` (None: what is there now) to `finish` cut more film than may come off."""

    start: Grade | None
    finish: Grade
    off_um: float
    off_max_um: float
    kind: Literal["too-much-film"] = "too-much-film"


class NoWayUp(NamedTuple):
    """The shelf has no grade to step on from `start` (None: what is there now) to `finish`."""

    start: Grade | None
    finish: Grade
    kind: Literal["no-way-up"] = "no-way-up"


class TooLittleLeft(NamedTuple):
    """The steps leave less film than must stay."""

    left_um: float
    least_um: float
    kind: Literal["too-little-left"] = "too-little-left"


class NoHandGrade(NamedTuple):
    """No hand grade on the shelf is fine enough ahead of the DA's; `needed` would be, None if none is."""

    finish: Grade
    needed: Grade | None
    kind: Literal["no-hand-grade"] = "no-hand-grade"


class CannotCutOut(NamedTuple):
    """A recorded scuff is too coarse and neither film nor shelf lets it be cut out: the lead decides."""

    used: Grade
    kind: Literal["cannot-cut-out"] = "cannot-cut-out"


HoldKind = (
    RuleHold
    | NoRule
    | Collision
    | BedForbidden
    | BedTooThin
    | ShelfLacks
    | WillShow
    | TooMuchFilm
    | NoWayUp
    | TooLittleLeft
    | NoHandGrade
    | CannotCutOut
)
"""Why a spot has no finish, or may not be worked."""


class GradeUnknown(NamedTuple):
    """A scuff is recorded with a pad whose grade nobody knows."""

    kind: Literal["grade-unknown"] = "grade-unknown"


class TooCoarse(NamedTuple):
    """The scuff is too coarse; the re-cut beside it cuts it out. `bed`: what a wet bed does for it."""

    used: Grade
    bed: BedWay
    kind: Literal["too-coarse"] = "too-coarse"


class NoWayOut(NamedTuple):
    """The scuff is too coarse and neither film nor shelf lets it be cut out."""

    used: Grade
    kind: Literal["no-way-out"] = "no-way-out"


class TooFine(NamedTuple):
    """The scuff is too fine to key; `grade` keys."""

    used: Grade
    grade: Grade
    kind: Literal["too-fine"] = "too-fine"


DoneKind = GradeUnknown | TooCoarse | NoWayOut | TooFine
"""What is wrong with a scuff as recorded."""


class TrimOff(NamedTuple):
    """With trim off a DA reaches these places, and the panel's wet bed changes as said.

    `stops` is how many places are no longer held then; `by_hand` and `by_da` are the grades before and after.
    """

    places: tuple[str, ...]
    was: WetBedNeed
    was_coats: int
    becomes: WetBedNeed
    becomes_coats: int
    stops: int = 0
    by_hand: Grade | None = None
    by_da: Grade | None = None
    kind: Literal["trim-off"] = "trim-off"


class RunsOn(NamedTuple):
    """These borders have no edge: clear ends at a seam, over the next panel too, or on the lead's word."""

    places: tuple[str, ...]
    kind: Literal["runs-on"] = "runs-on"


OfferKind = TrimOff | RunsOn
"""A cheaper way."""
