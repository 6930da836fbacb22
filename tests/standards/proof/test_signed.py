"""Slips between a house's files, asked one by one: at their last good value, and the next; each in turn."""

from dataclasses import replace
from typing import Any

import pytest

from prepadvisor.records import BookColour, Grade, Outline, Rates
from prepadvisor.standards import House
from prepadvisor.standards.proof.signed import slips_between

SHOP = "shop.toml"


def slips(house: House, **changes: Any) -> list[str]:
    """Return what is said of a house with some of its shop file changed."""
    return [each.says for each in slips_between(replace(house, shop=house.shop.model_copy(update=changes)))]


def of_book(house: House, *entries: dict[str, Any]) -> list[str]:
    """Return what is said of a colour book."""
    book = {
        f"c{at}": BookColour.model_validate({"book": f"c{at}"} | entry) for at, entry in enumerate(entries)
    }
    return [each.says for each in slips_between(replace(house, book=book))]


def test_shipped_files_and_what_is_left_out_are_silent(shipped_house: House) -> None:
    """No rates, no leads, no book."""
    assert slips(shipped_house) == []
    assert slips(shipped_house, rates=None, leads=()) == []


@pytest.mark.parametrize(
    ("rates", "is_told"),
    [
        ({"labour_per_hour": 60}, True),
        ({"per_disc": 1}, True),
        ({"wet_bed_per_litre": 30}, True),
        ({"labour_per_hour": 60, "currency": " "}, True),
        ({"labour_per_hour": 60, "currency": "EUR"}, False),
        ({}, False),
    ],
)
def test_a_price_needs_a_currency(shipped_house: House, rates: dict[str, Any], *, is_told: bool) -> None:
    """Any of the three prices; without one nothing is counted."""
    priced = Rates.model_construct(**Rates().model_dump() | rates)
    assert bool(slips(shipped_house, rates=priced)) == is_told


def test_what_takes_time_takes_some(shipped_house: House) -> None:
    """Discs, powder, looks and wipes; masking may be done by another."""
    for name in ("disc_minutes", "guide_coat_minutes", "look_minutes", "wipe_minutes"):
        (says,) = slips(shipped_house, **{name: 0.0})
        assert says.startswith(f"{name} is 0:")
        assert slips(shipped_house, **{name: 0.1}) == []
    assert slips(shipped_house, mask_minutes=0.0) == []


def test_a_look_counts_at_least_as_long_as_a_wipe(shipped_house: House) -> None:
    """As long is enough."""
    assert slips(shipped_house, gate_hours=24.0, look_hours=24.0) == []
    assert slips(shipped_house, gate_hours=24.5, look_hours=24.0) == [
        "gate_hours is 24.5 and look_hours 24: a look is over before the wipe."
    ]


def test_a_shelf_names_each_grade_once(shipped_house: House) -> None:
    """Those named more often are told from coarse to fine."""
    shelf = tuple(map(Grade, ("P320", "P1000", "P320", "P180", "P180", "P180")))
    assert slips(shipped_house, shelf=shelf) == ["The shelf names P180 and P320 twice."]


@pytest.mark.practice
@pytest.mark.parametrize(
    ("grade", "is_told"), [("P150", True), ("P180", False), ("P600", False), ("P800", True)]
)
def test_a_ring_around_primer_is_keyed_with_p180_to_p600(
    shipped_house: House, grade: str, *, is_told: bool
) -> None:
    """Coarser shows, on finer primer does not hold: common practice."""
    assert bool(slips(shipped_house, ring_grade=Grade(grade))) == is_told


def test_pads_read_as_one_have_one_grade(shipped_house: House) -> None:
    """Told at the second one; the same grade twice harms nobody."""
    pads = {"Our grey": Grade("P800"), "gold": Grade("P1500"), "our  GREY": Grade("P1000")}
    assert slips(shipped_house, pads=pads) == [
        'The pads "Our grey" and "our  GREY" are read as one and have two grades.'
    ]
    assert slips(shipped_house, pads=pads | {"our  GREY": Grade("P800")}) == []


def test_only_leads_sign(shipped_house: House) -> None:
    """Where leads are named; initials are read as everywhere. Nothing signed is no slip."""
    (base,) = shipped_house.used.layers
    layers = tuple(base._replace(layer=f"l{at}", approved_by=by) for at, by in enumerate(("", "X. Y.", "km")))
    colours = (("a", ""), ("b", "X. Y."), ("c", "k.m."))
    book = {name: BookColour(book=name, sealed_by=by) for name, by in colours}
    house = replace(shipped_house, used=shipped_house.used._replace(layers=layers), book=book)
    assert slips(house, leads=("K. M.", "R. T.")) == [
        '"l1" is approved by "X. Y.", who is none of the leads.',
        'The colour "b" is sealed by "X. Y.", who is none of the leads.',
    ]
    assert slips(house, leads=()) == []


def test_two_kinds_of_panel_have_two_names(shipped_house: House) -> None:
    """A kind without a name is called by its own word."""
    stated = {
        "length_mm": 900, "height_mm": 400, "like": "sill", "shape": [[0, 0], [1, 0], [1, 1], [0, 1]],
        "feature": [{"id": "E1", "kind": "edge", "path": [[0, 0], [1, 0]]}],
    }  # fmt: skip
    for name, kind, said in (("Side Skirt", "skirt", "Side Skirt"), ("", "side skirt", "side skirt")):
        made = Outline.model_validate(stated | {"kind": "side-skirt", "name": "side skirt"})
        other = made.model_copy(update={"kind": kind, "name": name})
        alone = made.model_copy(update={"name": "" if name else "side skirt"})
        house = replace(shipped_house, outlines={"side-skirt": alone, kind: other})
        assert slips(house) == [
            f'side-skirt and {kind} are both called "{said}": a card does not tell them apart.'
        ]
        apart = other.model_copy(update={"name": "fin"})
        assert slips(replace(house, outlines={"side-skirt": alone, kind: apart})) == []


def test_a_solid_colour_has_no_flake_to_measure(shipped_house: House) -> None:
    """Nor has a flake that was not measured a size."""
    assert of_book(shipped_house, {"flake": "solid"}, {"flake": "solid", "flake_um": 12.5}) == [
        'The colour "c1" is solid and has a flake of 12.5 µm.'
    ]


@pytest.mark.parametrize(
    ("one", "other", "is_told"),
    [
        ({"flake": "fine"}, {"flake": "fine"}, False),
        ({"flake": "fine"}, {"flake": "medium"}, True),
        ({"flake": "fine"}, {"flake": "unknown"}, False),  # what is not known is no other
        ({"flake": "fine", "stages": 2}, {"flake": "fine", "stages": 3}, True),
        ({"flake": "fine", "stages": 2}, {"flake": "fine"}, False),
    ],
)
def test_colours_of_one_code_are_of_one_kind(
    shipped_house: House, one: dict[str, Any], other: dict[str, Any], *, is_told: bool
) -> None:
    """In flake and stages, as far as both say; entries without a code have none in common."""
    blank, code = {"flake": "coarse", "code": " "}, {"code": "A 7"}
    found = of_book(shipped_house, blank, one | code, blank | {"flake": "solid"}, other | {"code": "a  7"})
    assert found == ['The colours "c1" and "c3" have one code and are not of one kind.'] * is_told


@pytest.mark.parametrize(
    ("flake", "size", "near"),
    [
        ("fine", 8.0, ""),  # as very fine has: one class off
        ("medium", 8.0, "very-fine"),
        ("medium", 27.0, ""),
        ("fine", 27.0, "coarse"),
        ("fine", 22.0, ""),  # nearer to medium's 18 than to coarse's 28, as 22.45 parts them
        ("fine", 23.0, "coarse"),
        ("coarse", 18.0, ""),
    ],
)
def test_a_measured_size_is_of_its_class_or_the_next(
    shipped_house: House, flake: str, size: float, near: str
) -> None:
    """Sizes are near by their ratio; a colour that was not measured, or is of no class, is not judged."""
    unmeasured, unknown = {"flake": "fine"}, {"flake": "unknown", "flake_um": 100}
    found = of_book(shipped_house, unmeasured, unknown, {"flake": flake, "flake_um": size})
    assert found == [f'The colour "c2" is {flake} and has a flake of {size:g} µm, as {near} has.'] * bool(
        near
    )


def test_every_slip_is_told_with_its_file_and_a_mend(shipped_house: House) -> None:
    """So that the line is found."""
    book = {"c0": BookColour(book="c0", flake="solid", flake_um=12)}
    shop = {"gate_hours": 90.0, "look_hours": 1.0, "disc_minutes": 0.0, "ring_grade": Grade("P80")}
    house = replace(shipped_house, shop=shipped_house.shop.model_copy(update=shop), book=book)
    found = slips_between(house)
    assert [each.key for each in found] == [
        (SHOP, "disc_minutes"), (SHOP, "gate_hours"), (SHOP, "ring_grade"), ("colours.toml",),
    ]  # fmt: skip
    assert found[2].mend == "Write one of P180 to P600."
    assert all(each.mend and each.kind == "shop" for each in found)
