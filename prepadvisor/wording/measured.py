"""How sure the line model is, in words: an estimate, or measured here."""

from prepadvisor.records.constants import MeasuredHere
from prepadvisor.wording import trade


def estimate_word(measured: MeasuredHere | None) -> str:
    """Return the word that stands behind a risk: "estimate", or "measured here, 24 panels"."""
    if measured is None:
        return "estimate"
    return f"measured here, {measured.rows} panel{'s' if measured.rows != 1 else ''}"


def estimate_short(measured: MeasuredHere | None) -> str:
    """Return how sure the line model is, as it stands in a card's foot."""
    if measured is None:
        return "Line model: estimate until own test panels confirm it."
    tools = ", ".join(trade.TOOL.get(tool, tool) for tool in measured.tools)
    of = f" for {tools}" if tools else ""
    return f"Line model: {estimate_word(measured)}, {measured.on.isoformat()}{of}."
