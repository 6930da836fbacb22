"""What a look rests on: which change of a job or its advice makes another basis, part by part."""

from collections.abc import Callable
from typing import Any, Final

import pytest

from prepadvisor.checkoff import bases, changed, lacking, parts_of
from prepadvisor.checkoff.basis import mends
from prepadvisor.records import Advice, Grade, Place, Spot
from tests.checkoff.shopfloor import DOOR, Shopfloor
from tests.checkoff.test_each_fact import BASIS, WORK, entries

E1: Final = f"{DOOR}/E1"
FACE: Final = f"{DOOR}/face"
PARTS: Final = ("number", "name", "colour", "panel", "zones", "asks", "paths", "patches", "scope")


def moved(floor: Shopfloor, advice: Advice, place: str = E1) -> tuple[str, ...]:
    """Return the parts of a place's basis that differ where the advice is another."""
    before = parts_of(bases(floor.job, floor.advice, floor.house)[place])
    after = parts_of(bases(floor.job, advice, floor.house)[place])
    assert list(before) == list(after) == list(PARTS)
    return tuple(part for part in PARTS if before[part] != after[part])


def with_spot(advice: Advice, spot: str, **parts: Any) -> Advice:
    """Return the advice with parts of a spot changed."""
    return advice._replace(
        spots=tuple(each._replace(**parts) if each.id == spot else each for each in advice.spots)
    )


def with_place(advice: Advice, place: str, **parts: Any) -> Advice:
    """Return the advice with parts of a place changed."""
    return advice._replace(
        places=tuple(each._replace(**parts) if each.id == place else each for each in advice.places)
    )


ON_SPOT: Final[list[tuple[str, Callable[[Spot], dict[str, Any]], tuple[str, ...]]]] = [
    ("half a millimetre less", lambda spot: {"length_mm": round(spot.length_mm or 0) + 0.3}, ()),
    ("a millimetre more", lambda spot: {"length_mm": round(spot.length_mm or 0) + 1.0}, ("zones",)),
    ("no length", lambda _: {"length_mm": None}, ("zones",)),
    ("a square centimetre more", lambda spot: {"area_m2": round(spot.area_m2, 3) + 1e-4}, ()),
    ("ten square centimetres more", lambda spot: {"area_m2": round(spot.area_m2, 3) + 1e-3}, ("zones",)),
    ("another hand limit", lambda _: {"hand_coarsest": Grade("P1200")}, ("asks",)),
    ("no finish", lambda _: {"finish": None}, ("asks",)),
    ("another risk", lambda _: {"risk_limit": 0.1, "because": ()}, ()),
]


@pytest.mark.parametrize(("name", "change", "parts"), ON_SPOT, ids=[case[0] for case in ON_SPOT])
def test_what_lies_and_is_asked_at_a_spot_is_what_counts(
    fresh: Shopfloor, name: str, change: Callable[[Spot], dict[str, Any]], parts: tuple[str, ...]
) -> None:
    """Lengths to a millimetre, areas to ten square centimetres, the grit range; not how it came about."""
    assert name
    spot = next(each for each in fresh.advice.spots if each.id.startswith(f"{E1}/"))
    even = with_spot(
        fresh.advice, spot.id, length_mm=float(round(spot.length_mm or 0)), area_m2=round(spot.area_m2, 3)
    )
    assert moved(fresh, even) == ()
    assert moved(fresh, with_spot(fresh.advice, spot.id, **change(spot))) == parts


@pytest.mark.parametrize(
    "field", ["finish", "tool", "hand_coarsest", "guide_coat", "interface_pad", "wet_bed", "split"]
)
def test_each_answer_of_a_place_is_asked_there(fresh: Shopfloor, field: str) -> None:
    """Another grade, tool, powder, pad, bed or split is another thing that was looked at."""
    place = next(each for each in fresh.advice.places if each.id == E1)
    other: dict[str, Any] = {
        "finish": Grade("P1200"), "tool": "da-hard", "hand_coarsest": Grade("P1500"), "guide_coat": "no",
        "interface_pad": not place.interface_pad, "split": (("fade", Grade("P1200")),),
        "wet_bed": place.wet_bed._replace(coats=place.wet_bed.coats + 1),
    }  # fmt: skip
    assert getattr(place, field) != other[field]
    assert moved(fresh, with_place(fresh.advice, E1, **{field: other[field]})) == ("asks",)
    assert moved(fresh, with_place(fresh.advice, E1, **{field: other[field]}), FACE) == ()


@pytest.mark.parametrize(("field", "value"), [("kind", "flange"), ("reach", "hand"), ("seen", False)])
def test_what_a_place_is_counts_as_how_it_lies(fresh: Shopfloor, field: str, value: object) -> None:
    """Its kind, what reaches it, whether it is seen."""
    assert moved(fresh, with_place(fresh.advice, E1, **{field: value})) == ("zones",)


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        ({"number": "77"}, ("number",)),
        ({"vehicle": "van"}, ()),
        ({"name": "HARBOUR MIST"}, ()),
        ({"name": "Harbour fog"}, ("name",)),
        ({"flake_um": 7.9}, ("colour",)),
        ({"tilt_deg": 6.0}, ("colour",)),
        ({"log_sd": 0.3}, ("colour",)),
    ],
)
def test_the_colour_counts_where_it_reaches_and_the_number_everywhere(
    fresh: Shopfloor, parts: dict[str, Any], expected: tuple[str, ...]
) -> None:
    """An edge in the clear zone rests on no measured flake."""
    before, advice = bases(fresh.job, fresh.advice, fresh.house), fresh.advice
    clear = next(
        place.id for place in advice.places
        if {spot.zone for spot in advice.spots if spot.id in place.spots} == {"clear"}
    )  # fmt: skip
    fresh.with_job(**parts)
    after = bases(fresh.job, advice, fresh.house)
    for place in (E1, clear):
        wanted = tuple(part for part in expected if place == E1 or part != "colour")
        assert changed(before[place], after[place]) == wanted


@pytest.mark.parametrize(
    ("stage", "parts"),
    [({"flake": "fine"}, ("colour",)), ({"stages": 3}, ("colour",)), ({"tone": "dark"}, ("colour",))],
)
def test_the_colour_as_judged_counts(fresh: Shopfloor, stage: dict[str, Any], parts: tuple[str, ...]) -> None:
    """Flake, stages and tone."""
    other = fresh.advice._replace(job=fresh.advice.job._replace(**stage))
    assert moved(fresh, other) == parts


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        ({"role": "repair"}, {"panel"}),
        ({"surface": "cured-clear"}, {"panel"}),
        ({"length_mm": 1051}, {"panel"}),
        ({"height_mm": 641}, {"panel"}),
        ({"special": "radar"}, {"panel"}),
        ({"film_um": [100]}, set()),
        (
            {"patch": [{"id": "R9", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [90, 90]}]},
            {"patches"},
        ),
    ],
)
def test_what_a_panel_is_counts_for_its_places_alone(
    fresh: Shopfloor, parts: dict[str, Any], expected: set[str]
) -> None:
    """By the same advice: the face rests on the patches' places as well, the other panel on none of it."""
    before, advice = bases(fresh.job, fresh.advice, fresh.house), fresh.advice
    fresh.with_panel(**parts)
    after = bases(fresh.job, advice, fresh.house)

    def differ(place: str) -> set[str]:
        old, new = parts_of(before[place]), parts_of(after[place])
        return {part for part in PARTS if old[part] != new[part]}

    assert differ(E1) == expected
    assert differ(FACE) == expected | ({"paths"} if "patches" in expected else set())
    assert differ("left-front-wing/E1") == set()


def test_which_panels_there_are_is_told_and_reopens_nothing(fresh: Shopfloor) -> None:
    """Nor do the patches: where one lies is in the zones and paths of what it touches."""
    before = bases(fresh.job, fresh.advice, fresh.house)[E1]
    fresh.job = fresh.job.model_copy(update={"panel": fresh.job.panel[:1]})
    after = bases(fresh.job, fresh.advice, fresh.house)[E1]
    assert [part for part in PARTS if parts_of(before)[part] != parts_of(after)[part]] == ["scope"]
    assert changed(before, after) == ()
    assert lacking(before) == ()
    assert lacking("") == PARTS
    assert changed("", before) == changed(before, "") == ()


def test_a_place_of_no_panel_and_a_ring_have_a_basis_too(fresh: Shopfloor) -> None:
    """Whatever an advice has: nothing of a panel that is not in the job counts there."""
    ghost: Place = fresh.advice.places[0]._replace(id="gone/face", panel="gone", spots=())
    advice = fresh.advice._replace(places=(ghost,))
    found = parts_of(bases(fresh.job, advice, fresh.house)["gone/face"])
    assert (found["panel"], found["paths"], found["patches"], found["colour"]) == ("-", "-", "-", "-")


@pytest.mark.parametrize("rubs", [1, 49, 50, 51, 80])
def test_the_last_fifty_rub_throughs_are_held_against_mends(rubs: int) -> None:
    """More stand, whatever was done: nobody rubs one place through so often."""
    words = entries(*[("inspected", "cut-through", "zones:aaa")] * rubs, WORK)
    found = mends(words, BASIS["fade"], ("fade",), {"R1": words[-1:]}, is_patch=False)
    assert sorted(found) == list(range(max(1, rubs - 49), rubs + 1))
