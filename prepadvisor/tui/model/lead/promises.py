"""Promises of a house: what may be promised, along which fact and where, and the entry of one being made."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from prepadvisor.cases import FACT, FACTS, Category
from prepadvisor.standards import OUTPUTS
from prepadvisor.tui.model.lead.rule_rows import answer_label, fact_label

if TYPE_CHECKING:
    from prepadvisor.records import OutputName

EVERYWHERE: Final = "everywhere"
_WHERE: Final[Mapping[str, tuple[str, dict[str, object]]]] = {
    EVERYWHERE: ("in every case", {}),
    "base-fade": ("in full colour and fade", {"zone": ["colour", "fade"]}),
    "fade": ("in the fade only", {"zone": "fade"}),
    "clear": ("where clear alone goes on", {"zone": "clear"}),
}
"""Where a promise is kept, in words and as conditions; others are written in the file."""


class OwnPromise(NamedTuple):
    """A promise of the house's own: its rule file, and the entry as it stands there."""

    file: str
    raw: Mapping[str, Any]


def promised_outputs() -> dict["OutputName", str]:
    """Return the answers that can be promised, with their labels."""
    return {name: answer_label(name) for name, about in OUTPUTS.items() if not about.is_union}


def promised_facts() -> dict[str, str]:
    """Return the facts along which something can be promised: those with an order, and numbers."""
    return {
        fact: f"{fact_label(fact).lower()}, {'stricter' if isinstance(FACT[fact], Category) else 'higher'}"
        for fact in FACTS
        if not isinstance(about := FACT[fact], Category) or about.ordered
    }


def promised_where(along: str) -> dict[str, str]:
    """Return where a promise along a fact can be kept, in words; not where that fact has one value only."""
    return {where: says for where, (says, when) in _WHERE.items() if not isinstance(when.get(along), str)}


def usual_words(output: "OutputName", fact: str, where: str) -> str:
    """Return a sentence that says a promise, for a start."""
    about = OUTPUTS[output]
    laxer = "a coarser grade" if about.is_grade else "less"
    rising = "stricter" if isinstance(FACT[fact], Category) else "higher"
    place = "" if where == EVERYWHERE else f" {_WHERE[where][0]}"
    return (
        f"With a {rising} {fact_label(fact).lower()} there is never {laxer}{place}: {answer_label(output)}."
    )


def promise_entry(says: str, output: "OutputName", fact: str, where: str) -> dict[str, object]:
    """Return a promise as its file has it."""
    never = "coarser" if OUTPUTS[output].is_grade else "weaker"
    entry: dict[str, object] = {"says": says, "along": fact, "output": output, "never": never}
    return {**entry, **({"where": _WHERE[where][1]} if where != EVERYWHERE else {})}
