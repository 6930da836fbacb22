"""The wall table as a lead gets it: text in the three words, JSON for programs, plain sentences for slips."""

import json
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.cli import lines as in_lines
from prepadvisor.cli.lines_sheet import MEASURED
from prepadvisor.cli.main import main
from prepadvisor.records import FLAKES, GRADES, TOOLS, Colour

_P80_TO_P2500 = GRADES[GRADES.index("P80") : GRADES.index("P2500") + 1]


def _out(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["lines", *words]) == 0
    return capsys.readouterr().out


def _json(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    data = json.loads(_out(capsys, "--json", *words))
    assert isinstance(data, dict)
    return data


def _row(data: dict[str, Any], tool: str, grade: str) -> dict[str, Any]:
    found = [row for row in data["rows"] if (row["tool"], row["grade"]) == (tool, grade)]
    assert len(found) == 1
    row = found[0]
    assert isinstance(row, dict)
    return row


def test_json_has_a_row_for_every_tool_and_grade_from_p80_to_p2500(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """In order, each once."""
    rows = _json(capsys, "--coats", "1")["rows"]
    assert [(row["tool"], row["grade"]) for row in rows] == [(t, g) for t in TOOLS for g in _P80_TO_P2500]


def test_a_json_row_has_its_five_keys(capsys: pytest.CaptureFixture[str]) -> None:
    """Keys are added, never renamed."""
    row = _json(capsys, "--coats", "2")["rows"][0]
    assert {"tool", "grade", "coats", "arcsec", "risk"} <= set(row)
    assert row["coats"] == 2


@pytest.mark.regression
def test_the_shipped_numbers_of_one_row(capsys: pytest.CaptureFixture[str]) -> None:
    """P1000 by DA with interface pad, very fine flake, fade, no wet bed: checked against scipy elsewhere."""
    row = _row(_json(capsys), "da-soft", "P1000")
    assert row["arcsec"] == pytest.approx(0.2185, abs=1e-4)
    assert row["risk"] == pytest.approx(0.2463, abs=1e-4)


def test_the_table_starts_with_very_fine_flake_in_the_fade_without_wet_bed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The strictest common case."""
    assert _out(capsys) == _out(capsys, "--flake", "very-fine", "--zone", "fade", "--coats", "0")


@pytest.mark.parametrize("flake", [*FLAKES, "unknown"])
@pytest.mark.parametrize("rest", [("--coats", "0"), ("--coats", "10", "--zone", "colour")])
def test_no_line_of_the_text_is_wider_than_80_columns(
    capsys: pytest.CaptureFixture[str], flake: str, rest: tuple[str, ...]
) -> None:
    """Any printer, any terminal."""
    assert [line for line in _out(capsys, "--flake", flake, *rest).splitlines() if len(line) > 80] == []


def test_no_line_is_wider_with_measured_values(capsys: pytest.CaptureFixture[str]) -> None:
    """The longest title and numbers there are."""
    measured = (
        "--flake-um",
        "123.456",
        "--tilt",
        "12.345",
        "--log-sd",
        "0.4567",
        "--coats",
        "10",
        "--zone",
        "colour",
    )
    text = _out(capsys, "--flake", "unknown", *measured)
    assert [line for line in text.splitlines() if len(line) > 80] == []


def test_the_words_agree_with_limit_and_risk(capsys: pytest.CaptureFixture[str]) -> None:
    """Safe within 0.25, borderline to 0.5, will show above: the limits of very fine flake in the fade."""
    lines = _out(capsys).splitlines()
    sander = lines[lines.index("SANDER: short arcs") :]
    p1000 = next(line for line in sander if line.startswith("P1000"))
    assert p1000.split() == ["P1000", "shows", "0.65", "border", "0.42", "safe", "0.25", "not", "needed"]


@pytest.mark.practice
def test_the_coarsest_safe_grade_by_da_with_interface_pad_is_p1000(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Practice for very fine flake."""
    assert "DA, interface pad: P1000" in _out(capsys).replace("\u00a0", " ")


def test_what_is_assumption_and_what_is_published_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """By name, from the constants themselves."""
    text = " ".join(_out(capsys, "--numbers").split())
    assert "published: grain sizes, thinnest line seen" in text
    assert "assumption: depth by tool, groove width" in text


def test_a_measured_value_counts_as_measured(capsys: pytest.CaptureFixture[str]) -> None:
    """And no longer as practice."""
    text = _out(capsys, "--flake-um", "9", "--numbers")
    assert "measured: flake size" in text
    assert "practice: colour coats underneath\n" in text


def test_a_wider_measured_flake_lowers_the_risk(capsys: pytest.CaptureFixture[str]) -> None:
    """The option reaches the model."""
    small, large = (_json(capsys, "--flake-um", size) for size in ("8", "12"))
    assert _row(large, "da", "P800")["risk"] < _row(small, "da", "P800")["risk"]


def test_a_solid_colour_has_a_sentence_and_no_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    """No flake: nothing may be called safe by the model."""
    assert "the house standards alone decide" in " ".join(_out(capsys, "--flake", "solid").split())
    assert {row["risk"] for row in _json(capsys, "--flake", "solid")["rows"]} == {0.0}


@pytest.mark.parametrize(
    ("us", "uk"), [(("--flake", "vapor"), ("--flake", "vapour")), (("--zone", "color"), ("--zone", "colour"))]
)
def test_us_spelling_is_no_fault(
    capsys: pytest.CaptureFixture[str], us: tuple[str, str], uk: tuple[str, str]
) -> None:
    """Both spellings are the trade's."""
    assert _out(capsys, *us) == _out(capsys, *uk)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--flake", "fin"), 'did you mean "fine"?'),
        (("--flake", "glitter"), "take one of solid, coarse"),
        (("--zone", "clear"), "take one of colour, fade"),
        (("--coats", "-1"), "a whole number from 0 to 10"),
        (("--coats", "1.5"), "a whole number from 0 to 10"),
        (("--coats", "99"), "a whole number from 0 to 10"),
        (("--flake-um", "0"), "a number from 1 to 200 µm"),
        (("--flake-um", "nan"), "a number from 1 to 200 µm"),
        (("--flake-um", "inf"), "a number from 1 to 200 µm"),
        (("--tilt", "flat"), "a number from 0.5 to 45 degrees"),
        (("--log-sd", "3"), "a number from 0.01 to 2"),
        (("--flake", "solid", "--tilt", "7"), "a solid colour has no flake to measure"),
    ],
)
def test_a_slip_is_one_plain_sentence_and_exit_2(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str
) -> None:
    """Nothing on standard output, one line on standard error."""
    assert main(["lines", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, len(err.splitlines()), says in err) == ("", 1, True)


def test_all_slips_are_told_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    """Rather than one by one."""
    assert main(["lines", "--coats", "x", "--zone", "y", "--tilt", "z"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 3


@pytest.mark.parametrize(
    ("option", "key"), [("flake_um", "flake_um"), ("tilt", "tilt_deg"), ("log_sd", "log_sd")]
)
def test_measured_values_have_the_ranges_of_a_job_file(option: str, key: str) -> None:
    """The ends are taken, a hair beyond is not."""
    low, high, _ = MEASURED[option]
    Colour.model_validate({key: low})
    Colour.model_validate({key: high})
    for beyond in (low * 0.999, high * 1.001):
        with pytest.raises(ValueError, match=key):
            Colour.model_validate({key: beyond})


def test_a_houses_own_constants_count(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Seen from twice as far every line is half as strong; the house is named in the table."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "constants.toml").write_text(
        '[sight]\nviewing_distance_mm = { value = 1000.0, source = "house" }\n', encoding="utf-8"
    )
    near = _row(_json(capsys), "da", "P800")["arcsec"]
    far = _row(_json(capsys, "--house", str(house)), "da", "P800")["arcsec"]
    assert far == pytest.approx(near / 2)
    text = _out(capsys, "--numbers", "--house", str(house))
    assert "Seen from 1000 mm" in text
    assert str(house) in "".join(line.strip() for line in text.splitlines())


def test_help_shows_examples_first_hand(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 0 with examples."""
    assert main(["lines", "--help"]) == 0
    assert "prepadvisor lines --flake fine --coats 2" in capsys.readouterr().out


def test_the_table_ends_at_the_grade_that_still_keys(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing finer than P1500 keys on clear (rule key-on-clear): finer rows would tempt."""
    text = _out(capsys)
    assert "Nothing finer than P1500 keys" in text
    assert not any(line.startswith(("P2000", "P2500")) for line in text.splitlines())


@pytest.mark.parametrize("flake", [*FLAKES[1:], "unknown"])
def test_nothing_too_fine_to_key_is_called_safe_and_no_word_of_a_file_stands_there(
    flake: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Danger: P2000 is safe under very fine flake and holds no clear."""
    text = _out(capsys, "--flake", flake)
    safe = text.partition("COARSEST SAFE GRADE")[2].partition("BY HAND")[0]
    assert "P2000" not in safe
    assert "P2500" not in safe
    words = {word.strip(",:") for word in text.split()} - {"log-sd"}
    assert not words & {*TOOLS, *FLAKES} - {"block", "solid", "coarse", "medium", "fine", "vapour"}
    assert [tool for tool in TOOLS if tool not in in_lines._TOOL] == []


def test_a_column_tells_what_a_wet_bed_does_and_never_buys_a_coarser_grade(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """P1500 by pad is safe under two coats; P1200 is too coarse for a last touch, whatever lies over it."""
    lines = _out(capsys).splitlines()
    by_hand = lines[lines.index("BY HAND: straight lines") : lines.index("SANDER: short arcs")]
    assert by_hand[1].endswith("bed for pad")
    assert next(line for line in by_hand if line.startswith("P1500")).endswith("2 coats 0.12")
    assert not any(line.startswith("P1200") and "coats" in line for line in by_hand)


def test_no_limit_of_a_rule_is_said_as_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where a house withdraws the rule, JSON has null, and the table says what it takes."""
    (tmp_path / "rules.toml").write_text('[[withdraw]]\nrule = "risk-fade"\nbecause = "a trial"\n', "utf-8")
    asked = ("--flake", "medium", "--house", str(tmp_path))
    assert _json(capsys, *asked)["risk_limit"] is None
    printed = _out(capsys, *asked)
    assert "no rule sets one" in printed
    assert max(map(len, printed.splitlines())) <= 80
