"""From what a card is made from to printed pages: the facts, the drawings, and the sheet that shows why."""

from functools import partial
from typing import TYPE_CHECKING

from prepadvisor.cards.figures.drawing import DrawnPanel, panel_drawing
from prepadvisor.cards.figures.panel_figure import panel_figure, panel_space
from prepadvisor.cards.page.pages import Pages, PanelArt, card_pages
from prepadvisor.cards.page.typeface import PAPERS, PaperName
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cases import panel_shapes

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.cards.sheet.record import CardSheet


def set_card(papers: "Papers", *, paper: PaperName = "a4", sheets: str = "first") -> Pages:
    """Set a job's card on pages.

    Args:
        papers: what the card is made from.
        paper: the paper.
        sheets: "first", or "all" for the sheet that shows why as well.
    """
    sheet = card_sheet(papers)
    draws = {
        name: PanelArt(partial(panel_figure, drawing), partial(panel_space, drawing))
        for name, drawing in drawings(papers, sheet).items()
    }
    training = None
    if sheets == "all":
        from prepadvisor.cards.explain.training import training_blocks
        from prepadvisor.cards.explain.training_facts import training_of

        training = training_blocks(training_of(papers), sheet, PAPERS[paper].room_mm[0])
    return card_pages(sheet, draws, paper, training)


def drawings(papers: "Papers", sheet: "CardSheet") -> dict[str, DrawnPanel]:
    """Return the drawing of each panel by its id."""
    shop, outlines = papers.house.shop, papers.house.outlines
    sources = {panel.id: panel for panel in papers.job.panel}
    advised = {panel.id: panel for panel in papers.advice.panels}
    found = {}
    for panel in sheet.panels:
        source = sources[panel.id]
        outline = outlines.get(source.kind)
        places = papers.places_of[panel.id]
        shapes = panel_shapes(source, outline, shop.mist_mm)
        stands = panel_shapes(papers.job_panels[panel.id], outline, shop.mist_mm)
        drawn = panel_drawing(
            source,
            outline,
            advised[panel.id],
            panel.rows,
            shapes._replace(patches=stands.patches),  # a patch as large as its primer, zones as stated
            unseen=frozenset(place.feature for place in places if not place.seen),
            overlap_mm=shop.wet_bed.overlap_mm,
            units=papers.units,
        )
        if papers.stage != "paint":
            drawn = drawn._replace(bed=None, bed_need="no")
        numbers = {place.feature: papers.words.number(place) for place in places}
        found[panel.id] = drawn._replace(
            patches=tuple(each._replace(number=numbers[each.feature]) for each in drawn.patches)
        )
    return found
