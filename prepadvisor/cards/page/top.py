"""The top of a page card: job line, what blocks or must be decided, ticks before sanding."""

from prepadvisor.cards.page.block import Block, Stack, divided, whole
from prepadvisor.cards.page.leaf import Leaf, LevelLine, Rectangle, TextLines
from prepadvisor.cards.page.sizes import Sizes
from prepadvisor.cards.page.typeface import width_mm as text_width_mm
from prepadvisor.cards.page.typeface import wrap
from prepadvisor.cards.sheet.record import CardSheet, FoundNote, HoldNote, ToDecide


def page_head(sheet: CardSheet, sizes: Sizes, width_mm: float, *, page: str, first: bool) -> Stack:
    """Return the job line, which stands on every page, with the page's number; h1 only on the first."""
    head = sheet.head
    right_mm = 52.0
    stack = Stack(sizes, width_mm)
    left = Stack(sizes, width_mm - right_mm - 3)
    says = " ".join(part for part in (head.number, head.colour.upper()) if part)
    size = sizes.head_pt if len(wrap(says, left.width_mm, sizes.head_pt, bold=True)) == 1 else sizes.title_pt
    left.text(says, size, bold=True, tag="h1" if first else "p")
    left.text(" · ".join(part for part in (head.paint, head.vehicle) if part), sizes.body_pt)
    if not first:
        _shorten(left)
    right = Stack(sizes, right_mm, x=width_mm - right_mm, y=0.6)
    right.text(page, sizes.body_pt, bold=True, align="right")
    when = " · ".join(part for part in (head.date, head.by) if part)
    if when:
        right.text(when, sizes.body_pt, align="right")
    if not first:
        _shorten(right)
    if not first and (sheet.holds or sheet.found):
        right.text(
            f"STOP: {len(sheet.holds) + len(sheet.found)} on page 1", sizes.body_pt, bold=True, align="right"
        )
    stack.leaves += left.leaves + right.leaves
    stack.y = max(left.y, right.y) + 0.6
    stack.rule(0.9, after_mm=sizes.gap_mm + 0.9)
    return stack


def _shorten(stack: Stack) -> None:
    """Cut every text to one line with a sign that it goes on: page 1 has it whole."""
    y = stack.leaves[0].y
    short: list[Leaf] = []
    for leaf in stack.leaves:
        if isinstance(leaf, TextLines):
            text, *more = leaf.lines
            room = leaf.width_mm - text_width_mm("…", leaf.size_pt, leaf.bold)
            cut = f"{wrap(text, room, leaf.size_pt, leaf.bold)[0]}…" if more else text
            short.append(leaf._replace(y=y, lines=(cut,)))
            y += leaf.line_mm
    stack.leaves[:] = short
    stack.y = y


def top_block(sheet: CardSheet, sizes: Sizes, width_mm: float) -> Block:
    """Return what blocks the job and what must be decided; all holds stand here, before anything else."""
    rows: list[Stack] = [_found(found, sizes, width_mm) for found in sheet.found]
    rows += [_hold(hold, sizes, width_mm) for hold in sheet.holds]
    rows += [_choice(choice, sizes, width_mm) for choice in sheet.choices]
    rows += [_line(f"TAKEN: {says}.", sizes, width_mm) for says in sheet.taken]
    rows += [_line(f"HOUSE: {says}.", sizes, width_mm) for says in sheet.house]
    rows += [_line(f"ACCEPTED: {says}", sizes, width_mm) for says in sheet.accepted]
    rows.append(_line(sheet.standing, sizes, width_mm))
    again = _line(f"{sheet.headline} (goes on)", sizes, width_mm)
    return divided(_headline(sheet, sizes, width_mm), rows, again, gap_mm=sizes.gap_mm)


def _headline(sheet: CardSheet, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    size, inset = sizes.title_pt, 2.0
    if sheet.stage:
        stack.text(sheet.stage, size, bold=True, after_mm=0.8)
    lines = wrap(sheet.headline, width_mm - 2 * inset, size, bold=True)
    line_mm = sizes.line_mm(size)
    high = line_mm * len(lines) + 1.6
    stop = bool(sheet.holds or sheet.found)
    stack.leaves += [
        Rectangle(0.0, stack.y, width_mm, high, 0.5, fill="black" if stop else "none"),
        TextLines(
            x=inset,
            y=stack.y + 0.8,
            width_mm=width_mm - 2 * inset,
            lines=lines,
            size_pt=size,
            line_mm=line_mm,
            bold=True,
            tag="h2",
            paint="white" if stop else "black",
        ),
    ]
    stack.y += high + sizes.gap_mm / 2
    return stack


def _found(found: FoundNote, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm - 4, x=4.0)
    stack.text(f"FOUND  {found.where}: {found.says}", sizes.body_pt + 1, bold=True, tag="h3")
    if found.mend:
        stack.text(f"→ {found.mend}", sizes.body_pt + 1)
    bar: Leaf = Rectangle(0.0, 0.3, 2.0, stack.y - 0.6, 0.2, fill="black")
    stack.leaves.insert(0, bar)
    stack.gap(sizes.gap_mm / 2)
    return stack


def _hold(hold: HoldNote, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm - 4, x=4.0)
    stack.text(f"{hold.where}:", sizes.body_pt + 1, bold=True, tag="h3")
    stack.text(hold.why, sizes.body_pt + 1)
    if hold.mend:
        stack.text(f"→ {hold.mend}", sizes.body_pt + 1, bold=True)
    small = []
    if hold.lacks:
        small.append(f"the shelf lacks {', '.join(hold.lacks)}")
    if hold.rules:
        small.append(f"rules: {', '.join(hold.rules)}")
    if small:
        stack.text(";  ".join(small), sizes.small_pt)
    bar: Leaf = Rectangle(0.0, 0.3, 2.0, stack.y - 0.6, 0.2, fill="black")
    stack.leaves.insert(0, bar)
    stack.gap(sizes.gap_mm / 2)
    return stack


def _choice(choice: ToDecide, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(f"? {choice.title}:", sizes.body_pt, bold=True, tag="h3")
    for way in choice.ways:
        stack.text(f"– {way}", sizes.body_pt, indent_mm=3.0)
    return stack


def _line(says: str, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(says, sizes.body_pt)
    return stack


def before_block(sheet: CardSheet, sizes: Sizes, width_mm: float) -> Block:
    """Return the ticks before sanding."""
    stack = Stack(sizes, width_mm)
    title_mm = 34.0 if sizes.name == "normal" else 29.0
    stack.leaves.append(LevelLine(0.0, 0.0, width_mm, 0.25))
    stack.gap(0.7)
    line_mm = sizes.line_mm(sizes.body_pt)
    drop = (sizes.tick_mm - line_mm) / 2
    title = TextLines(
        x=0.0,
        y=stack.y + drop,
        width_mm=title_mm,
        lines=("BEFORE SANDING",),
        size_pt=sizes.body_pt,
        line_mm=line_mm,
        bold=True,
        tag="h2",
    )
    stack.leaves.append(title)
    stack.ticks(sheet.before_sanding, start_mm=title_mm)
    return whole(stack, gap_mm=sizes.gap_mm)
