"""A card set on pages: one page where it can be, nothing dropped, type and boxes large enough for a shop."""

from collections.abc import Callable
from typing import Any, get_args

import pytest

from prepadvisor.cards.figures.figure import FigureText
from prepadvisor.cards.page.leaf import Leaf, LeafTable, PlacedFigure, TextLines, TickLine
from prepadvisor.cards.page.pages import Pages
from prepadvisor.cards.page.set_card import set_card
from prepadvisor.cards.page.typeface import BOX_MM, PAPERS, PaperName
from prepadvisor.cards.sheet.papers import Papers

each_paper = pytest.mark.parametrize("paper", get_args(PaperName))


def card_of(worked: Any, paper: PaperName = "a4", sheets: str = "first") -> Pages:
    """Set a worked job on pages."""
    return set_card(Papers(worked.job, worked.advice, worked.house), paper=paper, sheets=sheets)


def leaves(card: Pages) -> list[Leaf]:
    """All leaves of all pages."""
    return [leaf for page in card.pages for leaf in page.leaves]


def sizes_of(leaf: Leaf) -> list[float]:
    """Every type size in a leaf, in points."""
    if isinstance(leaf, TextLines | TickLine):
        return [leaf.size_pt]
    if isinstance(leaf, PlacedFigure):
        return [mark.size_pt for mark in leaf.figure.marks if isinstance(mark, FigureText)]
    if isinstance(leaf, LeafTable):
        runs = [run.size_pt for row in leaf.rows for cell in row.cells for line in cell.lines for run in line]
        return [leaf.head_pt, leaf.note_pt, *runs]
    return []


def bottom(leaf: Leaf) -> float:
    """Where a leaf ends, from the top of the paper in mm."""
    if isinstance(leaf, TextLines):
        return leaf.y + leaf.line_mm * len(leaf.lines)
    if isinstance(leaf, PlacedFigure):
        return leaf.y + leaf.figure.height_mm
    return leaf.y + (leaf.height_mm if isinstance(leaf, TickLine | LeafTable) else 0.0)


@each_paper
@pytest.mark.parametrize("rows", [1, 6, 12])
def test_up_to_twelve_rows_stand_on_one_page(
    rows: int, paper: PaperName, of_rows: Callable[..., Any]
) -> None:
    """On A4 and on Letter."""
    assert [page.label for page in card_of(of_rows(rows), paper).pages] == ["page 1 of 1"]


@each_paper
@pytest.mark.parametrize(("rows", "panels"), [(1, 1), (12, 2), (23, 1), (40, 4), (60, 1)])
def test_every_place_has_its_row_however_many_pages_it_takes(
    rows: int, panels: int, paper: PaperName, of_rows: Callable[..., Any]
) -> None:
    """In the order of the card, each with its four boxes or the sign that none is owed."""
    worked = of_rows(rows, panels)
    tables = [leaf for leaf in leaves(card_of(worked, paper)) if isinstance(leaf, LeafTable)]
    printed = [row.cells[0].lines[0][0].text for table in tables for row in table.rows]
    assert len(printed) == len(set(printed)) == len(worked.advice.places)
    assert all(sum(cell.box is not None for cell in row.cells) == 4 for table in tables for row in table.rows)


@each_paper
@pytest.mark.parametrize("sheets", ["first", "all"])
@pytest.mark.parametrize("rows", [7, 30])
def test_nothing_reaches_off_the_paper(
    rows: int, sheets: str, paper: PaperName, of_rows: Callable[..., Any]
) -> None:
    """A printer keeps about 4 mm; the margin is wider."""
    card = card_of(of_rows(rows), paper, sheets)
    form = PAPERS[paper]
    for leaf in leaves(card):
        assert leaf.x >= form.margin_mm - 0.01
        assert bottom(leaf) <= form.height_mm - form.margin_mm + 0.01
        if isinstance(leaf, TextLines):
            assert leaf.x + leaf.width_mm <= form.width_mm - form.margin_mm + 0.01


@pytest.mark.parametrize("rows", [6, 12, 30])
def test_no_type_is_under_8_points(rows: int, of_rows: Callable[..., Any]) -> None:
    """First and second sheet, drawings too."""
    assert min(size for leaf in leaves(card_of(of_rows(rows), sheets="all")) for size in sizes_of(leaf)) >= 8


@pytest.mark.parametrize("rows", [6, 12, 30])
def test_grades_in_the_rows_are_15_points_at_least(rows: int, of_rows: Callable[..., Any]) -> None:
    """Read from a metre away."""
    tables = [leaf for leaf in leaves(card_of(of_rows(rows))) if isinstance(leaf, LeafTable)]
    grades = [
        run
        for table in tables
        for row in table.rows
        for cell in row.cells[3:5]
        for line in cell.lines
        for run in line
        if run.text.startswith("P")
    ]
    assert grades
    assert min(run.size_pt for run in grades) >= 15


def test_the_four_answers_of_each_panel_are_the_largest_print(worked: Any) -> None:
    """No word on the page is larger than a big answer but the job's own number and name."""
    card = card_of(worked)
    texts = [leaf for leaf in leaves(card) if isinstance(leaf, TextLines) and leaf.tag != "h1"]
    answers = [leaf for leaf in texts if leaf.lines in {("P1000",), ("P1500",), ("2 coats",), ("P800",)}]
    others = [size for leaf in leaves(card) if leaf not in answers for size in sizes_of(leaf)]
    head = max(leaf.size_pt for leaf in leaves(card) if isinstance(leaf, TextLines) and leaf.tag == "h1")
    assert len(answers) >= 5
    assert min(leaf.size_pt for leaf in answers) >= max(size for size in others if size != head)


def test_a_tick_box_is_6_mm_and_no_box_lies_on_another(worked: Any) -> None:
    """For a pen held in a glove."""
    rows = [row for leaf in leaves(card_of(worked)) if isinstance(leaf, LeafTable) for row in leaf.rows]
    assert BOX_MM == 6.0
    assert min(row.height_mm for row in rows) >= BOX_MM


def test_every_page_says_which_job_and_which_page_it_is(of_rows: Callable[..., Any]) -> None:
    """The head is repeated."""
    card = card_of(of_rows(60), "letter")
    assert len(card.pages) > 1
    for number, page in enumerate(card.pages, start=1):
        head = [line for leaf in page.leaves if isinstance(leaf, TextLines) for line in leaf.lines][:4]
        assert head[0] == "1042 HARBOUR MIST"
        assert f"page {number} of {len(card.pages)}" in head


def test_a_long_name_stands_whole_on_the_first_page_and_short_on_the_others(
    of_rows: Callable[..., Any],
) -> None:
    """300 letters do not fill every page's head."""
    worked = of_rows(40)
    head = worked.advice.job._replace(colour="W" * 300)
    card = card_of(worked._replace(advice=worked.advice._replace(job=head)))
    first, second = (
        "".join(next(leaf for leaf in page.leaves if isinstance(leaf, TextLines)).lines).replace(" ", "")
        for page in card.pages[:2]
    )
    assert first == "1042" + "W" * 300
    assert (second[:4], second[-1]) == ("1042", "…")
    assert len(second) < 60


def test_later_pages_point_to_the_holds_on_the_first(of_rows: Callable[..., Any]) -> None:
    """Who holds only the second page is warned."""
    worked = of_rows(60, 2)
    first, second = worked.job.panel
    job = worked.job.model_copy(update={"panel": (first.model_copy(update={"special": "matt"}), second)})
    from prepadvisor.planning import advise

    card = card_of(worked._replace(job=job, advice=advise(job, worked.house)))
    later = [line for leaf in card.pages[-1].leaves if isinstance(leaf, TextLines) for line in leaf.lines]
    assert len(card.pages) > 1
    assert any(line.startswith("STOP:") and line.endswith("on page 1") for line in later)


def test_the_second_sheet_starts_on_a_page_of_its_own(worked: Any) -> None:
    """First the sheet for the car, then the one that tells why."""
    labels = [page.label for page in card_of(worked, sheets="all").pages]
    first = [label for label in labels if label.startswith("page")]
    assert labels[: len(first)] == first
    assert all(label.startswith("why, page") for label in labels[len(first) :])
    assert len(labels) > len(first)


def panel_pictures(card: Pages) -> list[PlacedFigure]:
    """Drawings of panels in printing order."""
    return [leaf for leaf in leaves(card) if isinstance(leaf, PlacedFigure)]


@each_paper
def test_a_page_with_room_to_spare_has_its_panel_drawn_large(
    paper: PaperName, of_rows: Callable[..., Any]
) -> None:
    """Two panels take two pages; a drawing 51 mm wide beside the rows would leave one of them half empty."""
    card = card_of(of_rows(8, 2), paper)
    widest = max(picture.figure.width_mm for picture in panel_pictures(card))
    assert len(card.pages) == 2
    assert widest > 80


@each_paper
@pytest.mark.parametrize(("rows", "panels"), [(1, 1), (12, 1), (16, 2), (30, 3)])
def test_drawing_a_panel_large_costs_no_page_and_loses_no_row(
    rows: int, panels: int, paper: PaperName, of_rows: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Against the same card with every drawing beside its rows."""
    roomy = card_of(of_rows(rows, panels), paper)
    monkeypatch.setattr("prepadvisor.cards.page.pages.BAND_HEIGHTS_MM", (9e9,))
    small = card_of(of_rows(rows, panels), paper)

    def numbers(card: Pages) -> list[str]:
        tables = [leaf for leaf in leaves(card) if isinstance(leaf, LeafTable)]
        return [row.cells[0].lines[0][0].text for table in tables for row in table.rows]

    assert len(roomy.pages) == len(small.pages)
    assert numbers(roomy) == numbers(small)


def test_the_sheet_that_tells_why_has_each_rule_once(of_rows: Callable[..., Any]) -> None:
    """A rule that decided on several panels stands in one row with all its places."""
    card = card_of(of_rows(16, 2), sheets="all")
    tables = [leaf for leaf in leaves(card) if isinstance(leaf, LeafTable) and leaf.title.startswith("Rules")]
    rows = [
        tuple("".join(run.text for line in row.cells[at].lines for run in line) for at in (0, 3))
        for table in tables
        for row in table.rows
    ]
    assert rows
    assert len(set(rows)) == len(rows)
