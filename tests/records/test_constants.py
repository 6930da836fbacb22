"""The shipped constants: every number has its passport, practice ranges hold, and nonsense is refused."""

import csv
import tomllib
from collections.abc import Iterator
from math import exp, hypot
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from prepadvisor.records import DS50_UM, Constants, Grade, Quantity, Source

_ROOT = Path(__file__).parents[2]
_DATA: dict[str, Any] = tomllib.loads((_ROOT / "rules/constants.toml").read_text(encoding="utf-8"))
_REGISTER = tomllib.loads((_ROOT / "rules/sources.toml").read_text(encoding="utf-8"))["source"]


def _quantities(record: object) -> Iterator[Quantity]:
    if isinstance(record, Quantity):
        yield record
        return
    values = record.values() if isinstance(record, dict) else (value for _, value in record)  # type: ignore[attr-defined]
    for value in values:
        yield from _quantities(value)


def _table(name: str) -> list[dict[str, str]]:
    with (_ROOT / f"tests/reference/{name}").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_number_names_a_registered_source() -> None:
    """All offenders at once."""
    registered = {source["id"] for source in _REGISTER}
    assert [q for q in _quantities(Constants.model_validate(_DATA)) if q.source not in registered] == []


def test_no_number_claims_more_than_its_source_gives() -> None:
    """A guess or a practice is never published, and a publication is never called a guess."""
    said = {source["id"]: source["known"] for source in _REGISTER if "known" in source}
    quantities = list(_quantities(Constants.model_validate(_DATA)))
    assert [q for q in quantities if q.known != said.get(q.source, q.known)] == []
    assert [q for q in quantities if q.source not in said and q.known not in {"published", "derived"}] == []


def test_source_ids_are_unique_and_say_what_was_read() -> None:
    """The register is honest about each entry."""
    sources = [Source.model_validate(source) for source in _REGISTER]
    assert len({source.id for source in sources}) == len(sources)
    assert all(source.read for source in sources)


@pytest.mark.practice
@pytest.mark.parametrize(
    "row", [row for row in _table("flakes.csv") if row["class"] != "any"], ids=lambda row: row["class"]
)
def test_a_class_has_a_median_within_its_practice_range(row: dict[str, str]) -> None:
    """tests/reference/flakes.csv, memory and practice."""
    d50 = _DATA["flake"][row["class"]]["d50_um"]["value"]
    assert float(row["D50_um_low"]) <= d50 <= float(row["D50_um_high"])


def test_every_class_lies_within_the_sizes_there_are() -> None:
    """Effect flakes are 5 to 40 µm wide (Roesler et al. 2013, excerpt; tests/reference/flakes.csv)."""
    any_ = next(row for row in _table("flakes.csv") if row["class"] == "any")
    sizes = [flake["d50_um"]["value"] for flake in _DATA["flake"].values()]
    assert float(any_["D50_um_low"]) <= min(sizes) <= max(sizes) <= float(any_["D50_um_high"])


@pytest.mark.parametrize("flake", ["medium", "coarse"])
def test_two_standard_uncertainties_of_tilt_reach_what_an_abstract_reports(flake: str) -> None:
    """Kirchner & Houweling 2009, abstract only: 16 and 35 µm, width not defined, so both readings of it."""
    nearest = min(
        (row for row in _table("orientation.csv") if row["sd_deg_if_width_is_fwhm"]),
        key=lambda row: abs(float(row["D50_um"]) - _DATA["flake"][flake]["d50_um"]["value"]),
    )
    tilt, unsure = _DATA["flake"][flake]["tilt_deg"]["value"], _DATA["uncertainty"]["tilt"]["value"]
    low, high = tilt * exp(-2 * unsure), tilt * exp(2 * unsure)
    readings = [float(nearest[f"sd_deg_if_width_is_{reading}"]) for reading in ("fwhm", "sd")]
    assert any(low <= reading <= high for reading in readings)


def test_the_uncertainty_of_the_threshold_is_the_one_derived_from_abstracts() -> None:
    """√(0.33² + 0.23²): slope of detection and spread by age (tests/reference/sight_more.csv, derived)."""
    rows = {row["fact"]: row["value"] for row in _table("sight_more.csv")}
    slope = float(
        rows["the same as sd of ln threshold, slope 3.5 (median slope match; moments)"].split(";")[0]
    )
    age = float(rows["the same in ln"])
    assert _DATA["uncertainty"]["thinnest_line"]["value"] == pytest.approx(hypot(slope, age), abs=0.005)


def test_the_eye_is_nearer_than_a_standard_for_welds_puts_it() -> None:
    """ISO 17637, about 600 mm: nearer is stricter, by 1.2 times."""
    rows = {row["fact"]: row["value"] for row in _table("sight_more.csv")}
    assert _DATA["sight"]["viewing_distance_mm"]["value"] <= float(
        rows["close visual inspection, eye to surface, about"]
    )


def test_transfer_efficiency_is_what_a_rule_asks_and_no_more() -> None:
    """Puget Sound Clean Air Agency 9.16(e)(5): 0.65 asked of equal methods (tests/reference/spray.csv)."""
    asked = next(row for row in _table("spray.csv") if row["fact"].startswith("transfer efficiency"))
    shop = tomllib.loads((_ROOT / "rules/shop.toml").read_text(encoding="utf-8"))
    assert shop["wet_bed"]["transfer_efficiency"] <= float(asked["value"])


def test_the_thinnest_line_is_the_published_one() -> None:
    """Hecht & Mintz 1939: 0.5 arcseconds (tests/reference/sight.csv)."""
    published = next(row for row in _table("sight.csv") if row["unit"] == "arcsec")
    assert _DATA["sight"]["thinnest_line_arcsec"]["value"] == float(published["value"])


def test_the_removal_exponent_is_the_one_derived_for_softwood() -> None:
    """Sydor et al. 2021, P60 against P180 (tests/reference/removal.csv)."""
    assert _DATA["removal"]["exponent"]["value"] == float(_table("removal.csv")[0]["exponent_60_180"])


def test_the_removal_reference_is_the_grain_of_p1000() -> None:
    """FEPA 43."""
    assert _DATA["removal"]["reference_ds50_um"]["value"] == DS50_UM[Grade("P1000")]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("groove", "depth_per_grain", "da"), 0.0),
        (("groove", "width_per_depth"), -1.0),
        (("film", "colour_set_solids"), 1.5),
        (("flake", "fine", "tilt_deg"), 0.0),
        (("uncertainty", "thinnest_line"), 0.0),
        (("sight", "viewing_distance_mm"), float("inf")),
        (("mixing", "step_ml"), float("nan")),
        (("uncertainty", "borderline_risk"), True),
    ],
)
def test_a_number_without_meaning_is_refused(path: tuple[str, ...], value: float) -> None:
    """A house lies over the shipped numbers key by key; the model must never meet these."""
    data = tomllib.loads((_ROOT / "rules/constants.toml").read_text(encoding="utf-8"))
    place = data
    for key in path:
        place = place[key]
    place["value"] = value
    with pytest.raises(ValidationError):
        Constants.model_validate(data)


@pytest.mark.parametrize(
    ("table", "key"), [(("groove", "depth_per_grain"), "da-soft"), (("flake",), "vapour")]
)
def test_a_tool_or_class_without_numbers_is_refused_by_name(table: tuple[str, ...], key: str) -> None:
    """Rather than failing in the middle of a job."""
    data = tomllib.loads((_ROOT / "rules/constants.toml").read_text(encoding="utf-8"))
    place = data
    for step in table:
        place = place[step]
    del place[key]
    with pytest.raises(ValidationError, match=f"lacks {key}"):
        Constants.model_validate(data)
