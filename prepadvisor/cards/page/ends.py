"""Top and foot of a page card: what blocks, ticks, the booth, materials, signatures, cautions."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.page.block import Block, Extent, Stack, divided, packed, whole
from prepadvisor.cards.page.leaf import Leaf, LevelLine, Rectangle, TextLines, TickLine, moved
from prepadvisor.cards.page.typeface import BOX_MM, Sizes, wrap
from prepadvisor.cards.page.typeface import width_mm as text_width_mm

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import BoothStep, CardSheet, FoundNote, HoldNote, ToDecide

# The top of a page card: what blocks or must be decided, ticks before sanding.


def opening(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> list[Block]:
    """Return what stands above the panels."""
    return [_top_block(sheet, sizes, width_mm), _before_block(sheet, sizes, width_mm)]


def closing(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> list[Block]:
    """Return what stands below the panels."""
    blocks = (
        _notes_block(sheet, sizes, width_mm),
        _work_block(sheet, sizes, width_mm),
        _sign_block(sheet, sizes, width_mm),
        _foot_block(sheet, sizes, width_mm),
    )
    return [block for block in blocks if block]


def _top_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block:
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


def _headline(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Stack:
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


def _found(found: "FoundNote", sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm - 4, x=4.0)
    stack.text(f"FOUND  {found.where}: {found.says}", sizes.body_pt + 1, bold=True, tag="h3")
    if found.mend:
        stack.text(f"→ {found.mend}", sizes.body_pt + 1)
    bar: Leaf = Rectangle(0.0, 0.3, 2.0, stack.y - 0.6, 0.2, fill="black")
    stack.leaves.insert(0, bar)
    stack.gap(sizes.gap_mm / 2)
    return stack


def _hold(hold: "HoldNote", sizes: Sizes, width_mm: float) -> Stack:
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


def _choice(choice: "ToDecide", sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(f"? {choice.title}:", sizes.body_pt, bold=True, tag="h3")
    for way in choice.ways:
        stack.text(f"– {way}", sizes.body_pt, indent_mm=3.0)
    return stack


def _line(says: str, sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(says, sizes.body_pt)
    return stack


def _before_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block:
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


_LEFT_SHARE: Final = 0.46


def _notes_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block | None:
    """Return the notes that several places share, each with the places it is about; None without any."""
    if not sheet.notes:
        return None
    lead = Stack(sizes, width_mm)
    lead.rule(0.9, after_mm=1.2)
    rows = [_paragraph(text, sizes, width_mm) for text in packed(sheet.notes, sizes, width_mm, joint=" · ")]
    return divided(lead, rows, lead, gap_mm=sizes.gap_mm * 0.6)


def _work_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block:
    """Return drills and ticks before paint on the left, the steps in the booth on the right."""
    left = Stack(sizes, width_mm * _LEFT_SHARE - 2)
    left.rule(0.9, after_mm=1.2)
    for drill in sheet.drills:
        left.text(drill.case, sizes.body_pt, bold=True, tag="h2")
        left.text(drill.says, sizes.body_pt, after_mm=sizes.gap_mm / 4)
    left.text(sheet.ticks_title, sizes.body_pt, bold=True, tag="h2")
    left.ticks(sheet.before_paint)
    at = width_mm * _LEFT_SHARE + 2
    lead = Stack(sizes, width_mm - at, x=at)
    lead.rule(0.9, after_mm=1.2)
    lead.text(sheet.booth_title, sizes.body_pt, bold=True, tag="h2")
    again = Stack(sizes, width_mm - at, x=at)
    again.text(f"{sheet.booth_title} (goes on)", sizes.body_pt, bold=True)
    rows = [_step(number, step, sizes, width_mm - at) for number, step in enumerate(sheet.booth, start=1)]
    heights = [row.y for row in rows]

    def build(start: int, stop: int) -> tuple[Leaf, ...]:
        leaves = list(again.leaves) if start else [*left.leaves, *lead.leaves]
        y = again.y if start else lead.y
        for row in rows[start:stop]:
            leaves += [moved(leaf, at, y) for leaf in row.leaves]
            y += row.y
        return tuple(leaves)

    return Block(Extent(lead.y, tuple(heights), again.y, left.y + sizes.gap_mm / 2, keep_rows=1), build)


def _step(number: int, step: "BoothStep", sizes: Sizes, width_mm: float) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(str(number), sizes.body_pt, bold=True)
    stack.y = 0.0
    if step.says:
        stack.text(step.says, sizes.body_pt, indent_mm=4.5)
    for tick in step.ticks:
        room = width_mm - 4.5
        lines = wrap(tick.says, room - BOX_MM - 1.4, sizes.body_pt)
        line_mm = sizes.line_mm(sizes.body_pt)
        high = max(sizes.tick_mm, line_mm * len(lines) + 0.6)
        stack.leaves.append(
            TickLine(
                x=4.5,
                y=stack.y,
                width_mm=room,
                height_mm=high,
                box=tick.box,
                lines=lines,
                size_pt=sizes.body_pt,
                line_mm=line_mm,
            )
        )
        stack.gap(high)
    stack.gap(sizes.gap_mm / 4)
    return stack


def _sign_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block:
    """Return what to mix, lay out and how long it takes, and the lines to sign on."""
    stack = Stack(sizes, width_mm)
    stack.rule(0.25, after_mm=0.8)
    stack.text(" · ".join(f"{fact.label} {fact.says}" for fact in sheet.materials), sizes.body_pt, bold=True)
    stack.gap(sizes.gap_mm / 2)
    stack.rule(0.9, after_mm=0.9)
    title_mm = text_width_mm(sheet.clear, sizes.title_pt * 0.9, bold=True) + 3
    high = 9.5 if sizes.name == "normal" else 8.0
    base = stack.y + high - sizes.line_mm(sizes.body_pt)
    title = Stack(
        sizes, title_mm, y=base - (sizes.line_mm(sizes.title_pt) - sizes.line_mm(sizes.body_pt)) / 1.4
    )
    title.text(sheet.clear, sizes.title_pt * 0.9, bold=True, tag="h2")
    stack.leaves += title.leaves
    each = (width_mm - title_mm) / max(1, len(sheet.signatures))
    for index, who in enumerate(sheet.signatures):
        x = title_mm + index * each
        name = Stack(sizes, 16.0, x=x + 2, y=base)
        name.text(who, sizes.body_pt)
        stack.leaves += name.leaves
        stack.leaves.append(LevelLine(x + 16, stack.y + high - 0.6, each - 17, 0.3))
    stack.gap(high + 0.6)
    return whole(stack, gap_mm=sizes.gap_mm / 2)


def _foot_block(sheet: "CardSheet", sizes: Sizes, width_mm: float) -> Block:
    """Return why, what the card rests on, and the cautions."""
    lead = Stack(sizes, width_mm)
    lead.rule(0.25, after_mm=0.6)
    says = [f"why: {text}" for text in sheet.why]
    says += sheet.rests_on
    rows = [_paragraph(text, sizes, width_mm) for text in packed(says, sizes, width_mm)]
    rows += [
        _paragraph(text, sizes, width_mm, bold=True)
        for text in packed(sheet.cautions, sizes, width_mm, bold=True)
    ]
    return divided(lead, rows, lead)


def _paragraph(says: str, sizes: Sizes, width_mm: float, *, bold: bool = False) -> Stack:
    stack = Stack(sizes, width_mm)
    stack.text(says, sizes.small_pt, bold=bold)
    return stack
