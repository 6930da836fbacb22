"""How an explanation is laid down: sections of short lines, and reasons and constants put into words."""

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.named import NamedTuple
from prepadvisor.records.constants import Quantity
from prepadvisor.records.decision import Reason
from prepadvisor.wording.remarks import reason_says
from prepadvisor.wording.standards import answer_says


class Section(NamedTuple):
    """A heading with its lines; a line that starts with two blanks belongs to the one before it."""

    title: str
    lines: tuple[str, ...]


def reasons(papers: Papers, because: tuple[Reason, ...], outputs: tuple[str, ...] | None = None) -> list[str]:
    """Return the rules behind answers: value, rule id, layer, file and line, what it says, source."""
    lines = []
    for item in because:
        if outputs is not None and item.output not in outputs:
            continue
        place = f", {item.file}:{item.line}" if item.file else ""
        lines.append(
            f"{answer_says(item.output, item.value, papers.units)}: {item.rule} ({item.layer}{place})"
        )
        lines.append(f"  {reason_says(item)} [{_in_full(papers, item.source)}]")
    return lines


def _in_full(papers: Papers, name: str) -> str:
    """Return a source; what is chosen here says what another choice would change."""
    entry = papers.house.sources.get(name)
    chosen = entry is not None and entry.known == "chosen"
    return f"{source(papers, name)}. {entry.note}" if entry and chosen else source(papers, name)


def source(papers: Papers, name: str) -> str:
    """Return a source as its id with its title from the register, where it stands there."""
    entry = papers.house.sources.get(name)
    return f"{name}: {entry.title}" if entry and entry.title.lower() != name.lower() else name


def passport(quantity: Quantity) -> str:
    """Return how a constant is known: "assumption", "published, hecht-mintz-1939", "measured here, …"."""
    if quantity.known == "measured":
        rows = f", {quantity.rows} rows" if quantity.rows else ""
        on = f", {quantity.measured_on.isoformat()}" if quantity.measured_on else ""
        span = f", 90 % {quantity.low:.3g} to {quantity.high:.3g}" if quantity.low and quantity.high else ""
        return f"measured here{rows}{on}{span}"
    return quantity.known if quantity.source == quantity.known else f"{quantity.known}, {quantity.source}"


def shop_passport(papers: Papers, name: str) -> str:
    """Return how a number of the shop file is known; one without a passport is the shop's own word."""
    found = papers.house.shop.passport.get(name)
    if found is None:
        return "the shop's own"
    if found.known == "measured":
        rows = f", {found.rows} rows" if found.rows else ""
        on = f", {found.measured_on.isoformat()}" if found.measured_on else ""
        return f"measured here{rows}{on}"
    return found.known
