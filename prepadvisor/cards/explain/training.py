"""The second sheet, for training and the lead: rulers, the scratch under its flake, stairs, reasons."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cards.figures.ruler import ruler_figure, staircase_figure
from prepadvisor.cards.figures.scratch import fitting_scale, scratch_figure
from prepadvisor.cards.page.block import Block, Extent, Stack, whole
from prepadvisor.cards.page.leaf import Cell, Column, Leaf, LeafTable, PlacedFigure, Run, TableRow
from prepadvisor.cards.page.panel import panel_title
from prepadvisor.cards.page.typeface import NORMAL, Sizes, wrap

if TYPE_CHECKING:
    from prepadvisor.cards.explain.training_facts import WhyPanel, WhyRule, WhySheet
    from prepadvisor.cards.figures.figure import Figure
    from prepadvisor.cards.sheet.record import CardSheet

# The reasons behind the deciding places, rule by rule with its answers, layer, place and source.

_PT: Final = 8.0


def reasons_block(reasons: Sequence["WhyRule"], sizes: Sizes, width_mm: float) -> Block:
    """Return a table of every rule that decided; a rule stands once, with all it answers."""
    lead, again = Stack(sizes, width_mm), Stack(sizes, width_mm)
    lead.rule(0.9, after_mm=1.2)
    lead.text("Reasons", sizes.title_pt, bold=True, tag="h2")
    again.text("Reasons (goes on)", sizes.body_pt, bold=True)
    columns = _columns(width_mm)
    rows = [_row(reason, columns, sizes) for reason in reasons]
    head_mm = sizes.line_mm(_PT) + 0.8
    heights = [row.height_mm for row in rows]
    heights[-1] += sizes.gap_mm

    def build(start: int, stop: int) -> tuple[Leaf, ...]:
        top = again if start else lead
        shown = tuple(rows[start:stop])
        title = "Rules that decided, with what they answer and where"
        table = LeafTable(
            x=0.0,
            y=top.y,
            title=title,
            columns=columns,
            head_mm=head_mm,
            head_pt=_PT,
            rows=shown,
            note_pt=_PT,
            note_line_mm=sizes.line_mm(_PT),
            row_head=0,
        )
        return (*top.leaves, table)

    return Block(Extent(lead.y + head_mm, tuple(heights), again.y + head_mm), build)


def _columns(width_mm: float) -> tuple[Column, ...]:
    fixed = (Column("rule (layer, file:line)", 47.0), Column("answers", 44.0), Column("at", 18.0))
    return (*fixed, Column("what it says [source]", width_mm - sum(column.width_mm for column in fixed)))


def _row(texts: "WhyRule", columns: tuple[Column, ...], sizes: Sizes) -> TableRow:
    line_mm = sizes.line_mm(_PT) * 0.95
    cells = []
    for text, column in zip(texts, columns, strict=True):
        lines = wrap(text, column.width_mm - 1.5, _PT)
        cells.append(Cell(tuple((Run(line, _PT),) for line in lines), line_mm))
    return TableRow(max(len(cell.lines) for cell in cells) * line_mm + 0.9, tuple(cells))


_SCRATCH_MM: Final = 46.0
_APART_MM: Final = 5.0
_SHORT: Final = 3
"""Grit steps that still fit half a page."""


class _Art(NamedTuple):
    """The drawings of one panel, each of its size.

    Attributes:
        rulers: a grade ruler with its title, each over the whole width.
        small: scratches, and stairs of a few steps, to stand side by side.
        beside: how many of them.
        wide: stairs of more steps.
    """

    rulers: tuple[tuple[str, "Figure"], ...]
    small: "tuple[Figure, ...]"
    beside: int
    wide: "tuple[Figure, ...]"


def training_blocks(why: "WhySheet", sheet: "CardSheet", width_mm: float) -> list[Block]:
    """Return the blocks of the second sheet: drawings panel by panel, then every reason once."""
    drawn = {panel: _art(one, width_mm) for panel, one in why.panels.items()}
    sizes = NORMAL
    opening = Stack(sizes, width_mm)
    opening.text("WHY: what decides on each panel", sizes.title_pt, bold=True, tag="h2")
    opening.text(
        f"Risk and scratch are by a first-principles model, {why.sure}. Rules marked practice have no "
        "published source.",
        sizes.body_pt,
    )
    blocks = [whole(opening, gap_mm=sizes.gap_mm)]
    for panel in sheet.panels:
        blocks.append(whole(panel_title(panel, sizes, width_mm), gap_mm=1.5, keep_next=True))
        blocks += _panel(drawn[panel.id], why.panels[panel.id].governs, sizes, width_mm)
    if why.reasons:
        blocks.append(reasons_block(why.reasons, sizes, width_mm))
    return blocks


def _art(why: "WhyPanel", width_mm: float) -> _Art:
    """Draw rulers and stairs, and the scratch that decides in one scale; two or three go side by side."""
    single = [len(case.stairs) for case in why.stairs] == [1]
    beside = 3 if len(why.scratches) == 2 and single else 2
    each = (width_mm - (beside - 1) * _APART_MM) / beside
    rulers = tuple((ruler.title, ruler_figure(ruler, width_mm)) for ruler in why.rulers)
    stairs = tuple(staircase_figure(case, each) for case in why.stairs if len(case.stairs) <= _SHORT)
    wide = tuple(staircase_figure(case, width_mm) for case in why.stairs if len(case.stairs) > _SHORT)
    scale = min((fitting_scale(case, each, _SCRATCH_MM) for case in why.scratches), default=1.0)
    scratches = tuple(scratch_figure(case, each, _SCRATCH_MM, scale) for case in why.scratches)
    return _Art(rulers, (*scratches, *stairs), beside, wide)


def _panel(art: _Art, governs: str, sizes: Sizes, width_mm: float) -> list[Block]:
    blocks = []
    for title, figure in art.rulers:
        stack = Stack(sizes, width_mm)
        stack.text(title, sizes.body_pt, bold=True, tag="h3")
        _picture(stack, figure)
        blocks.append(whole(stack, gap_mm=2.0))
    stack = Stack(sizes, width_mm)
    if governs:
        stack.text(f"The scratch that decides, to scale: {governs}", sizes.body_pt, bold=True, tag="h3")
    for start in range(0, len(art.small), art.beside):
        _side_by_side(stack, art.small[start : start + art.beside])
        blocks.append(whole(stack, gap_mm=2.0))
        stack = Stack(sizes, width_mm)
    for figure in art.wide:
        _picture(stack, figure)
        blocks.append(whole(stack, gap_mm=2.0))
        stack = Stack(sizes, width_mm)
    return blocks


def _picture(stack: Stack, figure: "Figure") -> None:
    stack.leaves.append(PlacedFigure(stack.x, stack.y, figure))
    stack.gap(figure.height_mm)


def _side_by_side(stack: Stack, figures: Sequence["Figure"]) -> None:
    x = 0.0
    for figure in figures:
        stack.leaves.append(PlacedFigure(x, stack.y, figure))
        x += figure.width_mm + _APART_MM
    stack.gap(max((figure.height_mm for figure in figures), default=0.0))
