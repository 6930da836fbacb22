"""Conditions of rules: what each spelling means, what is refused, and boxes as sets of cases."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import CATEGORIES, NUMBERS, Facts
from prepadvisor.records import OUTLINES
from prepadvisor.standards import read_when
from prepadvisor.standards.engine import EVERYTHING, Box, Interval, box_of

FLAKES = ("solid", "coarse", "medium", "fine", "very-fine", "vapour")


def in_one_order(value: object) -> str:
    """Name a parameter alike in every process: a set has no order of its own."""
    return " ".join(sorted(map(str, value))) if isinstance(value, set) else str(value)


def box(**when: object) -> Box:
    """Read conditions that must be right."""
    read, problems = read_when(when, ("when",))
    assert problems == []
    return read


@pytest.mark.parametrize(
    ("condition", "met"),
    [
        ("fine", {"fine"}),
        (["solid", "vapour"], {"solid", "vapour"}),
        ({"not": ["solid", "coarse"]}, {"medium", "fine", "very-fine", "vapour"}),
        ({"not": "solid"}, {"coarse", "medium", "fine", "very-fine", "vapour"}),
        (">= very-fine", {"very-fine", "vapour"}),
        (">=very-fine", {"very-fine", "vapour"}),
        ("> very-fine", {"vapour"}),
        ("<= coarse", {"solid", "coarse"}),
        ("< coarse", {"solid"}),
        ("coarse .. fine", {"coarse", "medium", "fine"}),
        ("coarse..fine", {"coarse", "medium", "fine"}),
        ("fine .. fine", {"fine"}),
    ],
    ids=in_one_order,
)
def test_a_condition_on_an_ordered_fact_means_its_values(condition: object, met: set[str]) -> None:
    """Every spelling of a condition on flake holds for exactly its values."""
    read = box(flake=condition)
    assert {flake for flake in FLAKES if read.holds(Facts(flake=flake))} == met


@pytest.mark.parametrize(
    ("condition", "met"),
    [
        ("< 90", {0.0, 89.9}),
        ("<= 90", {0.0, 89.9, 90.0}),
        ("> 90", {90.1, 300.0, 301.0}),
        (">= 90", {90.0, 90.1, 300.0, 301.0}),
        ("90 .. 300", {90.0, 90.1, 300.0}),
        ("90..300", {90.0, 90.1, 300.0}),
        (90, {90.0}),
        (90.1, {90.1}),
    ],
    ids=in_one_order,
)
def test_a_condition_on_a_number_means_its_range(condition: object, met: set[float]) -> None:
    """Every spelling of a condition on film holds for exactly its numbers, ends as written."""
    read = box(film_um=condition)
    assert {um for um in (0.0, 89.9, 90.0, 90.1, 300.0, 301.0) if read.holds(Facts(film_um=um))} == met


@pytest.mark.parametrize("condition", ["< 90", ">= 0", "0 .. 5000", 90], ids=str)
def test_an_unknown_number_meets_no_condition(condition: object) -> None:
    """No reading is never taken for a thin, a thick or any film."""
    assert not box(film_um=condition).holds(Facts(film_um=None))


def test_stages_and_seen_take_bare_values() -> None:
    """Stages are whole numbers and seen is true or false, without quotes."""
    read = box(stages=">= 3", seen=False)
    assert read.holds(Facts(stages=3, seen=False))
    assert not read.holds(Facts(stages=2, seen=False))
    assert not read.holds(Facts(stages=3, seen=True))


@pytest.mark.parametrize(
    ("when", "key", "says", "mend"),
    [
        ({"flak": "fine"}, ("flak",), 'no fact is called "flak"', 'did you mean "flake"?'),
        ({"flake": "finee"}, ("flake",), 'flake cannot be "finee"', 'did you mean "fine"?'),
        ({"flake": ["solid", "corse"]}, ("flake", 1), 'cannot be "corse"', 'did you mean "coarse"?'),
        ({"zone": {"not": ["claer"]}}, ("zone", "not", 0), 'cannot be "claer"', 'did you mean "clear"?'),
        ({"flake": ">= finne"}, ("flake",), 'cannot be "finne"', 'did you mean "fine"?'),
        ({"flake": "vapour .. solid"}, ("flake",), "runs backwards", "solid < coarse"),
        ({"flake": "> vapour"}, ("flake",), "never applies", ""),
        ({"flake": []}, ("flake",), "list is empty", ""),
        ({"flake": {"not": list(FLAKES)}}, ("flake",), "never applies", ""),
        ({"flake": {"nt": ["solid"]}}, ("flake",), "{ not = [...] }", ""),
        ({"flake": 3}, ("flake",), "flake cannot be 3", "use one of"),
        ({"role": ">= blend"}, ("role",), "role has no order", "list the values"),
        ({"role": "repair .. blend"}, ("role",), "role has no order", "list the values"),
        ({"stages": "3"}, ("stages",), "stages cannot be '3'", "without quotes"),
        ({"stages": 4}, ("stages",), "stages cannot be 4", "2 or 3"),
        ({"stages": True}, ("stages",), "stages cannot be true", "2 or 3"),
        ({"seen": "true"}, ("seen",), "seen cannot be 'true'", "without quotes"),
        ({"seen": 1}, ("seen",), "seen cannot be 1", "true"),
        ({"film_um": "300 .. 90"}, ("film_um",), "runs backwards", "90 .. 300"),
        ({"film_um": "thin"}, ("film_um",), "no condition on a number", "in µm"),
        ({"film_um": "< 90um"}, ("film_um",), "is not a number", "in µm"),
        ({"film_um": [90, 100]}, ("film_um",), "film_um cannot be", "in µm"),
        ({"film_um": True}, ("film_um",), "film_um cannot be True", "in µm"),
        ({"film_um": -1}, ("film_um",), "never below 0", ""),
        ({"film_um": "< 0"}, ("film_um",), "never applies", ""),
        ({"film_um": ">= nan"}, ("film_um",), "film_um cannot be nan", "in µm"),
        ({"film_um": "<= inf"}, ("film_um",), "film_um cannot be inf", "in µm"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_a_wrong_condition_is_told_with_its_mend(
    when: dict[str, object], key: tuple[str | int, ...], says: str, mend: str
) -> None:
    """Each fault names the key it stands at, what is wrong, and what was probably meant."""
    _, (problem,) = read_when(when, ("rule", 0, "when"))
    assert problem.path == ("rule", 0, "when", *key)
    assert says in problem.says
    assert mend in problem.mend


@pytest.mark.parametrize(
    ("condition", "met"),
    [
        ("no reading", {None}),
        ("unknown", {None}),
        (["no reading", "< 90"], {None, 89.9}),
        ([">= 300", "No reading"], {None, 300.0}),
    ],
    ids=str,
)
def test_no_reading_is_a_condition_alone_or_beside_one_range(
    condition: object, met: set[float | None]
) -> None:
    """A rule can speak of the film that nobody measured, which no range does."""
    read = box(film_um=condition)
    assert {um for um in (None, 89.9, 90.0, 300.0) if read.holds(Facts(film_um=um))} == met


@pytest.mark.parametrize(
    ("when", "mend"),
    [
        ({"flake": "!= fine"}, 'flake = { not = "fine" }'),
        ({"flake": "not fine"}, 'flake = { not = "fine" }'),
        ({"flake": "== fine"}, 'flake = "fine"'),
        ({"flake": "=> fine"}, 'flake = ">= fine"'),
        ({"flake": "fine or finer"}, 'flake = ">= fine"'),
        ({"flake": "fine or coarser"}, 'flake = "<= fine"'),
        ({"flake": "fine, very-fine"}, 'flake = ["fine", "very-fine"]'),
        ({"panel": "bonnet or roof"}, 'panel = ["bonnet", "roof"]'),
        ({"zone": "any"}, "leave zone out"),
        ({"stages": "!= 3"}, "stages = { not = 3 }"),
        ({"seen": "!= true"}, "seen = { not = true }"),
    ],
    ids=str,
)
def test_a_condition_of_another_language_is_answered_in_this_one(when: dict[str, object], mend: str) -> None:
    """What a lead may know from elsewhere gets a line he can paste."""
    _, (problem,) = read_when(when, ())
    assert mend in problem.mend


def test_a_condition_that_rules_every_panel_out_is_refused() -> None:
    """With the kinds of a house: each goes with the shipped one that it is like."""
    kinds = {"fin": "sill", "spoiler": "roof"}
    _, (problem,) = read_when({"panel": {"not": list(OUTLINES)}}, (), kinds)
    assert "every value is ruled out" in problem.says
    but_roof = [kind for kind in OUTLINES if kind != "roof"]
    left, wrong = read_when({"panel": {"not": but_roof}}, (), kinds)
    assert wrong == []
    assert left.holds(Facts(panel="roof"))
    assert not left.holds(Facts(panel="sill"))


def test_all_wrong_conditions_are_told_at_once() -> None:
    """Three wrong facts give three problems."""
    _, problems = read_when({"flak": "fine", "zone": "fad", "film_um": "x"}, ())
    assert len(problems) == 3


def masks() -> st.SearchStrategy[tuple[int, ...]]:
    """Draw a bitmask for every category, none of them empty."""
    return st.tuples(
        *(
            st.integers(-8, 7).filter(bool) if category.is_open else st.integers(1, category.full)
            for category in CATEGORIES
        )
    )


def intervals() -> st.SearchStrategy[Interval | None]:
    """Draw a range with ends out of few numbers, so that ends often meet."""
    ends = st.sampled_from([0.0, 1.0, 2.0, 3.0])
    return st.none() | st.builds(Interval, ends, st.booleans(), ends, st.booleans())


def boxes() -> st.SearchStrategy[Box]:
    """Draw any box."""
    return st.builds(Box, masks(), st.tuples(*(intervals() for _ in NUMBERS)))


def cases() -> st.SearchStrategy[Facts]:
    """Draw any case, numbers at, between and beyond the ends that boxes use."""
    number = st.none() | st.sampled_from([0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0])
    return st.builds(
        Facts, *(st.sampled_from(category.values) for category in CATEGORIES), *(number for _ in NUMBERS)
    )


@settings(max_examples=200)
@given(one=boxes(), two=boxes(), case=cases())
def test_the_overlap_of_boxes_holds_where_both_hold(one: Box, two: Box, case: Facts) -> None:
    """Overlap is the intersection of two sets of cases, None when it is empty."""
    both = one.overlap(two)
    assert (both is not None and both.holds(case)) == (one.holds(case) and two.holds(case))


@settings(max_examples=200)
@given(one=boxes(), two=boxes(), case=cases())
def test_a_box_that_covers_another_holds_wherever_that_one_does(one: Box, two: Box, case: Facts) -> None:
    """Covering is set inclusion."""
    wide = Box(tuple(a | b for a, b in zip(one.masks, two.masks, strict=True)), (None,) * len(NUMBERS))
    assert wide.covers(one)
    if one.covers(two) and two.holds(case):
        assert one.holds(case)


@given(case=cases())
def test_the_box_without_a_condition_holds_everywhere(case: Facts) -> None:
    """No condition is no limit, for unknown numbers either."""
    assert EVERYTHING.holds(case)


def test_a_box_tells_the_facts_it_asks_about() -> None:
    """Only limited facts are asked about; a list of all values asks nothing."""
    read = box(zone=["clear", "colour", "fade"], flake="fine", film_um="< 90")
    assert read.asked == ("flake", "film_um")
    assert read == box_of({"flake": ("fine",)}, {"film_um": Interval(0.0, True, 90.0, False)})


def test_a_value_that_no_fact_can_have_is_an_error() -> None:
    """A case with a misspelt value is refused instead of meeting nothing."""
    with pytest.raises(ValueError, match="not in tuple"):
        EVERYTHING.holds(Facts(flake="finee"))
