"""The PDF card: any name prints, the same card is the same bytes, a day's jobs have bookmarks."""

import datetime as dt
import io
from collections.abc import Callable
from typing import Any

import pypdf
import pytest

from prepadvisor.cards.page.ink import in_print_order
from prepadvisor.cards.page.pdf import write_pdf
from prepadvisor.cards.page.typeface import STAND_IN
from prepadvisor.cards.sheet.papers import Papers


def reader_of(worked: Any, **options: Any) -> pypdf.PdfReader:
    """Write a worked job as a PDF and open it with another library."""
    return pypdf.PdfReader(
        io.BytesIO(write_pdf([Papers(worked.job, worked.advice, worked.house)], **options))
    )


def text_of(reader: pypdf.PdfReader) -> str:
    """All text, without white space, in the order it was printed."""
    return "".join(map(squeezed, reader.pages))


def squeezed(page: pypdf.PageObject) -> str:
    """A page's text without white space."""
    return "".join(page.extract_text().split())


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.3, 841.9)), ("letter", (612.0, 792.0))])
def test_the_page_has_the_size_of_its_paper(paper: str, size: tuple[float, float], worked: Any) -> None:
    """ISO 216 A4 210 × 297 mm, Letter 8.5 × 11 inch, in points of 1/72 inch."""
    box = reader_of(worked, paper=paper).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.2)


def test_the_same_card_is_the_same_bytes(worked: Any) -> None:
    """So a shop can tell whether a card changed."""
    one, other = (write_pdf([Papers(worked.job, worked.advice, worked.house)]) for _ in range(2))
    assert one == other


def test_the_time_it_was_made_is_the_time_it_is_told(worked: Any) -> None:
    """In the file's own data."""
    at = dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)
    made = reader_of(worked, made_at=at).metadata
    assert made is not None
    assert made.creation_date == at


def test_the_file_says_what_it_is(worked: Any) -> None:
    """Title, subject, maker and language."""
    reader = reader_of(worked)
    assert reader.metadata is not None
    assert reader.metadata.title == "Prep card 1042 Harbour mist"
    assert str(reader.metadata.creator).startswith("prepadvisor ")
    root: Any = reader.trailer["/Root"]
    assert root["/Lang"] == "en"


def test_both_faces_are_inside_the_file(worked: Any) -> None:
    """Each font with its letters embedded (ISO 32000-1, 9.9)."""
    resources: Any = reader_of(worked).pages[0]["/Resources"]
    fonts = resources["/Font"]
    for font in fonts.values():
        inner = font.get_object()["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in inner["/FontDescriptor"]


def test_several_jobs_have_a_bookmark_each(worked: Any, held: Any) -> None:
    """On the page where each starts; one job needs none."""
    whole = write_pdf([Papers(each.job, each.advice, each.house) for each in (worked, held)])
    reader = pypdf.PdfReader(io.BytesIO(whole))
    marks = [reader.get_destination_page_number(mark) for mark in reader.outline]  # type: ignore[arg-type]
    assert marks[0] == 0
    assert len(marks) == 2
    assert reader_of(worked).outline == []


def test_a_whole_days_file_is_called_by_how_many_jobs_it_has(worked: Any) -> None:
    """A window's title does not hold twenty names."""
    whole = write_pdf([Papers(worked.job, worked.advice, worked.house)] * 4)
    reader = pypdf.PdfReader(io.BytesIO(whole))
    assert reader.metadata is not None
    assert reader.metadata.title == "Prep cards of 4 jobs"
    assert len(reader.outline) == 4


@pytest.mark.parametrize("name", ["Łódź Ørsted ½", "Привет мир", "Καλημέρα", "W" * 300, "<b>&amp;</b>"])
def test_any_name_in_the_typeface_prints_whole(name: str, renamed: Callable[[str], Any]) -> None:
    """Latin, Greek, Cyrillic, very long, and what would be mark-up elsewhere."""
    pages = reader_of(renamed(name)).pages
    assert any("".join(name.split()) in squeezed(page) for page in pages)


def test_a_sign_the_typeface_lacks_leaves_a_mark_in_its_place(renamed: Callable[[str], Any]) -> None:
    """Two Chinese characters and a car."""
    pages = reader_of(renamed("mist 中文🚗")).pages
    assert any(f"mist{STAND_IN * 3}" in squeezed(page) for page in pages)


def test_a_right_to_left_name_stands_in_reading_order(renamed: Callable[[str], Any]) -> None:
    """Hebrew runs from the right (UAX #9): drawn from the left its last letter comes first."""
    name = "שלום"
    assert in_print_order(f"job {name} 7") == f"job 7 {name[::-1]}"
    printed = map(squeezed, reader_of(renamed(name)).pages)
    assert any(name in page or name[::-1] in page for page in printed)


def test_ticked_boxes_are_ticked(worked: Any) -> None:
    """What the check-off has stands ticked."""
    first, *rest = worked.advice.work.tasks
    work = worked.advice.work._replace(tasks=(first._replace(state="done"), *rest))
    ticked = reader_of(worked._replace(advice=worked.advice._replace(work=work)))
    assert (text_of(ticked).count("✓"), text_of(reader_of(worked)).count("✓")) == (1, 0)
