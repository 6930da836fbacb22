"""A tiny space of cases, and what boxes and regions over it are, found by trying every case."""

import random
from collections.abc import Iterator
from functools import cache
from itertools import product
from typing import NamedTuple

from prepadvisor.standards.proof.covers import Covers
from prepadvisor.standards.proof.diagram import Diagrams, Masks

SIZES = (3, 2, 6, 4)
RUNS = (2,)
"""Axes of numbers: value 0 is a number that is not known, of the others a box has one unbroken run.

On the last axis, of words, four values are enough for sets with a gap.
"""

Case = tuple[int, ...]
CASES = frozenset(product(*map(range, SIZES)))


class Drawn(NamedTuple):
    """Random boxes, indexed and as sets of cases."""

    diagrams: Diagrams
    covers: Covers
    boxes: list[Masks]

    @property
    def everyone(self) -> int:
        """All boxes, as bits."""
        return (1 << len(self.boxes)) - 1


def a_mask(draw: random.Random, level: int) -> int:
    """Draw values of an axis that a box may have."""
    size = SIZES[level]
    full = (1 << size) - 1
    if draw.random() < 0.4:
        return full
    if level not in RUNS:
        return draw.randint(1, full)
    if draw.random() < 0.15:
        return full & ~1
    first, last = sorted((draw.randrange(1, size), draw.randrange(1, size)))
    run = (2 << last) - (1 << first)
    return draw.choice((run, run, run | 1, 1))


def a_box(draw: random.Random) -> Masks:
    """Draw a box with some case in it."""
    return tuple(a_mask(draw, level) for level in range(len(SIZES)))


def drawn(draw: random.Random, most: int = 7) -> Drawn:
    """Draw a list of boxes."""
    diagrams = Diagrams(SIZES)
    boxes = [a_box(draw) for _ in range(draw.randint(0, most))]
    return Drawn(diagrams, Covers(diagrams, boxes, RUNS), boxes)


def draws(count: int) -> Iterator[tuple[random.Random, Drawn]]:
    """Go through lists of boxes, the same in every run."""
    for seed in range(count):
        draw = random.Random(seed)
        yield draw, drawn(draw)


@cache
def cases_of(box: Masks) -> frozenset[Case]:
    """Return the cases in a box."""
    sides = [
        [value for value in range(size) if mask >> value & 1] for mask, size in zip(box, SIZES, strict=True)
    ]
    return frozenset(product(*sides))


def in_any(boxes: list[Masks]) -> frozenset[Case]:
    """Return the cases in some box."""
    return frozenset[Case]().union(*map(cases_of, boxes))


def chosen(bits: int, boxes: list[Masks]) -> list[Masks]:
    """Return the boxes whose bits are set."""
    return [box for place, box in enumerate(boxes) if bits >> place & 1]


def outside_of(box: Masks, others: list[Masks]) -> frozenset[Case]:
    """Return the cases of a box in none of the others."""
    return cases_of(box).difference(*map(cases_of, others))


def in_region(diagrams: Diagrams, region: int) -> frozenset[Case]:
    """Return the cases of a region, each followed down its diagram."""
    return frozenset(case for case in CASES if leads_to(diagrams, region, case) == diagrams.yes)


def leads_to(diagrams: Diagrams, node: int, case: Case) -> int:
    """Follow a case down to its leaf."""
    while diagrams.level(node) < diagrams.depth:
        value = case[diagrams.level(node)]
        (node,) = {child for mask, child in diagrams.parts(node) if mask >> value & 1}
    return node


def any_box(draw: random.Random) -> Masks:
    """Draw a box whose sets of values may be broken on every axis."""
    return tuple(
        draw.choice(((1 << size) - 1, draw.randint(1, (1 << size) - 1), a_mask(draw, level)))
        for level, size in enumerate(SIZES)
    )


def some_masks(draw: random.Random, level: int) -> Iterator[int]:
    """Draw sets of values of an axis: any of them, broken runs too."""
    full = (1 << SIZES[level]) - 1
    yield full
    for _ in range(6):
        yield draw.randint(1, full)


def told(bits: int, boxes: list[Masks]) -> list[bool]:
    """Return a bitmap as one answer a box."""
    return [bool(bits >> place & 1) for place in range(len(boxes))]
