"""The head of a panel on a page: heading, zones, order of work, four big answers, and ladders."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.block import Block, Stack, divided, whole
from prepadvisor.cards.page.leaf import LevelLine, Rectangle, TextLines, TickLine
from prepadvisor.cards.page.typeface import BOX_MM, LEAST_PT, Sizes, wrap
from prepadvisor.cards.page.typeface import width_mm as text_width_mm

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import BigAnswer, Ladder, OrderStep, PanelSheet

_BIG_LEAST_PT: Final = 15.0
_INSET_MM: Final = 1.3
_APART_MM: Final = 4.0
_NUMBER_MM: Final = 7.0
_SMALL_LEAST_MM: Final = 17.0
"""Room that the small lines of an answer need to stand beside it instead of under it."""


def panel_title(panel: "PanelSheet", sizes: Sizes, width_mm: float, *, goes_on: bool = False) -> Stack:
    """Return a panel's heading line: its letter in a black square, its name, and what it is and gets."""
    stack = Stack(sizes, width_mm)
    size = sizes.title_pt
    line_mm = sizes.line_mm(size)
    square = max(line_mm + 0.6, text_width_mm(panel.letter, size, bold=True) + 2.4)
    stack.leaves += [
        LevelLine(0.0, 0.0, width_mm, 0.9),
        Rectangle(0.0, 0.9, square, line_mm + 0.6, 0.0, fill="black"),
        TextLines(
            x=0.0,
            y=1.2,
            width_mm=square,
            lines=(panel.letter,),
            size_pt=size,
            line_mm=line_mm,
            bold=True,
            align="middle",
            paint="white",
        ),
    ]
    says = f"{panel.heading} (goes on)" if goes_on else panel.heading
    facts = " · ".join(part for part in (panel.role, panel.condition, panel.minutes) if part)
    name_mm = min(text_width_mm(says, size, bold=True) + 4, width_mm * 0.6)
    left = Stack(sizes, name_mm, x=square + 2, y=1.2)
    left.text(says, size, bold=True, tag="p" if goes_on else "h2")
    at = square + 2 + name_mm + 2
    right = Stack(sizes, width_mm - at, x=at, y=1.2)
    role_line = sizes.line_mm(sizes.body_pt)
    if len(wrap(facts, width_mm - at, sizes.body_pt)) == 1:
        right.y += (line_mm - role_line) / 2
    right.text(facts, sizes.body_pt, align="right")
    stack.leaves += left.leaves + right.leaves
    stack.y = max(left.y, right.y, square + 0.9)
    return stack


def panel_head(panel: "PanelSheet", sizes: Sizes, width_mm: float) -> Block:
    """Return heading, zones, the order of work and the four big answers, which stay with the first rows."""
    stack = panel_title(panel, sizes, width_mm)
    stack.gap(0.4)
    stack.text(" · ".join(panel.zones), sizes.body_pt)
    stack.gap(0.5)
    if not panel.rows:
        for says in panel.instead:
            stack.text(says, sizes.body_pt + 1, bold=True, after_mm=0.5)
        return whole(stack, gap_mm=sizes.gap_mm)
    if panel.order:
        _order(panel, stack)
    _answers(panel.answers, stack)
    return whole(stack, gap_mm=sizes.gap_mm * 0.6, keep_next=True)


def _order(panel: "PanelSheet", stack: Stack) -> None:
    """Set the steps in two columns, numbers large; a step with a box of its own has it beside its number."""
    sizes = stack.sizes
    stack.text("ORDER", sizes.small_pt, bold=True, tag="h3")
    top, half = stack.y, (len(panel.order) + 1) // 2
    wide = (stack.width_mm - _APART_MM) / 2
    ends = []
    for at, steps in ((0.0, panel.order[:half]), (wide + _APART_MM, panel.order[half:])):
        column = Stack(sizes, wide, x=at, y=top)
        for step in steps:
            _order_step(step, column)
        stack.leaves += column.leaves
        ends.append(column.y)
    stack.y = max(ends) + 0.8


def _order_step(step: "OrderStep", column: Stack) -> None:
    sizes = column.sizes
    size = sizes.body_pt + 2.5
    line_mm = sizes.line_mm(size)
    says = f"(done) {step.says}" if step.done and step.box == "none" else step.says
    number = (str(step.n),)
    start = column.y
    if step.box == "none":
        lines = wrap(says, column.width_mm - _NUMBER_MM, size)
        column.leaves += [
            TextLines(
                x=column.x,
                y=start,
                width_mm=_NUMBER_MM,
                lines=number,
                size_pt=size,
                line_mm=line_mm,
                bold=True,
            ),
            TextLines(
                x=column.x + _NUMBER_MM,
                y=start,
                width_mm=column.width_mm - _NUMBER_MM,
                lines=lines,
                size_pt=size,
                line_mm=line_mm,
            ),
        ]
        column.gap(line_mm * len(lines) + 0.5)
        return
    room = column.width_mm - _NUMBER_MM
    lines = wrap(says, room - BOX_MM - 1.4, size)
    high = max(sizes.tick_mm, line_mm * len(lines) + 0.4)
    drop = (high - line_mm * len(lines)) / 2
    column.leaves += [
        TextLines(
            x=column.x,
            y=start + drop,
            width_mm=_NUMBER_MM,
            lines=number,
            size_pt=size,
            line_mm=line_mm,
            bold=True,
        ),
        TickLine(
            x=column.x + _NUMBER_MM,
            y=start,
            width_mm=room,
            height_mm=high,
            box=step.box,
            lines=lines,
            size_pt=size,
            line_mm=line_mm,
        ),
    ]
    column.gap(high)


def _answers(answers: tuple["BigAnswer", ...], stack: Stack) -> None:
    sizes = stack.sizes
    wide = stack.width_mm / len(answers)
    columns = []
    room = wide - 2 * _INSET_MM
    bigs = [text_width_mm(answer.big, sizes.big_pt, bold=True) + 1.4 for answer in answers]
    beside = room - max(bigs) >= _SMALL_LEAST_MM
    for index, (answer, big_mm) in enumerate(zip(answers, bigs, strict=True)):
        column = Stack(sizes, room, x=index * wide + _INSET_MM, y=stack.y + 0.7)
        column.text(answer.title, max(LEAST_PT, sizes.small_pt), bold=True, tag="h3")
        small = column
        if beside:
            small = Stack(sizes, room - big_mm, x=column.x + big_mm, y=column.y + 0.4)
        column.text(answer.big, _big_pt(answer.big, sizes.big_pt, room), bold=True)
        for says in answer.small:
            small.text(says, sizes.small_pt)
        if beside:
            column.leaves += small.leaves
            column.y = max(column.y, small.y)
        columns.append(column)
    high = max(column.y for column in columns) + 0.6 - stack.y
    for index, column in enumerate(columns):
        stack.leaves.append(Rectangle(index * wide, stack.y, wide, high, 0.35))
        stack.leaves += column.leaves
    stack.gap(high)


def _big_pt(text: str, most_pt: float, room_mm: float) -> float:
    """Return the largest type size, down to 15 pt, at which a big answer stands on one line."""
    wide = text_width_mm(text, 1.0, bold=True)
    return max(_BIG_LEAST_PT, min(most_pt, int(2 * room_mm / wide) / 2)) if wide else most_pt


def ladder_block(panel: "PanelSheet", sizes: Sizes, width_mm: float) -> Block | None:
    """Return the grit steps of a panel's patches and face with their boxes for powder; None without any."""
    if not panel.ladders:
        return None
    rows = [_ladder(ladder, sizes, width_mm) for ladder in panel.ladders]
    again = _again(panel, sizes, width_mm)
    return divided(Stack(sizes, width_mm), rows, again, gap_mm=sizes.gap_mm * 0.6, keep_next=True)


def _again(panel: "PanelSheet", sizes: Sizes, width_mm: float) -> Stack:
    stack = panel_title(panel, sizes, width_mm, goes_on=True)
    stack.gap(sizes.gap_mm / 2)
    return stack


def _ladder(ladder: "Ladder", sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    left = Stack(sizes, width_mm * 0.5 - 2 * _INSET_MM, x=_INSET_MM, y=0.5)
    left.text(f"{ladder.number} {ladder.title}:", sizes.body_pt, bold=True, tag="h3")
    left.text(" > ".join(ladder.steps), sizes.grade_pt, bold=True)
    right = Stack(sizes, width_mm * 0.5 - _INSET_MM, x=width_mm * 0.5, y=0.4)
    right.ticks(ladder.boxes)
    for says in ladder.says:
        left.text(says, sizes.small_pt)
    stack.y = max(left.y, right.y) + 0.5
    stack.leaves = [Rectangle(0.0, 0.0, width_mm, stack.y, 0.35), *left.leaves, *right.leaves]
    return stack
