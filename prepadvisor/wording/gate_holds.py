"""Why the gate is shut, in sentences: one for each kind of hold."""

from typing import Final, assert_never

from prepadvisor.records import gate as g
from prepadvisor.wording.holds import why_of
from prepadvisor.wording.names import Words
from prepadvisor.wording.saying import DONE, entries_word, entry, when
from prepadvisor.wording.trade import TOOL, listed

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


def hold_why(fact: g.HoldFact, words: Words) -> str:
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
            return (
                f"{words.units.film(fact.off_um)} of film planned and logged, "
                f"{words.units.film(fact.off_max_um)} may come "
                f"off: STOP ({entry(fact.said)})"
            )
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
