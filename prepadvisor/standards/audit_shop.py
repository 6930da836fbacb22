"""Slips in a shop's own data: tools of the wrong class, pads, numbers out of sense, odd outlines."""

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import inf
from typing import Final

from prepadvisor.cases.zones import zoning
from prepadvisor.records.constants import SeenFlake
from prepadvisor.records.decision import OutputName
from prepadvisor.records.job import Panel
from prepadvisor.records.outline import Outline
from prepadvisor.records.shop import Shop
from prepadvisor.records.words import DA_TOOLS, HAND_TOOLS
from prepadvisor.standards.audited import named
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.house import House
from prepadvisor.standards.rules import Rule
from prepadvisor.standards.sane import numbers, sane
from prepadvisor.surface.grades import RANK, Grade
from prepadvisor.surface.layout import farthest_mm

SHOP: Final = "shop.toml"
CONSTANTS: Final = "constants.toml"
OUTLINES: Final = "panels.toml"

_PADS: Final = (Grade("P180"), Grade("P3000"))
"""Grain that a hand pad can have; coarser tears clear, finer keys nothing. Common practice."""

_FILM_LEFT_MOST_UM: Final = 300
"""More film than this is more than a sound panel has: painted before."""

_LIMITS: Final[dict[OutputName, tuple[float, float, str]]] = {
    "risk_limit": (0.0, 1.0, "A limit of 0 lets no grade through: write more than 0."),
    "film_off_max_um": (0.0, inf, "With 0 µm no place can be sanded: write more than 0."),
    "film_left_min_um": (
        -1.0,
        _FILM_LEFT_MOST_UM,
        f"No sound panel has more film than {_FILM_LEFT_MOST_UM} µm: write less.",
    ),
}
"""Output to what it must be above, what it may be at most, and the mend."""

_SHAPE_LEAST: Final = 0.05
"""An outline covers at least this part of its rectangle."""

_HAIR: Final = 1e-9


def shop_slips(house: House) -> list[Finding]:
    """Return a finding for each thing in shop file, constants, outlines and limits that cannot be right."""
    return [
        *_tools(house.shop),
        *_pads(house.shop),
        *_numbers(house),
        *_solids(house.shop),
        *_flakes_in_order(house),
        *(found for outline in house.outlines.values() for found in _outline(outline)),
        *(found for rule in house.engine.rules for found in _limits(rule)),
    ]


def _slip(says: str, mend: str, file: str, *key: str) -> Finding:
    return Finding("shop", says, mend, key=(file, *key))


def _tools(shop: Shop) -> Iterator[Finding]:
    if shop.finishing_tool not in DA_TOOLS:
        says = f'finishing_tool is "{shop.finishing_tool}", no sander: the last DA pass is judged by it.'
        yield _slip(says, f"Write one of {', '.join(DA_TOOLS)}.", SHOP, "finishing_tool")
    if shop.hand_tool not in HAND_TOOLS:
        says = f'hand_tool is "{shop.hand_tool}", which is no hand tool: every scuff by hand is judged by it.'
        yield _slip(says, f"Write one of {', '.join(HAND_TOOLS)}.", SHOP, "hand_tool")


def _pads(shop: Shop) -> Iterator[Finding]:
    for pad, grade in shop.pads.items():
        if not RANK[_PADS[0]] <= RANK[grade] <= RANK[_PADS[1]]:
            says = f'The pad "{pad}" stands for {grade}, which is the grain of no hand pad.'
            yield _slip(
                says, f"Ask its maker for the P equivalent: {_PADS[0]} to {_PADS[1]}.", SHOP, "pads", pad
            )


def _numbers(house: House) -> Iterator[Finding]:
    for record, file in ((house.shop, SHOP), (house.constants, CONSTANTS)):
        for path, value in numbers(record):
            span = sane(path)
            if span is not None and not span[0] <= value <= span[1]:
                says = f"{'.'.join(path)} is {value:g}: sensible is {span[0]:g} to {span[1]:g}."
                yield _slip(says, "Compare its unit and its decimal point.", file, *path)


def _solids(shop: Shop) -> Iterator[Finding]:
    bed = shop.wet_bed
    if bed.set_solids < bed.volume_solids:
        says = (
            f"wet_bed.set_solids is {bed.set_solids:g}, below volume_solids {bed.volume_solids:g}: a coat "
            "cannot stop levelling with fewer solids than it is sprayed with."
        )
        yield _slip(says, "Compare both with the material's sheet.", SHOP, "wet_bed", "set_solids")


def _flakes_in_order(house: House) -> Iterator[Finding]:
    rising: tuple[SeenFlake, ...] = ("very-fine", "fine", "medium", "coarse")
    for finer, coarser in pairwise(rising):
        one, other = house.constants.flake[finer].d50_um.value, house.constants.flake[coarser].d50_um.value
        if one >= other:
            says = f"{finer} flake is {one:g} µm, {coarser} {other:g} µm: the finer class is not the smaller."
            key = ("flake", finer, "d50_um")
            yield _slip(says, "Correct flake sizes so that they rise.", CONSTANTS, *key)


def _outline(outline: Outline) -> Iterator[Finding]:
    key = ("outline", outline.kind)
    shape = outline.shape
    if abs(_area(shape)) < _SHAPE_LEAST:
        yield _slip(f"The outline {outline.kind} has hardly any area.", "Draw its shape.", OUTLINES, *key)
    elif _crosses_itself(shape):
        yield _slip(
            f"The outline {outline.kind} crosses itself.", "Give its points in one turn.", OUTLINES, *key
        )
    if (outline.colour_mm or 0.0) + (outline.fade_mm or 0.0) > (room := _room_mm(outline)):
        says = f"colour_mm and fade_mm of {outline.kind} reach past its {room:g} mm from where colour enters."
        yield _slip(says, "Make them narrower, or leave them out.", OUTLINES, *key)
    for line in outline.feature:
        if all(point == line.path[0] for point in line.path):
            says = f"The line {line.id} of {outline.kind} has no length."
            yield _slip(says, "Give where it starts and where it ends.", OUTLINES, *key)


def _room_mm(outline: Outline) -> float:
    """Return the depth in mm of the farthest point from where colour usually comes in; else the length."""
    if not outline.colour_from or outline.colour_mm is None:
        return max(outline.length_mm, outline.height_mm)
    panel = Panel(
        id="p",
        kind=outline.kind,
        role="blend",
        surface="aged-clear",
        length_mm=outline.length_mm,
        height_mm=outline.height_mm,
        colour_from=outline.colour_from,
        colour_mm=outline.colour_mm,
        fade_mm=outline.fade_mm,
    )
    return farthest_mm(zoning(panel, 0.0).layout)


def _area(shape: tuple[tuple[float, float], ...]) -> float:
    around = zip(shape, (*shape[1:], shape[0]), strict=True)
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in around) / 2


def _crosses_itself(shape: tuple[tuple[float, float], ...]) -> bool:
    sides = list(zip(shape, (*shape[1:], shape[0]), strict=True))
    return any(_cross(one, other) for one, other in combinations(sides, 2) if not set(one) & set(other))


_Side = tuple[tuple[float, float], tuple[float, float]]


def _cross(one: _Side, other: _Side) -> bool:
    """Say whether two sides without a common point cross one another."""

    def turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return turn(a, b, c) * turn(a, b, d) < -_HAIR and turn(c, d, a) * turn(c, d, b) < -_HAIR


def _limits(rule: Rule) -> Iterator[Finding]:
    for output, (low, high, mend) in _LIMITS.items():
        value = rule.set.get(output)
        if isinstance(value, int | float) and not low < value <= high:
            says = f"{named([rule])} sets {output} = {value:g}."
            yield Finding("shop", says, mend, rules=(rule.id,), file=rule.file, line=rule.line)
