"""The reasons behind the deciding places, rule by rule with its answers, layer, place and source."""

from collections.abc import Sequence
from typing import Final

from prepadvisor.cards.explain.section import source
from prepadvisor.cards.page.block import Block, Stack
from prepadvisor.cards.page.fit import Extent
from prepadvisor.cards.page.leaf import Cell, Column, Leaf, LeafTable, Run, TableRow
from prepadvisor.cards.page.sizes import Sizes
from prepadvisor.cards.page.typeface import wrap
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import Spot
from prepadvisor.wording.remarks import reason_says
from prepadvisor.wording.standards import answer_says

_PT: Final = 8.0


_PLAIN: Final = frozenset({"practice", "estimate", "measured", "model"})
"""Sources that are no document."""


class _Said(NamedTuple):
    rule: str
    says: str


def reasons_block(papers: Papers, spots: Sequence[Spot], sizes: Sizes, width_mm: float) -> Block:
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


def _grouped(papers: Papers, spots: Sequence[Spot]) -> dict[_Said, tuple[list[str], list[str]]]:
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


def _source(papers: Papers, name: str) -> str:
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
