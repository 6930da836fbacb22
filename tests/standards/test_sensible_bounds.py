"""Where sensible numbers end: the last one that is let be and the first that is told, name by name.

The bounds are practice and judgement, no source: they stand here a second time, as a lead would state them.
"""

import random
from collections.abc import Mapping
from itertools import pairwise
from math import inf, nextafter
from typing import Any

import pytest
import shapely

from prepadvisor.records import Outline, OutputName, Rates, SeenFlake, Shop, Tool
from prepadvisor.standards import House, shop_slips
from prepadvisor.standards.engine import OUTPUTS, Engine, Interval, Rule, Setting, box_of
from prepadvisor.standards.proof import shop as in_shop
from prepadvisor.standards.proof.sane import SENSIBLE_SETTINGS, is_sane, numbers, sane, wrong_units

LEAST_AND_MOST = """
mist_mm 0 or 10 500, fade_least_mm 10 1000, lap_mm 10 150, ring_mm 5 150, pass_m2_per_minute 0.05 1
cut_faster.filler 0.5 6, hand_minutes_per_metre.edge 0.2 12, hand_minutes_least 0 10, clean_minutes 0 20
clean_minutes_per_m2 0 20, look_minutes 0 5, wipe_minutes 0 15, mask_minutes 0 90
clearing_minutes_per_dm2_max 0.04 0.8, edge_strip_mm 5 120, disc_minutes 0 3, guide_coat_minutes 0 5
disc_dm2 5 200, gate_hours 1 72, look_hours 1 336, wet_bed.volume_solids 0.05 0.6
wet_bed.set_solids 0.1 0.85, wet_bed.dry_um_per_coat 2 20, wet_bed.transfer_efficiency 0.2 0.95
wet_bed.overlap_mm 0 or 20 300, rates.per_disc 0 100000
groove.depth_per_grain.da 0.01 0.2, groove.width_per_depth 2 20, film.colour_set_solids 0.03 0.6
film.earlier_colour_coats_colour 0 5, film.earlier_colour_coats_fade 0 5
flake.fine.d50_um 1 100, flake.vapour.d50_um 2 25, flake.fine.log_sd 0.05 1.5, flake.fine.tilt_deg 1 30
sight.viewing_distance_mm 200 3000, sight.thinnest_line_arcsec 0.1 5, sight.straight_line_factor 0.1 2
sight.short_arc_factor 0.1 2, uncertainty.depth_per_grain 0.02 1, uncertainty.d50 0.02 1
uncertainty.tilt 0.02 1, uncertainty.thinnest_line 0.02 1.5, uncertainty.borderline_risk 0.1 0.9
removal.rate_um_dm2_per_minute 0.5 100, removal.reference_ds50_um 5 100, removal.exponent 0.1 2
removal.flat_above_ds50_um 20 1000, mixing.factor 1 5, mixing.extra_ml 0 500, mixing.step_ml 1 500
mixing.least_ml 0 2000
"""
"""Name, least and most; "0 or 10" is a number that may be left at nothing, else is 10 at least."""


NO_BED: Mapping[OutputName, Setting] = {"wet_bed": "no"}


def bounds() -> dict[str, tuple[bool, float, float]]:
    """Return of each number whether it may be nothing, and its least and most."""
    found = {}
    for entry in LEAST_AND_MOST.replace("\n", ", ").split(", "):
        if entry:
            name, *told = entry.split()
            found[name] = ("or" in told, float(told[-2]), float(told[-1]))
    return found


def test_a_number_is_sensible_up_to_its_bounds_and_not_beyond_them() -> None:
    """The least and the most are let be, the next number beyond either is told."""
    for name, (or_nothing, least, most) in bounds().items():
        path = tuple(name.split("."))
        assert is_sane(path, least), name
        assert is_sane(path, most), name
        assert not is_sane(path, nextafter(most, inf)), name
        assert not is_sane(path, nextafter(least, -inf)), name
        if or_nothing:
            assert is_sane(path, 0), name


def test_every_number_of_shop_and_constants_has_bounds(shipped_house: House) -> None:
    """None is left unlooked at; a row of a table (tool, flake, surface) has those of its column."""
    for record in (shipped_house.shop, shipped_house.constants):
        for path, value in numbers(record):
            assert sane(path) is not None, path
            assert is_sane(path, value), path
    assert sane(("flake", "vapour", "d50_um")) != sane(("flake", "fine", "d50_um"))
    assert sane(("nobody", "thought", "of")) is None
    assert is_sane(("nobody", "thought", "of"), -1e9)


def rule(when: dict[str, Interval], sets: Mapping[OutputName, Setting], layer: str = "ours") -> Rule:
    """Return a rule with ranges that sets something."""
    return Rule("own", "Do it.", box_of({}, when), sets, "x", layer=layer, file="a.toml", line=3)


@pytest.mark.parametrize(
    ("fact", "least", "most", "small", "large"),
    [
        ("film_um", 10, 2000, "mil", "nm"),
        ("length_mm", 10, 12_000, "cm", "µm"),
        ("panel_m2", 0.005, 20, "another unit", "dm²"),
    ],
)
def test_a_condition_far_from_what_panels_have_is_told_with_the_unit_it_was_meant_in(
    fact: str, least: float, most: float, small: str, large: str
) -> None:
    """Either end of a range; an end at 0, or none, says nothing; the base is not asked."""
    for limit, meant in ((nextafter(least, 0), small), (nextafter(most, inf), large)):
        for limits in (Interval(high=limit), Interval(low=limit)):
            (finding,) = wrong_units(Engine([rule({fact: limits}, NO_BED)]))
            assert meant in finding.mend
            assert (finding.rules, finding.file, finding.line) == (("own",), "a.toml", 3)
            assert wrong_units(Engine([rule({fact: limits}, NO_BED, "base")])) == []
    for limits in (Interval(least, True, most, True), Interval(), Interval(0.0, False), Interval(most)):
        assert wrong_units(Engine([rule({fact: limits}, NO_BED)])) == []


@pytest.mark.parametrize(
    ("output", "least", "most", "small"),
    [("film_off_max_um", 0.5, 200, "mm (0.005"), ("film_left_min_um", 10, 1000, "mil")],
)
def test_a_film_setting_far_from_what_panels_have_is_told(
    output: OutputName, least: float, most: float, small: str
) -> None:
    """Up to its bounds it is let be; 0 is told elsewhere."""
    for value, meant in ((nextafter(least, 0), small), (nextafter(most, inf), "nm")):
        (finding,) = wrong_units(Engine([rule({}, {output: value})]))
        assert meant in finding.mend
    for value in (least, most, 0, 0.0):
        assert wrong_units(Engine([rule({}, {output: value})])) == []


def test_of_a_range_in_another_unit_one_end_is_told() -> None:
    """One finding is enough to mend both."""
    (finding,) = wrong_units(Engine([rule({"film_um": Interval(1.0, True, 5.0)}, NO_BED)]))
    assert " asks for film_um 1," in finding.says


@pytest.mark.practice
def test_more_film_to_stay_than_panels_have_as_built_is_told_unless_thick_film_is_named() -> None:
    """Above 180 µm, and up to the 300 that is told as a limit that cannot be, wherever less film is met."""
    limits = {180.0: False, 180.5: True, 300.0: True, 300.5: False}
    for least, is_told in limits.items():
        found = wrong_units(Engine([rule({}, {"film_left_min_um": least})]))
        assert [each.kind for each in found] == ["gap"] * is_told, least
    readings = {
        Interval(250.0): False,
        Interval(249.9): True,
        Interval(high=90.0): True,
        Interval(260.0): False,
    }
    for limit, is_told in readings.items():
        found = wrong_units(Engine([rule({"film_um": limit}, {"film_left_min_um": 250})]))
        assert [each.mend for each in found] == [
            'Ask for less to stay, or name the thick film it is for (film_um = ">= 250").'
        ] * is_told, limit


def test_no_answer_in_a_unit_of_length_is_left_out() -> None:
    """A slip of unit is told wherever one can be made."""
    assert set(SENSIBLE_SETTINGS) == {name for name, output in OUTPUTS.items() if output.unit == "µm"}


def slips(house: House, **changes: Any) -> list[tuple[str, ...]]:
    """Return where slips are found in a house with some of its shop file changed."""
    shop = house.shop.model_copy(update=changes)
    return [finding.key for finding in shop_slips(in_house(house, shop))]


def in_house(house: House, shop: Shop) -> House:
    """Return a house with another shop file."""
    return House(house.engine, shop, house.constants, house.outlines, house.sources, house.used)


@pytest.mark.parametrize(
    ("changes", "says", "mend"),
    [
        ({"mist_mm": 5.0}, "mist_mm is 5: sensible is 0, or 10 to 500.", "Compare its unit"),
        ({"disc_dm2": 1.0}, "disc_dm2 is 1: sensible is 5 to 200.", "Compare its unit"),
        ({"disc_dm2": 501.5}, "disc_dm2 is 501.5: sensible is 5 to 200.", "Compare its unit"),
        (
            {"rates": Rates(currency="EUR", labour_per_hour=4)},
            "rates.labour_per_hour is 4 EUR.",
            "Sensible is 5 to 500; compare",
        ),
        (
            {"rates": Rates(currency="JPY", labour_per_hour=60, per_disc=90)},
            "rates.per_disc is 90, as much as 1.5 hours of work.",
            "Compare its unit",
        ),
        (
            {"pads": {"red": "P100"}},
            'The pad "red" stands for P100, which is the grain of no hand pad.',
            "Ask its maker for the P equivalent: P180 to P3000.",
        ),
        (
            {"first_grade": {"filler": "P600"}},
            "first_grade of filler is P600, which cuts nothing open: it is for a block, first.",
            "Write P400 or coarser.",
        ),
        (
            {"leads": ("K. M.", "km")},
            'leads names "K. M." and "km", which are read as one.',
            "Name each lead once.",
        ),
    ],
)
def test_a_slip_is_told_with_its_number_and_what_is_sensible(
    shipped_house: House, changes: dict[str, Any], says: str, mend: str
) -> None:
    """So that a lead sees at once what to write instead."""
    shop = shipped_house.shop.model_copy(update=changes)
    (finding,) = shop_slips(in_house(shipped_house, shop))
    assert finding.says == says
    assert finding.mend.startswith(mend)


@pytest.mark.parametrize("currency", ["EUR", "usd", "GBP", "CHF", "AUD", "CAD", "€", "$", "£"])
def test_an_hour_of_work_costs_5_to_500_in_the_money_that_is_known(
    shipped_house: House, currency: str
) -> None:
    """Of other money nothing is known; an hour that is not stated is not judged."""
    at = ("shop.toml", "rates", "labour_per_hour")
    costs = {5: [], 500: [], 4.99: [at], 500.01: [at], 0: []}
    for hour, found in costs.items():
        assert slips(shipped_house, rates=Rates(currency=currency, labour_per_hour=hour)) == found
    assert slips(shipped_house, rates=Rates(currency="JPY", labour_per_hour=9000)) == []


def test_a_disc_costs_an_hour_at_most_and_a_litre_twenty(shipped_house: House) -> None:
    """Measured in the shop's own hour; without one neither is judged."""
    for name, most in (("per_disc", 60.0), ("wet_bed_per_litre", 1200.0)):
        for cost, found in ((most, []), (nextafter(most, inf), [("shop.toml", "rates", name)])):
            rates = Rates(currency="JPY", labour_per_hour=60, **{name: cost})
            assert slips(shipped_house, rates=rates) == found
            assert slips(shipped_house, rates=rates.model_copy(update={"labour_per_hour": 0})) == []


def test_a_disc_and_a_litre_that_cost_anything_cost_some_of_an_hour(shipped_house: House) -> None:
    """0.0002 of an hour a disc, 0.01 a litre: less is a slip of the decimal point; nothing is no price."""
    for name, least in (("per_disc", 0.012), ("wet_bed_per_litre", 0.6)):
        for cost, found in ((least + 1e-9, []), (least - 1e-9, [("shop.toml", "rates", name)]), (0, [])):
            rates = Rates(currency="JPY", labour_per_hour=60, **{name: cost})
            assert slips(shipped_house, rates=rates) == found


@pytest.mark.practice
@pytest.mark.parametrize(
    ("tool", "told"), [("da-soft", False), ("da", False), ("da-hard", True), ("block", True)]
)
def test_a_soft_or_middling_pad_finishes(shipped_house: House, tool: str, *, told: bool) -> None:
    """A hard one leaves the deepest scratches of a sander; a block is none."""
    shop = shipped_house.shop.model_copy(update={"finishing_tool": tool})
    found = shop_slips(in_house(shipped_house, shop))
    assert [(each.key, each.mend) for each in found] == [
        (("shop.toml", "finishing_tool"), "Write da-soft or da.")
    ] * told


@pytest.mark.parametrize(("grade", "told"), [("P150", True), ("P180", False), ("P3000", False)])
def test_a_hand_pad_has_grain_from_p180_to_p3000(shipped_house: House, grade: str, *, told: bool) -> None:
    """Coarser tears clear; finer than P3000 there is no grade."""
    expected = [("shop.toml", "pads", "red")] if told else []
    assert slips(shipped_house, pads={"red": grade}) == expected


@pytest.mark.parametrize(("grade", "told"), [("P400", False), ("P500", True)])
def test_a_block_opens_a_surface_with_p400_at_the_finest(
    shipped_house: House, grade: str, *, told: bool
) -> None:
    """Finer cuts nothing open."""
    expected = [("shop.toml", "first_grade", "filler")] if told else []
    assert slips(shipped_house, first_grade={"filler": grade}) == expected


def test_limits_that_let_nothing_through_are_told_at_their_rule(shipped_house: House) -> None:
    """A risk or a cut of 0, and more film left than the 300 µm of a panel that was painted before."""
    told: dict[OutputName, dict[float, bool]] = {
        "risk_limit": {0.0: True, 0.001: False, 1.0: False, 1.001: True},
        "film_off_max_um": {0: True, 0.05: False, 0.5: False, 100: False},
        "film_left_min_um": {0: False, 300: False, 301: True},
    }
    for output, values in told.items():
        for value, is_told in values.items():
            house = House(
                Engine([rule({}, {output: value})]), shipped_house.shop, shipped_house.constants,
                {}, shipped_house.sources, shipped_house.used,
            )  # fmt: skip
            found = shop_slips(house)
            assert bool(found) == is_told, (output, value)
            assert all(each.rules == ("own",) and each.line == 3 for each in found)


LINE = {"id": "E1", "kind": "edge", "path": [[0, 0], [0.05, 0]]}
HALF = [[0, 0], [0.5, 0], [0.5, 1], [0, 1]]


def outline(**more: Any) -> Outline:
    """Return an outline of an own kind."""
    stated = {
        "kind": "fin", "name": "fin", "like": "sill", "length_mm": 1000, "height_mm": 500,
        "shape": [[0, 0], [1, 0], [1, 1], [0, 1]], "feature": [LINE], **more,
    }  # fmt: skip
    return Outline.model_validate(stated)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({}, ""),
        ({"shape": [[0, 0], [1, 0], [1, 0.1]]}, ""),  # 0.05 of the rectangle
        ({"shape": [[0, 0], [1, 0], [1, 0.099]]}, "hardly any area"),
        ({"shape": [[1, 0.099], [1, 0], [0, 0]]}, "hardly any area"),
        ({"shape": [[1, 0.1], [1, 0], [0, 0]]}, ""),
        ({"shape": [[0, 0], [1, 0.9], [1, 0], [0, 0.6], [0, 0.3]]}, "crosses itself"),
        ({"length_mm": 500, "height_mm": 100}, ""),  # 0.05 m²
        ({"length_mm": 499, "height_mm": 100}, "499 by 100 mm"),
        ({"length_mm": 140, "height_mm": 130, "like": "fuel-flap"}, ""),
        ({"colour_from": ["front"], "colour_mm": 400, "fade_mm": 600}, ""),
        ({"colour_from": ["front"], "colour_mm": 400, "fade_mm": 601}, "past its 1000 mm"),
        ({"colour_from": ["top"], "colour_mm": 400, "fade_mm": 101}, "past its 500 mm"),
        ({"colour_from": ["front", "rear"], "colour_mm": 400, "fade_mm": 101}, "past its 500 mm"),
        ({"fade_mm": 1000}, ""),  # without a layout the longer side counts
        ({"fade_mm": 1001}, "past its 1000 mm"),
        ({"feature": [LINE | {"path": [[0.5, 0.5], [0.5, 0.6], [0.5, 0.5]]}]}, ""),
        ({"feature": [LINE | {"path": [[0.5, 0.5], [0.5, 0.5]]}]}, "no length"),
        ({"shape": HALF, "feature": [LINE | {"path": [[0, 0], [0.61, 1]]}]}, ""),
        ({"shape": HALF, "feature": [LINE | {"path": [[0, 0], [0.63, 1]]}]}, "runs outside"),
    ],
)  # fmt: skip
def test_an_outline_is_told_where_it_cannot_be_drawn(
    shipped_house: House, changes: dict[str, Any], says: str
) -> None:
    """Its area, its turns, its size, its zones and its lines: a lead's last good value, and the next."""
    made = outline(**changes)
    house = House(
        Engine([]), shipped_house.shop, shipped_house.constants,
        {"fin": made}, shipped_house.sources, shipped_house.used,
    )  # fmt: skip
    found = shop_slips(house)
    assert [each.key for each in found] == ([("panels.toml", "outline", "fin", "kind")] if says else [])
    assert all(says in each.says for each in found)


def test_outlines_are_measured_as_a_geometry_library_measures_them() -> None:
    """Area, distance off and crossing of random polygons, against shapely."""
    draw = random.Random(2)
    for _ in range(150):
        shape = tuple((draw.random(), draw.random()) for _ in range(draw.randint(3, 6)))
        polygon = shapely.Polygon(shape)
        assert in_shop._crosses_itself(shape) == (not polygon.is_valid)
        if polygon.is_valid:
            assert abs(in_shop._area(shape)) == pytest.approx(polygon.area)
            for _ in range(4):
                point = draw.uniform(-0.5, 1.5), draw.uniform(-0.5, 1.5)
                distance = polygon.distance(shapely.Point(point))
                assert in_shop._off(point, shape) == pytest.approx(distance, abs=1e-12)


def test_a_softer_pad_cuts_no_deeper_and_a_finer_flake_is_the_smaller(shipped_house: House) -> None:
    """Equal depths are let be, equal sizes are not; and only neighbours are compared."""
    constants = shipped_house.constants
    assert [each.key for each in shop_slips(shipped_house)] == []
    depths = dict(constants.groove.depth_per_grain)
    pads: tuple[Tool, ...] = ("da-soft", "da", "da-hard")
    for softer, harder in pairwise(pads):
        for more, told in ((0.0, []), (1e-6, [("constants.toml", "groove", "depth_per_grain", softer)])):
            value = depths[harder].value + more
            changed = {**depths, softer: depths[softer].model_copy(update={"value": value})}
            groove = constants.groove.model_copy(update={"depth_per_grain": changed})
            assert told == _keys(shipped_house, constants.model_copy(update={"groove": groove}))
            measured = {**changed, softer: changed[softer].model_copy(update={"known": "measured"})}
            groove = constants.groove.model_copy(update={"depth_per_grain": measured})
            assert _keys(shipped_house, constants.model_copy(update={"groove": groove})) == []
    flakes: tuple[SeenFlake, ...] = ("very-fine", "fine", "medium", "coarse")
    for finer, coarser in pairwise(flakes):
        size = constants.flake[coarser].d50_um.value
        for less, expected in ((0.0, [("constants.toml", "flake", finer, "d50_um")]), (1e-6, [])):
            of_class = constants.flake[finer]
            d50 = of_class.d50_um.model_copy(update={"value": size - less})
            flake = {**constants.flake, finer: of_class.model_copy(update={"d50_um": d50})}
            assert _keys(shipped_house, constants.model_copy(update={"flake": flake})) == expected


def _keys(house: House, constants: Any) -> list[tuple[str, ...]]:
    """Return where slips are found in a house with other constants."""
    changed = House(house.engine, house.shop, constants, house.outlines, house.sources, house.used)
    return [finding.key for finding in shop_slips(changed)]
