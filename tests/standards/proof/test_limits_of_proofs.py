"""How much is told and how much work is done at most: decided for speed and for a reader, not measured.

Whoever moves one moves it here as well, after a look at the time and at what a lead then reads.
"""

from prepadvisor.standards import house
from prepadvisor.standards.proof import (
    answers,
    audit,
    audited,
    collisions,
    compare,
    dead,
    differing,
    doing,
    gaps,
    outside,
    pairs,
    promises,
    shelf,
    table,
    told,
    world,
)


def test_as_much_is_told_as_was_decided() -> None:
    """Findings of a kind told one by one; what is beyond is told together."""
    assert (gaps._MOST, gaps._SEARCHED_MOST, collisions._MOST_COLLISIONS, collisions._MOST_BEDS) == (
        40, 5, 200, 40,
    )  # fmt: skip
    assert (dead._MOST, promises._MOST, promises._ENOUGH, shelf._MOST) == (200, 5, 100, 12)
    assert (promises._RULES_MANY, promises._ENOUGH_OF_MANY) == (300, 25)
    assert (compare.BOXES_MOST, audited._NAMED_MOST, house._SAID_MOST, audit._TOLD_MOST) == (400, 8, 160, 4)


def test_as_much_work_is_done_as_was_decided() -> None:
    """In nodes of a diagram, rules or boxes; beyond, cases are searched for instead of counted."""
    assert (gaps._NODES_MOST, gaps._PARTED_MOST) == (60_000, 6_000)
    assert (gaps._RULES_MANY, gaps._NODES_OF_MANY) == (300, 6_000)
    assert (world._NODES_MOST, world._BOXES_MOST) == (30_000, 100_000)
    assert (world._TWINS_MANY, world._NODES_OF_MANY) == (100, 8_000)
    assert (pairs._PAIRS_MOST, pairs._ROUNDS_MOST) == (400, 3)
    assert (differing.NODES_MOST, differing._NODES_A_RULE, differing._WHOLE_MOST) == (250_000, 30_000, 400)
    assert (doing._WHOLE_MOST, doing._COMPARED_MOST, doing._WORK_MOST) == (400, 200, 8_000)
    assert (pairs._UNCOUNTED_MOST, pairs._WEIGHED_MOST) == (150, 200_000)
    assert (outside._TRIED_MOST, told._BESIDE_MOST) == (24, 400)
    assert (audit._RULES_MOST, table._NODES_MOST) == (300, 200_000)
    assert (answers.STEPS_MOST, table._ROWS_MOST) == (200_000, 5_000_000)
