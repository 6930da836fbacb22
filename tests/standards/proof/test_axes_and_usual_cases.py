"""Axes cut for boxes, and back into words: held against what each box says of each case by itself."""

import random
from collections.abc import Iterator, Sequence
from math import inf
from typing import Any

import pytest

from prepadvisor.cases import CATEGORIES, CATEGORY, FACTS, NUMBER, ORDER, OTHER, Facts, Names
from prepadvisor.standards import read_when
from prepadvisor.standards.engine import EVERYTHING, Box, Interval, box_of
from prepadvisor.standards.proof.space import HIGHEST, LOWEST, Axes, Cut, Space, cells, range_words, shared
from prepadvisor.standards.proof.told import typical

ENDS = (0.0, 90.0, 120.0, 300.0)
READINGS = (None, 0.0, 50.0, 90.0, 100.0, 120.0, 200.0, 300.0, 1000.0)


def a_range(draw: random.Random) -> Interval | None:
    """Draw a range with ends out of few numbers, none, one without a number, or one beside it."""
    if draw.random() < 0.2:
        return None
    low, high = sorted((draw.choice(ENDS), draw.choice((*ENDS, inf))))
    closed = low == high or draw.random() < 0.5
    limits = Interval(low, closed, high, high < inf and (low == high or draw.random() < 0.5))
    return draw.choice(
        (limits, limits, limits._replace(unknown=True), Interval(0.0, False, 0.0, False, True))
    )


def boxes_of(draw: random.Random) -> list[Box]:
    """Draw boxes that ask for a flake, a stage count and the film."""
    found = []
    for _ in range(draw.randint(1, 4)):
        flakes = draw.sample(CATEGORIES[CATEGORY["flake"]].values, draw.randint(1, 6))
        limits = a_range(draw)
        found.append(box_of({"flake": flakes}, {} if limits is None else {"film_um": limits}))
    return found


def place_of(axes: Axes, fact: str, value: object) -> int:
    """Return the place of a case's value on its axis, by the cuts that lie below a number."""
    if fact in CATEGORY:
        return list(axes.values(fact)).index(value)  # type: ignore[arg-type]
    if value is None:
        return 0
    assert isinstance(value, float)
    return sum(cut.at < value or (cut.at == value and not cut.above) for cut in axes.cuts(fact))


def cases() -> Iterator[Facts]:
    """Go through flakes and film readings."""
    for flake in CATEGORIES[CATEGORY["flake"]].values:
        for film in READINGS:
            yield Facts(flake=str(flake), film_um=film)


def draws(count: int) -> Iterator[list[Box]]:
    """Go through lists of boxes, the same in every run."""
    return (boxes_of(random.Random(seed)) for seed in range(count))


def test_a_case_lies_in_the_masks_of_a_box_exactly_if_the_box_holds_it() -> None:
    """Over every flake and reading, on the limits, between them and beyond."""
    for boxes in draws(60):
        axes = Axes(boxes)
        for box in [*boxes, EVERYTHING]:
            masks = axes.masks(box)
            for case in cases():
                inside = all(
                    mask >> place_of(axes, fact, getattr(case, fact)) & 1
                    for fact, mask in zip(ORDER, masks, strict=True)
                )
                assert inside == box.holds(case)


def test_an_open_fact_has_the_names_that_boxes_speak_of_and_one_for_the_rest() -> None:
    """By alphabet, whatever else was read before; a box has those that it allows."""
    but, wrong = read_when({"book": {"not": "axis-b"}}, ())
    one, wrong_too = read_when({"book": "axis-a"}, ())
    assert (wrong, wrong_too) == ([], [])
    axes = Axes([but, one])
    assert axes.values("book") == (OTHER, "axis-a", "axis-b")
    level = ORDER.index("book")
    assert axes.sizes[level] == 3
    assert [axes.masks(box)[level] for box in (one, but, EVERYTHING)] == [0b010, 0b011, 0b111]
    assert axes.told(Facts(book="axis-a")).book == "axis-a"
    assert Axes([one]).told(Facts(book="axis-b")).book == OTHER


def test_ranges_that_touch_are_told_as_one() -> None:
    """However often other boxes cut them; those apart one by one, no reading first."""
    ends = [read_when({"film_um": f">= {end}"}, ())[0] for end in (90, 120, 300)]
    axes = Axes(ends)
    full, level = axes.masks(EVERYTHING), ORDER.index("film_um")
    over = [axes.masks(box)[level] for box in ends]
    known = full[level] & ~1

    def told(mask: int) -> list[object]:
        return list(axes.limits((*full[:level], mask, *full[level + 1 :]))["film_um"])

    assert told(over[0]) == [">= 90"]
    assert told(known & ~over[1]) == ["< 120"]
    assert told(over[0] & ~over[2]) == [">= 90 and < 300"]
    assert told(full[level] & ~over[0] | over[1] & ~over[2]) == ["unknown", "< 90", ">= 120 and < 300"]
    assert told(known) == ["known"]


def test_no_two_ranges_that_stand_side_by_side_are_told_apart_by_no_box() -> None:
    """A number is cut only where some box begins or ends, so rows of a table are as few as can be."""
    for boxes in draws(60):
        axes = Axes(boxes)
        assert axes.cuts("length_mm") == [LOWEST, HIGHEST]
        assert axes.sizes[ORDER.index("length_mm")] == 2
        level = ORDER.index("film_um")
        masks = [axes.masks(box)[level] for box in boxes]
        for place in range(1, axes.sizes[level] - 1):
            one, other = ([mask >> at & 1 for mask in masks] for at in (place, place + 1))
            ends = [(box.ranges[NUMBER["film_um"]], axes.cuts("film_um")[place]) for box in boxes]
            assert one != other or any(limits and cut.at in (limits.low, limits.high) for limits, cut in ends)


def ranges_hold(words: Sequence[object], film: float | None) -> bool:
    """Say whether a reading lies in one of some ranges told in words."""
    return any(range_holds(str(each), film) for each in words)


def range_holds(words: str, film: float | None) -> bool:
    """Say whether a reading lies in a range told in words, by their plain meaning."""
    if film is None:
        return words == "unknown"
    if words in ("unknown", "known"):
        return words == "known"
    if ".." in words:
        low, high = map(float, words.split(".."))
        return low <= film <= high
    for part in words.split(" and "):
        *sign, number = part.split()
        meets = {
            "": film == float(number), ">=": film >= float(number), ">": film > float(number),
            "<=": film <= float(number), "<": film < float(number),
        }  # fmt: skip
        if not meets["".join(sign)]:
            return False
    return True


def test_what_a_box_limits_is_told_in_words_that_mean_the_same() -> None:
    """Facts it does not limit are left out; any set of ranges is told, broken ones too."""
    draw = random.Random(9)
    for boxes in draws(60):
        axes = Axes(boxes)
        full = tuple((1 << size) - 1 for size in axes.sizes)
        flake, film = ORDER.index("flake"), ORDER.index("film_um")
        masks = list(full)
        masks[flake], masks[film] = draw.randint(1, full[flake]), draw.randint(1, full[film])
        told = axes.limits(tuple(masks))
        assert ("flake" in told) == (masks[flake] != full[flake])
        assert ("film_um" in told) == (masks[film] != full[film])
        assert set(told) <= {"flake", "film_um"}
        for case in cases():
            inside = all(
                mask >> place_of(axes, fact, getattr(case, fact)) & 1
                for fact, mask in zip(ORDER, masks, strict=True)
            )
            said = case.flake in told.get("flake", [case.flake])
            if "film_um" in told:
                said &= ranges_hold(told["film_um"], case.film_um)
            assert inside == said
        if "flake" in told:
            assert told["flake"].every == axes.values("flake")


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (LOWEST, HIGHEST, "known"),
        (LOWEST, Cut(90.0, False), "< 90"),
        (LOWEST, Cut(90.0, True), "<= 90"),
        (Cut(90.0, False), HIGHEST, ">= 90"),
        (Cut(90.0, True), HIGHEST, "> 90"),
        (Cut(0.0, True), HIGHEST, "> 0"),
        (Cut(90.0, False), Cut(90.0, True), "90"),
        (Cut(90.0, False), Cut(120.0, True), "90 .. 120"),
        (Cut(90.0, True), Cut(120.0, True), "> 90 and <= 120"),
        (Cut(90.0, False), Cut(120.0, False), ">= 90 and < 120"),
        (Cut(90.0, True), Cut(120.5, False), "> 90 and < 120.5"),
    ],
)
def test_a_range_is_told_as_a_rule_file_has_it(start: Cut, end: Cut, words: str) -> None:
    """Its ends as they are closed or open."""
    assert range_words(start, end) == words


def test_one_value_or_range_of_an_axis_is_told() -> None:
    """By its place: of flake the word, of a number its range."""
    axes = Axes([box_of({}, {"film_um": Interval(90.0, True, 120.0, False)})])
    assert [axes.one("flake", 1 << place) for place in (0, 3)] == ["solid", "fine"]
    ranges = [axes.one("film_um", 1 << place) for place in range(axes.sizes[ORDER.index("film_um")])]
    assert ranges == ["unknown", "< 90", ">= 90 and < 120", ">= 120"]


def test_a_name_that_no_box_names_is_told_as_the_rest() -> None:
    """Of an open fact only; a closed one keeps its value."""
    named = CATEGORIES[CATEGORY["book"]].values
    for word in ("hm-1", "hm-2"):
        named.place(word)  # type: ignore[attr-defined]
    axes = Axes([box_of({"book": ("hm-1",)})])
    assert axes.values("book") == ("other", "hm-1")
    told = [axes.told(Facts(book=word, flake="coarse")) for word in ("hm-1", "hm-2", "other")]
    assert [case.book for case in told] == ["hm-1", "other", "other"]
    assert {case.flake for case in told} == {"coarse"}


def test_what_boxes_share_and_how_many_cases_that_is() -> None:
    """Axis by axis; nothing where they have no value in common on one."""
    assert shared((3, 6, 4), (6, 2, 12)) == (2, 2, 4)
    assert cells((3, 6, 4)) == 2 * 2 * 1
    assert cells((3, 0, 4)) == 0


def test_what_cannot_be_is_left_out_of_what_is_possible() -> None:
    """Two impossible boxes, one of them cut by a range: counted as their cases."""
    one = box_of({"flake": ("solid",)}, {"film_um": Interval(90.0, True, inf, False)})
    other = box_of({"flake": ("solid", "coarse"), "zone": ("clear",)})
    space = Space([], [one, other])
    diagrams = space.diagrams
    assert diagrams.count(space.possible) + diagrams.count(space.cannot_be) == diagrams.count(diagrams.yes)
    # of 6 flakes x 3 zones x 3 film ranges (unknown, below 90, from 90): 1 x 3 x 1 and 2 x 1 x 3, 1 in both
    assert diagrams.count(space.cannot_be) * (6 * 3 * 3) == 8 * diagrams.count(diagrams.yes)
    for case in (Facts(flake="solid", film_um=90.0), Facts(flake="coarse", zone="clear")):
        assert diagrams.both(single(space, case), space.possible) == diagrams.no
        assert space.region(space.masks(one)) == diagrams.no
    assert diagrams.both(single(space, Facts(flake="solid", film_um=89.0)), space.possible) != diagrams.no


def single(space: Space, case: Facts) -> int:
    """Return the region of one case."""
    return space.diagrams.box(tuple(1 << place_of(space.axes, fact, getattr(case, fact)) for fact in ORDER))


def test_a_usual_case_of_a_region_is_usual_wherever_the_region_lets_it_be() -> None:
    """Each fact has its usual value if the region has cases with it beside those chosen before it."""
    usual = dict(Facts._field_defaults) | {"length_mm": 500.0, "panel_m2": 0.67, "film_um": None}
    for boxes in draws(60):
        space = Space(boxes, [])
        for box in boxes:
            region = space.diagrams.box(space.masks(box))
            case = typical(space, region)
            assert box.holds(case)
            for fact in FACTS:
                could = box.holds(Facts(**{fact: usual[fact]})._replace(**_rest(box, fact)))
                assert (getattr(case, fact) == usual[fact]) or not could
    with pytest.raises(ValueError, match="empty"):
        typical(space, space.diagrams.no)


def _rest(box: Box, but: str) -> dict[str, Any]:
    """Return for each fact but one a value that a box allows."""
    values: dict[str, Any] = {fact: box.values(fact)[0] for fact in CATEGORY if fact != but}
    for fact in NUMBER:
        limits = box.range_of(fact)
        if fact != but:
            values[fact] = next(
                film for film in (*READINGS, 89.5, 0.5) if limits is None or limits.holds(film)
            )
    return values


@pytest.mark.parametrize(
    ("limits", "number"),
    [
        (Interval(90.0, True, 120.0, True), 105.0),  # the middle
        (Interval(90.0, True, 95.0, False), 92.0),  # a round number near it
        (Interval(90.0, True, 90.5, True), 90.25),  # no whole number in between
        (Interval(90.0, False, 91.0, False), 90.5),
        (Interval(120.0, True, 120.0, True), 120.0),
        (Interval(100.0, False, inf, False), 120.0),  # a fifth more
        (Interval(0.0, False, inf, False), 1.0),
        (Interval(0.0, True, 80.0, False), 40.0),
        (Interval(0.0, False, 0.0, False, True), None),  # no reading
        (Interval(90.0, True, 120.0, True, True), None),  # no reading is the usual case
    ],
)
def test_a_usual_number_lies_in_its_range(limits: Interval, number: float | None) -> None:
    """Film has no usual reading: then a number between the ends of the range, round if there is room."""
    box = box_of({}, {"film_um": limits})
    space = Space([box], [])
    case = typical(space, space.diagrams.box(space.masks(box)))
    assert case.film_um == number


def test_a_usual_line_is_half_a_metre_and_a_usual_panel_a_door() -> None:
    """500 mm and 0.67 m² where they may be."""
    within = box_of({}, {"length_mm": Interval(100.0, True, 900.0), "panel_m2": Interval(0.5, True, 1.0)})
    beyond = box_of({}, {"length_mm": Interval(600.0, True, 900.0), "panel_m2": Interval(1.0, True, 3.0)})
    space = Space([within, beyond], [])
    found = [typical(space, space.diagrams.box(space.masks(box))) for box in (within, beyond)]
    assert [(case.length_mm, case.panel_m2) for case in found] == [(500.0, 0.67), (750.0, 2.0)]


def test_names_stand_along_their_axis_by_alphabet_whatever_was_read_first() -> None:
    """The value for all others first, then the names, though "zz" was named before "aa" in this process."""
    names = CATEGORIES[CATEGORY["book"]].values
    assert isinstance(names, Names)
    names.place("zz-9")
    names.place("aa-1")
    axes = Axes([box_of({"book": ("zz-9",)}), box_of({"book": ("aa-1",)})])
    assert axes.values("book") == ("other", "aa-1", "zz-9")
