"""The HTML card: strict, self-contained, readable without seeing it, harmless whatever a name says."""

import json
import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest

from prepadvisor.cards import write_card
from prepadvisor.files import demo_jobs_dir
from prepadvisor.wording import advice_json

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = (
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "'; DROP TABLE jobs; --", "{{ 7 * 7 }}",
    "עגלה ירוקה", "سيارة زرقاء", "🚗🎨 mist", "W" * 300, "a\u0301\u0301\u0301 zalgo", "]]></svg><b>",
)  # fmt: skip


def page_of(worked: Any, sheets: str = "all") -> str:
    """Write a worked job's card as HTML."""
    page = write_card(worked.job, worked.advice, worked.house, to="html", sheets=sheets)  # type: ignore[arg-type]
    assert isinstance(page, str)
    return page


@pytest.fixture(scope="module")
def page(worked: Any) -> str:
    """Return the worked job's card as HTML."""
    return page_of(worked)


@pytest.fixture(scope="module")
def root(page: str) -> Element:
    """Return that page as parsed. Nobody changes it."""
    return parsed(page)


def parsed(page: str) -> Element:
    """Parse strictly: html5lib raises at the first parse error of the WHATWG algorithm.

    The letters of the typeface are left out first: they are most of the file and none of the page.
    """
    root: Element = html5lib.HTMLParser(strict=True).parse(re.sub(r"base64,[^)]*", "base64,", page))
    return root


def shown(element: Element) -> str:
    """Return the text a reader sees, without what a style or a drawing's description says."""
    if element.tag in {f"{HTML}style", f"{HTML}title", f"{SVG}title", f"{SVG}desc", f"{HTML}caption"}:
        return element.tail or ""
    inner = "".join(shown(child) for child in element)
    return (element.text or "") + inner + (element.tail or "")


@pytest.mark.parametrize("sheets", ["first", "all"])
def test_the_page_parses_without_one_error(sheets: str, worked: Any) -> None:
    """By html5lib in strict mode."""
    assert parsed(page_of(worked, sheets)).tag == f"{HTML}html"


def test_nothing_is_run_and_nothing_is_fetched(page: str) -> None:
    """No script, no handler, no link, no address but of data inside the file and of the SVG standard."""
    root = parsed(page)
    tags = {element.tag.split("}")[1] for element in root.iter()}
    assert tags & {"script", "iframe", "object", "embed", "link", "img", "form", "base"} == set()
    names = {name for element in root.iter() for name in element.attrib}
    assert [name for name in names if str(name).lower().startswith("on")] == []
    assert set(re.findall(r"url\((\w+):", page)) == {"data"}
    assert set(re.findall(r"https?://[^\"' )>]+", page)) == {"http://www.w3.org/2000/svg"}
    assert "@import" not in page


def test_language_title_and_headings_are_there_for_a_screen_reader(root: Element) -> None:
    """WCAG 2.2, 3.1.1, 2.4.2 and 1.3.1: one h1, no level left out on the way down."""
    assert root.get("lang") == "en"
    assert root.findtext(f".//{HTML}title") == "Prep card 1042 Harbour mist"
    levels = [int(one.tag[-1]) for one in root.iter() if re.fullmatch(r".*\}h[1-6]", one.tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_table_names_its_columns_and_rows(root: Element) -> None:
    """WCAG 2.2, 1.3.1: a caption, a scope on every header cell, one header in every row."""
    tables = list(root.iter(f"{HTML}table"))
    assert tables
    for table in tables:
        assert (table.findtext(f"{HTML}caption") or "").strip()
        assert {cell.get("scope") for cell in table.iter(f"{HTML}th")} == {"col", "row"}
        for row in table.iter(f"{HTML}tr"):
            if "row" in (row.get("class") or "").split():
                assert len(row.findall(f"{HTML}th")) == 1


def test_every_drawing_has_a_title_and_says_what_it_shows(root: Element) -> None:
    """WCAG 2.2, 1.1.1, by the SVG's own title and desc; ids are used once."""
    drawings = list(root.iter(f"{SVG}svg"))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(drawings) >= 4
    assert len(ids) == len(set(ids))
    for drawing in drawings:
        assert drawing.get("role") == "img"
        assert set((drawing.get("aria-labelledby") or "").split()) <= set(ids)
        assert len(drawing.findtext(f"{SVG}title") or "") > 5
        assert len(drawing.findtext(f"{SVG}desc") or "") > 30


def test_every_box_says_whether_it_is_ticked(worked: Any) -> None:
    """A reader that cannot see the box hears it."""
    first, second, *rest = worked.advice.work.tasks
    states = (first._replace(state="done"), second._replace(state="held"), *rest)
    advice = worked.advice._replace(work=worked.advice.work._replace(tasks=states))
    page = write_card(worked.job, advice, worked.house, to="html")
    boxes = [one for one in parsed(str(page)).iter(f"{HTML}span") if one.get("class") in {"box", "none"}]
    assert {one.get("aria-label") for one in boxes} == {
        "box to tick",
        "ticked: done",
        "logged, but may not stand",
        "nothing owed",
    }


def test_text_and_paper_are_black_and_white(page: str) -> None:
    """Contrast 21 : 1 (WCAG 2.2, 1.4.6 asks 7 : 1); the grey is only around a sheet on a screen."""
    without_font = re.sub(r"base64,[^)]*", "", page)
    colours = {colour.lower() for colour in re.findall(r"#[0-9a-fA-F]{3,6}\b", without_font)}
    assert colours == {"#000", "#fff", "#ddd"}
    assert set(re.findall(r'(?:fill|stroke)="([^"]+)"', page)) <= {"black", "white", "none"}


def test_the_page_knows_its_paper(worked: Any) -> None:
    """The printer is told A4 or Letter, without margins of the browser's own."""
    for paper, name in (("a4", "A4"), ("letter", "letter")):
        page = write_card(worked.job, worked.advice, worked.house, to="html", paper=paper)  # type: ignore[arg-type]
        assert f"@page {{ size: {name}; margin: 0; }}" in str(page)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_name_is_printed_and_does_nothing(name: str, renamed: Callable[[str], Any]) -> None:
    """It stands on the page as text, whole, and brings no element with it."""
    page = page_of(renamed(name), "first")
    root = parsed(page)
    assert "".join(name.split()).upper() in "".join(shown(root).split()).upper()
    assert [one for one in root.iter() if one.tag in {f"{HTML}script", f"{HTML}img", f"{HTML}b"}] == []


def test_the_page_carries_its_own_typeface_and_stays_small(page: str) -> None:
    """Two faces inside; the whole card is smaller than a photograph."""
    assert page.count("data:font/woff;base64,") == 2
    assert len(page) < 400_000


@pytest.mark.parametrize("path", sorted(demo_jobs_dir().glob("*.toml")), ids=lambda path: path.stem)
def test_every_hold_of_a_demo_job_stands_on_top_of_its_page(path: Path, shipped_house: Any) -> None:
    """Above the ticks before sanding, with its mend, and each place has a row."""
    from prepadvisor.files import load_job
    from prepadvisor.planning import advise

    job = load_job(str(path), shipped_house)
    advice = advise(job, shipped_house)
    root = parsed(str(write_card(job, advice, shipped_house, to="html")))
    top = "".join(shown(root).split("BEFORE SANDING")[0].split())
    told = top.replace("→", "")
    held = json.loads(advice_json(advice))["holds"]
    missing = [hold for hold in held if "".join((hold["why"] + hold["mend"]).split()) not in told]
    assert missing == []
    rows = [row for row in root.iter(f"{HTML}tr") if "row" in (row.get("class") or "").split()]
    worked = {task.place for task in advice.work.tasks if task.stage == advice.work.stages[0].id}
    assert len(rows) >= len({place.id for place in advice.places} & worked)
