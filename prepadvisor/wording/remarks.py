"""Why a place is held, what was taken for granted, what rules warn of, and what the line model found."""

from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records import (
    BedForbidden,
    BedTooThin,
    BookDiffers,
    BookMissing,
    BookUnsealed,
    CannotCutOut,
    Caution,
    Collision,
    CrossesPatch,
    Estimate,
    FadesMeet,
    FlakeUnknown,
    FromBook,
    HandOnlyInClear,
    HeldAfterPrimer,
    Hold,
    HoldKind,
    KeptOff,
    KeyAllowsNoFiner,
    LinesGone,
    MeasuredFiner,
    MistPastEnd,
    ModelSaid,
    NarrowFade,
    NoHandGrade,
    NoRule,
    NoWayUp,
    PanelException,
    PatchNowUnstated,
    PlaceNote,
    ReachUnstated,
    Reason,
    RingOf,
    RuleCaution,
    RuleHold,
    RuleNote,
    SandedUnknown,
    SeenUnstated,
    ShelfLacks,
    Silence,
    SilenceWhy,
    SplitPlace,
    StagesUnstated,
    ThreeStages,
    ToneUnstated,
    TooLittleLeft,
    TooMuchFilm,
    WillShow,
)
from prepadvisor.wording import names as trade
from prepadvisor.wording.names import Words, coats, listed
from prepadvisor.wording.standards import sure_word

if TYPE_CHECKING:
    from prepadvisor.records import Grade

# Why a place is held, and what mends it.


def hold_why(hold: Hold, words: Words) -> str:
    """Return why a spot is held."""
    return why_of(hold.fact, words)


def why_of(fact: HoldKind, words: Words) -> str:
    """Return why, for a kind of hold."""
    match fact:
        case RuleHold():
            return fact.says
        case NoRule():
            return "the house standards do not say which grade this place gets"
        case Collision():
            return (
                f"the standards collide: {fact.coarsest} or finer is asked for, "
                f"yet nothing finer than {fact.finest} keys here"
            )
        case BedForbidden():
            return "the standards collide: a wet bed is asked for here, yet no coat of it may be laid"
        case BedTooThin():
            least, most = coats(fact.least), coats(fact.most)
            return f"the standards collide: {least} of wet bed at least, {most} at most"
        case ShelfLacks():
            span = _range(fact.coarsest, fact.finest)
            return f"this place needs {span} and the shelf has none of it"
        case WillShow():
            bed = f" with {coats(fact.coats)} of wet bed" if fact.coats else ""
            sure = sure_word(fact.panels)
            return f"lines will show here: even {fact.grade}{bed} leaves a risk of {fact.risk:.2f} ({sure})"
        case TooMuchFilm():
            off, most = words.units.films(fact.off_um, fact.off_max_um)
            start = fact.start or "what is there now"
            return f"getting from {start} to {fact.finish} cuts {off}; no more than {most} may come off here"
        case NoWayUp():
            return f"the shelf has no grade to step from {fact.start or 'what is there now'} to {fact.finish}"
        case TooLittleLeft():
            left, least = words.units.films(fact.left_um, fact.least_um)
            return f"the steps leave {left} of film, less than the {least} that must stay"
        case CannotCutOut():
            return f"the {fact.used} scuff is too coarse and cannot be cut out within film and shelf"
        case NoHandGrade():
            return f"no hand grade on the shelf is fine enough ahead of {fact.finish}"
        case _:
            assert_never(fact)


def hold_mend(hold: Hold, words: Words) -> str:
    """Return what mends a hold; empty where the rule's own words say all there is."""
    fact = hold.fact
    match fact:
        case RuleHold():
            return ""
        case NoRule():
            return "the lead adds a rule that covers it"
        case Collision():
            return "take the finer demand up with the lead; do not sand finer than the key allows"
        case BedForbidden():
            return "take it up with the lead: a bed over this surface, or none asked for"
        case BedTooThin():
            return "take it up with the lead: fewer coats asked for, or more allowed"
        case ShelfLacks():
            return f"buy {' or '.join(hold.lacks)}"
        case WillShow():
            spot = words.spots.get(hold.spot)
            if spot is not None and spot.zone == "colour":  # there is no more colour to bring over it
                return "spray a test panel alike, and let the lead decide"
            return "bring full colour over this place and fade out in the next panel, or ask the lead"
        case TooMuchFilm():
            return "fewer or finer steps, or ask the lead: do not sand on through"
        case NoWayUp():
            return f"buy {' and '.join(hold.lacks)}, or start finer" if hold.lacks else "start finer"
        case TooLittleLeft():
            return "ask the lead: fewer steps, or paint the panel from primer up"
        case CannotCutOut():
            return (
                "the lead decides: full colour over this place, a grade bought, or his word in the log; "
                "a finer scuff over it hides nothing"
            )
        case NoHandGrade():
            return f"buy {fact.needed} or finer for hand work" if fact.needed else "ask the lead"
        case _:
            assert_never(fact)


def _range(coarsest: "Grade", finest: "Grade") -> str:
    return coarsest if coarsest == finest else f"{coarsest} to {finest}"


_BOOK_WHAT: Final = {
    "flake": "Flake",
    "stages": "Stages",
    "tone": "Tone",
    "flake_um": "Flake size in um",
    "tilt_deg": "Spread of tilt in degrees",
    "log_sd": "Spread of sizes",
}


def _booked(value: str | float) -> str:
    return trade.flake_short(value) if isinstance(value, str) else f"{value:g}"


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
            finer = trade.flake_short(fact.flake)
            return f"The measured flake is as fine as {finer}: state that class, the rules go by the class"
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
            job, book, counts = (_booked(each) for each in (fact.job, fact.book, fact.counts))
            return f"{what}: the job says {job}, the colour book {book}: {counts} counts"
        case ReachUnstated():
            return f"Reach not stated, judged as hand only: {words.numbers_of(fact.places)}"
        case SeenUnstated():
            return (
                f"Judged as seen by nobody, for it is not stated: {words.numbers_of(fact.places)}. "
                "If one sees it, say so: it may ask for more"
            )
        case LinesGone():
            letter = words.letter_of.get(fact.panel, fact.panel)
            return f"{letter}: not asked for, since the house's outline lacks them: {listed(fact.lines)}"
        case MistPastEnd():
            letter = words.letter_of.get(fact.panel, fact.panel)
            return f"{letter}: mist reaches past the panel's end: mask the next panel or clear it too"
        case FadesMeet():
            letter = words.letter_of.get(fact.panel, fact.panel)
            return f"{letter}: its fades meet, mist lands on all between: sand and clear it all as fade"
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
            about = [words.letter_of.get(panel, panel) for panel in fact.panels]
            return f"{trade.listed(trade.stretches(about))}{': ' if about else ''}{fact.says.rstrip('.')}"
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
            tool = trade.TOOL.get(fact.tool, fact.tool)
            return (
                f"{fact.grade} with {tool}{bed}: line strength {fact.arcsec:.2f} arcsec, "
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
