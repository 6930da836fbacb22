"""Why the gate is shut and how that is mended, in sentences: one for each kind of hold and of mend."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records import Do
from prepadvisor.records import gate as g
from prepadvisor.wording.drills import LOOK, ask_says, asks_say, drill_says, wet_drill_says
from prepadvisor.wording.names import TOOL, Words, listed
from prepadvisor.wording.remarks import hold_mend, why_of

if TYPE_CHECKING:
    from prepadvisor.records import Said, Task

# Pieces of sentences on the check-off: an entry, a pass to do, numbers of entries.

DONE: Final[dict[Do, str]] = {
    "clean": "cleaned",
    "scuff": "scuffed",
    "powder": "guide coat",
    "sand": "sanded",
    "look": "looked at",
    "wipe": "wiped",
    "mask": "masked",
}


def entry(said: "Said") -> str:
    """Return an entry in a few words: number, place, step, by whom and when."""
    check = said.check
    result = f" {check.result}" if check.result else ""
    grade = f" {check.grade}" if check.grade else ""
    by = f" by {check.by}" if check.by else ""
    return f"entry {said.number}, {check.feature} {check.step}{grade}{result}{by} {when(said)}"


def when(said: "Said") -> str:
    """Return the time of an entry as people read it."""
    return f"{said.check.at:%Y-%m-%d %H:%M}"


def numbers(entries: Iterable[int]) -> str:
    """Return numbers of entries, those in a row as a stretch: "3-7 and 9"."""
    runs: list[list[int]] = []
    for number in entries:
        if runs and runs[-1][-1] + 1 == number:
            runs[-1].append(number)
        else:
            runs.append([number])
    return listed(
        [f"{run[0]}-{run[-1]}" if len(run) > 2 else listed([str(each) for each in run]) for run in runs]
    )


def entries_word(entries: Iterable[int]) -> str:
    """Return "entry 3" or "entries 3-7"."""
    some = list(entries)
    return f"{'entry' if len(some) == 1 else 'entries'} {numbers(some)}"


# Why the gate is shut, in sentences: one for each kind of hold.

PART: Final[dict[g.BasisPart, str]] = {
    "number": "the job's number",
    "name": "the colour's name",
    "colour": "the colour or its flake",
    "panel": "the panel's size, surface or role",
    "zones": "how this place lies in the blend zones",
    "asks": "what the advice asks here",
    "paths": "where its lines run",
    "patches": "the patches of the panel",
    "scope": "which panels the job has",
}


def gate_why(fact: g.HoldFact, words: Words) -> str:
    """Return why the gate is shut."""
    match fact:
        case g.NotDone():
            what = "no guide coat" if fact.do == "powder" else f"not {DONE[fact.do]}"
            grade = f" with {fact.grade}" if fact.grade and fact.do == "sand" else ""
            return f"{what}{grade}{f' again since {entry(fact.undone)}' if fact.undone else ''}"
        case g.TooEarly():
            other = f"{words.where(fact.place)} {DONE[fact.do]}"
            same = fact.place == f"{fact.said.check.panel}/{fact.said.check.feature}"
            other = DONE[fact.do] if same else other
            since = f" ({entry(fact.before)})" if fact.before else ", which is still to do"
            return f"{entry(fact.said)}: before {other}{since}"
        case g.Unordered():
            return (
                f"{entry(fact.said)} and {entry(fact.other)}: logged side by side, so which came "
                "first is not known"
            )
        case g.NotRecorded():
            verb = "is" if len(fact.lacks) == 1 else "are"
            return f"the {' and the '.join(fact.lacks)} {verb} not recorded ({entry(fact.said)})"
        case g.WrongTool():
            tool = TOOL[fact.said.check.tool] if fact.said.check.tool else "that"
            asked = f", where {TOOL[fact.asked]} is asked" if fact.asked else ""
            return f"done with {tool}{asked} ({entry(fact.said)})"
        case g.NotAsked():
            return f"{fact.said.check.step}, which this place must not have ({entry(fact.said)})"
        case g.CutTooCoarse():
            return (
                f"{fact.said.check.grade} is coarser than the {fact.coarsest} allowed here "
                f"({entry(fact.said)})"
            )
        case g.CutTooFine():
            return (
                f"{fact.said.check.grade} is finer than the {fact.finest} allowed here: "
                f"the next coat would not hold ({entry(fact.said)})"
            )
        case g.StillCoarse():
            return (
                f"{fact.said.check.grade} does not take out the {fact.coarse.check.grade} of "
                f"{entry(fact.coarse)}: the step is too far ({entry(fact.said)})"
            )
        case g.ShowsLines():
            tool = TOOL[fact.said.check.tool] if fact.said.check.tool else "the tool"
            return (
                f"{tool} {fact.said.check.grade} scratches deeper than the {TOOL[fact.asked]} it "
                "was judged with: "
                f"risk that a line shows {fact.risk:.2f} of {fact.limit:.2f} allowed in {fact.zone} "
                f"({entry(fact.said)})"
            )
        case g.NotLooked():
            for_all = (
                f"; {entry(fact.for_all)} is for all places and never a first look" if fact.for_all else ""
            )
            return f"not yet looked at{for_all}"
        case g.LookedBefore():
            return f"looked at before {entry(fact.work)}"
        case g.NoResult():
            return f"{entry(fact.said)}: a look without a result"
        case g.SawSomething():
            times = f", {fact.times} looks in a row" if fact.times > 1 else ""
            return f"{_SAW[fact.result]} ({entry(fact.said)}{times})"
        case g.RubbedThrough():
            return f"rubbed through ({entry(fact.said)})"
        case g.BasisMoved():
            return (
                f"{listed([PART[part] for part in fact.parts])} changed since it was looked at "
                f"({when(fact.said)})"
            )
        case g.LookOld():
            return (
                f"looked at {fact.hours:.0f} hours ago; a look counts {fact.limit:g} hours "
                f"({entry(fact.said)})"
            )
        case g.ByHand():
            return f"the file was edited by hand at {entry(fact.said)}: what came before what is not known"
        case g.DatedAhead():
            return f"{entry(fact.said)}: dated later than now"
        case g.WipedBefore():
            return f"wiped before {entry(fact.later)}"
        case g.WipeOld():
            return f"wiped {fact.hours:.0f} hours ago; clear holds {fact.limit:g} hours"
        case g.LeftTheJob():
            near = f"; the job has {fact.near}" if fact.near else ""
            rubbed = ", a rub-through among it" if fact.rubbed else ""
            return (
                f"the log has {entries_word(fact.entries)} here{rubbed}, and the job has no such place{near}"
            )
        case g.NotPlanned():
            return "the plan of work has no word on this place"
        case g.PlanHolds():
            return why_of(fact.hold.fact, words)
        case g.FilmSpent():
            off, most = words.units.films(fact.off_um, fact.off_max_um)
            return f"{off} of film planned and logged, {most} may come off: STOP ({entry(fact.said)})"
        case g.PrimedEarly():
            return (
                f"{entry(fact.said)}: primed while "
                f"{listed([words.where(each) for each in fact.held])} was not clear for primer"
            )
        case _:
            assert_never(fact)


_SAW: Final = {
    "clear": "seen clear",
    "lines": "lines were seen",
    "gloss": "gloss was seen",
    "cut-through": "a rub-through was seen",
    "low": "a low spot was seen",
    "pinhole": "a pinhole was seen",
}


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
            return drill_says(mend)
        case g.WetDrill():
            return wet_drill_says(mend)
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
            return _lead(mend, words)
        case g.StrikeEarly():
            return (
                "take the entry back (struck --of its id), finish the primer stage, then log it "
                f"again; or the lead accepts it, by --of its id ({entry(mend.said)})"
            )
        case _:
            assert_never(mend)


def _lead(mend: g.LeadDecides, words: Words) -> str:
    ways = [LEAD] if mend.may_accept else []
    film, why = mend.film, ""
    if film is not None:
        off, most = words.units.films(film.off_um, film.off_max_um)
        why = f": the mend ({asks_say(film.asks)}) comes to {off} of film, {most} may come off"
        ways += ["the lead lets it be cut and accepts the film after"] * film.may_follow
    ways.append("the place is planned anew (full colour over it, or primer)")
    return f"stop, cut no more{why}; the lead decides: {', or '.join(ways)}"


def due_says(due: "g.GateHold | Task", words: Words) -> str:
    """Return what is next on a job, with where."""
    if isinstance(due, g.GateHold):
        return f"{words.where(due.place)}: {mend_says(due.mend, words)}"
    return f"{words.where(due.place)}: {ask_says(g.Ask(due.do, due.tool, due.grade, due.range))}"
