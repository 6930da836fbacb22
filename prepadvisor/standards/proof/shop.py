"""Slips in a shop's own data: tools of the wrong class, pads, numbers out of sense, odd outlines."""

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import hypot, inf
from typing import TYPE_CHECKING, Final

from prepadvisor.cases import zoning
from prepadvisor.logbook import person
from prepadvisor.records import (
    BUILT,
    DA_TOOLS,
    HAND_TOOLS,
    RANK,
    Feature,
    Grade,
    Outline,
    OutputName,
    Panel,
    Point,
    SeenFlake,
    Shop,
    Tool,
)
from prepadvisor.standards.proof.audited import named
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.sane import NONE_OR, is_sane, numbers, sane
from prepadvisor.standards.proof.slips import grades_said
from prepadvisor.surface import farthest_mm

if TYPE_CHECKING:
    from prepadvisor.standards.engine import Rule
    from prepadvisor.standards.house import House

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


_FIRST_FINEST: Final = Grade("P400")
"""The finest grade that a block opens an unsanded surface with. Common practice."""

_AN_HOUR: Final = {
    **dict.fromkeys(("EUR", "USD", "GBP", "CHF", "AUD", "CAD", "\u20ac", "$", "\u00a3"), (5, 500))
}
"""Currency to what an hour of a painter's work sensibly costs; of others nothing is known here."""

_HOURS_MOST: Final = {"per_disc": 1.0, "wet_bed_per_litre": 20.0}
"""What a disc and a litre cost at most, in hours of work."""

_HOURS_LEAST: Final = {"per_disc": 0.0002, "wet_bed_per_litre": 0.01}
"""What they cost at least, where they cost anything."""

_OUTSIDE: Final = 0.12
"""Lines of an outline lie on it, or no farther off than this part of its length or height."""

_SOFT_TO_HARD: Final[tuple[Tool, ...]] = ("da-soft", "da", "da-hard")
"""Sanders from the one that cuts the shallowest scratch on; the last finishes nothing (practice)."""

_SCUFFS: Final = f"Write one of {', '.join(tool for tool in HAND_TOOLS if tool != 'block')}."
_FINISHES: Final = f"Write {' or '.join(_SOFT_TO_HARD[:-1])}."

_SMALL_M2: Final = 0.05
"""A panel that is not small is larger than this."""


def shop_slips(house: "House") -> list[Finding]:
    """Return a finding for each thing in shop file, constants, outlines and limits that cannot be right."""
    return [
        *_tools(house.shop),
        *_pads(house.shop),
        *_pads_like_grades(house.shop),
        *_numbers(house),
        *_solids(house.shop),
        *_first_grades(house.shop),
        *_leads(house.shop),
        *_money(house.shop),
        *_pads_in_order(house),
        *_flakes_in_order(house),
        *(found for outline in house.outlines.values() for found in _outline(outline)),
        *(found for rule in house.engine.rules for found in _limits(rule)),
    ]


def _slip(says: str, mend: str, file: str, *key: str) -> Finding:
    return Finding("shop", says, mend, key=(file, *key))


def _tools(shop: Shop) -> Iterator[Finding]:
    if shop.finishing_tool not in DA_TOOLS:
        says = f'finishing_tool is "{shop.finishing_tool}", no sander: the last DA pass is judged by it.'
        yield _slip(says, _FINISHES, SHOP, "finishing_tool")
    elif shop.finishing_tool == _SOFT_TO_HARD[-1]:
        says = (
            f'finishing_tool is "{shop.finishing_tool}": a hard pad leaves the deepest scratches of a '
            "sander, and cuts crests and thin film through."
        )
        yield _slip(says, _FINISHES, SHOP, "finishing_tool")
    if shop.hand_tool not in HAND_TOOLS:
        says = f'hand_tool is "{shop.hand_tool}", which is no hand tool: every scuff by hand is judged by it.'
        yield _slip(says, _SCUFFS, SHOP, "hand_tool")
    elif shop.hand_tool == "block":
        says = 'hand_tool is "block": a block rides over edges and into no recess, lines are scuffed by hand.'
        yield _slip(says, _SCUFFS, SHOP, "hand_tool")


def _pads(shop: Shop) -> Iterator[Finding]:
    for pad, grade in shop.pads.items():
        if not RANK[_PADS[0]] <= RANK[grade] <= RANK[_PADS[1]]:
            says = f'The pad "{pad}" stands for {grade}, which is the grain of no hand pad.'
            yield _slip(
                says, f"Ask its maker for the P equivalent: {_PADS[0]} to {_PADS[1]}.", SHOP, "pads", pad
            )


def _pads_like_grades(shop: Shop) -> Iterator[Finding]:
    """Yield pads called by one grade that stand for another: who reads the pad takes the wrong one."""
    for pad, grade in shop.pads.items():
        called = grades_said(pad)
        if called and str(grade) not in called:
            says = f'The pad "{pad}" stands for {grade}: its name says {" and ".join(sorted(called))}.'
            yield _slip(says, "Correct the grade, or call the pad otherwise.", SHOP, "pads", pad)


def _numbers(house: "House") -> Iterator[Finding]:
    for record, file in ((house.shop, SHOP), (house.constants, CONSTANTS)):
        for path, value in numbers(record):
            span = sane(path)
            if span is not None and not is_sane(path, value):
                least = NONE_OR.get(".".join(path))
                sensible = f"{span[0] if least is None else f'0, or {least:g}'} to {span[1]:g}"
                says = f"{'.'.join(path)} is {value:g}: sensible is {sensible}."
                yield _slip(says, "Compare its unit and its decimal point.", file, *path)


def _solids(shop: Shop) -> Iterator[Finding]:
    bed = shop.wet_bed
    if bed.set_solids < bed.volume_solids:
        says = (
            f"wet_bed.set_solids is {bed.set_solids:g}, below volume_solids {bed.volume_solids:g}: a coat "
            "cannot stop levelling with fewer solids than it is sprayed with."
        )
        yield _slip(says, "Compare both with the material's sheet.", SHOP, "wet_bed", "set_solids")


def _first_grades(shop: Shop) -> Iterator[Finding]:
    for surface, grade in shop.first_grade.items():
        if RANK[grade] > RANK[_FIRST_FINEST]:
            says = f"first_grade of {surface} is {grade}, which cuts nothing open: it is for a block, first."
            yield _slip(says, f"Write {_FIRST_FINEST} or coarser.", SHOP, "first_grade", surface)


def _leads(shop: Shop) -> Iterator[Finding]:
    known: dict[str, str] = {}
    for lead in shop.leads:
        if not person(lead):
            yield _slip(
                f'leads names "{lead}", in which no letter can be read.', "Take it out.", SHOP, "leads"
            )
        elif person(lead) in known:
            says = f'leads names "{known[person(lead)]}" and "{lead}", which are read as one.'
            yield _slip(says, "Name each lead once.", SHOP, "leads")
        known[person(lead)] = lead


def _money(shop: Shop) -> Iterator[Finding]:
    rates = shop.rates
    if rates is None:
        return
    span = _AN_HOUR.get(rates.currency.upper())
    if span and rates.labour_per_hour and not span[0] <= rates.labour_per_hour <= span[1]:
        says = f"rates.labour_per_hour is {rates.labour_per_hour:g} {rates.currency}."
        mend = f"Sensible is {span[0]} to {span[1]}; compare its decimal point."
        yield _slip(says, mend, SHOP, "rates", "labour_per_hour")
    for name, most in _HOURS_MOST.items():
        cost, hour = getattr(rates, name), rates.labour_per_hour
        if hour and cost and not _HOURS_LEAST[name] * hour <= cost <= most * hour:
            says = f"rates.{name} is {cost:g}, as much as {cost / hour:.3g} hours of work."
            yield _slip(says, "Compare its unit and its decimal point.", SHOP, "rates", name)


def _pads_in_order(house: "House") -> Iterator[Finding]:
    """Yield a finding where a softer pad is said to cut the deeper scratch, and nobody measured it."""
    depths = house.constants.groove.depth_per_grain
    for softer, harder in pairwise(_SOFT_TO_HARD):
        one, other = depths[softer], depths[harder]
        if one.value > other.value and "measured" not in {one.known, other.known}:
            says = f"depth_per_grain of {softer} is {one.value:g}, of {harder} only {other.value:g}."
            key = ("groove", "depth_per_grain", softer)
            yield _slip(says, 'Correct one, or say known = "measured".', CONSTANTS, *key)


def _flakes_in_order(house: "House") -> Iterator[Finding]:
    rising: tuple[SeenFlake, ...] = ("very-fine", "fine", "medium", "coarse")
    for finer, coarser in pairwise(rising):
        one, other = house.constants.flake[finer].d50_um.value, house.constants.flake[coarser].d50_um.value
        if one >= other:
            says = f"{finer} flake is {one:g} µm, {coarser} {other:g} µm: the finer class is not the smaller."
            key = ("flake", finer, "d50_um")
            yield _slip(says, "Correct flake sizes so that they rise.", CONSTANTS, *key)


def _outline(outline: Outline) -> Iterator[Finding]:
    key = ("outline", outline.kind, "kind")
    shape = outline.shape
    is_drawn = abs(_area(shape)) >= _SHAPE_LEAST
    if not is_drawn:
        yield _slip(f"The outline {outline.kind} has hardly any area.", "Draw its shape.", OUTLINES, *key)
    elif _crosses_itself(shape):
        yield _slip(
            f"The outline {outline.kind} crosses itself.", "Give its points in one turn.", OUTLINES, *key
        )
    if (outline.colour_mm or 0.0) + (outline.fade_mm or 0.0) > (room := _room_mm(outline)):
        says = f"colour_mm and fade_mm of {outline.kind} reach past its {room:g} mm from where colour enters."
        yield _slip(says, "Make them narrower, or leave them out.", OUTLINES, *key)
    if not BUILT[outline.seen_as].is_small and outline.length_mm * outline.height_mm / 1e6 < _SMALL_M2:
        size = f"{outline.length_mm:g} by {outline.height_mm:g} mm"
        yield _slip(f"The outline {outline.kind} is {size}.", "Compare its unit: mm.", OUTLINES, *key)
    for line in outline.feature:
        if is_drawn and any(_off(point, shape) > _OUTSIDE for point in line.path):
            says = f"The line {line.id} of {outline.kind} runs outside its shape."
            yield _slip(says, "Draw it on the panel.", OUTLINES, *key)
        twin = _twin(line, outline)
        if twin is not None:
            says = f"The lines {twin.id} and {line.id} of {outline.kind} are one line, or have one name."
            yield _slip(says, "Draw or call one otherwise: a card tells them apart by that.", OUTLINES, *key)
        if all(point == line.path[0] for point in line.path):
            says = f"The line {line.id} of {outline.kind} has no length."
            yield _slip(says, "Give where it starts and where it ends.", OUTLINES, *key)


def _twin(line: Feature, outline: Outline) -> Feature | None:
    """Return a line before this one that has its name or runs just where it does, if there is one."""
    before = outline.feature[: outline.feature.index(line)]
    ways = (line.path, line.path[::-1])
    return next(
        (each for each in before if each.path in ways or (each.name and each.name == line.name)), None
    )


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


def _off(point: Point, shape: tuple[Point, ...]) -> float:
    """Return how far a point lies outside a polygon, in parts of length and height; 0 inside."""
    x, y = point
    odd, near = False, inf
    for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
        if (y1 > y) != (y2 > y) and x > x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
        length = (x2 - x1) ** 2 + (y2 - y1) ** 2
        share = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length if length else 0.0
        share = min(1.0, max(0.0, share))
        near = min(near, hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1)))
    return 0.0 if odd else near


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


def _limits(rule: "Rule") -> Iterator[Finding]:
    for output, (low, high, mend) in _LIMITS.items():
        value = rule.set.get(output)
        if isinstance(value, int | float) and not low < value <= high:
            says = f"{named([rule])} sets {output} = {value:g}."
            yield Finding("shop", says, mend, rules=(rule.id,), file=rule.file, line=rule.line)
