"""The shop file as a sheet: each field that is changed is in the file, whose comments stay."""

from pathlib import Path

import tomli

from prepadvisor.files import load_house, rules_dir
from prepadvisor.standards import House
from prepadvisor.tui.model.house_files.constants import constants_form
from prepadvisor.tui.model.house_files.shop import about, shop_fields, with_shop_changed, with_shop_dropped

OWN = """\
# our shop
gate_hours = 12  # we clean at noon

[wet_bed]
overlap_mm = 80

[passport]
gate_hours = { unit = "h", source = "house", known = "measured", note = "by the log" }
"""


def test_every_fact_of_the_shop_has_its_line(shipped_house: House) -> None:
    """All keys of the shipped shop file but pads, which stand in a file by their own names, and passports."""
    shop = shipped_house.shop
    keys = {
        f"{name}.{key}" if isinstance(value, dict) else name
        for name, value in shop.model_dump(exclude={"pads", "passport", "rates"}).items()
        for key in (value if isinstance(value, dict) else (name,))
    }
    fields = {field.id: field for field in shop_fields(shop, "")}
    assert keys <= set(fields)
    assert all(about(each) for each in fields)


def test_a_change_keeps_comments_and_says_no_more_how_the_old_number_was_known() -> None:
    """The number in its place, its passport gone, all else as it was; dropped, it is in the file no more."""
    text = with_shop_changed(OWN, "gate_hours", "20")
    assert "gate_hours = 20  # we clean at noon" in text
    assert tomli.loads(text) == {"gate_hours": 20, "wet_bed": {"overlap_mm": 80}}
    assert tomli.loads(with_shop_dropped(text, "wet_bed.overlap_mm")) == {"gate_hours": 20}


def test_what_is_not_there_yet_is_put_in() -> None:
    """Into an empty file and into tables that it lacks."""
    text = with_shop_changed("", "first_grade.filler", "P120")
    text = with_shop_changed(text, "shelf", "P120 P800")
    text = with_shop_changed(text, "interface_pad", "no")
    assert text.startswith("# This shop.")
    assert tomli.loads(text) == {
        "first_grade": {"filler": "P120"}, "shelf": ["P120", "P800"], "interface_pad": False,
    }  # fmt: skip


def test_a_pad_is_put_in_by_its_name_with_the_coarse_end(shipped_house: House) -> None:
    """It has a line then, and D takes it out again."""
    text = with_shop_changed(OWN, "pads.our grey pad", "P600")
    assert tomli.loads(text)["pads"] == {"our grey pad": "P600"}
    shop = shipped_house.shop.model_copy(update={"pads": {"our grey pad": "P600"}})
    assert "pads.our grey pad" in {field.id for field in shop_fields(shop, text)}
    assert "pads" not in tomli.loads(with_shop_dropped(text, "pads.our grey pad"))


def test_every_number_of_the_model_has_its_line(shipped_house: House) -> None:
    """As many lines as the shipped file has entries with a value, each with its own name and meaning."""
    form = constants_form()
    fields = form.fields(shipped_house, "")
    shipped = (rules_dir() / "constants.toml").read_text(encoding="utf-8")
    assert len(fields) == shipped.count("{ value = ")
    assert len({field.label for field in fields}) == len(fields)
    assert all(form.about(shipped_house, field.id)[0] for field in fields)


def test_a_number_of_the_model_goes_in_with_unit_and_how_it_is_known(
    shipped_house: House, tmp_path: Path
) -> None:
    """The house's file is read as any other, and the number counts; taken out, the shipped one does again."""
    form, line = constants_form(), "flake/very-fine/d50_um"
    text = form.with_changed(shipped_house, "# ours\n", line, "7,5", "practice")
    assert text.startswith("# ours\n")
    (tmp_path / "constants.toml").write_text(text, encoding="utf-8")
    it = load_house(str(tmp_path)).constants.flake["very-fine"].d50_um
    assert (it.value, it.unit, it.known, it.source) == (7.5, "µm", "practice", "practice")
    assert form.is_own(text, line)
    assert tomli.loads(form.with_dropped(text, line)) == {}
