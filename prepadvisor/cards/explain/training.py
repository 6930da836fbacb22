"""The second sheet, for training and the lead: rulers, the scratch under its flake, stairs, reasons."""

from typing import Final

from prepadvisor.cards.explain.deciding import deciding_spots, governing_spot
from prepadvisor.cards.explain.reasons_block import reasons_block
from prepadvisor.cards.explain.training_facts import ruler_of, scratches_of, staircases_of
from prepadvisor.cards.figures.figure import Figure
from prepadvisor.cards.figures.ruler import Ruler, ruler_figure
from prepadvisor.cards.figures.scratch import fitting_scale, scratch_figure
from prepadvisor.cards.figures.staircase import staircase_figure
from prepadvisor.cards.page.block import Block, Stack, whole
from prepadvisor.cards.page.leaf import PlacedFigure
from prepadvisor.cards.page.panel import panel_title
from prepadvisor.cards.page.sizes import NORMAL, Sizes
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet, PanelSheet
from prepadvisor.records.advice import Spot
from prepadvisor.wording import trade as words
from prepadvisor.wording.measured import estimate_word

_SCRATCH_MM: Final = 46.0
_APART_MM: Final = 5.0
_SHORT: Final = 3
"""Grit steps that still fit half a page."""


def training_blocks(papers: Papers, sheet: CardSheet, width_mm: float) -> list[Block]:
    """Return the blocks of the second sheet: drawings panel by panel, then every reason once."""
    sizes = NORMAL
    opening = Stack(sizes, width_mm)
    opening.text("WHY: what decides on each panel", sizes.title_pt, bold=True, tag="h2")
    opening.text(
        f"Risk and scratch are by a first-principles model, {_sure(papers)}. Rules marked practice have no "
        "published source.",
        sizes.body_pt,
    )
    blocks = [whole(opening, gap_mm=sizes.gap_mm)]
    decided: list[Spot] = []
    for panel in sheet.panels:
        spots = deciding_spots(papers, panel.id)
        decided += [spot for spot in spots if spot.because]
        blocks += _panel(papers, panel, spots, sizes, width_mm)
    if decided:
        blocks.append(reasons_block(papers, decided, sizes, width_mm))
    return blocks


def _sure(papers: Papers) -> str:
    """Return how sure the model is: an estimate, or measured here, with the tools that it is measured for."""
    here = papers.house.constants.measured_here
    tools = f" for {', '.join(words.TOOL[tool] for tool in here.tools)}" if here and here.tools else ""
    return f"{estimate_word(here)}{tools}"


def _panel(
    papers: Papers, panel: PanelSheet, spots: tuple[Spot, ...], sizes: Sizes, width_mm: float
) -> list[Block]:
    blocks = [whole(panel_title(panel, sizes, width_mm), gap_mm=1.5, keep_next=True)]
    shown: list[Ruler] = []
    for ruler in (ruler_of(papers, spot) for spot in spots):
        if any(_alike(ruler, other) for other in shown):
            continue
        shown.append(ruler)
        stack = Stack(sizes, width_mm)
        stack.text(ruler.title, sizes.body_pt, bold=True, tag="h3")
        _picture(stack, ruler_figure(ruler, width_mm))
        blocks.append(whole(stack, gap_mm=2.0))
    return blocks + _drawn(papers, panel.id, sizes, width_mm)


def _alike(one: Ruler, other: Ruler) -> bool:
    """Say whether a ruler adds nothing: the same range, choice and risks; a face has no hand limit."""
    told = one.hand_limit in {None, other.hand_limit} and one.done in {None, other.done}
    plain = [ruler._replace(title="", hand_limit=None, done=None) for ruler in (one, other)]
    return told and plain[0] == plain[1]


def _drawn(papers: Papers, panel: str, sizes: Sizes, width_mm: float) -> list[Block]:
    """Return the scratch that decides and the grit steps, two or three drawings side by side."""
    spot = governing_spot(papers, panel)
    stairs = staircases_of(papers, panel)
    beside, each = 2, (width_mm - _APART_MM) / 2
    stack = Stack(sizes, width_mm)
    figures: list[Figure] = []
    if spot is not None and spot.finish is not None:
        where = f"{papers.where(spot.id)}, {spot.finish.chosen} with {words.TOOL[spot.finish.tool]}"
        stack.text(f"The scratch that decides, to scale: {where}", sizes.body_pt, bold=True, tag="h3")
        cases = scratches_of(papers, spot)
        beside = 3 if len(cases) == 2 and [len(case.stairs) for case in stairs] == [1] else 2
        each = (width_mm - (beside - 1) * _APART_MM) / beside
        scale = min((fitting_scale(case, each, _SCRATCH_MM) for case in cases), default=1.0)
        figures += [scratch_figure(case, each, _SCRATCH_MM, scale) for case in cases]
    figures += [staircase_figure(case, each) for case in stairs if len(case.stairs) <= _SHORT]
    blocks = []
    for start in range(0, len(figures), beside):
        _side_by_side(stack, figures[start : start + beside])
        blocks.append(whole(stack, gap_mm=2.0))
        stack = Stack(sizes, width_mm)
    for case in stairs:
        if len(case.stairs) > _SHORT:
            _picture(stack, staircase_figure(case, width_mm))
            blocks.append(whole(stack, gap_mm=2.0))
            stack = Stack(sizes, width_mm)
    return blocks


def _picture(stack: Stack, figure: Figure) -> None:
    stack.leaves.append(PlacedFigure(stack.x, stack.y, figure))
    stack.gap(figure.height_mm)


def _side_by_side(stack: Stack, figures: list[Figure]) -> None:
    x = 0.0
    for figure in figures:
        stack.leaves.append(PlacedFigure(x, stack.y, figure))
        x += figure.width_mm + _APART_MM
    stack.gap(max((figure.height_mm for figure in figures), default=0.0))
