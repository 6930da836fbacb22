"""Two standards of a few rules compared: what changed, which way, by which rule, and where to look."""

from collections import Counter
from itertools import product
from typing import Any

import pytest

from prepadvisor.cases import Facts
from prepadvisor.records import OutputName
from prepadvisor.standards import Difference, compare
from prepadvisor.standards.engine import Engine, Setting
from prepadvisor.standards.proof import compare as in_compare
from prepadvisor.standards.proof.compare import Comparison
from tests.standards.language.test_many_layers import HOLD, over, rule


def told(before: Engine, after: Engine) -> list[tuple[Any, ...]]:
    """Return direction, output, before, after and cause of every change."""
    found = []
    for change in compare(before, after).changes:
        (cause,) = change.causes
        found += [
            (change.direction, each.output, each.before, each.after, cause.rule, cause.by)
            for each in change.differences
        ]
    return found


PLAIN = over()
WITHDRAWN = {"withdraw": [{"rule": "base-fine", "because": "No."}]}
REPLACED = {"rule": [rule("own", "P800", replaces="base-fine")]}


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        (PLAIN, PLAIN, []),
        (PLAIN, over({"rule": [rule("own", "P800")]}), []),
        (
            PLAIN,
            over({"rule": [rule("own", "P1200")]}),
            [("stricter", "finish_coarsest", "P1000", "P1200", "own", "new")],
        ),
        (
            over({"rule": [rule("own", "P1200")]}),
            PLAIN,
            [("laxer", "finish_coarsest", "P1200", "P1000", "own", "gone")],
        ),
        (
            over({"rule": [rule("own", "P1500")]}),
            over({"rule": [rule("own", "P1200")]}),
            [("laxer", "finish_coarsest", "P1500", "P1200", "own", "changed")],
        ),
        (
            PLAIN,
            over(REPLACED),
            [("laxer", "finish_coarsest", "P1000", "P800", "base-fine", "replaced")],
        ),
        (
            PLAIN,
            over(WITHDRAWN),
            [("laxer", "finish_coarsest", "P1000", None, "base-fine", "withdrawn")],
        ),
        (
            PLAIN,
            over({"withdraw": [{"rule": "base-hold", "because": "No.", "lets_go": "Gauge."}]}),
            [("released", "holds", "Ask first.", None, "base-hold", "withdrawn")],
        ),
        (
            PLAIN,
            over({"rule": [HOLD | {"id": "own", "set": {"holds": "Stop."}}]}),
            [("held", "holds", None, "Stop.", "own", "new")],
        ),
        (
            PLAIN,
            over({"rule": [HOLD | {"id": "own", "set": {"notes": "Look."}}]}),
            [("words", "notes", None, "Look.", "own", "new")],
        ),
        (PLAIN, over({"rule": [HOLD | {"id": "own", "when": {"special": "radar"}}]}), []),
    ],
    ids=lambda value: str(value)[:60] if isinstance(value, list) else "",
)
def test_a_change_is_told_with_what_it_means_and_the_rule_behind_it(
    before: Engine, after: Engine, expected: list[tuple[Any, ...]]
) -> None:
    """A new rule, one that changed or is gone, one that was replaced or withdrawn."""
    assert told(before, after) == expected


def test_where_to_look_is_the_rule_that_changed_it() -> None:
    """Of a withdrawn or replaced rule that of what took it away; of one that is gone its own last place."""
    causes = {
        "new": (PLAIN, over({"rule": [rule("own", "P1200")]}), ("one.toml", "own.")),
        "gone": (over({"rule": [rule("own", "P1200")]}), PLAIN, ("one.toml", "own.")),
        "withdrawn": (PLAIN, over(WITHDRAWN), ("one.toml", "No.")),
        "replaced": (PLAIN, over(REPLACED), ("one.toml", "own.")),
    }  # fmt: skip
    for by, (before, after, (file, says)) in causes.items():
        ((cause,),) = (change.causes for change in compare(before, after).changes)
        assert (cause.by, cause.file, cause.says) == (by, file, says)


def test_of_several_changes_the_gravest_comes_first_and_each_counts_its_cases() -> None:
    """A hold for vapour, P1200 for fine where a machine reaches, a note for medium."""
    layer = {
        "rule": [
            rule("a", "P1200", when={"flake": "fine", "stages": 2}),
            rule("b", set={"holds": "Stop."}, when={"flake": "vapour", "stages": 2}),
            rule("c", set={"notes": "Look."}, when={"flake": "medium"}),
        ]
    }
    found = compare(PLAIN, over(layer))
    assert [change.direction for change in found.changes] == ["held", "stricter", "words"]
    assert [change.case and change.case.flake for change in found.changes] == ["vapour", "fine", "medium"]
    held, stricter, words = (change.cases for change in found.changes)
    assert found.cases == held + stricter + words
    assert (found.untold, found.is_whole) == (0, True)
    assert held * 8 == words * 8 == found.living  # of 8 pairs of flake and stages
    assert found.possible > found.living > 0


def test_answers_that_change_in_the_same_cases_by_one_rule_are_told_together() -> None:
    """One change with both differences."""
    own = rule("own", set={"finish_target": "P1200", "finish_finest": "P1500"}, when={"flake": "fine"})
    (change,) = compare(PLAIN, over({"rule": [own]})).changes
    assert set(change.differences) == {
        Difference("finish_target", None, "P1200"), Difference("finish_finest", None, "P1500"),
    }  # fmt: skip
    assert change.limits["flake"] == ["fine"]
    assert "radar" not in change.limits["special"]  # held by the base


def test_a_change_of_several_answers_means_the_gravest_of_them() -> None:
    """A hold that also says a note is a hold."""
    own = rule("own", set={"holds": "Stop.", "notes": "Look."}, when={"flake": "fine", "special": "none"})
    (change,) = compare(PLAIN, over({"rule": [own]})).changes
    assert {each.direction for each in change.differences} == {"held", "words"}
    assert change.direction == "held"


@pytest.mark.parametrize(
    ("output", "before", "after", "direction"),
    [
        ("finish_coarsest", "P800", "P1000", "stricter"),
        ("finish_coarsest", "P1000", "P800", "laxer"),
        ("finish_coarsest", None, "P800", "stricter"),
        ("finish_finest", "P1500", None, "laxer"),
        ("finish_finest", "P1500", "P1000", "stricter"),
        ("risk_limit", 0.25, 0.35, "laxer"),
        ("wet_bed", "no", "advised", "stricter"),
        ("holds", None, "Stop.", "held"),
        ("holds", "Stop.", None, "released"),
        ("notes", "Look.", None, "words"),
        ("cautions", None, "Hot.", "words"),
    ],
)
def test_a_difference_means_one_thing_to_a_painter(
    output: OutputName, before: Setting | str | None, after: Setting | str | None, direction: str
) -> None:
    """No bound is laxer than any."""
    assert Difference(output, before, after).direction == direction


def many(rules: int) -> list[dict[str, Any]]:
    """Return house rules that overlap: each flake with some film, each zone with some length."""
    grades = ("P1200", "P1500", "P2000")
    flakes, zones = ("solid", "coarse", "medium", "fine"), ("clear", "colour", "fade")
    found = []
    for number, (flake, zone, place) in enumerate(product(flakes, zones, range(3))):
        when = {"flake": flake, "zone": zone, "film_um": f"{60 + 10 * place} .. {100 + 15 * place}"}
        found.append(rule(f"r{number}", grades[(number * 7) % 3], when=when))
    return found[:rules]


def differs(comparison: Comparison, case: Facts) -> set[tuple[object, object]]:
    """Return before and after of the coarsest finish in the boxes that hold a case."""
    return {
        (each.before, each.after)
        for change in comparison.changes
        if holds(change.limits, case)
        for each in change.differences
    }


def holds(limits: Any, case: Facts) -> bool:
    """Say whether a case lies in a box told in words; film is told in ranges."""
    for fact, values in limits.items():
        if fact == "film_um":
            if not any(in_range(str(words), case.film_um or 0.0) for words in values):
                return False
        elif getattr(case, fact) not in values:
            return False
    return True


def in_range(words: str, film: float) -> bool:
    """Say whether a reading lies in a range told in words."""
    if words in ("known", "unknown"):
        return words == "known"
    if ".." in words:
        low, high = map(float, words.split(".."))
        return low <= film <= high
    for part in words.split(" and "):
        sign, _, number = part.rpartition(" ")
        limit = float(number)
        if not {"": film == limit, "<": film < limit, "<=": film <= limit, ">": film > limit,
                ">=": film >= limit}[sign]:  # fmt: skip
            return False
    return True


@pytest.mark.parametrize(("name", "most"), [("_WHOLE_MOST", 0), ("_NODES_A_RULE", 0), ("NODES_MOST", 0)])
def test_where_standards_differ_too_much_to_be_told_whole_what_is_told_is_true(
    monkeypatch: pytest.MonkeyPatch, name: str, most: int
) -> None:
    """One large box for each rule that decides something now; each case in it changes as it says."""
    before, after = over({"rule": many(9)}), over({"rule": many(36)[9:]})
    whole = compare(before, after)
    monkeypatch.setattr(f"prepadvisor.standards.proof.differing.{name}", most)
    part = compare(before, after)
    assert whole.is_whole
    assert not part.is_whole
    assert 0 < part.cases <= whole.cases
    rules = {cause.rule for change in part.changes for cause in change.causes}
    assert rules == {cause.rule for change in whole.changes for cause in change.causes}
    for change in part.changes:
        assert change.case is not None
        for case in (change.case, *near(change.limits)):
            one, other = (each.decide(case).finish_coarsest for each in (before, after))
            (difference,) = change.differences
            assert (difference.before, difference.after) == (one, other)
            assert (one, other) in differs(whole, case)


@pytest.mark.parametrize(("name", "most"), [("_WHOLE_MOST", 0), ("_NODES_A_RULE", 0)])
def test_texts_that_differ_too_much_to_be_told_whole_are_told_truly(
    monkeypatch: pytest.MonkeyPatch, name: str, most: int
) -> None:
    """In a box of each rule the text comes or goes; where another rule says it too nothing is told."""

    def says(rule_id: str, text: str, **when: Any) -> dict[str, Any]:
        return rule(rule_id, set={"notes": text}, when=when)

    same = says("same", "Look.", zone="fade")
    before = over({"rule": [same, says("gone", "Lamp.", flake="fine", film_um="< 100")]})
    new = says("new", "Look.", flake=["fine", "solid"])
    after = over({"rule": [same, new, says("in", "Look.", zone="fade", flake="coarse")]})
    monkeypatch.setattr(f"prepadvisor.standards.proof.differing.{name}", most)
    changes = compare(before, after).changes
    assert {cause.rule for change in changes for cause in change.causes} == {"gone", "new"}
    for change in changes:
        assert change.cases > 0
        assert change.case is not None
        for case in (change.case, *near(change.limits)):
            ours, theirs = (set(each.decide(case).notes) for each in (before, after))
            (difference,) = change.differences
            assert ours ^ theirs == {difference.before or difference.after}
            assert (difference.before in ours) == (difference.before is not None)


def near(limits: Any) -> list[Facts]:
    """Return cases of a box on other readings of film."""
    found = []
    for film in (60.0, 75.0, 88.0, 100.0, 110.0, 130.0):
        values = {fact: some[0] for fact, some in limits.items() if fact != "film_um"}
        case = Facts()._replace(film_um=film, **values)
        if holds(limits, case):
            found.append(case)
    return found


def test_boxes_that_are_not_told_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """With one box at most, the cases in none are those of the others."""
    corner = rule("corner", "P1200", when={"flake": "fine", "zone": "fade", "tone": "mid"})
    before, after = over({"rule": [corner]}), over({"rule": [corner, rule("own", "P1200")]})
    whole = compare(before, after)
    assert (len(whole.changes), whole.untold) == (3, 0)
    monkeypatch.setattr("prepadvisor.standards.proof.compare.BOXES_MOST", 1)
    part = compare(before, after)
    (change,) = part.changes
    assert change in whole.changes
    assert part.cases == whole.cases
    assert change.cases + part.untold == whole.cases
    assert part.untold > 0


def test_the_boxes_that_may_be_told_are_shared_out_among_the_changes() -> None:
    """400 in all, a twentieth of them for each of very many changes, and one for every change."""
    told = {
        (1, 0): 400, (2, 0): 200, (2, 200): 200, (19, 0): 21, (20, 0): 20, (21, 0): 20, (500, 0): 20,
        (500, 380): 20, (500, 381): 19, (1, 399): 1, (500, 399): 1, (500, 400): 1, (500, 499): 1,
    }  # fmt: skip
    assert {asked: in_compare.boxes_for_one(*asked) for asked in told} == told


def test_the_gravest_and_then_the_largest_change_is_told_in_most_boxes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A hold before what gets laxer, before what gets stricter, however few cases it has."""
    corner = {"flake": "fine", "zone": "fade", "tone": "mid"}
    dark = {"flake": "solid", "zone": "clear", "tone": "dark"}
    base = [
        rule("in", set={"holds": "Stop."}, when=corner | {"next": "base"}),
        rule("usual", set={"finish_target": "P800"}, when=dark),
        rule("small", set={"finish_target": "P1000"}, when=dark | {"special": "none"}),
        rule("weak", set={"wet_bed": "advised"}, when=corner),
    ]  # fmt: skip
    own = [
        rule(
            "hold", set={"holds": "Stop."}, when={"next": "base", "flake": "fine", "zone": ["fade", "colour"]}
        ),
        rule("bed", set={"wet_bed": "advised"}),
    ]
    before, after = over({"rule": base}), over({"rule": [*base[:1], *base[2:], *own]})
    whole = compare(before, after)
    boxes = Counter(change.differences[0].output for change in whole.changes)
    assert set(boxes) == {"holds", "finish_target", "wet_bed"}
    assert min(boxes["holds"], boxes["wet_bed"]) > 1
    monkeypatch.setattr(in_compare, "boxes_for_one", lambda _, told: 1 if told else 2)
    part = compare(before, after)
    assert Counter(change.differences[0].output for change in part.changes) == Counter(
        {"holds": 2, "finish_target": 1, "wet_bed": 1}
    )


def test_changes_alike_in_kind_stand_from_most_cases_to_fewest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Box by box, whatever they are of; where few boxes may be told the largest change has most of them."""
    laid = [
        rule(f"laid-{fact}", set={"wet_bed": "advised"}, when={"flake": "solid", fact: values})
        for fact, values in (("tone", ["dark", "light"]), ("next", {"not": "clear"}))
    ]
    bed = rule("z-bed", set={"wet_bed": "advised"}, when={"flake": ["fine", "solid"]})
    pads = rule("pads", set={"machine": "interface-pad"}, when={"flake": "coarse", "zone": "fade"})
    before, after = over({"rule": laid}), over({"rule": [*laid, bed, pads]})

    def told() -> list[str]:
        return [change.differences[0].output for change in compare(before, after).changes]

    assert told() == ["wet_bed", "machine", "wet_bed"]
    large, other, small = (change.cases for change in compare(before, after).changes)
    assert large > other > small
    monkeypatch.setattr(in_compare, "boxes_for_one", lambda _, told: 1 if told else 2)
    assert told() == ["wet_bed", "machine", "wet_bed"]


def test_of_changes_too_many_to_be_joined_the_largest_is_the_least_that_changes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It says that this is no count of all; where nothing differs none does."""
    layer = [rule("a", "P1200", when={"flake": "fine"}), rule("b", set={"notes": "x"}, when={"tone": "mid"})]
    after = over({"rule": layer})
    whole = compare(PLAIN, after)
    monkeypatch.setattr(in_compare, "NODES_MOST", 0)
    part = compare(PLAIN, after)
    assert (whole.is_whole, part.is_whole) == (True, False)
    assert [change.cases for change in part.changes] == [change.cases for change in whole.changes]
    assert part.cases == max(change.cases for change in part.changes) < whole.cases
    same = compare(PLAIN, PLAIN)
    assert (same.cases, same.untold, same.changes) == (0, 0, ())
