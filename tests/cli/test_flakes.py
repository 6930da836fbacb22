"""`prepadvisor flakes`: a column of diameters in, size and class out."""

import json
from pathlib import Path

import pytest

from prepadvisor.cli.main import main

_SIZES = [6.0, 7.0, 8.0, 9.0, 10.0] * 50


def _write(tmp_path: Path, text: str) -> str:
    path = tmp_path / "sizes.csv"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_with_header_without_and_counted_are_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Three ways to write the same flakes."""
    column = "\n".join(map(str, _SIZES))
    counted = "um,count\n" + "\n".join(f"{um},50" for um in (6.0, 7.0, 8.0, 9.0, 10.0))
    found = []
    for text in (column, f"um\n{column}", counted):
        assert main(["flakes", _write(tmp_path, text), "--json"]) == 0
        found.append(json.loads(capsys.readouterr().out))
    assert found[0] == found[1]
    assert found[0]["d50_um"] == pytest.approx(found[2]["d50_um"])
    assert found[0]["flakes"] == found[2]["flakes"] == 250
    assert found[0]["class"] == "very-fine"


def test_fewer_than_two_hundred_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An answer all the same."""
    assert main(["flakes", _write(tmp_path, "\n".join(map(str, _SIZES[:40])))]) == 0
    assert "at least 200" in capsys.readouterr().out


@pytest.mark.parametrize("text", ["8.0\n9.0\n", "8\nx\n" + "9\n" * 20, "um\n-3\n" + "9\n" * 20, ""])
def test_what_is_no_sample_is_refused(tmp_path: Path, text: str) -> None:
    """Too few, no number, below 0, empty."""
    assert main(["flakes", _write(tmp_path, text)]) == 2


def test_a_bad_cell_is_told_with_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a header the first line is line 1."""
    assert main(["flakes", _write(tmp_path, "8\n9\nx\n" + "9\n" * 20)]) == 2
    assert "sizes.csv:3:" in capsys.readouterr().err


@pytest.mark.parametrize("ending", ["html", "pdf"])
def test_the_step_card_is_written(tmp_path: Path, ending: str) -> None:
    """HTML and PDF of the classes in force."""
    path = tmp_path / f"steps.{ending}"
    assert main(["flakes", "--steps", str(path)]) == 0
    assert path.stat().st_size > 5_000


def test_the_guide_names_every_class(capsys: pytest.CaptureFixture[str]) -> None:
    """How each looks, and how to measure it."""
    assert main(["flakes", "--guide"]) == 0
    told = capsys.readouterr().out
    assert [
        name for name in ("coarse", "medium", "fine", "very fine", "vapour", "200") if name not in told
    ] == []
