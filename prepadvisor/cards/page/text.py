"""The card as plain text, 80 columns wide, for any printer."""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.columns import Flowing, Laid, Listed, RowGrid, SideBySide, Wrapped, laid_out

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import (
        BigAnswer,
        BoxState,
        CardSheet,
        FoundNote,
        HoldNote,
        Ladder,
        PanelSheet,
        PlaceRow,
        Tick,
    )

COLUMNS: Final = 80
DOUBLE: Final = "=" * COLUMNS
SINGLE: Final = "-" * COLUMNS
BOXES: Final[dict["BoxState", str]] = {"open": "[_]", "done": "[x]", "held": "[!]", "none": "   "}
"""Still to tick, ticked, logged but may not stand, and nothing owed."""

_HEADS: Final = ("#", "place", "zone", "by hand", "then DA")
_BOX_HEADS: Final = ("scuff", "powder", "sand", "LOOK")
_NAME_AT: Final = 1
_NAME_LEAST: Final = 8


def write_text(sheet: "CardSheet") -> str:
    """Return a card as text that ends with a line break; no line is wider than `COLUMNS`."""
    return "\n".join(line.rstrip() for line in laid_out(_card(sheet), COLUMNS)) + "\n"


def _card(sheet: "CardSheet") -> Iterator[Laid]:
    """Say a card from top to bottom; how it falls into lines is for the layout."""
    yield from _head(sheet)
    yield from _top(sheet)
    yield SINGLE
    yield _ticks("BEFORE SANDING", sheet.before_sanding)
    for index, panel in enumerate(sheet.panels):
        yield SINGLE if index else DOUBLE
        yield from _panel(panel)
    yield DOUBLE
    for drill in sheet.drills:
        yield Wrapped(f"{drill.case} {drill.says}", rest="  ")
    for says in sheet.notes:
        yield Wrapped(says, "- ", "  ")
    yield _ticks(sheet.ticks_title, sheet.before_paint)
    yield from _booth(sheet)
    yield SINGLE
    yield _flowing((f"{fact.label}  {fact.says}" for fact in sheet.materials), rest="  ")
    yield SINGLE
    yield from _foot(sheet)


def _flowing(items: Iterable[str], first: str = "", rest: str = "", gap: str = "   ") -> Flowing:
    return Flowing(tuple(items), first, rest, gap)


def _head(sheet: "CardSheet") -> Iterator[Laid]:
    head = sheet.head
    when = f"{head.date} {head.by}"
    parts = [f"JOB {head.number}", head.colour.upper(), head.paint, head.vehicle, when]
    yield _flowing((part.strip() for part in parts if part.strip()), rest="  ")
    yield DOUBLE


def _top(sheet: "CardSheet") -> Iterator[Laid]:
    if sheet.stage:
        yield Wrapped(sheet.stage)
    yield Wrapped(sheet.headline)
    for found in sheet.found:
        yield from _found(found)
    for hold in sheet.holds:
        yield from _hold(hold)
    for choice in sheet.choices:
        yield Wrapped(f"{choice.title}:", "DECIDE  ", "  ")
        for way in choice.ways:
            yield Wrapped(way, "   - ", "     ")
    for says in sheet.taken:
        yield Wrapped(f"TAKEN: {says}.", rest="  ")
    for says in sheet.house:
        yield Wrapped(f"HOUSE: {says}.", rest="  ")
    for says in sheet.accepted:
        yield Wrapped(f"ACCEPTED: {says}", rest="  ")
    yield Wrapped(sheet.standing)


def _found(found: "FoundNote") -> Iterator[Laid]:
    yield Wrapped(f"{found.where}: {found.says}", "FOUND  ", "  ")
    if found.mend:
        yield Wrapped(f"-> {found.mend}", "  ", "     ")


def _hold(hold: "HoldNote") -> Iterator[Laid]:
    yield Wrapped(f"{hold.where}:", "STOP  ", "  ")
    yield Wrapped(hold.why, "  ", "  ")
    if hold.mend:
        yield Wrapped(f"-> {hold.mend}", "  ", "     ")
    if hold.lacks:
        yield Wrapped(f"not on the shelf: {', '.join(hold.lacks)}", "  ", "     ")
    if hold.rules:
        yield Wrapped(f"rules: {', '.join(hold.rules)}", "  ", "     ")


def _ticks(title: str, items: tuple["Tick", ...]) -> Laid:
    return _flowing((f"{BOXES[item.box]} {item.says}" for item in items), f"{title}  ", "  ")


def _panel(panel: "PanelSheet") -> Iterator[Laid]:
    heading = [f"{panel.letter}  {panel.heading}", panel.role, panel.condition, panel.minutes]
    yield _flowing((part for part in heading if part), rest="   ")
    for says in panel.zones:
        yield Wrapped(says, "   ", "     ")
    if not panel.rows:
        for says in panel.instead:
            yield Wrapped(says, "   ", "     ")
        return
    if panel.order:
        yield _order(panel)
    yield ""
    yield SideBySide(tuple(_answer(answer) for answer in panel.answers))
    for ladder in panel.ladders:
        yield _ladder(ladder)
    yield ""
    yield RowGrid(_HEADS, _BOX_HEADS, tuple(map(_row, panel.rows)), _NAME_AT, _NAME_LEAST)
    if panel.legend:
        yield _flowing(panel.legend, "   ", "   ", gap=" ")
    for says in panel.notes:
        yield Wrapped(says, "   note: ", "     ")
    for drill in panel.drills:
        yield Wrapped(f"{drill.case} {drill.says}", "   ", "     ")
    if panel.film:
        yield Wrapped(panel.film, "   ", "     ")


def _order(panel: "PanelSheet") -> Laid:
    steps = []
    for step in panel.order:
        box = f"{BOXES[step.box]} " if step.box != "none" else "(done) " if step.done else ""
        steps.append(f"{step.n}. {box}{step.says}")
    return _flowing(steps, "   ORDER  ", "          ")


def _answer(answer: "BigAnswer") -> tuple[Wrapped, ...]:
    return (Wrapped(answer.title), Wrapped(f">>{answer.big}<<", "  "), *map(Wrapped, answer.small))


def _ladder(ladder: "Ladder") -> Laid:
    boxes = [f"{BOXES[tick.box]} {tick.says}" for tick in ladder.boxes]
    title = f"{ladder.number} {ladder.title}:"
    says = [title, f">>{'>'.join(ladder.steps)}<<", *boxes, *ladder.says]
    return _flowing(says, "   ", "      ", gap="  ")


def _row(row: "PlaceRow") -> Listed:
    by_hand = f"{row.hand}*" if row.hand_or_finer else row.hand
    cells = (row.number, row.name, row.zones, by_hand, f"{row.machine}{row.mark}")
    owed = (row.scuffed, row.powder, row.sanded, row.look)
    return Listed(cells, tuple(BOXES[box] for box in owed), row.notes)


def _booth(sheet: "CardSheet") -> Iterator[Laid]:
    if not sheet.booth:
        return
    yield SINGLE
    yield sheet.booth_title
    for number, step in enumerate(sheet.booth, start=1):
        boxes = [f"{BOXES[tick.box]} {tick.says}" for tick in step.ticks]
        yield Wrapped(" ".join([step.says, *boxes]).strip(), f" {number} ", "   ")


def _foot(sheet: "CardSheet") -> Iterator[Laid]:
    blanks = [f"{who} {'_' * (6 if who == 'time' else 8)}" for who in sheet.signatures]
    yield _flowing(blanks, f"{sheet.clear}   ", "  ", gap="  ")
    yield SINGLE
    for says in sheet.why:
        yield Wrapped(f"why: {says}", rest="  ")
    for says in sheet.rests_on:
        yield Wrapped(says, rest="  ")
    for says in sheet.cautions:
        yield Wrapped(says, rest="  ")
