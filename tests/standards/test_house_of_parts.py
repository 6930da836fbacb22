"""A house as one thing: the colour it looks up, the day it counts on, and what differs in another's data."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import FrozenInstanceError, replace
from typing import Any

import pytest

from prepadvisor.cases import Facts, Measured
from prepadvisor.records import BookColour, Colour, Job, Outline, Quantity, key_of
from prepadvisor.standards import House, Layers, data_changes
from prepadvisor.standards import house as in_house
from prepadvisor.standards.engine import State
from prepadvisor.standards.house import HouseData
from tests.standards.language.test_many_layers import rule, sources

SILVER = BookColour(book="HM-3", name="silver", flake="fine", stages=2, sealed_by="Lead")


def with_colours(house: House, **sizes: float) -> House:
    """Return a house with one colour in its book and sizes fitted to panels, by the name given."""
    fitted = {
        name: Quantity(value=size, unit="µm", source="own", known="measured") for name, size in sizes.items()
    }
    constants = house.constants.model_copy(update={"colour_d50_um": fitted})
    return replace(house, constants=constants, book={key_of(SILVER.book): SILVER})


def test_a_colour_is_looked_up_by_its_word_whatever_its_case(shipped_house: House) -> None:
    """A job that names none, or one that is not there, has no entry."""
    house = with_colours(shipped_house)
    assert house.entry(Colour(book=" hm-3 ")) is SILVER
    assert house.entry(Colour(book="hm-4")) is None
    assert house.entry(Colour(name="silver")) is None


def test_a_colour_is_called_as_the_job_does_else_as_the_book_does(shipped_house: House) -> None:
    """The job's own name, the book's, the word of one that is not there; one without any has none."""
    house = with_colours(shipped_house)
    stated = (("mine", "hm-3"), ("", "hm-3"), ("", "hm-4"), ("mine", ""), ("", ""))
    told = [house.colour_name(Colour(name=name, book=book)) for name, book in stated]
    assert told == ["mine", "silver", "hm-4", "mine", ""]


def test_houses_that_work_by_the_same_are_the_same(shipped_house: House) -> None:
    """However they were read and whatever day they stand on; nobody changes one, or is shown its layers."""
    other = replace(
        in_summer(shipped_house, []), engine=shipped_house.engine, used=shipped_house.used, digest="other",
        as_of=("in force",),
    )  # fmt: skip
    assert other.on(job(dt.date(2026, 9, 1))) != other
    assert other == shipped_house
    assert replace(shipped_house, folders=("ours",)) != shipped_house
    assert repr(other) == repr(replace(shipped_house, digest="other", layers=None, dated=None))
    with pytest.raises(FrozenInstanceError):
        other.digest = ""  # type: ignore[misc]


def test_a_house_with_other_data_stands_apart_on_a_day_that_was_asked_for(shipped_house: House) -> None:
    """What one house was worked out to is not taken for another's, though it was made from that one."""
    house = in_summer(shipped_house, [])
    day = job(dt.date(2026, 7, 1))
    named = house.on(day)
    assert replace(house, folders=("ours",)).on(day).folders == ("ours",)
    assert named.folders == house.folders
    assert house == replace(in_summer(shipped_house, []), engine=house.engine)


@pytest.mark.parametrize(
    ("sizes", "colour", "size"),
    [
        ({"hm-3": 11.0, "HM-3": 12.0, "silver": 13.0, "mine": 14.0}, {"book": "hm-3", "name": "mine"}, 11.0),
        ({"HM-3": 12.0, "silver": 13.0, "mine": 14.0}, {"book": "hm-3", "name": "mine"}, 12.0),
        ({"silver": 13.0, "mine": 14.0}, {"book": "hm-3", "name": "mine"}, 13.0),
        ({"mine": 14.0}, {"book": "hm-3", "name": "mine"}, 14.0),
        ({"silver": 13.0, "mine": 14.0}, {"name": "mine"}, 14.0),
        ({"silver": 13.0}, {"name": "mine"}, None),
        ({"": 13.0}, {}, None),
    ],
)
def test_a_size_fitted_to_panels_stands_by_the_nearest_name(
    shipped_house: House, sizes: dict[str, float], colour: dict[str, Any], size: float | None
) -> None:
    """The job's word for the book, the book's own, its name there, then the job's name for it."""
    house = with_colours(shipped_house, **sizes)
    assert house.judged(Colour(flake="fine", stages=2, **colour)).standing == Measured(d50_um=size)


def test_panel_kinds_of_its_own_are_those_that_say_what_they_are_like(shipped_house: House) -> None:
    """The shipped ones say nothing; folders are named in one line, of a thousand letters at most."""
    own = shipped_house.outlines["sill"].model_copy(update={"kind": "fin", "name": "fin", "like": "sill"})
    house = replace(
        shipped_house, outlines={**shipped_house.outlines, "fin": own}, folders=("group", "site" * 400)
    )
    assert shipped_house.kinds == {}
    assert house.kinds == {"fin": "sill"}
    assert shipped_house.folder == ""
    assert replace(house, folders=("a", "b")).folder == "a + b"
    assert len(house.folder) == 1000


def job(day: dt.date | None = None, customer: str = "") -> Job:
    """Return a job of a day and a customer."""
    stated = {"number": "1", "customer": customer} | ({"date": day} if day else {})
    return Job.model_validate({"job": stated, "panel": [PANEL]})


PANEL = {
    "id": "p", "kind": "sill", "role": "repair", "surface": "aged-clear", "length_mm": 900, "height_mm": 90,
}  # fmt: skip
SUMMER = {
    "standards": {
        "name": "Summer", "version": "2", "valid_from": dt.date(2026, 6, 1), "valid_to": dt.date(2026, 8, 31),
    },
    "rule": [rule("warm", "P1500")],
}  # fmt: skip


def in_summer(shipped_house: House, asked: list[Mapping[str, State]]) -> House:
    """Return a house with a layer for the summer, whose mist is 99 mm while it counts."""
    layers = Layers(sources(SUMMER))

    def dated(named: Mapping[str, State]) -> HouseData:
        asked.append(named)
        mist = 99 if named["one"] == "in force" else 150
        shop = shipped_house.shop.model_copy(update={"mist_mm": mist})
        house = shipped_house
        return HouseData(shop, house.constants, {}, {}, {key_of(SILVER.book): SILVER}, ())

    engine = layers.engine()
    used = shipped_house.used._replace(layers=layers.layers)
    return replace(shipped_house, engine=engine, layers=layers, used=used, dated=dated)


def test_a_house_stands_as_its_layers_do_on_the_day_of_a_job(shipped_house: House) -> None:
    """Rules and data of a layer count on its first and last day and between; worked out once a state."""
    asked: list[Mapping[str, State]] = []
    house = in_summer(shipped_house, asked)
    found = {
        day: house.on(job(day))
        for day in (dt.date(2026, 5, 31), dt.date(2026, 6, 1), dt.date(2026, 8, 31), dt.date(2026, 9, 1))
    }
    finishes = [each.engine.decide(Facts()).finish_coarsest for each in found.values()]
    assert finishes == ["P1000", "P1500", "P1500", "P1000"]
    assert [each.shop.mist_mm for each in found.values()] == [150, 99, 99, 150]
    assert [each.used.layers[1].state for each in found.values()] == [
        "not yet", "in force", "in force", "over",
    ]  # fmt: skip
    assert [each.used.name for each in found.values()] == ["", "Summer", "Summer", ""]
    assert [each.used.version for each in found.values()] == ["", "2", "2", ""]
    assert all(each.outlines == {} and each.sources == {} for each in found.values())
    assert all(each.entry(Colour(book="hm-3")) is SILVER for each in found.values())
    assert len(asked) == 3
    assert house.on(job(dt.date(2026, 7, 1))) is found[dt.date(2026, 6, 1)]
    assert len(asked) == 3
    there = found[dt.date(2026, 6, 1)]
    assert there.on(job(dt.date(2026, 7, 1))) is there
    assert house.on(job()).engine.decide(Facts()).finish_coarsest == "P1500"
    assert house.on(job()).used.layers[1].state == "unsure"


def test_a_house_without_days_is_the_same_on_each(shipped_house: House) -> None:
    """So is one whose files were not read as layers, and one whose data do not hang on the day."""
    assert shipped_house.on(job(dt.date(2026, 6, 1))) is shipped_house
    assert replace(shipped_house, layers=None).on(job()).layers is None
    plain = replace(in_summer(shipped_house, []), dated=None)
    there = plain.on(job(dt.date(2026, 7, 1)))
    assert there.shop is plain.shop
    assert there.used.changes == plain.used.changes
    assert there.engine.decide(Facts()).finish_coarsest == "P1500"


def changed(house: House, **updates: Any) -> list[tuple[str | None, ...]]:
    """Return what differs between a house and the same with some of its data changed."""
    return [tuple(each) for each in data_changes(house, replace(house, **updates))]


def test_a_number_that_differs_is_told_with_its_file_and_key(shipped_house: House) -> None:
    """As it was and as it is; a table key by key, a list in one line, a word or a switch as it is written."""
    shop, constants = shipped_house.shop, shipped_house.constants
    assert data_changes(shipped_house, shipped_house) == ()
    bed = shop.wet_bed.model_copy(update={"overlap_mm": 80.5})
    assert changed(shipped_house, shop=shop.model_copy(update={"wet_bed": bed, "disc_minutes": 0.75})) == [
        ("shop.toml", "disc_minutes", "0.5", "0.75"),
        ("shop.toml", "wet_bed.overlap_mm", "100", "80.5"),
    ]
    more = {"shelf": ("P800", "P1000"), "interface_pad": False, "hand_tool": "hand-paper"}
    told = changed(shipped_house, shop=shop.model_copy(update=more))
    assert {each[1]: each[3] for each in told} == {
        "shelf": "P800 P1000", "interface_pad": "false", "hand_tool": "hand-paper",
    }  # fmt: skip
    pads = shop.model_copy(update={"pads": {"grey": "P800"}})
    assert changed(shipped_house, shop=pads) == [("shop.toml", "pads.grey", None, "P800")]
    factor = constants.mixing.factor.model_copy(update={"value": 3.0, "known": "measured", "note": "own"})
    mixing = constants.mixing.model_copy(update={"factor": factor})
    assert changed(shipped_house, constants=constants.model_copy(update={"mixing": mixing})) == [
        ("constants.toml", "mixing.factor", "2", "3")
    ]


def test_only_the_passport_of_a_number_is_no_difference(shipped_house: House) -> None:
    """Where it comes from is not what the work is done by."""
    constants = shipped_house.constants
    factor = constants.mixing.factor.model_copy(update={"known": "measured", "source": "own", "note": "x"})
    mixing = constants.mixing.model_copy(update={"factor": factor})
    assert changed(shipped_house, constants=constants.model_copy(update={"mixing": mixing})) == []
    assert changed(shipped_house, shop=shipped_house.shop.model_copy(update={"passport": {}})) == []


def test_outlines_that_came_went_or_changed_are_told(shipped_house: House) -> None:
    """A new kind by what it is like; of a changed one the keys; a long list by its length."""
    sill = shipped_house.outlines["sill"]
    fin = sill.model_copy(update={"kind": "fin", "name": "fin", "like": "sill"})
    with_fin = {**shipped_house.outlines, "fin": fin}
    assert changed(shipped_house, outlines=with_fin) == [
        ("panels.toml", "fin", None, "a kind of panel, like sill")
    ]
    assert changed(replace(shipped_house, outlines=with_fin), outlines=shipped_house.outlines) == [
        ("panels.toml", "fin", "a kind of panel, like sill", None)
    ]
    longer = sill.model_copy(update={"length_mm": 1601.0})
    ((file, key, before, after),) = changed(
        shipped_house, outlines={**shipped_house.outlines, "sill": longer}
    )
    assert (file, key, before, after) == ("panels.toml", "sill.length_mm", f"{sill.length_mm:g}", "1601")
    turned = Outline.model_validate(sill.model_dump() | {"shape": [(0, 0), (1, 0), (1, 1)]})
    told = data_changes(
        shipped_house, replace(shipped_house, outlines={**shipped_house.outlines, "sill": turned})
    )
    assert [each.key for each in told] == ["sill.shape"]
    assert told[0].after is not None
    assert told[0].after.startswith("3 entries (")
    assert told[0].says.startswith("panels.toml sill.shape: 8 entries (")
    assert len(told[0]._replace(before="x" * 500).says) == 160
    assert told[0]._replace(before=None, after="y").says == "panels.toml sill.shape: not stated → y"


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (0.25, "0.25"),
        (3.0, "3"),
        (True, "true"),
        ("da", "da"),
        (("P800", "P1000"), "P800 P1000"),
        ([1, 2.5], "1 2.5"),
        ((), ""),
        (("a", (1, 2)), "2 entries ('a', (1, 2))"),
        (None, "None"),
    ],
)
def test_a_value_is_told_in_one_line(value: object, says: str) -> None:
    """Numbers without needless digits, switches as a file has them, a list bare if all of it is simple."""
    assert in_house._told(value) == says
