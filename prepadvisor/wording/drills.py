"""Drills: what to do where a look found something, in full for one place and in brief for a panel's card."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.cases import COARSEST_UNDER_FINE
from prepadvisor.records import NamedTuple
from prepadvisor.wording.names import TOOL, Words

if TYPE_CHECKING:
    from prepadvisor.records import Ask, Bed, Drill, LeadDecides, Look, Place, WetDrill

LOOK: Final = "look at it under the lamp, from several sides, and log what is seen"
_RING: Final = "ring it, tell the painter"
_OPENED: Final = "open the pinhole and stop it up"


class Brief(NamedTuple):
    """What a drill is said in brief for.

    Attributes:
        words: names of places as on the card.
        at: what each place that it is said for asks for, by place id; the lead where no film is left.
        plastic: whether bare plastic may show.
    """

    words: Words
    at: "Mapping[str, Drill | LeadDecides]"
    plastic: bool = False


def drill_case(result: "Look") -> str:
    """Return the question that a drill answers on the card; low spots and pinholes share one."""
    match result:
        case "lines":
            return "LINES LEFT?"
        case "gloss":
            return "GLOSS LEFT?"
        case "low" | "pinhole":
            return "LOW SPOT or PINHOLE?"
        case "cut-through":
            return "RUBBED THROUGH?"
        case "clear":
            return "CLEAR?"
        case _:
            assert_never(result)


def drill_brief(result: "Look", brief: Brief) -> str:
    """Return what a finding asks for in brief, at all places that are given."""
    if result == "cut-through":
        return _rubbed_brief(brief)
    drills = {place: one for place, one in brief.at.items() if one.kind == "drill"}
    stopped = [place for place in brief.at if place not in drills]
    says = []
    if drills:
        says.append((_lines_brief if result == "lines" else _filled_brief)(brief.words, drills))
    if stopped:
        where = (
            f"At {brief.words.numbers_of(stopped)} no film is left for it" if drills else "No film is left"
        )
        says.append(f"{where}: cut no more, the lead decides.")
    return " ".join(says)


def drill_says(drill: "Drill") -> str:
    """Return what a finding asks for, in full at one place."""
    again = f"{asks_say(drill.first)}{_minutes(drill)}, then look again"
    match drill.result:
        case "clear":
            return LOOK
        case "cut-through":
            return _rubbed(drill)
        case "gloss":
            return f"gloss peels: {again}"
        case "low":
            return f"fill the low spot, let it cure, then {again}"
        case "pinhole":
            return f"{_OPENED}, let it cure, then {again}"
        case "lines":
            return _lines(drill)
        case _:
            assert_never(drill.result)


def wet_drill_says(drill: "WetDrill | None") -> str:
    """Return what lines or a rub-through in the wet gloss ask for; None: in brief, for the booth's turn."""
    if drill is None:
        return "lines? STOP, dry, sand, start again"
    stop = "stop, lay no further coat over it: none buries it; let it dry by the maker's sheet"
    if drill.result == "cut-through":
        return f"{stop}; isolate it, plan it as a patch that the colour comes in from, and start anew"
    out = asks_say(drill.asks) or "the grade of that place on the card"
    return f"{stop}; sand the lines out with {out}, look, wipe, lay the coat again and look wet once more"


def _minutes(drill: "Drill") -> str:
    return f", about {max(1, round(drill.minutes))} min" if drill.minutes >= 1 else ""


def _lines(drill: "Drill") -> str:
    first = asks_say(drill.first) or "ask the lead"
    then = asks_say(drill.then)
    lead = "ask the lead" if drill.first else ""
    following = f"; still there: {then or lead}" if then or lead else ""
    return f"{first}{_minutes(drill)}, then look again{following}{_bed(drill.bed)}"


def _lines_brief(words: Words, at: "Mapping[str, Drill]") -> str:
    """Join the drills of all places: the same pass again, then the passes back, by hand apart.

    Where something that is sanded in one go must ask the lead, all of it does: nobody drills a line apart.
    """
    machine: dict[str, None] = {}
    back: dict[str, list[Place]] = {}
    by_hand: dict[str, None] = {}
    for name, one in at.items():
        if all(ask.do != "sand" for ask in one.first):
            by_hand[" or ".join(ask.grade or "" for ask in one.first)] = None
            continue
        machine[_grades(one.first)] = None
        back.setdefault(_grades(one.then), []).append(words.places[name])
    says = [f"{' or '.join(machine)} again"] if machine else []
    worked = sum(map(len, back.values()))
    if back.pop("", []):
        back = {chain: patches for chain, some in back.items() if (patches := _patches(some))}
    for chain, places in back.items():
        everywhere = len(places) == worked
        says.append(f"then {chain}" if everywhere else f"{words.numbers(places)} then {chain}")
    if by_hand:
        says.append(f"by hand {' or '.join(by_hand)} again")
    return f"{'; '.join(says)}; then the lead."


def _patches(places: "Sequence[Place]") -> "list[Place]":
    return [place for place in places if place.kind == "patch"]


def _filled_brief(words: Words, at: "Mapping[str, Drill]") -> str:
    first = next(iter(at.values())).first
    return f"{words.numbers_of(at)}: fill it (a pinhole opened first), cure, then {_grades(first)}."


def _rubbed(drill: "Drill") -> str:
    coloured = (
        "isolate it by the maker's sheet and plan it as a patch of its own that the colour comes in from"
    )
    clear = "the colour must reach it, or the panel is painted whole"
    says = [f"stop, {_RING}"]
    zones = set(drill.zones)
    if zones - {"clear"} or not zones:
        says.append(f"{'in colour or fade ' if 'clear' in zones else ''}{coloured}")
    if "clear" in zones:
        says.append(clear if len(zones) == 1 else f"in clear {clear}")
    return "; ".join([*says, "a wet bed never mends it"])


def _rubbed_brief(brief: Brief) -> str:
    promoter = " To the plastic: adhesion promoter first, by its sheet." if brief.plastic else ""
    return f"STOP, {_RING}; no wet bed mends it.{promoter}"


def _bed(bed: "Bed") -> str:
    match bed:
        case "no":
            return "; no wet bed goes over it here"
        case "too-coarse":
            return f"; no wet bed: none covers a scuff coarser than {COARSEST_UNDER_FINE} in this flake"
        case "lead":
            return "; a wet bed instead only with the lead's initials"
        case _:
            assert_never(bed)


# Passes to do, in full and by their grades.


def ask_says(ask: "Ask") -> str:
    """Return one thing to do: "scuff by hand with P1000 or finer", "guide coat", "P800 with DA"."""
    tool = TOOL[ask.tool] if ask.tool else ""
    match ask.do:
        case "powder":
            return "guide coat"
        case "clean":
            return "clean and degrease the whole panel before abrading"
        case "wipe":
            return "blow it off and wipe it until a white cloth stays clean"
        case "look":
            return "look at it under the lamp"
        case "mask":
            return "mask"
        case "scuff":
            return f"scuff by hand with {_grade_says(ask)}{f' ({tool})' if tool else ''}"
        case "sand":
            return f"{_grade_says(ask)} with {tool or 'the sander'}"
        case _:
            assert_never(ask.do)


def _grade_says(ask: "Ask") -> str:
    return ask.grade or "the grade on the card"


def asks_say(asks: "Iterable[Ask]") -> str:
    """Return things to do, one after the other."""
    return ", ".join(map(ask_says, asks))


def _grades(asks: "Sequence[Ask]") -> str:
    return ", ".join("powder" if ask.do == "powder" else ask.grade or ask.do for ask in asks)
