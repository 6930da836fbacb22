"""The numbers of rules/ as they were decided: none moves unless it is moved here as well, on purpose.

Constants and shop stand here one by one. Rules and outlines, many and drawn up by us, are kept as a golden
that is accepted only after a look at what moved; what rules come to is held by the tests of practice.
"""

import json
import re
import tomllib
from collections.abc import Callable, Iterator
from math import hypot
from pathlib import Path
from typing import Any, Final

import pytest

from prepadvisor.records import LINE_KINDS

RULES: Final = Path(__file__).parents[2] / "rules"

DEPTH: Final = {
    "hand-paper": 0.09, "block": 0.08, "hand-pad": 0.07, "hand-foam": 0.06, "da-hard": 0.065, "da": 0.050,
    "da-soft": 0.039,
}  # fmt: skip
"""Depth of a scratch for each µm of mean grain, by tool: an assumption."""

FLAKES: Final = {
    "coarse": (28, 0.47, 9), "medium": (18, 0.47, 9), "fine": (12, 0.47, 8), "very-fine": (8, 0.47, 7),
    "vapour": (9, 0.40, 5),
}  # fmt: skip
"""Median diameter by area [µm], spread of its logarithm, tilt [°]: practice and assumption."""

CONSTANTS: Final = {
    "groove.width_per_depth": 6.0,
    "film.colour_set_solids": 0.15,
    "film.earlier_colour_coats_colour": 2,
    "film.earlier_colour_coats_fade": 0,
    "sight.viewing_distance_mm": 500.0,
    "sight.thinnest_line_arcsec": 0.5,  # Hecht & Mintz 1939, J. Gen. Physiol. 22 593
    "sight.straight_line_factor": 1.0,
    "sight.short_arc_factor": 0.6,
    "uncertainty.depth_per_grain": 0.30,
    "uncertainty.d50": 0.20,
    "uncertainty.tilt": 0.48,
    "uncertainty.thinnest_line": 0.40,
    "uncertainty.borderline_risk": 0.5,
    "removal.rate_um_dm2_per_minute": 10.0,
    "removal.reference_ds50_um": 18.3,  # FEPA 43: P1000
    "removal.exponent": 0.65,
    "removal.flat_above_ds50_um": 100.0,
    "mixing.factor": 2.0,
    "mixing.extra_ml": 75.0,
    "mixing.step_ml": 50.0,
    "mixing.least_ml": 150.0,
}
"""All other numbers of the model."""

SHOP: Final = {
    "shelf": [
        "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500",
        "P2000",
    ],
    "fade_least_mm": 200, "mist_mm": 150, "pass_m2_per_minute": 0.3, "lap_mm": 50, "ring_mm": 30,
    "ring_grade": "P320", "clearing_minutes_per_dm2_max": 0.19, "edge_strip_mm": 30, "disc_minutes": 0.5,
    "guide_coat_minutes": 1, "hand_minutes_least": 1, "clean_minutes": 2, "clean_minutes_per_m2": 3,
    "look_minutes": 0.5, "wipe_minutes": 2, "mask_minutes": 10, "disc_dm2": 50, "gate_hours": 24,
    "look_hours": 96,
    "hand_minutes_per_metre": {
        "edge": 1.5, "body-line": 1.5, "wheel-arch": 2, "flange": 2, "recess": 3.5, "cut-out": 3,
    },
    "cut_faster": {"primer-surfacer": 2.4, "filler": 2.4, "feather-edge": 1.5},
    "wet_bed": {
        "volume_solids": 0.25, "set_solids": 0.40, "dry_um_per_coat": 8, "transfer_efficiency": 0.65,
        "overlap_mm": 100,
    },
    "first_grade": {"filler": "P80", "feather-edge": "P180", "primer-surfacer": "P320"},
}  # fmt: skip
"""The shop that the advice starts from: filler is cut P80 first (practice); rates are our own."""


def _data(name: str) -> dict[str, Any]:
    return tomllib.loads((RULES / name).read_text(encoding="utf-8"))


def _values(table: dict[str, Any], name: str = "") -> Iterator[tuple[str, float]]:
    for key, below in table.items():
        where = f"{name}.{key}" if name else key
        if "value" in below:
            yield where, below["value"]
        else:
            yield from _values(below, where)


def test_the_numbers_of_the_model_are_those_decided() -> None:
    """Depth of scratches, flakes, eye, uncertainty, removal, mixing: all there are."""
    expected = {f"groove.depth_per_grain.{tool}": value for tool, value in DEPTH.items()} | CONSTANTS
    for flake, numbers in FLAKES.items():
        for name, value in zip(("d50_um", "log_sd", "tilt_deg"), numbers, strict=True):
            expected[f"flake.{flake}.{name}"] = value
    assert dict(_values(_data("constants.toml"))) == expected


def test_the_numbers_of_the_shop_are_those_decided() -> None:
    """Whatever a shop file states in numbers and grades."""
    stated = _data("shop.toml")
    found = {key: stated[key] for key in SHOP}
    assert found == SHOP
    words = {"name", "finishing_tool", "interface_pad", "hand_tool", "leads", "pads", "passport"}
    assert set(stated) - set(SHOP) <= words


def test_every_kind_of_line_has_its_minutes() -> None:
    """One left out would be taken as the slowest; a border without an edge is not scuffed as a line."""
    assert set(_data("shop.toml")["hand_minutes_per_metre"]) == set(LINE_KINDS) - {"run-on"}


def _told(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _lines() -> Iterator[str]:
    """Give what every rule and outline states in numbers and grades, one a line."""
    for path in (*sorted((RULES / "base").glob("*.toml")), *sorted((RULES / "start").glob("*.toml"))):
        for rule in tomllib.loads(path.read_text(encoding="utf-8")).get("rule", []):
            said = {key: value for key, value in rule["set"].items() if re.search(r"\d", _told(value))}
            said = {key: value for key, value in said.items() if key not in ("holds", "cautions", "notes")}
            when = {
                key: value for key, value in rule.get("when", {}).items() if re.search(r"\d", _told(value))
            }
            if said or when:
                yield f"{rule['id']}: {_told(when)} {_told(said)}"
    for outline in _data("panels.toml")["outline"]:
        yield f"{outline['kind']}: {outline['length_mm']} {outline['height_mm']} {outline['shape']}"
        for line in outline["feature"]:
            yield f"  {line['id']}: {line['path']}"


@pytest.mark.regression
def test_the_numbers_of_rules_and_outlines_stay_where_they_were(accept: Callable[[Path, str], None]) -> None:
    """Who moves one looks at what it changes, then accepts the golden anew."""
    golden = Path(__file__).parent / "numbers" / "rules.txt"
    text = "\n".join(_lines()) + "\n"
    accept(golden, text)
    assert golden.read_text(encoding="utf-8").splitlines() == text.splitlines()


def _apart(point: list[float], outline: dict[str, Any]) -> float:
    """Return how far in mm a point lies from the rim of an outline."""
    size = outline["length_mm"], outline["height_mm"]
    x, y = (share * side for share, side in zip(point, size, strict=True))
    rim = [tuple(share * side for share, side in zip(each, size, strict=True)) for each in outline["shape"]]
    least = float("inf")
    for (x1, y1), (x2, y2) in zip(rim, (*rim[1:], rim[0]), strict=True):
        dx, dy = x2 - x1, y2 - y1
        along = max(0.0, min(1.0, ((x - x1) * dx + (y - y1) * dy) / ((dx * dx + dy * dy) or 1.0)))
        least = min(least, hypot(x - x1 - along * dx, y - y1 - along * dy))
    return least


def test_edges_and_arches_of_an_outline_lie_on_its_rim() -> None:
    """An edge is where the panel ends: to within a hundredth of its size."""
    off = [
        (outline["kind"], line["id"], point)
        for outline in _data("panels.toml")["outline"]
        for line in outline["feature"]
        if line["kind"] in ("edge", "wheel-arch")
        for point in line["path"]
        if _apart(point, outline) > 0.011 * max(outline["length_mm"], outline["height_mm"])
    ]
    assert off == []
