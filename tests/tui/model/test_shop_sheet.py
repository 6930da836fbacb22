"""The shop file as a sheet: each field that is changed is in the file, whose comments stay."""

import tomli

from prepadvisor.standards import House
from prepadvisor.tui.model.shop_sheet import about, shop_fields, with_shop_changed, with_shop_dropped

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
