"""What planning decides, doubts or remarks, as kinds with facts: sentences are made where they are shown.

One small tuple for each kind, one union for each family. The last field names the kind, so two kinds are
never equal by their facts alone; JSON carries that name. Lengths in mm, film in µm, grades of the P series.
"""

from typing import Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.held import HoldKind
from prepadvisor.records.words import Grade, Zone

SilenceWhy = Literal["no-flake-next", "surface", "no-flake", "not-seen"]
"""Why the line model has nothing to say of a spot."""


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


class SeenUnstated(NamedTuple):
    """Whether anybody sees these flanges and cut-outs is not stated: judged as not seen."""

    places: tuple[str, ...]
    kind: Literal["seen-unstated"] = "seen-unstated"


class LinesGone(NamedTuple):
    """The house's outline lacks these lines of the shipped one, so they are not asked for."""

    panel: str
    lines: tuple[str, ...]
    kind: Literal["lines-gone"] = "lines-gone"


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
    """A caution of a rule, in the words of its writer, and the panels it is about where not all are."""

    says: str
    panels: tuple[str, ...] = ()
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
    | SeenUnstated
    | LinesGone
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
