"""What planning decides, doubts or remarks, as kinds with facts: sentences are made where they are shown.

One small tuple for each kind, one union for each family. The last field names the kind, so two kinds are
never equal by their facts alone; JSON carries that name. Lengths in mm, film in µm, grades of the P series.
"""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.words import WetBedNeed, Zone
from prepadvisor.surface.grades import Grade

BedWay = Literal["none", "never", "lead"]
"""What a wet bed does for a scuff that is too coarse: no word of one, never saves it, if the lead signs."""

SilenceWhy = Literal["no-flake-next", "surface", "no-flake", "not-seen"]
"""Why the line model has nothing to say of a spot."""


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


class FlakeUnknown(NamedTuple):
    """The flake is not known: judged as very fine."""

    kind: Literal["flake-unknown"] = "flake-unknown"


class StagesUnstated(NamedTuple):
    """The stages are not stated: judged as three."""

    kind: Literal["stages-unstated"] = "stages-unstated"


class ThreeStages(NamedTuple):
    """Three stages: judged as very fine at least."""

    kind: Literal["three-stages"] = "three-stages"


class ToneUnstated(NamedTuple):
    """The tone is not stated; `judged` is what it was judged as."""

    judged: str
    kind: Literal["tone-unstated"] = "tone-unstated"


class MeasuredFiner(NamedTuple):
    """The measured flake is as fine as a finer class than the one judged by."""

    flake: str
    kind: Literal["measured-finer"] = "measured-finer"


class FromBook(NamedTuple):
    """The colour's values come from the shop's colour book; `sealed_on` is a day, "" where it is not said."""

    book: str
    name: str
    sealed_by: str
    sealed_on: str
    notes: str
    kind: Literal["from-book"] = "from-book"


class BookUnsealed(NamedTuple):
    """The entry in the colour book is not sealed: it makes nothing looser."""

    book: str
    kind: Literal["book-unsealed"] = "book-unsealed"


class BookMissing(NamedTuple):
    """The colour book has no such entry: judged from the job; `near` is what may have been meant, or ""."""

    book: str
    near: str
    kind: Literal["book-missing"] = "book-missing"


class BookDiffers(NamedTuple):
    """Job and colour book state a value differently; `counts` is the one judged by."""

    what: str
    job: str | float | int
    book: str | float | int
    counts: str | float | int
    kind: Literal["book-differs"] = "book-differs"


class ReachUnstated(NamedTuple):
    """The reach of these places is not stated: judged as hand only."""

    places: tuple[str, ...]
    kind: Literal["reach-unstated"] = "reach-unstated"


class MistPastEnd(NamedTuple):
    """The mist of the fade reaches past the panel's end."""

    panel: str
    kind: Literal["mist-past-end"] = "mist-past-end"


class FadesMeet(NamedTuple):
    """Two fades meet on the panel with their mist: no clear zone is left between them."""

    panel: str
    kind: Literal["fades-meet"] = "fades-meet"


class NarrowFade(NamedTuple):
    """The fade is narrower than the shop wants it: a step in colour or flake may show."""

    panel: str
    fade_mm: float
    least_mm: float
    kind: Literal["narrow-fade"] = "narrow-fade"


class HeldAfterPrimer(NamedTuple):
    """These places are worked up to primer, and will be held for this reason once that is on."""

    places: tuple[str, ...]
    fact: HoldKind
    kind: Literal["held-after-primer"] = "held-after-primer"


class SandedUnknown(NamedTuple):
    """Nobody knows what the place was sanded with."""

    place: str
    kind: Literal["sanded-unknown"] = "sanded-unknown"


class PatchNowUnstated(NamedTuple):
    """What is on these patches now is not stated."""

    places: tuple[str, ...]
    kind: Literal["patch-now-unstated"] = "patch-now-unstated"


class RuleCaution(NamedTuple):
    """A caution of a rule, in the words of its writer."""

    says: str
    kind: Literal["rule-caution"] = "rule-caution"


Caution = (
    FlakeUnknown
    | StagesUnstated
    | ThreeStages
    | ToneUnstated
    | MeasuredFiner
    | FromBook
    | BookUnsealed
    | BookMissing
    | BookDiffers
    | ReachUnstated
    | MistPastEnd
    | FadesMeet
    | NarrowFade
    | HeldAfterPrimer
    | SandedUnknown
    | PatchNowUnstated
    | RuleCaution
)
"""What was not said and so was judged on the safe side, and what rules warn of."""


class CrossesPatch(NamedTuple):
    """The line runs through a patch (its place id), where it is sanded with the patch."""

    place: str
    kind: Literal["crosses-patch"] = "crosses-patch"


class KeptOff(NamedTuple):
    """A machine reaches the place, yet a rule keeps it off, in the words of its writer."""

    says: str
    kind: Literal["kept-off"] = "kept-off"


class RuleNote(NamedTuple):
    """A note of a rule (its id), in the words of its writer."""

    says: str
    rule: str = ""
    kind: Literal["rule-note"] = "rule-note"


class RingOf(NamedTuple):
    """The old paint round a patch (its place id), which primer laps onto."""

    place: str
    kind: Literal["ring-of"] = "ring-of"


PlaceNote = CrossesPatch | KeptOff | RuleNote | RingOf
"""A remark at a place."""


class SplitPlace(NamedTuple):
    """The place has a grade of its own in each zone."""

    place: str
    grades: tuple[tuple[Zone, Grade], ...]
    kind: Literal["split-place"] = "split-place"


class KeyAllowsNoFiner(NamedTuple):
    """The place keeps its own grade: its key allows nothing finer."""

    place: str
    grade: Grade
    kind: Literal["key-allows-no-finer"] = "key-allows-no-finer"


class HandOnlyInClear(NamedTuple):
    """Hand-only places that only clear goes on: they take the hand grade that is in use anyway."""

    places: tuple[str, ...]
    grade: Grade
    kind: Literal["hand-only-in-clear"] = "hand-only-in-clear"


PanelException = SplitPlace | KeyAllowsNoFiner | HandOnlyInClear
"""Where a place departs from its panel's one answer."""


class Estimate(NamedTuple):
    """What the line model says of the chosen grade against the limit; `panels` as in `WillShow`."""

    grade: Grade
    tool: str
    coats: int
    arcsec: float
    risk: float
    risk_limit: float
    panels: int | None = None
    kind: Literal["estimate"] = "estimate"


class Silence(NamedTuple):
    """The line model has nothing to say: the rules alone decide."""

    why: SilenceWhy
    kind: Literal["silence"] = "silence"


ModelSaid = Estimate | Silence
"""What the line model adds to the reasons of a spot."""
