"""Which layer loosens what, and where no way of grit steps leads on a shelf, found by trying every way."""

import random

import networkx as nx
import pytest

from prepadvisor.records import DS50_UM, GRADES, RANK, Shop
from prepadvisor.standards import Audited, House, loosenings
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.proof.shelf import _stuck_at, shelf_lacks
from tests.standards.language.test_many_layers import over, rule
from tests.standards.proof.test_findings_told import EDGE
from tests.standards.proof.test_findings_told import rule as compiled


def test_each_layer_is_told_with_what_it_makes_laxer_than_those_below() -> None:
    """Lowest first; what it tightens is none of it, nor is what another layer loosens."""
    group = {
        "rule": [
            rule("lax", "P800", replaces="base-fine", when={"zone": "fade"}),
            rule("tight", "P1200", when={"flake": "fine"}),
        ]
    }
    site = {"withdraw": [{"rule": "tight", "because": "x"}]}
    found = [
        (each.layer, each.change.direction, one.before, one.after)
        for each in loosenings(over(group, site))
        for one in each.change.differences
    ]
    assert set(found) == {
        ("one", "laxer", "P1000", "P800"), ("one", "laxer", "P1000", None),
        ("two", "laxer", "P1200", "P800"), ("two", "laxer", "P1200", None),
    }  # fmt: skip
    assert [layer for layer, *_ in found] == sorted(layer for layer, *_ in found)
    assert [each.layer for each in loosenings(over(group, {"rule": [rule("more", "P1500")]}))] == ["one"] * 2
    assert loosenings(over({"rule": [rule("more", "P1500")]})) == []
    assert loosenings(over()) == []
    gone = {"withdraw": [{"rule": "base-hold", "because": "x", "lets_go": "y"}]}
    assert [(each.layer, each.change.direction) for each in loosenings(over({}, gone))] == [
        ("two", "released")
    ]


def test_there_is_a_way_to_a_grade_exactly_if_a_graph_of_steps_has_a_path() -> None:
    """From a start, over the shelf, each grain at least a part of the last; else the grade where it ends."""
    draw = random.Random(4)
    for _ in range(400):
        shelf = sorted(draw.sample(GRADES, draw.randint(1, 9)), key=RANK.__getitem__)
        start, goal = sorted(draw.sample(GRADES, 2), key=RANK.__getitem__)
        ratio = draw.choice((0.4, 0.5, 0.6, 0.63, 0.75))
        steps = nx.DiGraph()
        steps.add_node(start)
        grades = [start, *(grade for grade in shelf if RANK[grade] > RANK[start])]
        for one in grades:
            for other in grades:
                if RANK[other] > RANK[one] and DS50_UM[other] >= DS50_UM[one] * ratio - 1e-9:
                    steps.add_edge(one, other)
        reached = {start, *nx.descendants(steps, start)}
        stuck = _stuck_at(shelf, start, ratio, goal)
        if any(RANK[grade] >= RANK[goal] for grade in reached):
            assert stuck is None
        else:
            assert stuck == max(reached, key=RANK.__getitem__)


def lacks(house: House, *grades: str, **more: object) -> list[tuple[str, str]]:
    """Return what is said of a shelf under two rules for edges and faces, with the mend."""
    shop = Shop.model_validate(house.shop.model_dump() | {"shelf": grades} | more)
    rules = [
        compiled("limit", when=EDGE, finish_coarsest="P800", hand_coarsest="P600"),
        compiled("usual", when=EDGE, finish_target="P1000"),
        compiled("key", when=EDGE, finish_finest="P1200"),
    ]
    first = {"ring_grade": grades[0], "first_grade": {}}
    shop = shop.model_copy(update={name: value for name, value in first.items() if name not in more})
    return [(each.says, each.mend) for each in shelf_lacks(Audited(Engine(rules)), shop)]


@pytest.mark.parametrize(
    ("grades", "says", "mend"),
    [
        (("P600", "P800", "P1000", "P1200"), "", ""),
        (("P600", "P800", "P1200"), "", ""),
        (("P600", "P1000"), "", ""),
        (
            ("P600", "P800"),
            "P1000 is the usual grade, yet nothing of P1000 to P1200 is on the shelf: a coarser is taken",
            "Put P1000 or P1200 on the shelf, or name another finish_target.",
        ),
        (
            ("P600", "P1500"),
            "P800 to P1200 is asked for (finish_coarsest, finish_finest) and the shelf has none of it",
            "Put P800 or P1000 or P1200 on the shelf.",
        ),
    ],
)
def test_a_shelf_that_lacks_a_grade_is_told_with_what_to_buy(
    shipped_house: House, grades: tuple[str, ...], says: str, mend: str
) -> None:
    """The range that is empty, or the usual grade that nobody can take; one of both is told, not both."""
    found = lacks(shipped_house, *grades)
    assert len(found) == bool(says)
    for told, mended in found:
        assert told.startswith(says)
        assert mended == mend


def test_a_shelf_without_a_grade_for_the_hand_says_where_it_ends(shipped_house: House) -> None:
    """P600 is asked for by hand; and grades that the shop file itself names must be there."""
    found = [says for says, _ in lacks(shipped_house, "P400", "P500")]
    assert any(
        says.startswith("P600 or finer is asked for by hand (hand_coarsest) and the shelf ends at P500")
        for says in found
    )
    named = lacks(shipped_house, "P600", "P800", "P1000", ring_grade="P320", first_grade={"filler": "P80"})
    assert [says for says, _ in named] == [
        "ring_grade is P320, which is not on the shelf.",
        "first_grade.filler is P80, which is not on the shelf.",
    ]
