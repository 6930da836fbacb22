"""A card set on pages: the size is chosen, blocks are put on pages, and every leaf gets its last place.

The normal size, unless a smaller one takes fewer pages.
"""

from collections.abc import Callable, Mapping
from typing import NamedTuple, Protocol

from prepadvisor.cards.block import Block
from prepadvisor.cards.block_closing import foot_block, notes_block, sign_block, work_block
from prepadvisor.cards.block_panel import ladder_block, panel_head
from prepadvisor.cards.block_rows import SIDE_MM, rows_block
from prepadvisor.cards.block_top import before_block, page_head, top_block
from prepadvisor.cards.figure import Figure
from prepadvisor.cards.leaf import Leaf, moved
from prepadvisor.cards.page_fit import Extent, Part, fit, fit_whole
from prepadvisor.cards.page_sizes import NORMAL, PAPERS, SIZES, Paper, PaperName, Sizes
from prepadvisor.cards.sheet import CardSheet


class DrawPanel(Protocol):
    """Draws one panel for a width and a greatest height in mm."""

    def __call__(self, width_mm: float, height_max_mm: float) -> Figure:
        """Return the drawing."""


Put = Callable[[list[Extent], float, float], list[list[Part]]]
"""Puts heights on pages: room of a page in mm, and what is taken of the first one."""


class Page(NamedTuple):
    """One printed page; places of leaves are from the left top of the paper, in mm."""

    label: str
    leaves: tuple[Leaf, ...]


class Pages(NamedTuple):
    """A whole card, ready to print."""

    title: str
    paper: Paper
    size: str
    pages: tuple[Page, ...]


def card_pages(
    sheet: CardSheet,
    drawings: Mapping[str, DrawPanel],
    paper: PaperName = "a4",
    training: list[Block] | None = None,
) -> Pages:
    """Set a card on pages.

    Args:
        sheet: every fact of the card.
        drawings: by panel id, what draws it.
        paper: the paper.
        training: blocks of the second sheet, which starts on a new page; set in the normal size.
    """
    form = PAPERS[paper]
    sizes, first = NORMAL, _first_sheet(sheet, drawings, form, NORMAL)
    for smaller in SIZES[1:]:
        if len(first) > 1 and len(tried := _first_sheet(sheet, drawings, form, smaller)) < len(first):
            sizes, first = smaller, tried
    pages = _labelled(sheet, first, form, sizes, "page")
    if training:
        head_mm = _head_mm(sheet, NORMAL, form)
        second = _on_pages(training, form, (head_mm, head_mm), fit)
        pages += _labelled(sheet, second, form, NORMAL, "why, page", goes_on=True)
    title = " ".join(part for part in ("Prep card", sheet.head.number, sheet.head.colour) if part)
    return Pages(title, form, sizes.name, tuple(pages))


def _first_sheet(
    sheet: CardSheet, drawings: Mapping[str, DrawPanel], form: Paper, sizes: Sizes
) -> list[list[Leaf]]:
    width = form.room_mm[0]
    blocks: list[Block | None] = [top_block(sheet, sizes, width), before_block(sheet, sizes, width)]
    for panel in sheet.panels:
        figure = drawings[panel.id](SIDE_MM, sizes.figure_max_mm)
        blocks += [
            panel_head(panel, sizes, width),
            ladder_block(panel, sizes, width),
            rows_block(panel, figure, sizes, width),
        ]
    blocks += [
        notes_block(sheet, sizes, width),
        work_block(sheet, sizes, width),
        sign_block(sheet, sizes, width),
        foot_block(sheet, sizes, width),
    ]
    heads = (_head_mm(sheet, sizes, form, first=True), _head_mm(sheet, sizes, form))
    return _on_pages([block for block in blocks if block], form, heads, fit_whole)


def _head_mm(sheet: CardSheet, sizes: Sizes, form: Paper, *, first: bool = False) -> float:
    """Return the height of the job line, of the first page or as it is repeated."""
    return page_head(sheet, sizes, form.room_mm[0], page="page 1 of 1", first=first).y


def _on_pages(blocks: list[Block], form: Paper, heads_mm: tuple[float, float], put: Put) -> list[list[Leaf]]:
    """Put blocks under the job line, whose height on the first page and on the others is given."""
    first_mm, head_mm = heads_mm
    parts = put([block.extent for block in blocks], form.room_mm[1] - head_mm, first_mm - head_mm)
    return [
        [
            moved(leaf, form.margin_mm, form.margin_mm + head_mm + part.y_mm)
            for part in page
            for leaf in blocks[part.block].build(part.start, part.stop)
        ]
        for page in parts
    ]


def _labelled(
    sheet: CardSheet, pages: list[list[Leaf]], form: Paper, sizes: Sizes, word: str, *, goes_on: bool = False
) -> list[Page]:
    labelled = []
    for number, leaves in enumerate(pages, start=1):
        label = f"{word} {number} of {len(pages)}"
        head = page_head(sheet, sizes, form.room_mm[0], page=label, first=number == 1 and not goes_on)
        top = [moved(leaf, form.margin_mm, form.margin_mm) for leaf in head.leaves]
        labelled.append(Page(label, (*top, *leaves)))
    return labelled
