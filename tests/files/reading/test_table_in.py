"""Tables as spreadsheets and people really save them: read right, or refused with the line, and no row lost.

Quotes as in RFC 4180 (memory); "sep=;" and decimal commas are what spreadsheets write (practice).
"""

import datetime as dt

import pytest

from prepadvisor.files.tables import panels_of
from prepadvisor.records import BadInputError, PanelRow

_DAY = dt.date(2026, 4, 1)
_HEAD = "flake,tool,grade,coats,shows,note"
_ROW = "very-fine,da-soft,P800,1,yes,"


def _read(*lines: str, end: str = "\n", bom: bool = False) -> list[PanelRow]:
    return panels_of(("\ufeff" * bom + end.join(lines) + end).encode(), "panels.csv", _DAY)


def _faults(*lines: str) -> list[tuple[int, str]]:
    with pytest.raises(BadInputError) as caught:
        _read(*lines)
    return [(fault.line, fault.says) for fault in caught.value.faults]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("bom", [False, True])
def test_any_line_ends_and_a_mark_of_byte_order(end: str, bom: bool) -> None:
    """Two rows, each with its line."""
    assert [row.line for row in _read(_HEAD, _ROW, _ROW, end=end, bom=bom)] == [2, 3]


def test_a_spreadsheet_with_a_decimal_comma() -> None:
    """Its sep line, semicolons, 8,5 for 8.5, empty columns and rows at the end."""
    rows = _read(
        "sep=;",
        "flake_um;tool;grade;coats;shows;;",
        "8,5;da-soft;P800;1,0;yes;;",
        ";;;;;;",
        "12,25;da;P600;0;no;;",
    )
    assert [(row.flake_um, row.coats, row.line) for row in rows] == [(8.5, 1, 3), (12.25, 0, 5)]


def test_a_comma_that_may_mean_thousands_is_asked_about() -> None:
    """Three digits after it, or a comma between commas, stay refused."""
    assert _faults("flake_um;distance_mm;tool;grade;shows", "8,5;1,000;da;P800;yes") == [
        (2, 'distance_mm: "1,000" is no number')
    ]
    assert _faults("flake_um,tool,grade,shows", '"8,5",da,P800,yes') == [(2, 'flake_um: "8,5" is no number')]


def test_a_note_of_two_lines() -> None:
    """A line break in quotes is a blank; the rows after it keep their lines."""
    rows = _read(_HEAD, _ROW + '"first line,', 'then ""more"""', _ROW)
    assert [(row.note, row.line) for row in rows] == [('first line, then "more"', 2), ("", 4)]


def test_a_quote_that_is_not_closed_swallows_no_row() -> None:
    """To the end of the file, or up to the next stray quote: told at the line where it opens."""
    assert _faults(_HEAD, _ROW + '"2 coats', _ROW, _ROW) == [
        (2, "a quote is opened here and not closed, or closed within a cell")
    ]
    assert _faults(_HEAD, _ROW + '"2 coats', _ROW, _ROW + 'dry"', _ROW)[0] == (
        2, "a quote is opened here and closed on line 4: rows stand within it",
    )  # fmt: skip
    assert _faults(_HEAD, _ROW + '"2" coats', "very-fine,da-soft,800,1,yes,")[0][0] == 2


def test_a_huge_cell_is_a_fault_as_any() -> None:
    """Past the limit of the reader beneath: no crash."""
    assert _faults(_HEAD, _ROW + "x" * 300_000) == [(2, "note: over 400 letters")]


def test_words_as_a_person_types_them() -> None:
    """Capitals and blanks for the hyphen."""
    (row,) = _read("Flake, Tool ,GRADE,Shows", "Very fine, DA-soft ,p800,Yes")
    assert (row.flake, row.tool, row.grade, row.shows) == ("very-fine", "da-soft", "P800", "yes")


def test_another_code_page_hides_no_bad_row() -> None:
    """As a spreadsheet saves it: the page and each row that cannot be right, together; nothing is read."""
    text = "\n".join((_HEAD, _ROW + "café", "fyne,da-soft,800,0,maybe,"))
    for page in ("cp1252", "utf-16"):
        with pytest.raises(BadInputError) as caught:
            panels_of(text.encode(page), "panels.csv", _DAY)
        said = " ".join(fault.says for fault in caught.value.faults)
        for words in ("UTF-", "fyne", "has no P", "maybe"):
            assert words in said, (page, words)
