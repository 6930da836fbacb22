"""One panel of the text card: heading, zones, four big answers, ladders, rows with their boxes."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from prepadvisor.cards.page.columns import flow, pad, side_by_side, width, wrap
from prepadvisor.cards.page.text_boxes import BOXES
from prepadvisor.cards.sheet.record import Answer, Ladder, PanelSheet, Row

_BOX_HEADS: Final = ("scuffed", "powder", "sanded", " LOOK ")
_ZONES_HEAD: Final = "zone"
_HAND_HEAD: Final = "by hand"
_MACHINE_HEAD: Final = "then DA"
_NAME_LEAST: Final = 8


class _Grid(NamedTuple):
    """Column widths of a panel's rows; the name takes what the others leave."""

    number: int
    name: int
    zones: int
    hand: int
    machine: int


def panel_lines(panel: PanelSheet, columns: int) -> Iterator[str]:
    """Return the lines of one panel, none wider than `columns`."""
    heading = [f"{panel.letter}  {panel.heading}", panel.role, panel.condition, panel.minutes]
    yield from flow([part for part in heading if part], columns, rest="   ", gap="   ")
    for says in panel.zones:
        yield from wrap(says, columns, first="   ", rest="     ")
    yield ""
    yield from side_by_side([_answer(answer, columns // 4 - 1) for answer in panel.answers], columns // 4)
    for ladder in panel.ladders:
        yield ""
        yield from _ladder(ladder, columns)
    yield ""
    if panel.order:
        steps = [f"{number} {step}" for number, step in enumerate(panel.order, start=1)]
        yield from flow(steps, columns, first="   ORDER  ", rest="          ", gap="   ")
        yield ""
    yield from _rows(panel.rows, columns)
    if panel.legend:
        yield from flow(panel.legend, columns, first="   ", rest="   ")
    for says in panel.notes:
        yield from wrap(says, columns, first="   note: ", rest="     ")
    yield from wrap(panel.film, columns, first="   ", rest="     ")


def _answer(answer: Answer, columns: int) -> list[str]:
    small = [line for says in answer.small for line in wrap(says, columns)]
    return [*wrap(answer.title, columns), *wrap(f"  >> {answer.big} <<", columns, first="  "), *small]


def _ladder(ladder: Ladder, columns: int) -> Iterator[str]:
    took = f", {ladder.minutes}" if ladder.minutes else ""
    yield from wrap(f"{ladder.title}{took}", columns, first=f"   {ladder.number} ", rest="      ")
    yield from wrap(f">> {ladder.steps} <<", columns, first="      ", rest="      ")
    for says in (ladder.tools, *ladder.says):
        if says:
            yield from wrap(says, columns, first="      ", rest="      ")
    boxes = [f"{BOXES[tick.box]} {tick.says}" for tick in ladder.powder]
    if boxes:
        yield from flow(boxes, columns, first="      powder: ", rest="        ")
    checks = [f"{BOXES[tick.box]} {tick.says}" for tick in ladder.checks]
    if checks:
        yield from flow(checks, columns, first="      ", rest="      ")


def _rows(rows: tuple[Row, ...], columns: int) -> Iterator[str]:
    grid = _grid(rows, columns)
    heads = "|".join(_BOX_HEADS)
    head = (pad("#", grid.number), pad("place", grid.name), pad(_ZONES_HEAD, grid.zones))
    yield " " + " ".join((*head, pad(_HAND_HEAD, grid.hand), pad(_MACHINE_HEAD, grid.machine))) + f"|{heads}|"
    for row in rows:
        yield from _row(row, grid, columns)


def _grid(rows: tuple[Row, ...], columns: int) -> _Grid:
    boxes = sum(len(head) + 1 for head in _BOX_HEADS) + 1
    number = max((width(row.number) for row in rows), default=1)
    zones = max([len(_ZONES_HEAD), *(width(row.zones) for row in rows)])
    hand = max([len(_HAND_HEAD), *(width(_hand(row)) for row in rows)])
    machine = max([len(_MACHINE_HEAD), *(width(_machine(row)) for row in rows)])
    name = columns - boxes - number - zones - hand - machine - 5
    return _Grid(number, max(name, _NAME_LEAST), zones, hand, machine)


def _hand(row: Row) -> str:
    return f"{row.hand}*" if row.hand_or_finer else row.hand


def _machine(row: Row) -> str:
    return f"{row.machine} {row.mark}".rstrip()


def _row(row: Row, grid: _Grid, columns: int) -> Iterator[str]:
    name, *more = wrap(row.name, grid.name)
    cells = (
        pad(row.number, grid.number),
        pad(name, grid.name),
        pad(row.zones, grid.zones),
        pad(_hand(row), grid.hand),
        pad(_machine(row), grid.machine),
    )
    owed = (row.scuffed, row.powder, row.sanded, row.look)
    boxes = "|".join(BOXES[box].center(len(head)) for box, head in zip(owed, _BOX_HEADS, strict=True))
    yield " " + " ".join(cells) + f"|{boxes}|"
    indent = " " * (grid.number + 2)
    for line in more:
        yield indent + line
    for note in row.notes:
        yield from wrap(note, columns, first=f"{indent}^ ", rest=f"{indent}  ")
