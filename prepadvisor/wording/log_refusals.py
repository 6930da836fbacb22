"""Why an entry of the log is refused, in words: for the command with its options, for the screens without."""

from typing import Final, assert_never

from prepadvisor.records import log_refusals as facts
from prepadvisor.records import nearest

_KNOWN_MOST: Final = 16


def refusal_says(fact: facts.LogRefusal, *, typed: bool = True) -> str:
    """Return why an entry is refused.

    Args:
        fact: why.
        typed: whether it was typed as a command, whose options are then named.
    """
    match fact:
        case facts.UnknownWord():
            return _unknown(fact)
        case facts.EntryLacks():
            return _lacks(fact, typed=typed)
        case facts.OutOfPlace():
            return _out_of_place(fact, typed=typed)
        case facts.WholePanelOnly(step=step, panel=panel):
            return f'"{step}" is for the whole panel: ' + (
                f"write {panel}/panel" if typed else "go to its row"
            )
        case facts.OnePlaceOnly(step=step, panel=panel, places=places):
            where = f"write {panel}/ and one of {', '.join(places)}" if typed else "go to its row"
            return f'"{step}" is for a place: {where}'
        case facts.OwnLook(step=step, lines=lines, renews=renews):
            more = "; looks that were clear are renewed with --again" if renews and typed else ""
            return (
                f'every place needs its own look: "{step}" cannot be logged for all{" lines" * lines}{more}'
            )
        case facts.NoLineOwes(panel=panel, step=step, where=where):
            more = f"; write {panel}/ and a place ({where})" if typed else ""
            return f"no line of {panel} is to be {step}{more}"
        case facts.NeverLooked(places=places):
            again = "--again renews looks" if typed else "looks are renewed"
            return f"{again}, and these were never looked at: {', '.join(places)}"
        case facts.OnlyClearOfAll():
            return "say where it was seen; only clear can be said of all places"
        case facts.AheadOfNow(at=at, now=now):
            return f"the time {at.isoformat()} lies ahead of now ({now.isoformat(timespec='seconds')})"
        case facts.GradeOrPad():
            return "give the grade or the pad's name, not both"
        case facts.NoPadsNamed(pad=pad):
            return (
                "the shop file names no pads; give the grade with its P, "
                f'or have the lead add "{pad}" under [pads]'
            )
        case facts.NotRead(says=says):
            return says
        case facts.NoSuchEntry(of=of):
            return f'the log has no entry "{of}"'
        case facts.WrongHand(step=step, tool=tool):
            if step == "scuffed":
                return f"scuffing is by hand, and {tool} is a machine: log it as sanded"
            return f"sanding a place is by machine, and {tool} is a hand tool: log it as scuffed"
        case facts.HandPlace(where=where, step=step):
            why = "powder stays in it as specks" if step == "guide-coated" else "no machine is used on it"
            return f"{where} is worked by hand only: {why}"
        case facts.OnFillOnly(result=result, where=where):
            return f"{result} is seen on fill, and {where} is a line"
    assert_never(fact)


def _unknown(fact: facts.UnknownWord) -> str:
    near = nearest(fact.word, fact.known)
    shown = ", ".join(fact.known[:_KNOWN_MOST]) + (" …" if len(fact.known) > _KNOWN_MOST else "")
    more = f'; did you mean "{near}"?' if near else f"; there are: {shown}"
    match fact.what:
        case "panel":
            return f'this job has no panel "{fact.word}"{more}'
        case "place":
            return f'{fact.panel} has no place "{fact.word}"{more}'
        case "pad":
            return f'the shop file has no pad "{fact.word}"{more}'
        case "step" | "tool" | "result":
            return f'there is no {fact.what} "{fact.word}"{more}'
    assert_never(fact.what)


def _lacks(fact: facts.EntryLacks, *, typed: bool) -> str:
    match fact.what:
        case "initials":
            return "whose entry is it? give initials that can be read" + (" with --by" if typed else "")
        case "result":
            option = "--result " if typed else ""
            return f"a look needs its result: {option}{' | '.join(fact.results)}"
        case "reason":
            by, note = (" (--by)", " (--note)") if typed else ("", "")
            return (
                f"an acceptance needs the lead's initials{by} and a reason in words{note} that says why: "
                'more than "ok" or "fine"'
            )
        case "which-entry":
            return "say which entry is taken back" + (": --of and its id" if typed else "")
        case "why-struck":
            return "say why it is taken back" + (": --note" if typed else "")
        case "offset":
            return "the time has no offset: write it like 2026-03-02T09:40:00Z"
    assert_never(fact.what)


def _out_of_place(fact: facts.OutOfPlace, *, typed: bool) -> str:
    match fact.what:
        case "result":
            return f'"{fact.step}" has no result; a result belongs to inspected and seen-wet'
        case "cut":
            return f'"{fact.step}" has no tool and no grade; they belong to scuffed and sanded'
        case "which-entry":
            of = "--of" if typed else "another entry"
            return f'{of} belongs to struck and accepted, not to "{fact.step}"'
        case "again":
            again = "--again" if typed else "renewing"
            return f"{again} belongs to a look at all places of a panel"
    assert_never(fact.what)
