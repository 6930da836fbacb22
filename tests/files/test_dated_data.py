"""Shop file, constants, outlines and colour book of a dated layer count on the days its rules do."""

import datetime as dt
from pathlib import Path

import pytest

from prepadvisor.files import DatedData, load_house, load_job
from prepadvisor.records import BadInputError, Job
from prepadvisor.standards import House

HEAD = '[standards]\nname = "Fleet"\nversion = "1"\n'
SHOP = """mist_mm = 400
gate_hours = 4
finishing_tool = "da"
shelf = ["P320", "P800", "P1000", "P1200", "P1500", "P3000"]
[pads]
"fleet pad" = "P600"
[wet_bed]
set_solids = 0.6
"""
CONSTANTS = """[groove.depth_per_grain]
da-soft = { value = 0.2 }
da = { value = 0.01 }
[sight]
thinnest_line_arcsec = { value = 0.9 }
"""
PANELS = """[[outline]]
kind = "box-side"
name = "box side"
like = "rear-quarter"
[[outline]]
kind = "roof"
length_mm = 3333
"""
BOOK = """[[colour]]
book = "hm-3"
flake = "coarse"
sealed_by = "K. M."
sealed_on = 2026-01-02
"""


def fleet(folder: Path, limits: str, **files: str) -> House:
    """Return a house of one layer with these limits and data files."""
    layer = folder / "fleet"
    layer.mkdir(exist_ok=True)
    (layer / "rules.toml").write_text(HEAD + limits, encoding="utf-8")
    for name, text in files.items():
        (layer / f"{name}.toml").write_text(text, encoding="utf-8")
    return load_house(layer)


def job(date: str | None = None, customer: str = "", kind: str = "front-door") -> Job:
    """Return a small job of a day and customer."""
    head: dict[str, object] = {"number": "1", "customer": customer}
    if date:
        head["date"] = dt.date.fromisoformat(date)
    panel = {"id": "p", "kind": kind, "role": "repair", "surface": "aged-clear"}
    sized = {**panel, "length_mm": 900, "height_mm": 600}
    return Job.model_validate({"job": head, "colour": {"book": "hm-3"}, "panel": [sized]})


ALL = {"shop": SHOP, "constants": CONSTANTS, "panels": PANELS, "colours": BOOK}
DATED = "valid_from = 2026-01-01\nvalid_to = 2026-12-31\n"
FOR_BLUE = 'customer = "Blue"\n'


@pytest.mark.parametrize(
    ("limits", "day", "customer"),
    [(DATED, "2025-12-31", ""), (DATED, "2027-01-01", ""), (FOR_BLUE, None, "Green")],
    ids=["not yet", "over", "other customer"],
)
def test_a_layer_that_does_not_count_counts_in_nothing(
    limits: str, day: str | None, customer: str, tmp_path: Path, shipped_house: House
) -> None:
    """What such a job is judged by is what ships."""
    house = fleet(tmp_path, limits, **ALL).on(job(day, customer))
    assert house.shop == shipped_house.shop
    assert house.constants == shipped_house.constants
    assert house.outlines == shipped_house.outlines
    assert (house.book, house.used.changes) == ({}, ())


def test_a_layer_in_force_counts_whole(tmp_path: Path) -> None:
    """On its days it is the house as loaded."""
    whole = fleet(tmp_path, DATED, **ALL)
    house = whole.on(job("2026-05-05"))
    assert (house.shop, house.constants, house.outlines) == (whole.shop, whole.constants, whole.outlines)
    assert (house.book, house.used.changes) == (whole.book, whole.used.changes)
    assert house.shop.finishing_tool == "da"


def test_a_layer_that_may_count_tightens_and_loosens_nothing(tmp_path: Path, shipped_house: House) -> None:
    """Of what has a strict side the stricter counts; the rest is the lower layer's; a new kind is known."""
    house, shipped = fleet(tmp_path, DATED, **ALL).on(job()), shipped_house
    assert (house.shop.mist_mm, house.shop.gate_hours) == (400, 4)
    assert house.shop.finishing_tool == shipped.shop.finishing_tool
    assert house.shop.shelf == ("P320", "P800", "P1000", "P1200", "P1500")
    assert house.shop.pads == {"fleet pad": "P600"}
    assert house.shop.wet_bed == shipped.shop.wet_bed
    depths, ours = house.constants.groove.depth_per_grain, shipped.constants.groove.depth_per_grain
    assert (depths["da-soft"].value, depths["da"]) == (0.2, ours["da"])
    assert house.constants.sight == shipped.constants.sight
    assert house.outlines["box-side"].seen_as == "rear-quarter"
    assert house.outlines["roof"] == shipped.outlines["roof"]
    assert house.book["hm-3"].sealed_by == ""
    assert {change.name for change in house.used.changes} >= {"mist_mm", "gate_hours"}
    assert "finishing_tool" not in {change.name for change in house.used.changes}


def test_a_later_day_of_the_same_house_is_judged_anew(tmp_path: Path) -> None:
    """What a job's day gave is no start for another's."""
    whole = fleet(tmp_path, DATED, **ALL)
    before = whole.on(job("2025-01-01"))
    assert before.on(job("2025-02-02")) is before
    assert before.on(job("2026-05-05")).shop == whole.shop


def test_a_layer_above_that_needs_a_dated_one_is_told_at_load(tmp_path: Path) -> None:
    """What only stands while the layer below counts is no house on other days."""
    fleet(tmp_path, DATED, **ALL)
    site = tmp_path / "site"
    site.mkdir()
    (site / "panels.toml").write_text('[[outline]]\nkind = "box-side"\nheight_mm = 700\n', encoding="utf-8")
    says = r"site.*panels\.toml:2:8: on days when fleet does not count: .box-side. is no shipped kind"
    with pytest.raises(BadInputError, match=says):
        load_house(tmp_path / "fleet", site)


def test_a_job_of_a_kind_that_its_day_lacks_is_refused(tmp_path: Path) -> None:
    """And is told why; where the day is not said the kind is known."""
    house = fleet(tmp_path, DATED, panels=PANELS)
    text = """[job]
number = "1"
{}
[colour]
flake = "fine"
stages = 2
[[panel]]
id = "p"
kind = "box-side"
role = "repair"
surface = "aged-clear"
length_mm = 900
height_mm = 600
"""
    path = tmp_path / "job.toml"
    path.write_text(text.format("date = 2027-02-02"), encoding="utf-8")
    with pytest.raises(BadInputError, match="stated by a layer that does not count for this job"):
        load_job(path, house)
    for day in ("", "date = 2026-02-02"):
        path.write_text(text.format(day), encoding="utf-8")
        assert load_job(path, house).panel[0].feature == house.outlines["rear-quarter"].feature


def test_a_folder_of_data_alone_counts_always(tmp_path: Path) -> None:
    """It has no days, also beside a layer that has some."""
    fleet(tmp_path, DATED)
    site = tmp_path / "site"
    site.mkdir()
    (site / "shop.toml").write_text("mist_mm = 222\n", encoding="utf-8")
    house = load_house(tmp_path / "fleet", site)
    assert house.dated is None
    assert house.on(job("2027-02-02")).shop.mist_mm == 222


def test_only_dated_layers_with_data_are_kept_to_be_laid_anew(tmp_path: Path) -> None:
    """All other houses are loaded once."""
    assert fleet(tmp_path, "").dated is None
    assert isinstance(fleet(tmp_path, DATED, shop=SHOP).dated, DatedData)
