"""`card --to pdf`: a hint where the package is missing, one file for a day's jobs, ticks that print."""

import io
import sys
from pathlib import Path

import pypdf
import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

SOLID, VAPOUR = (str(demo_jobs_dir() / f"{name}.toml") for name in ("solid", "vapour-bonnet"))


def test_without_fpdf2_one_line_says_what_to_install(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exit status 2 and no file."""
    monkeypatch.setitem(sys.modules, "fpdf", None)
    target = tmp_path / "card.pdf"
    assert main(["card", SOLID, "--to", "pdf", "--out", str(target)]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "prepadvisor[pdf]" in told
    assert not target.exists()


def test_several_jobs_go_into_one_pdf_with_a_bookmark_each(tmp_path: Path) -> None:
    """In the order they were named."""
    target = tmp_path / "day.pdf"
    assert main(["card", SOLID, VAPOUR, "--out", str(target)]) == 0
    reader = pypdf.PdfReader(io.BytesIO(target.read_bytes()))
    assert [str(mark.title) for mark in reader.outline] == [  # type: ignore[union-attr]
        "Prep card 1031 Slate yard",
        "Prep card 1046 Poured mirror",
    ]


def test_the_sheet_that_tells_why_comes_when_asked_for(tmp_path: Path) -> None:
    """With `--sheets all`, on Letter too."""
    pages = {}
    for sheets in ("first", "all"):
        target = tmp_path / f"{sheets}.pdf"
        options = ["--paper", "letter", "--sheets", sheets, "--out", str(target)]
        assert main(["card", VAPOUR, *options]) == 0
        reader = pypdf.PdfReader(io.BytesIO(target.read_bytes()))
        pages[sheets] = [page.extract_text() for page in reader.pages]
    assert len(pages["all"]) > len(pages["first"])
    assert not any("WHY: what decides" in text for text in pages["first"])
    assert "WHY: what decides" in pages["all"][len(pages["first"])]
