"""The second sheet, for training and the lead: rulers, the scratch under its flake, stairs, reasons."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.cards.explain.ask import deciding_spots, governing_spot
from prepadvisor.cards.explain.section import source
from prepadvisor.cards.explain.training_facts import ruler_of, scratches_of, staircases_of
from prepadvisor.cards.figures.ruler import Ruler, ruler_figure, staircase_figure
from prepadvisor.cards.figures.scratch import fitting_scale, scratch_figure
from prepadvisor.cards.page.block import Block, Extent, Stack, whole
from prepadvisor.cards.page.leaf import Cell, Column, Leaf, LeafTable, PlacedFigure, Run, TableRow
from prepadvisor.cards.page.panel import panel_title
from prepadvisor.cards.page.typeface import NORMAL, Sizes, wrap
from prepadvisor.named import NamedTuple
from prepadvisor.wording import answer_says, estimate_word, reason_says
from prepadvisor.wording import names as words

if TYPE_CHECKING:
    from prepadvisor.cards.figures.figure import Figure
    from prepadvisor.cards.sheet.papers import Papers
    from prepadvisor.cards.sheet.record import CardSheet, PanelSheet
    from prepadvisor.records import Spot

# The reasons behind the deciding places, rule by rule with its answers, layer, place and source.

_PT: Final = 8.0


_PLAIN: Final = frozenset({"practice", "estimate", "measured", "model"})
"""Sources that are no document."""


class _Said(NamedTuple):
    rule: str
    says: str


def reasons_block(papers: "Papers", spots: Sequence["Spot"], sizes: Sizes, width_mm: float) -> Block:
    """Return a table of every rule that decided at these spots; a rule stands once, with all it answers."""
    lead, again = Stack(sizes, width_mm), Stack(sizes, width_mm)
    lead.rule(0.9, after_mm=1.2)
    lead.text("Reasons", sizes.title_pt, bold=True, tag="h2")
    again.text("Reasons (goes on)", sizes.body_pt, bold=True)
    columns = _columns(width_mm)
    rows = [
        _row((reason.rule, "; ".join(answers), ", ".join(where), reason.says), columns, sizes)
        for reason, (answers, where) in _grouped(papers, spots).items()
    ]
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


def _grouped(papers: "Papers", spots: Sequence["Spot"]) -> dict[_Said, tuple[list[str], list[str]]]:
    found: dict[_Said, tuple[list[str], list[str]]] = {}
    for spot in spots:
        number = papers.number(papers.places[papers.place_of_spot[spot.id]])
        for item in spot.because:
            place = f", {item.file}:{item.line}" if item.file else ""
            reason = _Said(
                f"{item.rule} ({item.layer}{place})", f"{reason_says(item)} [{_source(papers, item.source)}]"
            )
            answers, where = found.setdefault(reason, ([], []))
            if (answer := answer_says(item.output, item.value, papers.units)) not in answers:
                answers.append(answer)
            if number not in where:
                where.append(number)
    return found


def _source(papers: "Papers", name: str) -> str:
    return name if name in _PLAIN else source(papers, name)


def _columns(width_mm: float) -> tuple[Column, ...]:
    fixed = (Column("rule (layer, file:line)", 47.0), Column("answers", 44.0), Column("at", 18.0))
    return (*fixed, Column("what it says [source]", width_mm - sum(column.width_mm for column in fixed)))


def _row(texts: tuple[str, ...], columns: tuple[Column, ...], sizes: Sizes) -> TableRow:
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


def training_blocks(papers: "Papers", sheet: "CardSheet", width_mm: float) -> list[Block]:
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


def _sure(papers: "Papers") -> str:
    """Return how sure the model is: an estimate, or measured here, with the tools that it is measured for."""
    here = papers.house.constants.measured_here
    tools = f" for {', '.join(words.TOOL[tool] for tool in here.tools)}" if here and here.tools else ""
    return f"{estimate_word(here)}{tools}"


def _panel(
    papers: "Papers", panel: "PanelSheet", spots: tuple["Spot", ...], sizes: Sizes, width_mm: float
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


def _drawn(papers: "Papers", panel: str, sizes: Sizes, width_mm: float) -> list[Block]:
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


def _picture(stack: Stack, figure: "Figure") -> None:
    stack.leaves.append(PlacedFigure(stack.x, stack.y, figure))
    stack.gap(figure.height_mm)


def _side_by_side(stack: Stack, figures: list["Figure"]) -> None:
    x = 0.0
    for figure in figures:
        stack.leaves.append(PlacedFigure(x, stack.y, figure))
        x += figure.width_mm + _APART_MM
    stack.gap(max((figure.height_mm for figure in figures), default=0.0))
