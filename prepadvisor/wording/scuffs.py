"""A scuff as recorded and its mend, grit steps in a row, and the cheaper ways on offer."""

from typing import assert_never

from prepadvisor.records.advice import DoneAdvice, LadderStep, Offer
from prepadvisor.records.kinds import BedWay, GradeUnknown, NoWayOut, RunsOn, TooCoarse, TooFine, TrimOff
from prepadvisor.records.words import HAND_TOOLS, Tool, WetBedNeed
from prepadvisor.wording.names import Words
from prepadvisor.wording.trade import coats, listed
from prepadvisor.wording.units import minutes


def done_says(done: DoneAdvice) -> str:
    """Return what a recorded scuff needs, all ways in one sentence; empty where it needs nothing."""
    return "; ".join(done_ways(done))


def done_ways(done: DoneAdvice) -> tuple[str, ...]:
    """Return the ways to mend a recorded scuff, the best first; none where it needs nothing."""
    fact = done.fact
    match fact:
        case None:
            return ()
        case GradeUnknown():
            return ("grade not known: scuff it again",)
        case NoWayOut():
            return (
                f"{fact.used} is too coarse and cannot be cut out within film and shelf: the lead decides",
            )
        case TooFine():
            return (f"{fact.used} does not key here: scuff again with {fact.grade}",)
        case TooCoarse():
            steps = done.recut or ()
            took = minutes(max(1.0, sum(step.minutes for step in steps)))
            again = f"{fact.used} is too coarse: re-cut with {steps_by_tool(steps)}, look again ({took})"
            bed = bed_says(fact.bed)
            return (again, bed) if bed else (again,)
        case _:
            assert_never(fact)


def bed_says(way: BedWay) -> str:
    """Return what a wet bed does for a scuff that is too coarse; empty where there is no word of one."""
    match way:
        case "none":
            return ""
        case "never":
            return "a wet bed does not save it"
        case "lead":
            return "only with the lead's initials: leave it to the wet bed"
        case _:
            assert_never(way)


def steps_by_tool(steps: tuple[LadderStep, ...]) -> str:
    """Return grit steps with what they are done by: "P800 by DA, guide coat, P1000 by DA"."""
    return ", ".join(
        f"{'guide coat, ' if step.guide_coat else ''}{step.grade} {_by(step.tool)}" for step in steps
    )


def _by(tool: Tool) -> str:
    return "by hand" if tool in HAND_TOOLS else "by DA"


def steps_words(steps: tuple[LadderStep, ...]) -> str:
    """Return grit steps in the order of work with the powder between: "P800, powder, P1000"."""
    return ", ".join(f"powder, {step.grade}" if step.guide_coat else step.grade for step in steps)


def offer_says(offer: Offer, words: Words) -> str:
    """Return what an offer asks for and what it changes."""
    fact = offer.fact
    match fact:
        case TrimOff():
            names = listed(
                [words.name(words.places[place]) for place in fact.places if place in words.places]
            )
            return f"Trim off at {names}: {_gain(fact)}."
        case RunsOn():
            where = words.numbers_of(fact.places)
            return (
                f"{where}: end the clear at the nearest seam, take the next panel in as clear only, "
                "or the lead signs for it in the log."
            )
        case _:
            assert_never(fact)


def offer_as_it_is(offer: Offer) -> str:
    """Return the other way: what stays so if an offer is not taken."""
    fact = offer.fact
    match fact:
        case TrimOff():
            if fact.stops:
                return "trim left on: it stays on hold"
            if (fact.becomes, fact.becomes_coats) != (fact.was, fact.was_coats):
                return f"trim left on: wet bed {_need(fact.was, fact.was_coats)}"
            return f"trim left on: {fact.by_hand or 'a grade of its own'} by hand, no DA after it"
        case RunsOn():
            return "as it is: clear has no edge or seam to stop at"
        case _:
            assert_never(fact)


def _gain(fact: TrimOff) -> str:
    """Return what trim off brings: a stop lifted, a weaker bed, a grade less."""
    says = ["a DA reaches it"]
    if fact.stops:
        says.append("it removes the STOP" if fact.stops == 1 else f"it removes {fact.stops} STOPs")
    if (fact.becomes, fact.becomes_coats) != (fact.was, fact.was_coats):
        says.append(f"wet bed {_need(fact.becomes, fact.becomes_coats)}")
    elif not fact.stops and fact.by_hand and fact.by_da:
        says.append(f"{fact.by_da} with the rest instead of {fact.by_hand} by hand")
    return ", ".join(says)


def _need(need: WetBedNeed, count: int) -> str:
    match need:
        case "no":
            return "not needed"
        case "advised":
            return f"only advised ({coats(count)})"
        case "required":
            return f"needed ({coats(count)})"
        case _:
            assert_never(need)
