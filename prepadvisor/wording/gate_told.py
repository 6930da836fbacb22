"""What must be known of a log either way, in sentences: one for each kind of remark."""

from typing import Final, assert_never

from prepadvisor.cases import COARSEST_UNDER_FINE
from prepadvisor.records import gate as g
from prepadvisor.records import log_remarks as r
from prepadvisor.wording.gate import PART, entries_word, entry
from prepadvisor.wording.names import TOOL, Words, listed

_OF_THE_LOG: Final = (
    r.NoKnew, r.NewerKeys, r.KnewBelow, r.KnewNone, r.OutOfTurn, r.TwiceThere, r.TimeBack, r.Ahead,
    r.Unsigned, r.StruckEntry, r.NotStruck,
)  # fmt: skip
_NOT_ACCEPTED: Final[dict[g.WhyNotAccepted, str]] = {
    "no-initials": "nobody signed it",
    "no-reason": "it gives no reason in words",
    "own-work": "nobody accepts his own work",
    "not-a-lead": "only a lead may",
    "too-coarse": f"nothing coarser than {COARSEST_UNDER_FINE} is ever accepted from fine flake on",
    "too-fine": "too fine does not hold the next coat, whoever accepts it",
    "rubbed-through": "a rub-through is only ever mended",
    "gloss": "gloss peels, whoever accepts it",
    "nothing-to-accept": "there was nothing to accept",
    "no-such-entry": "the log has no such entry here",
    "not-known": "its writer did not know of that entry",
    "edited": "the file was edited by hand there",
    "moved": "something changed since, so the lead must accept it again",
    "ahead": "it is dated later than now",
}
_NOT_STRUCK: Final[dict[r.WhyNotStruck, str]] = {
    "no-such-entry": "the log has no such entry above it",
    "not-known": "its writer did not know of that entry",
    "edited": "the file was edited by hand there",
    "struck-itself": "what was taken back is logged again, not un-struck",
    "not-signed": "nobody signed it",
    "not-its-writer": "only who logged an entry takes it back",
    "not-a-lead": "what a look found is only taken back by a lead who did not work there",
}


def told_says(fact: g.CheckRemark, words: Words) -> str:
    """Return what the check-off remarks."""
    match fact:
        case g.OtherJob():
            return f"the log up to entry {fact.upto} is of a job with another number: it starts over after it"
        case g.NoBasis():
            return f"{entries_word(fact.entries)}: looks that rest on nothing; nothing ties them to this job"
        case g.BasisLacks():
            parts = listed([PART[part] for part in fact.parts])
            return f"{entries_word(fact.entries)}: looks of an older version, not held against {parts}"
        case g.Accepted():
            own = ", his own work, as the shop's only lead" if fact.own else ""
            what = f" ({entry(fact.what)})" if fact.what else ""
            return (
                f"{words.where(fact.place)}: accepted by {fact.said.check.by}{own}: "
                f"{fact.said.check.note}{what}"
            )
        case g.NotAccepted():
            leads = f" ({listed(fact.leads)})" if fact.leads else ""
            parts = f" ({listed([PART[part] for part in fact.parts])})" if fact.parts else ""
            return (
                f"{words.where(fact.place)}: {entry(fact.said)} does not count: "
                f"{_NOT_ACCEPTED[fact.why]}{leads}{parts}"
            )
        case g.LooksAged():
            return (
                f"looked at {fact.hours:.0f} hours ago: {listed([words.where(each) for each in fact.places])}"
            )
        case g.ClearWithoutWork():
            return (
                f"{words.where(fact.place)}: {entry(fact.first)}, then clear ({entry(fact.then)}) "
                "with no work logged between"
            )
        case g.FaceAfterLines():
            return (
                f"the face was sanded ({entry(fact.said)}) after these were looked at: "
                f"{listed([words.where(each) for each in fact.places])}"
            )
        case g.UsualLinesAside():
            return (
                f"{words.where(fact.panel)}: other lines are stated, so these usual ones are not "
                f"asked for: {listed(fact.lines)}"
            )
        case g.ScopeMoved():
            return f"panels came to the job or went since {entries_word(fact.entries)}"
        case g.PrimedUnseen():
            return f"{entry(fact.said)}: the log has nothing of the work under this primer"
        case g.NoLines():
            return f"{words.where(fact.panel)}: neither panel nor outline has a line, so no edge is asked for"
        case g.OtherThanAsked():
            says = []
            if fact.deeper and fact.said.check.tool:
                says.append(
                    f"{TOOL[fact.said.check.tool]} scratches deeper than the {TOOL[fact.deeper]} "
                    "the card reckons with"
                )
            if fact.grade:
                says.append(f"{fact.said.check.grade} where the card says {fact.grade}")
            return f"{words.where(fact.place)}: {', '.join(says)} (entry {fact.said.number})"
        case g.CountsNowhere():
            return (
                f"{entry(fact.said)}: counts nowhere; a panel's step is logged at PANEL/panel, all "
                "else at its place"
            )
        case g.BedTold():
            coats = f"{fact.coats} coat{'' if fact.coats == 1 else 's'}"
            return f"{words.where(fact.panel)}: wet bed, {coats}, after masking; it holds nothing here"
        case g.BorderlineTold():
            return f"{words.where(fact.place)}: borderline; spray a test panel or ask the lead"
        case _:
            assert_never(fact)


def log_says(fact: r.Remark) -> str:
    """Return what the log itself remarks."""
    match fact:
        case r.NoKnew():
            return (
                f"{entries_word(fact.entries)}: from an older version or by hand; taken to have known "
                "all above"
            )
        case r.NewerKeys():
            return (
                f"{entries_word(fact.entries)}: from a newer version of the program; kept, but not "
                f"understood: {listed(fact.keys)}; update this program"
            )
        case r.KnewBelow():
            return (
                f"entry {fact.number} says it knew entry {fact.knew}, which stands below it: edited by hand"
            )
        case r.KnewNone():
            return f'entry {fact.number} says it knew "{fact.knew}", which is not in the file: edited by hand'
        case r.OutOfTurn():
            return (
                f"entry {fact.number} stands below a later one of its writer, entry {fact.after}: "
                "edited by hand"
            )
        case r.TwiceThere():
            more = "it counts once" if fact.is_same else "edited by hand"
            return f"entry {fact.number} has the id of entry {fact.first}: {more}"
        case r.TimeBack():
            return (
                f"entry {fact.number} is dated before entry {fact.before}, entered earlier: check the "
                "clock; the order of entry stands"
            )
        case r.Ahead():
            return (
                f"entry {fact.number} is dated {fact.at:%Y-%m-%d %H:%M}, later than now: it does not "
                "count until then; check the clock"
            )
        case r.Unsigned():
            return f"{entries_word(fact.entries)}: nobody signed"
        case r.StruckEntry():
            own = ", his own finding, as the shop's only lead" if fact.by_himself else ""
            return f"entry {fact.number} was taken back by entry {fact.by}{own}"
        case r.NotStruck():
            leads = f" ({listed(fact.leads)})" if fact.leads else ""
            return f"entry {fact.number} takes nothing back: {_NOT_STRUCK[fact.why]}{leads}"
        case _:
            assert_never(fact)


def remark_says(fact: g.CheckRemark | r.Remark, words: Words) -> str:
    """Return a remark of the check-off or of the log."""
    if isinstance(fact, _OF_THE_LOG):
        return log_says(fact)
    return told_says(fact, words)
