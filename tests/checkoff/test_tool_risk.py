"""A DA without its soft pad: held where the line model says that its lines would show, told elsewhere."""

import datetime as dt

import pytest

from prepadvisor.checkoff import Gate, gate
from prepadvisor.files import load_house
from prepadvisor.planning import advise
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House

NOON = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def house() -> House:
    """Return the shipped standards."""
    return load_house()


def _gate(house: House, flake: str, tool: str, grade: str) -> Gate:
    job = Job.model_validate(
        {
            "job": {"number": "1"},
            "colour": {"flake": flake, "stages": 2, "tone": "light"},
            "panel": [
                {
                    "id": "door", "kind": "front-door", "role": "blend", "surface": "aged-clear",
                    "length_mm": 1050, "height_mm": 640, "colour_from": ["front"], "colour_mm": 150,
                    "fade_mm": 400,
                    "feature": [{"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "machine"}],
                }
            ],
            "check": [
                {
                    "at": NOON, "by": "KM", "panel": "door", "feature": "face", "step": "sanded",
                    "tool": tool, "grade": grade,
                }
            ],
        }
    )  # fmt: skip
    return gate(job, advise(job, house), house, NOON)


def _why(said: Gate) -> str:
    return " | ".join(hold.why for hold in said.holds if hold.place == "door/face")


def test_without_the_soft_pad_very_fine_flake_shows_the_lines_and_holds(house: House) -> None:
    """Risk 0.42 of 0.25 for a plain DA with P1000 in the fade, where the soft pad has 0.246.

    Both figures by the line model's equation with 0.050 and 0.039 of the grain as depth, no wet bed.
    """
    said = _why(_gate(house, "very-fine", "da", "P1000"))
    assert "risk that a line shows 0.42 of 0.25 allowed in fade" in said


def test_a_finer_grade_makes_up_for_the_missing_pad(house: House) -> None:
    """P1500 without the pad cuts less deep than P1000 with it."""
    said = _gate(house, "very-fine", "da", "P1500")
    assert "scratches" not in _why(said)
    assert any("da scratches deeper than the da-soft" in told for told in said.told)


@pytest.mark.parametrize(("flake", "grade"), [("solid", "P800"), ("coarse", "P800"), ("fine", "P1000")])
def test_where_no_line_would_show_it_is_only_told(house: House, flake: str, grade: str) -> None:
    """Coarser flakes bridge the deeper groove as well."""
    said = _gate(house, flake, "da", grade)
    assert "scratches" not in _why(said)
    assert any("da scratches deeper than the da-soft" in told for told in said.told)


def test_what_was_asked_is_never_held_for_its_tool(house: House) -> None:
    """The grade and tool of the card stand."""
    said = _gate(house, "very-fine", "da-soft", "P1000")
    assert "scratches" not in _why(said)
