"""From a job and its advice to printed pages: the facts, the drawings, and the sheet that shows why."""

from functools import partial
from typing import TYPE_CHECKING

from prepadvisor.cards.figures.drawing import DrawnPanel, panel_drawing
from prepadvisor.cards.figures.panel_figure import panel_figure, panel_space
from prepadvisor.cards.page.pages import Pages, PanelArt, card_pages
from prepadvisor.cards.page.typeface import PAPERS, PaperName
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cases import zoning
from prepadvisor.wording import Units

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import CardSheet
    from prepadvisor.records import Advice, Job
    from prepadvisor.records.gate import Gate
    from prepadvisor.standards import House


def set_card(
    job: "Job",
    advice: "Advice",
    house: "House",
    *,
    paper: PaperName = "a4",
    sheets: str = "first",
    gate: "Gate | None" = None,
) -> Pages:
    """Set a job's card on pages.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        paper: the paper.
        sheets: "first", or "all" for the sheet that shows why as well.
        gate: where the log leaves the work; None leaves every box open.
    """
    sheet = card_sheet(job, advice, house, gate)
    draws = {
        name: PanelArt(partial(panel_figure, drawing), partial(panel_space, drawing))
        for name, drawing in drawings(job, advice, house, sheet).items()
    }
    training = None
    if sheets == "all":
        from prepadvisor.cards.explain.training import training_blocks

        training = training_blocks(Papers(job, advice, house, gate), sheet, PAPERS[paper].room_mm[0])
    return card_pages(sheet, draws, paper, training)


def drawings(job: "Job", advice: "Advice", house: "House", sheet: "CardSheet") -> dict[str, DrawnPanel]:
    """Return the drawing of each panel by its id."""
    house = house.on(job)
    sources = {panel.id: panel for panel in job.panel}
    advised = {panel.id: panel for panel in advice.panels}
    found, units = {}, Units(advice.job.units == "imperial")
    for panel in sheet.panels:
        source = sources[panel.id]
        found[panel.id] = panel_drawing(
            source,
            house.outlines.get(source.kind),
            advised[panel.id],
            panel.rows,
            zoning(source, house.shop.mist_mm).layout,
            unseen=frozenset(p.feature for p in advice.places if p.panel == panel.id and not p.seen),
            overlap_mm=house.shop.wet_bed.overlap_mm,
            units=units,
        )
    return found
