"""How an explanation is laid down: sections of short lines, and reasons and constants put into words."""

from typing import Final, NamedTuple

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.records.constants import Quantity
from prepadvisor.records.decision import Reason
from prepadvisor.wording.remarks import reason_says


class Section(NamedTuple):
    """A heading with its lines; a line that starts with two blanks belongs to the one before it."""

    title: str
    lines: tuple[str, ...]


OUTPUT: Final = {
    "finish_coarsest": "coarsest finish by DA",
    "finish_target": "finish aimed for",
    "finish_finest": "finest that still keys",
    "hand_coarsest": "coarsest by hand ahead of the DA",
    "hand_last_coarsest": "coarsest as last touch by hand",
    "risk_limit": "risk allowed",
    "bed_coats_max": "coats of wet bed at most",
    "film_off_max_um": "film that may come off, um",
    "step_ratio_min": "next grain at least this share of the last",
    "film_left_min_um": "film that must stay, um",
    "wet_bed": "wet bed",
    "guide_coat": "guide coat",
    "machine": "sander",
    "holds": "hold",
    "cautions": "caution",
    "notes": "note",
    "line": "line model",
}
"""What a rule answers, in words."""


def reasons(papers: Papers, because: tuple[Reason, ...], outputs: tuple[str, ...] | None = None) -> list[str]:
    """Return the rules behind answers: value, rule id, layer, file and line, what it says, source."""
    lines = []
    for item in because:
        if outputs is not None and item.output not in outputs:
            continue
        said = isinstance(item.value, str) and item.output in {"holds", "cautions", "notes", "line"}
        value = "" if said else f" = {item.value}"
        place = f", {item.file}:{item.line}" if item.file else ""
        lines.append(f"{OUTPUT.get(item.output, item.output)}{value}: {item.rule} ({item.layer}{place})")
        lines.append(f"  {reason_says(item)} [{source(papers, item.source)}]")
    return lines


def source(papers: Papers, name: str) -> str:
    """Return a source as its id with its title from the register, where it stands there."""
    entry = papers.house.sources.get(name)
    return f"{name}: {entry.title}" if entry and entry.title.lower() != name.lower() else name


def passport(quantity: Quantity) -> str:
    """Return how a constant is known: "assumption", or "published, hecht-mintz-1939"."""
    return quantity.known if quantity.source == quantity.known else f"{quantity.known}, {quantity.source}"


def shop_passport(papers: Papers, name: str) -> str:
    """Return how a number of the shop file is known; one without a passport is the shop's own word."""
    found = papers.house.shop.passport.get(name)
    return found.known if found else "the shop's own"
