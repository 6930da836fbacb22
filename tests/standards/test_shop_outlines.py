"""Outlines and limits of a shop, drawn at random and at the very edge of what is sound; shapely measures."""

import random
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, Final

import pytest
import shapely

from prepadvisor.records import Outline
from prepadvisor.standards import House, shop_slips
from prepadvisor.standards.engine import EVERYTHING, Engine, Rule

Points = list[tuple[float, float]]
SQUARE: Final[Points] = [(0, 0), (1, 0), (1, 1), (0, 1)]
HALF: Final[Points] = [(0, 0), (0.5, 0), (0.5, 1), (0, 1)]
SEEDS: Final = range(120)
NO_AREA: Final = "The outline fin has hardly any area."
OUTSIDE: Final = "The line E1 of fin runs outside its shape."
PAST: Final = "colour_mm and fade_mm of fin reach past its {} mm from where colour enters."


def told(house: House, shape: Points = SQUARE, path: Points | None = None, **more: Any) -> list[str]:
    """Return what is said of an outline of a fin, 900 by 200 mm, with one edge."""
    line = {"id": "E1", "kind": "edge", "path": path or [(0.2, 0.02), (0.2, 0.05)]}
    stated = {"kind": "fin", "name": "fin", "like": "sill", "length_mm": 900, "height_mm": 200, **more}
    outline = Outline.model_validate({**stated, "shape": shape, "feature": [line]})
    return [slip.says for slip in shop_slips(replace(house, outlines={"fin": outline}))]


def drawn(rng: random.Random, corners: int) -> Points:
    """Draw corners anywhere."""
    return [(rng.random(), rng.random()) for _ in range(corners)]


def test_a_shape_crosses_itself_as_shapely_sees_it(shipped_house: House) -> None:
    """Of random corners, most do."""
    seen = set()
    for seed in SEEDS:
        shape = drawn(random.Random(seed), 3 + seed % 4)
        if abs(_area(shape)) < 0.06:
            continue
        crosses = not shapely.LinearRing(shape).is_simple
        seen.add(crosses)
        said = "The outline fin crosses itself."
        assert (said in told(shipped_house, shape)) is crosses, shape
    assert seen == {True, False}


def test_a_line_runs_outside_as_shapely_measures_it(shipped_house: House) -> None:
    """Any of its points farther off the shape than 12 % of length and height; points about there."""
    judged = 0
    for seed in SEEDS:
        rng = random.Random(seed)
        shape = drawn(rng, 3 + seed % 3)
        ring = shapely.Polygon(shape)
        if abs(_area(shape)) < 0.06 or not ring.is_valid:
            continue
        off = {point: ring.distance(shapely.Point(point)) for point in drawn(rng, 80)}
        on_it = [point for point, far in off.items() if far <= 0.12]
        if len(on_it) > 1:
            assert OUTSIDE not in told(shipped_house, shape, on_it), shape
        for point in [point for point, far in off.items() if 0.12 < far < 0.16][:4]:
            judged += 1
            path = [on_it[0] if on_it else point, point]
            assert OUTSIDE in told(shipped_house, shape, path), (shape, point)
    assert judged > 100


def _area(shape: Points) -> float:
    """Return the signed area of a shape, those parts taken off that are gone round the other way."""
    around = zip(shape, (*shape[1:], shape[0]), strict=True)
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in around) / 2


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        # a twentieth of the rectangle is a shape
        ({"shape": [(0, 0), (0.5, 0), (0.5, 0.1), (0, 0.1)]}, []),
        ({"shape": [(0, 0.1), (0.5, 0.1), (0.5, 0), (0, 0)]}, []),
        ({"shape": [(0, 0), (0.5, 0), (0.5, 0.09), (0, 0.09)]}, [NO_AREA]),
        ({"shape": [(0, 0), (1, 1), (0.99, 1)], "path": [(0.2, 0.2), (0.3, 0.3)]}, [NO_AREA]),
        # a corner that lies on another side crosses nothing, whichever side is drawn first
        ({"shape": [(0, 0), (1, 0), (1, 1), (0.5, 0), (0, 1)]}, []),
        ({"shape": [(1, 1), (0.5, 0), (0, 1), (0, 0), (1, 0)]}, []),
        ({"shape": [(0.5, 0), (0, 1), (0, 0), (1, 0), (1, 1)]}, []),
        ({"shape": [(0, 0), (1, 0), (1, 1), (0.5, -0.0), (0, 1)]}, []),
        # of a shape that is none no line is said to lie beside it
        ({"shape": [(0, 0), (0.1, 0), (0.1, 0.1)], "path": [(1, 1), (0.9, 1)]}, [NO_AREA]),
        # just as far off as may be
        ({"shape": HALF, "path": [(0.62, 0.5), (0.2, 0.5)]}, []),
        ({"shape": HALF, "path": [(0.63, 0.5), (0.2, 0.5)]}, [OUTSIDE]),
        ({"path": [(0.2, 0.5), (0.2, 0.5)]}, ["The line E1 of fin has no length."]),
        ({"path": [(0.2, 0.5), (0.3, 0.5), (0.2, 0.5)]}, []),
        # 0.05 m² is the least of a panel, but of a mirror cap or a flap
        ({"length_mm": 250, "height_mm": 200}, []),
        ({"length_mm": 249, "height_mm": 200}, ["The outline fin is 249 by 200 mm."]),
        ({"length_mm": 140, "height_mm": 130, "like": "fuel-flap"}, []),
        ({"length_mm": 140, "height_mm": 130, "like": "mirror-cap"}, []),
        # colour and fade end at the far border
        ({"colour_from": ["front"], "colour_mm": 300, "fade_mm": 600}, []),
        ({"colour_from": ["front"], "colour_mm": 301, "fade_mm": 600}, [PAST.format(900)]),
        ({"colour_from": ["top"], "colour_mm": 50, "fade_mm": 150}, []),
        ({"colour_from": ["top"], "colour_mm": 51, "fade_mm": 150}, [PAST.format(200)]),
        # from both ends they meet half way
        ({"colour_from": ["front", "rear"], "colour_mm": 150, "fade_mm": 300}, []),
        ({"colour_from": ["front", "rear"], "colour_mm": 151, "fade_mm": 300}, [PAST.format(450)]),
        # where nothing is known of the way, the longer side is what there is
        ({"colour_mm": 900}, []),
        ({"fade_mm": 900}, []),
        ({"colour_mm": 400, "fade_mm": 501}, [PAST.format(900)]),
        ({"colour_from": ["top"], "fade_mm": 900}, []),
        ({"length_mm": 200, "height_mm": 900, "fade_mm": 900}, []),
    ],
)  # fmt: skip
def test_an_outline_at_the_edge_of_what_is_sound(
    shipped_house: House, stated: dict[str, Any], says: list[str]
) -> None:
    """Worked out by hand: what lies on the limit is sound, what lies past it is told."""
    assert told(shipped_house, **stated) == says


@pytest.mark.parametrize(
    ("stated", "sound"),
    [
        ({"pads": {"grey": "P180"}}, True),
        ({"pads": {"grey": "P150"}}, False),
        ({"pads": {"grey": "P3000"}}, True),
        ({"pads": {"grey": "P4000"}}, False),
        ({"first_grade": {"filler": "P400"}}, True),
        ({"first_grade": {"filler": "P500"}}, False),
        ({"rates": {"currency": "EUR", "labour_per_hour": 5}}, True),
        ({"rates": {"currency": "EUR", "labour_per_hour": 4.99}}, False),
        ({"rates": {"currency": "eur", "labour_per_hour": 500}}, True),
        ({"rates": {"currency": "eur", "labour_per_hour": 501}}, False),
        ({"rates": {"currency": "JPY", "labour_per_hour": 501}}, True),
        ({"rates": {"currency": "EUR", "labour_per_hour": 60, "per_disc": 60}}, True),
        ({"rates": {"currency": "EUR", "labour_per_hour": 60, "per_disc": 60.5}}, False),
        ({"rates": {"currency": "EUR", "labour_per_hour": 60, "wet_bed_per_litre": 1200}}, True),
        ({"rates": {"currency": "EUR", "labour_per_hour": 60, "wet_bed_per_litre": 1201}}, False),
        ({"rates": {"currency": "EUR", "labour_per_hour": 0, "per_disc": 100}}, True),
    ],
)
@pytest.mark.practice
def test_a_shop_file_at_the_edge_of_what_is_sound(
    shipped_house: House, stated: dict[str, Any], *, sound: bool
) -> None:
    """On the limit it is sound, past it it is told. The limits are practice."""
    shop = type(shipped_house.shop).model_validate({**shipped_house.shop.model_dump(), **stated})
    assert (shop_slips(replace(shipped_house, shop=shop)) == []) is sound


@pytest.mark.parametrize(
    ("stated", "says", "mend"),
    [
        (
            {"pads": {"grey": "P150"}},
            'The pad "grey" stands for P150, which is the grain of no hand pad.',
            "Ask its maker for the P equivalent: P180 to P3000.",
        ),
        (
            {"rates": {"currency": "EUR", "labour_per_hour": 4}},
            "rates.labour_per_hour is 4 EUR.",
            "Sensible is 5 to 500; compare its decimal point.",
        ),
        (
            {"rates": {"currency": "EUR", "labour_per_hour": 40, "per_disc": 60}},
            "rates.per_disc is 60, as much as 1.5 hours of work.",
            "Compare its unit and its decimal point.",
        ),
        (
            {"mist_mm": 0.5},
            "mist_mm is 0.5: sensible is 0, or 10 to 500.",
            "Compare its unit and its decimal point.",
        ),
    ],
)
def test_a_slip_says_what_would_be_sensible(
    shipped_house: House, stated: dict[str, Any], says: str, mend: str
) -> None:
    """In numbers that a lead can compare."""
    shop = type(shipped_house.shop).model_validate({**shipped_house.shop.model_dump(), **stated})
    (slip,) = shop_slips(replace(shipped_house, shop=shop))
    assert (slip.says, slip.mend) == (says, mend)


def test_solids_that_are_set_as_they_are_sprayed_are_sound(shipped_house: House) -> None:
    """A coat that sets at once: odd, not impossible."""
    shop = shipped_house.shop
    bed = shop.wet_bed.model_copy(update={"set_solids": shop.wet_bed.volume_solids})
    house = replace(shipped_house, shop=shop.model_copy(update={"wet_bed": bed}))
    assert [slip for slip in shop_slips(house) if "set_solids" in slip.says] == []


@pytest.mark.parametrize(
    ("setting", "sound"),
    [
        ({"risk_limit": 0.0}, False),
        ({"risk_limit": 0.01}, True),
        ({"risk_limit": 1.0}, True),
        ({"risk_limit": 1.05}, False),
        ({"film_off_max_um": 0.05}, True),
        ({"film_left_min_um": -1}, False),
        ({"film_off_max_um": 0}, False),
        ({"film_off_max_um": 1}, True),
        ({"film_left_min_um": 0}, True),
        ({"film_left_min_um": 300}, True),
        ({"film_left_min_um": 301}, False),
    ],
)
def test_limits_at_the_edge_of_what_they_can_be(
    shipped_house: House, setting: Mapping[Any, Any], *, sound: bool
) -> None:
    """One that lets nothing through, or asks for more film than a panel has, is told."""
    rule = Rule("own", "Says.", EVERYTHING, setting, "practice", file="a.toml", line=1)
    slips = shop_slips(replace(shipped_house, engine=Engine([rule])))
    assert ([slip.rules for slip in slips] == []) is sound


def changed(house: House, table: str, values: Mapping[str, Iterable[Any]]) -> House:
    """Return a house with entries of its constants changed: to a number, and how it is known."""
    whole = house.constants.model_dump()
    for name, (value, known) in values.items():
        entry = (
            whole["groove"]["depth_per_grain"][name] if table == "groove" else whole["flake"][name]["d50_um"]
        )
        entry |= {"value": value, "known": known}
    return replace(house, constants=type(house.constants).model_validate(whole))


@pytest.mark.parametrize(
    ("soft", "da", "hard", "told_of"),
    [
        ((0.05, "practice"), (0.05, "practice"), (0.05, "practice"), []),
        ((0.06, "practice"), (0.05, "practice"), (0.07, "practice"), ["da-soft"]),
        ((0.06, "measured"), (0.05, "practice"), (0.07, "practice"), []),
        ((0.06, "practice"), (0.05, "measured"), (0.07, "practice"), []),
        ((0.04, "practice"), (0.06, "practice"), (0.05, "practice"), ["da"]),
        ((0.06, "practice"), (0.05, "practice"), (0.04, "practice"), ["da-soft", "da"]),
    ],
)
def test_a_softer_pad_never_cuts_deeper_unless_it_was_measured(
    shipped_house: House, soft: tuple[float, str], da: tuple[float, str], hard: tuple[float, str],
    told_of: list[str],
) -> None:  # fmt: skip
    """As deep is no slip."""
    house = changed(shipped_house, "groove", {"da-soft": soft, "da": da, "da-hard": hard})
    assert [slip.key[-1] for slip in shop_slips(house) if "depth_per_grain" in slip.key] == told_of


@pytest.mark.parametrize(
    ("sizes", "told_of"),
    [
        ((10, 15, 20, 25), []),
        ((15, 15, 20, 25), ["very-fine"]),
        ((10, 16, 15, 25), ["fine"]),
        ((10, 15, 26, 25), ["medium"]),
    ],
)
def test_flake_classes_rise_in_size(shipped_house: House, sizes: tuple[int, ...], told_of: list[str]) -> None:
    """Of the same size is a slip: then the finer class is not finer."""
    rising = zip(("very-fine", "fine", "medium", "coarse"), sizes, strict=True)
    house = changed(shipped_house, "flake", {name: (size, "practice") for name, size in rising})
    assert [slip.key[2] for slip in shop_slips(house) if slip.key[-1] == "d50_um"] == told_of
