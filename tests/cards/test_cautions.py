"""The cautions of a card against published limits and what an authority says (tests/reference/safety…)."""

import csv
import re
from pathlib import Path
from typing import Final

import pytest

from prepadvisor.cards.sheet.build import SAFETY, STANDING

TABLES: Final = Path(__file__).parents[1] / "reference"


def _rows(table: str) -> list[dict[str, str]]:
    with (TABLES / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _said(start: str) -> str:
    return next(line for line in SAFETY if line.startswith(start))


def test_the_minutes_of_sander_vibration_are_those_of_the_directive() -> None:
    """2002/44/EC, article 3: 2.5 m/s² over 8 h; A(8) = a √(t / 8 h), sanders of 7 to 10 m/s² (secondary)."""
    rows = {row["hazard"]: row["value"] for row in _rows("safety_more")}
    action = float(rows["hand-arm vibration, action value, 8 h"])
    low, high = map(float, rows["random-orbital sander, vibration, typical"].split(" to "))
    minutes = [round(480 * (action / vibration) ** 2) for vibration in (low, high)]
    assert rows["random-orbital sanding to the action value"] == f"{minutes[0]} to {minutes[1]}"
    said = [int(number) for number in re.findall(r"\d+", _said("SANDER"))]
    assert said == [minutes[1], pytest.approx(minutes[0], abs=1)]


def test_dust_is_kept_out_by_extraction_mask_and_eye_protection() -> None:
    """Without extraction 2 to 170 mg/m³ of dust, 15 allowed.

    With it 0.22 to 1.2 (Heitbrink 1994, 29 CFR 1910.1000).
    """
    rows = {row["hazard"]: row["value"] for row in _rows("safety")}
    allowed = float(rows["nuisance dust, total, 8 h"])
    without = float(rows["sanding dust without extraction"].split("-")[1])
    with_it = float(rows["sanding dust with extraction"].split("-")[1])
    assert without > allowed > with_it
    assert all(word in _said("DUST") for word in ("extraction", "mask", "eye protection"))


def test_isocyanates_want_supplied_air_until_the_booth_is_cleared() -> None:
    """Spraying 206 µg/m³ (Woskie 2004), 70 allowed over 15 min (HSE EH40, secondary): a hood, kept on.

    A lifted visor protects 1.7 times instead of 40 (HSL, summary); out or on air until the clearance time
    (HSE).
    """
    spraying = next(row for row in _rows("safety") if row["hazard"].startswith("isocyanate while spraying"))
    limit = next(row for row in _rows("safety_more") if "15 min" in row["hazard"])
    assert float(spraying["value"]) > 1000 * float(limit["value"])
    assert all(word in _said("SPRAYING") for word in ("air-fed", "hood on, until it is cleared"))


def test_old_paint_and_aluminium_have_their_cautions() -> None:
    """Lead 50 and chromate 5 µg/m³ (29 CFR 1910.1025, .1026).

    Aluminium dust is combustible (OSHA, NFPA 484).
    """
    hazards = {row["hazard"] for row in _rows("safety")}
    assert {"lead PEL", "hexavalent chromium PEL", "aluminium dust"} <= hazards
    assert "lead or chromate" in _said("OLD PAINT")
    assert "explodes" in _said("ALUMINIUM")


def test_a_look_is_from_the_distance_and_angle_of_a_standard() -> None:
    """ISO 17637, passage read: about 600 mm, at least 30° to the surface. For welds.

    No refinish source has one.
    """
    rows = {row["fact"]: row["value"] for row in _rows("sight_more")}
    assert f"about {rows['close visual inspection, eye to surface, about']} mm" in STANDING
    assert f"{rows['close visual inspection, viewing angle to the surface, least']}°" in STANDING
