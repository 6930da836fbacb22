"""The card as plain text, 80 columns wide, for any printer."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.columns import flow, pad, side_by_side, width, wrap
from prepadvisor.named import NamedTuple

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

_BOX_HEADS: Final = ("scuff", "powder", "sand", "LOOK")
_NAME_LEAST: Final = 8


def write_text(sheet: "CardSheet") -> str:
    """Return a card as text that ends with a line break; no line is wider than `COLUMNS`."""
    return "\n".join(line.rstrip() for line in _lines(sheet)) + "\n"


def _lines(sheet: "CardSheet") -> Iterator[str]:
    yield from _head(sheet)
    yield from _top(sheet)
    yield SINGLE
    yield from _ticks("BEFORE SANDING", sheet.before_sanding)
    for index, panel in enumerate(sheet.panels):
        yield SINGLE if index else DOUBLE
        yield from _panel(panel)
    yield DOUBLE
    for drill in sheet.drills:
        yield from wrap(f"{drill.case} {drill.says}", COLUMNS, rest="  ")
    for says in sheet.notes:
        yield from wrap(says, COLUMNS, first="- ", rest="  ")
    yield from _ticks(sheet.ticks_title, sheet.before_paint)
    yield from _booth(sheet)
    yield SINGLE
    yield from flow([f"{fact.label}  {fact.says}" for fact in sheet.materials], COLUMNS, rest="  ", gap="   ")
    yield SINGLE
    yield from _foot(sheet)


def _head(sheet: "CardSheet") -> Iterator[str]:
    head = sheet.head
    when = f"{head.date} {head.by}"
    parts = [f"JOB {head.number}", head.colour.upper(), head.paint, head.vehicle, when]
    yield from flow([part.strip() for part in parts if part.strip()], COLUMNS, rest="  ", gap="   ")
    yield DOUBLE


def _top(sheet: "CardSheet") -> Iterator[str]:
    if sheet.stage:
        yield from wrap(sheet.stage, COLUMNS)
    yield from wrap(sheet.headline, COLUMNS)
    for found in sheet.found:
        yield from _found(found)
    for hold in sheet.holds:
        yield from _hold(hold)
    for choice in sheet.choices:
        yield from wrap(f"{choice.title}:", COLUMNS, first="DECIDE  ", rest="  ")
        for way in choice.ways:
            yield from wrap(way, COLUMNS, first="   - ", rest="     ")
    for says in sheet.taken:
        yield from wrap(f"TAKEN: {says}.", COLUMNS, rest="  ")
    for says in sheet.house:
        yield from wrap(f"HOUSE: {says}.", COLUMNS, rest="  ")
    for says in sheet.accepted:
        yield from wrap(f"ACCEPTED: {says}", COLUMNS, rest="  ")
    yield from wrap(sheet.standing, COLUMNS)


def _found(found: "FoundNote") -> Iterator[str]:
    yield from wrap(f"{found.where}: {found.says}", COLUMNS, first="FOUND  ", rest="  ")
    if found.mend:
        yield from wrap(f"-> {found.mend}", COLUMNS, first="  ", rest="     ")


def _hold(hold: "HoldNote") -> Iterator[str]:
    yield from wrap(f"{hold.where}:", COLUMNS, first="STOP  ", rest="  ")
    yield from wrap(hold.why, COLUMNS, first="  ", rest="  ")
    if hold.mend:
        yield from wrap(f"-> {hold.mend}", COLUMNS, first="  ", rest="     ")
    if hold.lacks:
        yield from wrap(f"not on the shelf: {', '.join(hold.lacks)}", COLUMNS, first="  ", rest="     ")
    if hold.rules:
        yield from wrap(f"rules: {', '.join(hold.rules)}", COLUMNS, first="  ", rest="     ")


def _ticks(title: str, items: tuple["Tick", ...]) -> list[str]:
    boxes = [f"{BOXES[item.box]} {item.says}" for item in items]
    return flow(boxes, COLUMNS, first=f"{title}  ", rest="  ", gap="   ")


def _panel(panel: "PanelSheet") -> Iterator[str]:
    heading = [f"{panel.letter}  {panel.heading}", panel.role, panel.condition, panel.minutes]
    yield from flow([part for part in heading if part], COLUMNS, rest="   ", gap="   ")
    for says in panel.zones:
        yield from wrap(says, COLUMNS, first="   ", rest="     ")
    if not panel.rows:
        for says in panel.instead:
            yield from wrap(says, COLUMNS, first="   ", rest="     ")
        return
    yield from _order(panel)
    yield ""
    yield from side_by_side([_answer(answer, COLUMNS // 4 - 1) for answer in panel.answers], COLUMNS // 4)
    for ladder in panel.ladders:
        yield from _ladder(ladder)
    yield ""
    yield from _rows(panel.rows)
    if panel.legend:
        yield from flow(panel.legend, COLUMNS, first="   ", rest="   ", gap=" ")
    for says in panel.notes:
        yield from wrap(says, COLUMNS, first="   note: ", rest="     ")
    for drill in panel.drills:
        yield from wrap(f"{drill.case} {drill.says}", COLUMNS, first="   ", rest="     ")
    yield from wrap(panel.film, COLUMNS, first="   ", rest="     ")


def _order(panel: "PanelSheet") -> Iterator[str]:
    steps = []
    for step in panel.order:
        box = f"{BOXES[step.box]} " if step.box != "none" else "(done) " if step.done else ""
        steps.append(f"{step.n}. {box}{step.says}")
    yield from flow(steps, COLUMNS, first="   ORDER  ", rest="          ", gap="   ")


def _answer(answer: "BigAnswer", columns: int) -> list[str]:
    small = [line for says in answer.small for line in wrap(says, columns)]
    return [*wrap(answer.title, columns), *wrap(f">>{answer.big}<<", columns, first="  "), *small]


def _ladder(ladder: "Ladder") -> Iterator[str]:
    boxes = [f"{BOXES[tick.box]} {tick.says}" for tick in ladder.boxes]
    title = f"{ladder.number} {ladder.title}:"
    says = [title, f">>{'>'.join(ladder.steps)}<<", *boxes, *ladder.says]
    yield from flow(says, COLUMNS, first="   ", rest="      ", gap="  ")


class _Grid(NamedTuple):
    """Column widths of a panel's rows; the name takes what the others leave."""

    number: int
    name: int
    zones: int
    hand: int
    machine: int


def _rows(rows: tuple["PlaceRow", ...]) -> Iterator[str]:
    grid = _grid(rows)
    head = (
        pad("#", grid.number), pad("place", grid.name), pad("zone", grid.zones), pad("by hand", grid.hand),
        pad("then DA", grid.machine),
    )  # fmt: skip
    yield " " + " ".join((*head, *_BOX_HEADS))
    for row in rows:
        yield from _row(row, grid)


def _grid(rows: tuple["PlaceRow", ...]) -> _Grid:
    boxes = sum(len(head) + 1 for head in _BOX_HEADS)
    number = max((width(row.number) for row in rows), default=1)
    zones = max([len("zone"), *(width(row.zones) for row in rows)])
    hand = max([len("by hand"), *(width(_hand(row)) for row in rows)])
    machine = max([len("then DA"), *(width(_machine(row)) for row in rows)])
    name = COLUMNS - boxes - number - zones - hand - machine - 5
    return _Grid(number, max(name, _NAME_LEAST), zones, hand, machine)


def _hand(row: "PlaceRow") -> str:
    return f"{row.hand}*" if row.hand_or_finer else row.hand


def _machine(row: "PlaceRow") -> str:
    return f"{row.machine}{row.mark}"


def _row(row: "PlaceRow", grid: _Grid) -> Iterator[str]:
    name, *more = wrap(row.name, grid.name)
    cells = (
        pad(row.number, grid.number),
        pad(name, grid.name),
        pad(row.zones, grid.zones),
        pad(_hand(row), grid.hand),
        pad(_machine(row), grid.machine),
    )
    owed = (row.scuffed, row.powder, row.sanded, row.look)
    yield " " + " ".join(cells) + f" {_led(owed)}"
    indent = " " * (grid.number + 2)
    for line in more:
        yield indent + line
    for note in row.notes:
        yield from wrap(note, COLUMNS, first=f"{indent}^ ", rest=f"{indent}  ")


def _led(owed: tuple["BoxState", ...]) -> str:
    """Return the boxes of a row under their heads, with dots that lead the eye from the first to the last."""
    cells = [BOXES[box].center(len(head)) for box, head in zip(owed, _BOX_HEADS, strict=True)]
    line = " ".join(cells)
    start, end = len(line) - len(line.lstrip()), len(line.rstrip())
    return line[:start] + line[start:end].replace(" ", ".")


def _booth(sheet: "CardSheet") -> Iterator[str]:
    if not sheet.booth:
        return
    yield SINGLE
    yield sheet.booth_title
    for number, step in enumerate(sheet.booth, start=1):
        boxes = [f"{BOXES[tick.box]} {tick.says}" for tick in step.ticks]
        yield from wrap(" ".join([step.says, *boxes]).strip(), COLUMNS, first=f" {number} ", rest="   ")


def _foot(sheet: "CardSheet") -> Iterator[str]:
    blanks = [f"{who} {'_' * (6 if who == 'time' else 8)}" for who in sheet.signatures]
    yield from flow(blanks, COLUMNS, first=f"{sheet.clear}   ", rest="  ", gap="  ")
    yield SINGLE
    for says in sheet.why:
        yield from wrap(f"why: {says}", COLUMNS, rest="  ")
    for says in sheet.rests_on:
        yield from wrap(says, COLUMNS, rest="  ")
    for says in sheet.cautions:
        yield from wrap(says, COLUMNS, rest="  ")
