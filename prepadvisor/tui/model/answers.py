"""The decision at a place in words: the answers, what was done, holds, reasons, and the numbers behind."""

from typing import TYPE_CHECKING, Final, Literal

from prepadvisor.records import NamedTuple
from prepadvisor.tui.model.says import hand_first, names_of, powder
from prepadvisor.wording import (
    TOOL,
    ZONE,
    Units,
    Words,
    answer_says,
    done_says,
    hold_mend,
    hold_why,
    minutes,
    note_says,
    offer_says,
    reason_says,
    sure_of,
)

if TYPE_CHECKING:
    from prepadvisor.records import Advice, LadderStep, Place, Spot, Tool

Ink = Literal["plain", "bold", "hush", "stop", "go", "warn"]


class Plate(NamedTuple):
    """One of the four answers: its title, the answer, a few words under it, its ink."""

    title: str
    big: str
    small: str = ""
    ink: Ink = "bold"


class SaidLine(NamedTuple):
    """One line of the decision: its words, its weight, and how far it is set in."""

    text: str
    ink: Ink = "plain"
    indent: int = 0


def answer(advice: "Advice", place: "Place", spot: "Spot", units: Units) -> list[SaidLine]:
    """Return the decision at a place, seen at one of its spots."""
    words_ = names_of(advice)
    said = [*_holds(advice, place, words_), *_done(place), *_split(place), *_zone(place, spot, units)]
    offers = [offer for offer in advice.offers if place.id in offer.places]
    said += [SaidLine(f"OR: {offer_says(offer, words_)}", "bold") for offer in offers]
    if place.ladder:
        said.append(SaidLine(f"Steps: {steps_words(place.ladder)}"))
    said += [
        SaidLine(f"Note: {note}")
        for note in dict.fromkeys((*(note_says(note, words_) for note in place.notes), *spot.notes))
    ]
    return said


def reasons(spot: "Spot", units: Units) -> list[SaidLine]:
    """Return why: each answer with the rule behind it, what the rule says, its place and its source."""
    said = [SaidLine("WHY", "bold")]
    for reason in spot.because:
        said.append(SaidLine(f"{answer_says(reason.output, reason.value, units)}: {reason_says(reason)}"))
        said.append(
            SaidLine(
                f"rule {reason.rule}, {reason.layer}, {reason.file}:{reason.line}; source: {reason.source}",
                "hush",
                2,
            )
        )
    return said if spot.because else [*said, SaidLine("no rule set a bound here")]


def steps_words(ladder: tuple["LadderStep", ...]) -> str:
    """Return grit steps as a chain with their minutes."""
    parts = []
    for step in ladder:
        powder = "guide coat, " if step.guide_coat else ""
        parts.append(f"{powder}{step.grade} {TOOL[step.tool]} {minutes(step.minutes)}")
    return ", then ".join(parts)


SHORT_TOOL: Final[dict["Tool", str]] = {
    "hand-paper": "paper", "hand-pad": "pad", "hand-foam": "foam pad", "block": "block", "da-hard": "hard",
    "da": "DA", "da-soft": "soft pad",
}  # fmt: skip
"""Tools in a word or two, for narrow plates."""


def four_answers(advice: "Advice", place: "Place") -> tuple[Plate, ...]:
    """Return by hand, last touch, powder and wet bed of a place, each in a word or two."""
    hand = hand_first(advice, place)
    title = "BY HAND" if place.reach == "hand" else "THEN DA" if hand else "SAND"
    tool = SHORT_TOOL[place.tool] if place.tool else ""
    last = Plate(title, place.finish, tool) if place.finish else Plate(title, "STOP", "", "stop")
    need, coats = place.wet_bed.need, place.wet_bed.coats
    bed_ink: Ink = "warn" if need == "required" else "bold"
    wet = f"{coats} coat{'s' if coats != 1 else ''}" if need != "no" else "no"
    return (
        Plate("FIRST", hand, "or finer") if hand else Plate("FIRST", "-"),
        last,
        Plate("POWDER", *_POWDER[powder(advice, place)]),
        Plate("WET BED", wet, {"required": "NEEDED", "advised": "advised", "no": ""}[need], bed_ink),
    )


_POWDER: Final = {
    "no": ("no", ""),
    "before-final": ("yes", "before the last"),
    "after-hand": ("yes", "after hand"),
    "every-change": ("yes", "each time"),
}


def _split(place: "Place") -> list[SaidLine]:
    return [SaidLine(f"split at the border: {ZONE[zone]} {grade}", "bold") for zone, grade in place.split]


def _zone(place: "Place", spot: "Spot", units: Units) -> list[SaidLine]:
    size = units.area(spot.area_m2) if spot.length_mm is None else units.length(spot.length_mm)
    text = f"In {ZONE[spot.zone]} ({size})"
    finish = spot.finish
    if finish is None:
        return [SaidLine(f"{text}: no safe grade", "stop")]
    text += f": grit range {finish.coarsest} to {finish.finest}, taken {finish.chosen}"
    if place.finish and not place.split and place.finish != finish.chosen:
        text += f" (it gets {place.finish}, sanded in one go with finer)"
    if spot.line is None:
        return [SaidLine(f"{text}; no risk judged: {'not seen' if not spot.seen else 'no flake over it'}")]
    limit = f", limit {spot.risk_limit:.2f}" if spot.risk_limit is not None else ""
    ink: Literal["plain", "warn"] = "plain" if finish.verdict == "safe" else "warn"
    return [
        SaidLine(
            f"{text}; lines {finish.verdict.upper()} (risk {spot.line.risk:.2f}{limit}, {sure_of(spot)})", ink
        )
    ]


def _done(place: "Place") -> list[SaidLine]:
    done = place.done
    if done.verdict == "not-recorded":
        return []
    verdict = {"within": "within its limits", "too-coarse": "TOO COARSE", "too-fine": "TOO FINE"}[
        done.verdict
    ]
    ink: Literal["go", "stop"] = "go" if done.verdict == "within" else "stop"
    tool = TOOL[done.tool] if done.tool else ""
    said = [SaidLine(f"SCUFFED {done.grade or 'grade not known'} {tool}: {verdict}", ink)]
    if done.fact:
        said.append(SaidLine(done_says(done), "plain", 2))
    if done.recut:
        said.append(SaidLine(f"Re-cut: {steps_words(done.recut)}", "bold", 2))
    return said


def _holds(advice: "Advice", place: "Place", words_: Words) -> list[SaidLine]:
    here = (hold for hold in advice.holds if hold.spot in place.spots or hold.spot == place.id)
    said = []
    for why, mend, rules in dict.fromkeys(
        (hold_why(hold, words_), hold_mend(hold, words_), hold.rules) for hold in here
    ):
        said.append(SaidLine(f"× HOLD: {why}", "stop"))
        said += [SaidLine(f"Mend: {mend}", "bold", 2)] if mend else []
        said += [SaidLine(f"rules: {', '.join(rules)}", "hush", 2)] if rules else []
    return said
