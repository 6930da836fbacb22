"""What was taken for granted, what rules warn of, notes, exceptions, and what the line model found."""

from typing import Final, assert_never

from prepadvisor.records.decision import Reason
from prepadvisor.records.kinds import (
    BookDiffers,
    BookMissing,
    BookUnsealed,
    Caution,
    CrossesPatch,
    Estimate,
    FadesMeet,
    FlakeUnknown,
    FromBook,
    HandOnlyInClear,
    HeldAfterPrimer,
    KeptOff,
    KeyAllowsNoFiner,
    MeasuredFiner,
    MistPastEnd,
    ModelSaid,
    NarrowFade,
    PanelException,
    PatchNowUnstated,
    PlaceNote,
    ReachUnstated,
    RingOf,
    RuleCaution,
    RuleNote,
    SandedUnknown,
    Silence,
    SilenceWhy,
    SplitPlace,
    StagesUnstated,
    ThreeStages,
    ToneUnstated,
)
from prepadvisor.wording import trade
from prepadvisor.wording.holds import why_of
from prepadvisor.wording.names import Words

_BOOK_WHAT: Final = {
    "flake": "Flake",
    "stages": "Stages",
    "tone": "Tone",
    "flake_um": "Flake size in um",
    "tilt_deg": "Spread of tilt in degrees",
    "log_sd": "Spread of sizes",
}


def caution_says(fact: Caution, words: Words) -> str:
    """Return a caution as a sentence without its full stop."""
    match fact:
        case FlakeUnknown():
            return "Flake not known: judged as very fine. If it looks like liquid metal it is vapour: say so"
        case StagesUnstated():
            return (
                "Stages not stated: judged as three-stage, very fine at least. "
                "If it is base and clear, write stages = 2; if three-stage, stages = 3"
            )
        case ThreeStages():
            return "Three stages: judged as very fine at least"
        case ToneUnstated():
            return f"Tone not stated: judged as {trade.TONE.get(fact.judged, fact.judged)}"
        case MeasuredFiner():
            return (
                f"The measured flake is as fine as {fact.flake}: state that class, the rules go by the class"
            )
        case FromBook():
            on = f" on {fact.sealed_on}" if fact.sealed_on else ""
            name = fact.book if fact.name in {"", fact.book} else f"{fact.book} ({fact.name})"
            notes = f": {fact.notes.rstrip('.')}" if fact.notes else ""
            return f"Colour book: {name}, sealed by {fact.sealed_by}{on}{notes}"
        case BookUnsealed():
            return f"Colour book: {fact.book} is not sealed: it makes nothing looser until a lead seals it"
        case BookMissing():
            meant = f'; did you mean "{fact.near}"?' if fact.near else ""
            return f'The colour book has no "{fact.book}": judged from the job alone{meant}'
        case BookDiffers():
            what = _BOOK_WHAT.get(fact.what, fact.what)
            return f"{what}: the job says {fact.job}, the colour book {fact.book}: {fact.counts} counts"
        case ReachUnstated():
            return f"Reach not stated, judged as hand only: {words.numbers_of(fact.places)}"
        case MistPastEnd():
            letter = words.letter_of.get(fact.panel, fact.panel)
            return f"{letter}: mist reaches past the panel's end: mask the next panel or clear it too"
        case FadesMeet():
            letter = words.letter_of.get(fact.panel, fact.panel)
            return f"{letter}: the two fades meet, mist lands on all between: sand and clear it all as fade"
        case NarrowFade():
            letter = words.letter_of.get(fact.panel, fact.panel)
            fade, least = words.units.length(fact.fade_mm), words.units.length(fact.least_mm)
            return f"{letter}: a fade of {fade} is narrow, the shop wants {least}: a step may show"
        case HeldAfterPrimer():
            return f"{words.numbers_of(fact.places)} will be on hold once primed: {why_of(fact.fact, words)}"
        case SandedUnknown():
            where = words.where(fact.place)
            return f"{where}: what it was sanded with is not known: guide coat it and look first"
        case PatchNowUnstated():
            where = words.numbers_of(fact.places)
            return f"What is on a patch now is not stated, look before its first grade: {where}"
        case RuleCaution():
            return fact.says.rstrip(".")
        case _:
            assert_never(fact)


def note_says(fact: PlaceNote, words: Words) -> str:
    """Return a note at a place."""
    match fact:
        case CrossesPatch():
            place = words.places.get(fact.place)
            name = words.number(place) if place else words.where(fact.place)
            return f"crosses {name}: sanded there with it"
        case KeptOff():
            return f"by hand, though a machine reaches it: {fact.says}"
        case RuleNote():
            return fact.says
        case RingOf():
            return f"the old paint round {words.where(fact.place)} that primer laps onto"
        case _:
            assert_never(fact)


def exception_says(fact: PanelException, words: Words) -> str:
    """Return how a place departs from its panel's one answer."""
    match fact:
        case HandOnlyInClear():
            return f"{words.numbers_of(fact.places)} by hand {fact.grade}: under clear only"
        case SplitPlace():
            where = words.where(fact.place)
            return f"{where}: " + ", ".join(f"{grade} in {trade.ZONE[zone]}" for zone, grade in fact.grades)
        case KeyAllowsNoFiner():
            where = words.where(fact.place)
            return f"{where}: {fact.grade}, its key allows nothing finer"
        case _:
            assert_never(fact)


def reason_says(reason: Reason) -> str:
    """Return what a reason says: a rule's own words, or what the line model found."""
    return reason.says if isinstance(reason.says, str) else model_says(reason.says)


def model_says(fact: ModelSaid) -> str:
    """Return what the line model found at a spot."""
    match fact:
        case Estimate():
            bed = f" under {trade.coats(fact.coats)} of wet bed" if fact.coats else ""
            return (
                f"{fact.grade} by {fact.tool}{bed}: line strength {fact.arcsec:.2f} arcsec, "
                f"risk {fact.risk:.2f} against the limit {fact.risk_limit:.2f}"
            )
        case Silence():
            return f"{silence_says(fact.why)}: the rules alone decide"
        case _:
            assert_never(fact)


def silence_says(why: SilenceWhy) -> str:
    """Return why the line model has nothing to say."""
    match why:
        case "no-flake-next":
            return "no flake goes on here next"
        case "surface":
            return "colour may not go straight on this surface"
        case "no-flake":
            return "no flake"
        case "not-seen":
            return "not seen"
        case _:
            assert_never(why)
