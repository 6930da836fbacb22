"""The one table of facts: everything that a rule may ask about a case, and all that follows from it.

An entry is a field of `Facts`: its type, its start value, and what it is. Conditions, bitmaps, the axes of
the audit, schemas, words and the sweep are made from this table; nothing else lists the facts.
"""

from typing import Annotated, Final, get_args, get_type_hints

from prepadvisor.cases.fact import OTHER, CaseSpot, Category, Lacking, Names, NumberFact, Sensible
from prepadvisor.records import (
    AREA_KINDS,
    FEATURE_KINDS,
    FLAKES,
    OUTLINES,
    SPECIALS,
    SURFACES,
    TONES,
    ZONES,
    NamedTuple,
    NextCoat,
    Reach,
    Role,
    key_of,
)


def _size_m2(spot: CaseSpot) -> float:
    return spot.subject.panel.length_mm * spot.subject.panel.height_mm / 1e6


PANEL_KINDS: Final = Names(OUTLINES, rest=None)
"""The kinds of panel: those that ship, then those that houses state themselves."""


class Facts(NamedTuple):
    """A fully stated case. The defaults are what most jobs have; an unknown number is None."""

    flake: Annotated[
        str,
        Category(
            FLAKES, "{} flake", 80, lambda spot: spot.colour.flake, label="Flake",
            ordered=True, run=("{} or finer", "{} or coarser"),
        ),
    ] = "fine"  # fmt: skip
    tone: Annotated[
        str, Category(TONES, "{} tone", 120, lambda spot: spot.colour.tone, ordered=True, label="Tone")
    ] = "light"
    zone: Annotated[
        str,
        Category(
            ZONES, "{} zone", 50, lambda spot: spot.zone, label="Zone",
            ordered=True, explains="{} (the fade is the strictest)",
        ),
    ] = "fade"  # fmt: skip
    stages: Annotated[
        int,
        Category(
            (2, 3), "{} stages", 90, lambda spot: spot.colour.stages, label="Stages",
            ordered=True, explains="{} (without quotes)",
        ),
    ] = 2  # fmt: skip
    role: Annotated[
        str, Category(get_args(Role), "{} panel", 40, lambda spot: spot.subject.panel.role, label="Panel is")
    ] = "blend"
    surface: Annotated[
        str, Category(SURFACES, "on {}", 20, lambda spot: spot.subject.surface, label="Surface")
    ] = "aged-clear"
    next: Annotated[
        str,
        Category(
            get_args(NextCoat), "{} next", 30, lambda spot: spot.subject.next, label="Next coat",
            explains="what goes on next: {}",
        ),
    ] = "base"  # fmt: skip
    feature: Annotated[
        str, Category(FEATURE_KINDS, "{}", 70, lambda spot: spot.subject.kind, label="Place")
    ] = "face"
    reach: Annotated[
        str,
        Category(
            get_args(Reach), "{}", 60, lambda spot: spot.subject.reach, label="Reach",
            said={"machine": "where a machine reaches", "hand": "by hand only"},
            explains="{}: a DA gets there, or hand is the last touch; a face or patch is always machine",
        ),
    ] = "machine"  # fmt: skip
    seen: Annotated[
        bool,
        Category(
            (False, True), "{}", 100, lambda spot: spot.subject.seen, label="Seen",
            said={True: "seen", False: "not seen"}, explains="{} (without quotes)",
        ),
    ] = True  # fmt: skip
    panel: Annotated[
        str,
        Category(
            PANEL_KINDS, "{}", 110, lambda spot: spot.subject.panel.kind, label="Panel",
            explains="{}, or a kind of your own (section 8)",
        ),
    ] = "front-door"  # fmt: skip
    special: Annotated[
        str,
        Category(
            SPECIALS, "special: {}", 10, lambda spot: spot.subject.panel.special, label="Special",
            said={"none": "nothing special"},
        ),
    ] = "none"  # fmt: skip
    book: Annotated[
        str,
        Category(
            Names(), "colour {} of the book", 125, lambda spot: key_of(spot.colour.book) or OTHER,
            label="Book colour",
            but="any colour but {}, in the book or not",
            explains="the word of an entry in the colour book; what no rule names, and no entry, is other",
        ),
    ] = OTHER  # fmt: skip
    film_um: Annotated[
        float | None,
        NumberFact(
            "µm", "film {}", 130, lambda spot: min(spot.subject.panel.film_um, default=None),
            "lowest gauge reading of the panel, total film in µm", label="Film, um", usual=None,
            # film on a car is 60 to 1000 µm (practice)
            sensible=Sensible(10, 2000, "mm (0.09 mm is 90) or mil (4 mil is 100)", "nm"),
        ),
    ] = None  # fmt: skip
    length_mm: Annotated[
        float | None,
        NumberFact(
            "mm", "line length {}", 140, lambda spot: spot.amount if spot.subject.is_line else None,
            "length of the line in this zone, mm", label="Line, mm",
            usual=500.0,  # half the length of a door
            # a line on a panel is some cm to 6 m long (practice)
            sensible=Sensible(10, 12_000, "m (0.5 m is 500) or cm (40 cm is 400)", "µm"),
            lacking=Lacking("feature", AREA_KINDS, "a face or patch"),
        ),
    ] = None  # fmt: skip
    panel_m2: Annotated[
        float | None,
        NumberFact(
            "m²", "panel size {}", 150, _size_m2,
            "length × height of the panel, m²", label="Panel, m2",
            usual=0.67,  # a door of 1050 by 640 mm
            # a panel is 0.02 to 4 m² (practice)
            sensible=Sensible(0.005, 20, "another unit", "dm² (60 dm² is 0.6) or cm²"),
        ),
    ] = None  # fmt: skip


def _entries() -> tuple[Category | NumberFact, ...]:
    hints = get_type_hints(Facts, include_extras=True)
    return tuple(
        hints[name].__metadata__[0]._replace(name=name, at=at) for at, name in enumerate(Facts._fields)
    )


TABLE: Final[tuple[Category | NumberFact, ...]] = _entries()
"""Every fact, in the order in which `Facts` has them."""

CATEGORIES: Final[tuple[Category, ...]] = tuple(fact for fact in TABLE if isinstance(fact, Category))
"""All facts with a fixed list of values."""

NUMBERS: Final[tuple[NumberFact, ...]] = tuple(fact for fact in TABLE if isinstance(fact, NumberFact))
"""All facts that are numbers."""

FACTS: Final[tuple[str, ...]] = Facts._fields
"""The names of all facts."""

FACT: Final[dict[str, Category | NumberFact]] = {fact.name: fact for fact in TABLE}
"""Every fact by its name."""

CATEGORY: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(CATEGORIES)}
"""Name of a category to its place in `CATEGORIES`."""

NUMBER: Final[dict[str, int]] = {fact.name: place for place, fact in enumerate(NUMBERS)}
"""Name of a number to its place in `NUMBERS`."""

ORDER: Final[tuple[str, ...]] = tuple(fact.name for fact in sorted(TABLE, key=lambda fact: fact.rank))
"""The order in which an audit asks the facts."""

_READS: Final = tuple(fact.read for fact in TABLE)


def facts_of(spot: CaseSpot) -> Facts:
    """State a spot as a case for the house standards."""
    return Facts._make(read(spot) for read in _READS)
