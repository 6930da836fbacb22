"""What the log puts on a card: findings that are not mended, and what a lead accepted."""

from prepadvisor.cards.sheet.record import FoundNote
from prepadvisor.records.gate import Accepted, Gate
from prepadvisor.wording import Words, gate_why, mend_says, remark_says


def found_notes(gate: Gate, words: Words) -> tuple[FoundNote, ...]:
    """Return what looks and the log found that is not mended."""
    return tuple(
        FoundNote(
            found.place, words.where(found.place), gate_why(found.fact, words), mend_says(found.mend, words)
        )
        for found in gate.found
    )


def accepted(gate: Gate, words: Words) -> tuple[str, ...]:
    """Return what a lead accepted and still counts, with initials, day and reason."""
    return tuple(remark_says(fact, words) for fact in gate.told if isinstance(fact, Accepted))
