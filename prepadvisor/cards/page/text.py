"""The card as plain text, 80 columns wide, for any printer."""

from collections.abc import Iterator
from typing import Final

from prepadvisor.cards.page.columns import flow, wrap
from prepadvisor.cards.page.text_boxes import BOXES
from prepadvisor.cards.page.text_panel import panel_lines
from prepadvisor.cards.sheet.record import CardSheet, HoldNote, Tick

COLUMNS: Final = 80
DOUBLE: Final = "=" * COLUMNS
SINGLE: Final = "-" * COLUMNS


def write_text(sheet: CardSheet) -> str:
    """Return a card as text that ends with a line break; no line is wider than `COLUMNS`."""
    return "\n".join(line.rstrip() for line in _lines(sheet)) + "\n"


def _lines(sheet: CardSheet) -> Iterator[str]:
    yield from _head(sheet)
    yield from _top(sheet)
    yield SINGLE
    yield from ticks("BEFORE SANDING", sheet.before_sanding)
    for index, panel in enumerate(sheet.panels):
        yield SINGLE if index else DOUBLE
        yield from panel_lines(panel, COLUMNS)
    yield DOUBLE
    for says in sheet.notes:
        yield from wrap(says, COLUMNS, first="- ", rest="  ")
    if sheet.notes:
        yield SINGLE
    for drill in sheet.drills:
        yield from wrap(f"{drill.case}  {drill.says}", COLUMNS, rest="  ")
    yield SINGLE
    yield from ticks("BEFORE PAINT", sheet.before_paint)
    yield from _booth(sheet)
    for fact in sheet.materials:
        yield from wrap(fact.says, COLUMNS, first=f"{fact.label}  ", rest="  ")
    yield SINGLE
    yield from _foot(sheet)


def _head(sheet: CardSheet) -> Iterator[str]:
    head = sheet.head
    when = f"{head.date} {head.by}"
    parts = [f"JOB {head.number}", head.colour.upper(), head.paint, head.vehicle, when]
    yield from flow([part.strip() for part in parts if part.strip()], COLUMNS, rest="  ", gap="   ")
    yield DOUBLE


def _top(sheet: CardSheet) -> Iterator[str]:
    yield from wrap(sheet.headline, COLUMNS)
    for hold in sheet.holds:
        yield from _hold(hold)
    for choice in sheet.choices:
        yield from wrap(f"{choice.title}:", COLUMNS, first="DECIDE  ", rest="  ")
        for way in choice.ways:
            yield from wrap(way, COLUMNS, first="   - ", rest="     ")
    for says in sheet.taken:
        yield from wrap(f"NOTE: {says}.", COLUMNS, rest="  ")
    for says in sheet.accepted:
        yield from wrap(f"ACCEPTED: {says}", COLUMNS, rest="  ")
    yield from wrap(sheet.standing, COLUMNS)


def _hold(hold: HoldNote) -> Iterator[str]:
    yield from wrap(f"{hold.where}:", COLUMNS, first="STOP  ", rest="  ")
    yield from wrap(hold.why, COLUMNS, first="  ", rest="  ")
    if hold.mend:
        yield from wrap(f"-> {hold.mend}", COLUMNS, first="  ", rest="     ")
    if hold.lacks:
        yield from wrap(f"not on the shelf: {', '.join(hold.lacks)}", COLUMNS, first="  ", rest="     ")
    if hold.rules:
        yield from wrap(f"rules: {', '.join(hold.rules)}", COLUMNS, first="  ", rest="     ")


def ticks(title: str, items: tuple[Tick, ...]) -> list[str]:
    """Return boxes with their words after a title."""
    boxes = [f"{BOXES[item.box]} {item.says}" for item in items]
    return flow(boxes, COLUMNS, first=f"{title}  ", rest="  ", gap="   ")


def _booth(sheet: CardSheet) -> Iterator[str]:
    yield SINGLE
    yield "IN THE BOOTH"
    for number, step in enumerate(sheet.booth, start=1):
        yield from wrap(step.says, COLUMNS, first=f" {number} ", rest="   ")
        for tick in step.ticks:
            yield from wrap(f"{BOXES[tick.box]} {tick.says}", COLUMNS, first="     ", rest="         ")
    yield SINGLE


def _foot(sheet: CardSheet) -> Iterator[str]:
    blanks = [f"{who} {'_' * (6 if who == 'time' else 8)}" for who in sheet.signatures]
    yield from flow(blanks, COLUMNS, first="CLEAR TO MASK   ", rest="  ", gap="  ")
    yield SINGLE
    for index, says in enumerate(sheet.why):
        yield from wrap(says, COLUMNS, first="" if index else "why: ", rest="  ")
    for says in sheet.deviations:
        yield from wrap(f"HOUSE: {says}", COLUMNS, rest="  ")
    for says in sheet.rests_on:
        yield from wrap(says, COLUMNS, rest="  ")
    yield SINGLE
    for says in sheet.cautions:
        yield from wrap(says, COLUMNS, rest="  ")
