"""Why a place is held, and what mends it."""

from typing import assert_never

from prepadvisor.records.advice import Hold
from prepadvisor.records.kinds import (
    BedForbidden,
    BedTooThin,
    CannotCutOut,
    Collision,
    HoldKind,
    NoHandGrade,
    NoRule,
    NoWayUp,
    RuleHold,
    ShelfLacks,
    TooLittleLeft,
    TooMuchFilm,
    WillShow,
)
from prepadvisor.surface.grades import Grade
from prepadvisor.wording.measured import sure_word
from prepadvisor.wording.names import Words
from prepadvisor.wording.trade import coats


def hold_why(hold: Hold, words: Words) -> str:
    """Return why a spot is held."""
    return why_of(hold.fact, words)


def why_of(fact: HoldKind, words: Words) -> str:
    """Return why, for a kind of hold."""
    film = words.units.film
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
            return (
                f"getting from {fact.start or 'now'} to {fact.finish} cuts {film(fact.off_um)}; "
                f"no more than {film(fact.off_max_um)} may come off here"
            )
        case NoWayUp():
            return f"the shelf has no grade to step from {fact.start or 'now'} to {fact.finish}"
        case TooLittleLeft():
            return (
                f"the steps leave {film(fact.left_um)} of film, less than the {film(fact.least_um)} "
                "that must stay"
            )
        case CannotCutOut():
            return f"the {fact.used} scuff is too coarse and cannot be cut out within film and shelf"
        case NoHandGrade():
            return f"no hand grade on the shelf is fine enough ahead of {fact.finish}"
        case _:
            assert_never(fact)


def hold_mend(hold: Hold, words: Words) -> str:  # noqa: ARG001 - as all that words a hold
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


def _range(coarsest: Grade, finest: Grade) -> str:
    return coarsest if coarsest == finest else f"{coarsest} to {finest}"
