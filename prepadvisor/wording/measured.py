"""How sure the line model is, in words: an estimate, or measured here."""

from prepadvisor.records.advice import Spot
from prepadvisor.records.constants import MeasuredHere
from prepadvisor.records.kinds import Estimate
from prepadvisor.wording import trade


def estimate_word(measured: MeasuredHere | None) -> str:
    """Return the word that stands behind a risk: "estimate", or "measured here, 24 panels"."""
    return sure_word(measured.rows if measured else None)


def sure_word(rows: int | None) -> str:
    """Return the same for so many rows of the shop's own, None for the shipped numbers."""
    return "estimate" if rows is None else f"measured here, {rows} panel{'s' if rows != 1 else ''}"


def sure_of(spot: Spot) -> str:
    """Return the word behind a spot's risk; "estimate" where the line model has nothing to say."""
    said = (reason.says for reason in spot.because if isinstance(reason.says, Estimate))
    return sure_word(next((each.panels for each in said), None))


def estimate_short(measured: MeasuredHere | None) -> str:
    """Return how sure the line model is, as it stands in a card's foot."""
    if measured is None:
        return "Line model: estimate until own test panels confirm it."
    tools = ", ".join(trade.TOOL.get(tool, tool) for tool in measured.tools)
    of = f" for {tools}" if tools else ""
    return f"Line model: {estimate_word(measured)}, {measured.on.isoformat()}{of}."
