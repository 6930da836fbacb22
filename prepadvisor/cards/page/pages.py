"""A card set on pages: the size is chosen, blocks are put on pages, and every leaf gets its last place.

The normal size, unless a smaller one takes fewer pages. Where a page then has room to spare, its panel is
drawn large above its rows instead of small beside them.
"""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Protocol

from prepadvisor.cards.page.block import Block, BlockPart, Extent, Stack, fit, fit_whole
from prepadvisor.cards.page.ends import closing, opening
from prepadvisor.cards.page.leaf import Leaf, TextLines, moved
from prepadvisor.cards.page.panel import ladder_block, panel_head, panel_title
from prepadvisor.cards.page.rows import BAND_HEIGHTS_MM, SIDE_MM, band_block, rows_block
from prepadvisor.cards.page.typeface import NORMAL, PAPERS, SIZES, Paper, PaperName, Sizes, wrap
from prepadvisor.cards.page.typeface import width_mm as text_width_mm
from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.cards.figures.figure import Figure
    from prepadvisor.cards.sheet.record import CardSheet


class DrawPanel(Protocol):
    """Draws one panel for a width and a greatest height in mm."""

    def __call__(self, width_mm: float, height_max_mm: float) -> "Figure":
        """Return the drawing."""


class PanelArt(NamedTuple):
    """Draws one panel, or returns the size alone of that drawing: drawing takes a hundred times as long."""

    draw: DrawPanel
    space: DrawPanel


Put = Callable[[list[Extent], float, float], list[list[BlockPart]]]
"""Puts heights on pages: room of a page in mm, and what is taken of the first one."""


class PrintedPage(NamedTuple):
    """One printed page; places of leaves are from the left top of the paper, in mm."""

    label: str
    leaves: tuple[Leaf, ...]


class Pages(NamedTuple):
    """A whole card, ready to print."""

    title: str
    paper: Paper
    size: str
    pages: tuple[PrintedPage, ...]


class _Set(NamedTuple):
    """A first sheet as tried: its sizes, the leaves of each page, and how often a block is divided."""

    sizes: Sizes
    pages: list[list[Leaf]]
    torn: int


def card_pages(
    sheet: "CardSheet",
    drawings: Mapping[str, PanelArt],
    paper: PaperName = "a4",
    training: list[Block] | None = None,
) -> Pages:
    """Set a card on pages.

    Args:
        sheet: every fact of the card.
        drawings: what draws each panel, by its id.
        paper: the paper.
        training: blocks of the second sheet, which starts on a new page; set in the normal size.
    """
    form = PAPERS[paper]
    spaces = {panel: art.space for panel, art in drawings.items()}
    tried = _first_sheet(sheet, spaces, form, NORMAL)
    for smaller in SIZES[1:]:
        if len(tried.pages) > 1:
            other = _first_sheet(sheet, spaces, form, smaller)
            tried = other if len(other.pages) < len(tried.pages) else tried
    sizes, high_mm = tried.sizes, _above(tried, sheet, spaces, form)
    first = _first_sheet(sheet, {panel: art.draw for panel, art in drawings.items()}, form, sizes, high_mm)
    pages = _labelled(sheet, first.pages, form, sizes, "page")
    if training:
        head_mm = _head_mm(sheet, NORMAL, form)
        second, _ = _on_pages(training, form, (head_mm, head_mm), fit)
        pages += _labelled(sheet, second, form, NORMAL, "why, page", goes_on=True)
    title = " ".join(part for part in ("Prep card", sheet.head.number, sheet.head.colour) if part)
    return Pages(title, form, sizes.name, tuple(pages))


def _first_sheet(
    sheet: "CardSheet",
    drawings: Mapping[str, DrawPanel],
    form: Paper,
    sizes: Sizes,
    high_mm: Mapping[str, float] | None = None,
) -> _Set:
    """Set the first sheet; `high_mm` has the panels that are drawn above their rows, and how high at most."""
    width, above = form.room_mm[0], high_mm or {}
    blocks: list[Block | None] = [*opening(sheet, sizes, width)]
    for panel in sheet.panels:
        draw = drawings[panel.id]
        blocks += [panel_head(panel, sizes, width), ladder_block(panel, sizes, width)]
        if not panel.rows:
            continue
        again = panel_title(panel, sizes, width, goes_on=True)
        if panel.id in above:
            figure = draw(width, above[panel.id])
            blocks += [band_block(figure, sizes, width), rows_block(panel, None, again, width)]
        else:
            blocks.append(rows_block(panel, draw(SIDE_MM, sizes.figure_max_mm), again, width))
    blocks += closing(sheet, sizes, width)
    heads = (_head_mm(sheet, sizes, form, first=True), _head_mm(sheet, sizes, form))
    pages, torn = _on_pages([block for block in blocks if block], form, heads, fit_whole)
    return _Set(sizes, pages, torn)


def _above(first: _Set, sheet: "CardSheet", spaces: Mapping[str, DrawPanel], form: Paper) -> dict[str, float]:
    """Return the panels to draw large above their rows, each with its greatest height.

    Those are the ones where that takes no page and divides nothing more.
    """
    high_mm: dict[str, float] = {}

    def fits(panel: str, high: float) -> bool:
        tried = _first_sheet(sheet, spaces, form, first.sizes, {**high_mm, panel: high})
        return len(tried.pages) <= len(first.pages) and tried.torn <= first.torn

    least, *larger = BAND_HEIGHTS_MM
    for panel in sheet.panels:
        if panel.rows and fits(panel.id, least):
            high_mm[panel.id] = next((high for high in reversed(larger) if fits(panel.id, high)), least)
    return high_mm


def _head_mm(sheet: "CardSheet", sizes: Sizes, form: Paper, *, first: bool = False) -> float:
    """Return the height of the job line, of the first page or as it is repeated."""
    return _page_head(sheet, sizes, form.room_mm[0], page="page 1 of 1", first=first).y


def _on_pages(
    blocks: list[Block], form: Paper, heads_mm: tuple[float, float], put: Put
) -> tuple[list[list[Leaf]], int]:
    """Put blocks under the job line, whose height on the first page and on the others is given.

    Returns the leaves of every page, and how often a block goes on on another page.
    """
    first_mm, head_mm = heads_mm
    parts = put([block.extent for block in blocks], form.room_mm[1] - head_mm, first_mm - head_mm)
    pages = [
        [
            moved(leaf, form.margin_mm, form.margin_mm + head_mm + part.y_mm)
            for part in page
            for leaf in blocks[part.block].build(part.start, part.stop)
        ]
        for page in parts
    ]
    return pages, sum(map(len, parts)) - len(blocks)


def _labelled(
    sheet: "CardSheet",
    pages: list[list[Leaf]],
    form: Paper,
    sizes: Sizes,
    word: str,
    *,
    goes_on: bool = False,
) -> list[PrintedPage]:
    labelled = []
    for number, leaves in enumerate(pages, start=1):
        label = f"{word} {number} of {len(pages)}"
        head = _page_head(sheet, sizes, form.room_mm[0], page=label, first=number == 1 and not goes_on)
        top = [moved(leaf, form.margin_mm, form.margin_mm) for leaf in head.leaves]
        labelled.append(PrintedPage(label, (*top, *leaves)))
    return labelled


def _page_head(sheet: "CardSheet", sizes: Sizes, width_mm: float, *, page: str, first: bool) -> Stack:
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
