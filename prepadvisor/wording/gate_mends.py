"""How what shuts the gate is mended, in sentences: one for each kind of mend."""

from typing import assert_never

from prepadvisor.cases.colour import COARSEST_UNDER_FINE
from prepadvisor.records import gate as g
from prepadvisor.wording.holds import hold_mend
from prepadvisor.wording.names import Words
from prepadvisor.wording.saying import ask_says, asks_say, entry

LOOK = "look at it under the lamp, from several sides, and log what is seen"
LEAD = "the lead accepts it with initials and a reason"


def mend_says(mend: g.MendFact, words: Words) -> str:
    """Return what to do."""
    match mend:
        case g.DoIt():
            look = ", then look again" if mend.look else ""
            time = f", about {max(1, round(mend.minutes))} min" if mend.minutes >= 1 else ""
            return f"{asks_say(mend.asks)}{time}{look}{f'; or {LEAD}' if mend.lead else ''}"
        case g.LookAgain():
            renew = "; one entry renews a whole panel: log PANEL/all inspected --again" if mend.renew else ""
            return f"{LOOK}{renew}"
        case g.Drill():
            return _drill(mend)
        case g.WetDrill():
            return _wet(mend)
        case g.WipeIt():
            return "blow it off and wipe it until a white cloth stays clean"
        case g.CheckClock():
            return "check the clock, and log it again"
        case g.NameIt():
            if mend.rubbed:
                return (
                    "put the place back into the job and mend the rub-through: a patch there, or "
                    "full colour to there"
                )
            near = f"if {mend.near} was meant, log it again there; " if mend.near else ""
            return f"{near}put the place back, or {LEAD} at this very name"
        case g.CardAgain():
            return "make the card again for it"
        case g.AsPlanned():
            return (
                hold_mend(mend.hold, words)
                or "change the job, or ask the lead: there is nothing to sand to here"
            )
        case g.LeadDecides():
            accept = f"{LEAD}, or " if mend.may_accept else ""
            return (
                f"stop, cut no more; the lead decides: {accept}the place is planned anew (full colour "
                "over it, or primer)"
            )
        case g.StrikeEarly():
            return (
                "take the entry back (struck --of its id), finish the primer stage, then log it "
                f"again; or the lead accepts it, by --of its id ({entry(mend.said)})"
            )
        case _:
            assert_never(mend)


def _drill(drill: g.Drill) -> str:
    minutes = f", about {max(1, round(drill.minutes))} min" if drill.minutes >= 1 else ""
    match drill.result:
        case "clear":
            return LOOK
        case "cut-through":
            return _rubbed(drill)
        case "gloss":
            return f"gloss peels: {asks_say(drill.first)}{minutes}, then look again"
        case "low":
            return f"fill the low spot, let it cure, then {asks_say(drill.first)}{minutes}, then look again"
        case "pinhole":
            return (
                "open the pinhole and stop it up, let it cure, then "
                f"{asks_say(drill.first)}{minutes}, then look again"
            )
        case "lines":
            first = asks_say(drill.first) or "ask the lead"
            then = asks_say(drill.then)
            lead = "ask the lead" if drill.first else ""
            following = f"; still there: {then or lead}" if then or lead else ""
            return f"{first}{minutes}, then look again{following}{_bed(drill.bed)}"


def _wet(drill: g.WetDrill) -> str:
    stop = "stop, lay no further coat over it: none buries it; let it dry by the maker's sheet"
    if drill.result == "cut-through":
        return f"{stop}; isolate it, plan it as a patch that the colour comes in from, and start anew"
    out = asks_say(drill.asks) or "the grade of that place on the card"
    return f"{stop}; sand the lines out with {out}, look, wipe, lay the coat again and look wet once more"


def _rubbed(drill: g.Drill) -> str:
    coloured = (
        "isolate it by the maker's sheet and plan it as a patch of its own that the colour comes in from"
    )
    clear = "the colour must reach it, or the panel is painted whole"
    says = ["stop, ring it, tell the painter"]
    zones = set(drill.zones)
    if zones - {"clear"} or not zones:
        says.append(f"{'in colour or fade ' if 'clear' in zones else ''}{coloured}")
    if "clear" in zones:
        says.append(clear if len(zones) == 1 else f"in clear {clear}")
    return "; ".join([*says, "a wet bed never mends it"])


def _bed(bed: g.Bed) -> str:
    match bed:
        case "no":
            return "; no wet bed goes over it here"
        case "too-coarse":
            return f"; no wet bed: none covers a scuff coarser than {COARSEST_UNDER_FINE} in this flake"
        case "lead":
            return "; a wet bed instead only with the lead's initials"


def next_says(ask: g.Ask) -> str:
    """Return one thing to do next."""
    return ask_says(ask)
