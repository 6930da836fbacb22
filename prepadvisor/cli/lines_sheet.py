"""The facts of the wall table: a row per tool and grade, the limit they are judged by, what they rest on."""

import argparse
import math
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, TypeVar, cast

from prepadvisor.cases import (
    TONE_IF_UNKNOWN,
    Facts,
    FlakeNumbers,
    JudgedColour,
    Measured,
    flake_numbers,
    judged_flake,
)
from prepadvisor.planning import LINE_ZONES, LineModel, verdict_of
from prepadvisor.records import (
    FLAKES,
    GRADES,
    HAND_TOOLS,
    RANK,
    TOOLS,
    BadInputError,
    Fault,
    Flake,
    Grade,
    MeasuredHere,
    Passport,
    Quantity,
    SeenFlake,
    Verdict,
    Zone,
    first_word,
    nearest,
)

if TYPE_CHECKING:
    from prepadvisor.standards import House

# What was asked of `prepadvisor lines`, checked: every fault at once, each a plain sentence.

COATS_MOST: Final = 10
"""More coats of wet bed than this are a slip of the finger."""

MEASURED: Final = {
    "flake_um": (1.0, 200.0, "µm"),
    "tilt": (0.5, 45.0, "degrees"),
    "log_sd": (0.01, 2.0, "(a plain number)"),
}
"""Measured values: lowest, highest, unit; the same ranges as in a job file."""

_FLAKES: Final[tuple[Flake | Literal["unknown"], ...]] = (*FLAKES, "unknown")
_Word = TypeVar("_Word", bound=str)


class LinesAsked(NamedTuple):
    """Flake class, zone, coats of wet bed, and the measured values, None where not given."""

    flake: Flake | Literal["unknown"]
    zone: Zone
    coats: int
    flake_um: float | None
    tilt_deg: float | None
    log_sd: float | None

    @property
    def colour(self) -> JudgedColour:
        """The colour as judged, of two stages; what is given stands for the class, coarser or finer."""
        given = Measured(self.flake_um, self.log_sd, self.tilt_deg)
        return JudgedColour(judged_flake(self.flake, 2), 2, TONE_IF_UNKNOWN, standing=given)

    @property
    def is_measured(self) -> bool:
        """Whether any measured value stands in for one of the class."""
        return not (self.flake_um is None and self.tilt_deg is None and self.log_sd is None)


def asked(args: argparse.Namespace) -> LinesAsked:
    """Return what the options ask for.

    Raises:
        BadInputError: with every fault of the options.
    """
    faults: list[Fault] = []
    flake = _known_word("--flake", args.flake.strip() or "unknown", _FLAKES, faults)
    zone = _known_word("--zone", args.zone.strip(), LINE_ZONES, faults)
    coats = _coats(args.coats, faults)
    numbers = {name: _measured(name, getattr(args, name), faults) for name in MEASURED}
    if flake == "solid" and any(value is not None for value in numbers.values()):
        says = "a solid colour has no flake to measure"
        faults.append(Fault("--flake", 0, 0, says, "leave the class or the measured values out"))
    if faults:
        raise BadInputError(faults)
    return LinesAsked(
        flake=flake,
        zone=zone,
        coats=coats,
        flake_um=numbers["flake_um"],
        tilt_deg=numbers["tilt"],
        log_sd=numbers["log_sd"],
    )


def _known_word(option: str, given: str, words: tuple[_Word, ...], faults: list[Fault]) -> _Word:
    given = first_word(option.removeprefix("--"), given)
    for word in words:
        if word == given:
            return word
    near = nearest(given, words)
    mend = f'did you mean "{near}"?' if near else f"take one of {', '.join(words)}"
    faults.append(Fault(option, 0, 0, f'"{given}" is not known here', mend))
    return words[-1]


def _coats(given: str, faults: list[Fault]) -> int:
    try:
        coats = int(given)
    except ValueError:
        coats = -1
    if not 0 <= coats <= COATS_MOST:
        mend = f"a whole number from 0 to {COATS_MOST}"
        faults.append(Fault("--coats", 0, 0, f'"{given}" is no number of coats', mend))
    return coats


def _measured(name: str, given: str | None, faults: list[Fault]) -> float | None:
    if given is None:
        return None
    lowest, highest, unit = MEASURED[name]
    try:
        value = float(given)
    except ValueError:
        value = math.nan
    if not lowest <= value <= highest:
        mend = f"a number from {lowest:g} to {highest:g} {unit}"
        faults.append(Fault(f"--{name.replace('_', '-')}", 0, 0, f'"{given}" cannot be', mend))
    return value


SHOWN_GRADES: Final = GRADES[GRADES.index(Grade("P80")) : GRADES.index(Grade("P2500")) + 1]
"""Grades of the table: those a panel is prepared with."""


class LineRow(NamedTuple):
    """One line: strength in arcseconds and risk; both 0 under a solid colour: no flake, no line."""

    tool: str
    grade: Grade
    coats: int
    arcsec: float
    risk: float


class Bedded(NamedTuple):
    """The fewest coats of wet bed that make a tool and grade safe, and the risk then; None for none.

    `allowed` says whether the rules let that grade be the last touch at all: no bed buys a coarser one.
    """

    tool: str
    grade: Grade
    coats: int | None
    risk: float
    allowed: bool


class LinesSheet(NamedTuple):
    """The whole table with what it is judged by: limits of risk, thinnest line, viewing distance.

    Where no rule sets a limit, `limit_rules` is empty and `risk_limit` is where borderline ends.
    """

    asked: LinesAsked
    flake: FlakeNumbers | None
    rows: tuple[LineRow, ...]
    risk_limit: float
    limit_rules: tuple[str, ...]
    borderline_risk: float
    thinnest_line_arcsec: float
    viewing_distance_mm: float
    set_solids: float
    known: dict[str, list[str]]
    house: str
    keys_to: Grade | None
    bedded: tuple[Bedded, ...]
    measured: MeasuredHere | None = None

    def verdict(self, risk: float) -> Verdict:
        """Return the word for a risk: within the limit, up to the borderline, or above."""
        return verdict_of(risk, self.risk_limit, self.borderline_risk)


def sheet_of(asked: LinesAsked, house: "House") -> LinesSheet:
    """Return the table for what was asked, by the standards and constants of a house."""
    constants = house.constants
    flake = flake_numbers(constants, asked.colour)
    set_solids = house.shop.wet_bed.set_solids
    borderline = constants.uncertainty.borderline_risk.value
    decision = house.engine.decide(Facts(flake=asked.colour.flake, zone=asked.zone))
    limit = borderline if decision.risk_limit is None else decision.risk_limit
    rules = {reason.rule for reason in decision.because if reason.output == "risk_limit"}
    return LinesSheet(
        asked=asked,
        flake=flake,
        rows=_rows(LineModel(constants), flake, asked, set_solids),
        risk_limit=limit,
        limit_rules=tuple(sorted(rules)),
        borderline_risk=borderline,
        thinnest_line_arcsec=constants.sight.thinnest_line_arcsec.value,
        viewing_distance_mm=constants.sight.viewing_distance_mm.value,
        set_solids=set_solids,
        known=_known(asked, house),
        house=house.folder,
        keys_to=decision.finish_finest,
        bedded=_bedded(LineModel(constants), flake, asked, house, (limit, decision.bed_coats_max or 0)),
        measured=constants.measured_here,
    )


def _rows(
    model: LineModel, flake: FlakeNumbers | None, asked: LinesAsked, set_solids: float
) -> tuple[LineRow, ...]:
    cases = [(tool, grade) for tool in TOOLS for grade in SHOWN_GRADES]
    if flake is None:
        return tuple(LineRow(tool, grade, asked.coats, 0.0, 0.0) for tool, grade in cases)
    table = model.table(flake, TOOLS, SHOWN_GRADES, zone=asked.zone, coats=asked.coats, set_solids=set_solids)
    return tuple(LineRow(*case, asked.coats, *table[case]) for case in cases)


def _bedded(
    model: LineModel, flake: FlakeNumbers | None, asked: LinesAsked, house: "House", within: tuple[float, int]
) -> tuple[Bedded, ...]:
    """Return for the shop's hand tool and its finishing tool how many coats of wet bed each grade takes.

    Args:
        model: the line model.
        flake: the flake; None for a solid colour.
        asked: zone and least coats.
        house: the shop.
        within: the risk allowed, and the most coats.
    """
    if flake is None:
        return ()
    limit, most = within
    facts = Facts(flake=asked.colour.flake, zone=asked.zone)
    by_machine = house.engine.decide(facts).finish_coarsest
    by_hand = house.engine.decide(facts._replace(feature="recess", reach="hand")).hand_last_coarsest
    tools = (house.shop.hand_tool, house.shop.finishing_tool)
    solids = house.shop.wet_bed.set_solids
    by_coats = {
        coats: model.table(flake, tools, SHOWN_GRADES, zone=asked.zone, coats=coats, set_solids=solids)
        for coats in range(asked.coats, max(most, asked.coats) + 1)
    }
    found = []
    for tool in tools:
        for grade in SHOWN_GRADES:
            risks = {coats: table[tool, grade].risk for coats, table in by_coats.items()}
            enough = next((coats for coats, risk in risks.items() if risk <= limit), None)
            rule = by_hand if tool in HAND_TOOLS else by_machine
            allowed = rule is None or RANK[grade] >= RANK[rule]
            risk = risks[enough] if enough is not None else 1.0
            found.append(Bedded(tool, grade, enough, risk, allowed))
    return tuple(found)


def _known(asked: LinesAsked, house: "House") -> dict[str, list[str]]:
    """Return what the table rests on, by how it is known, measured values first."""
    groove, film, sight = house.constants.groove, house.constants.film, house.constants.sight
    known: dict[str, list[str]] = {"measured": [], "published": ["grain sizes"]}

    def add(name: str, quantity: Quantity | Passport | None, measured: float | None = None) -> None:
        kind = "measured" if measured is not None else quantity.known if quantity else "house"
        if name not in known.setdefault(kind, []):
            known[kind].append(name)

    for depth in groove.depth_per_grain.values():
        add("depth by tool", depth)
    add("groove width", groove.width_per_depth)
    add("set solids of colour", film.colour_set_solids)
    colour = film.earlier_colour_coats_colour if asked.zone == "colour" else film.earlier_colour_coats_fade
    add("colour coats underneath", colour)
    if asked.coats:
        add("set solids of wet bed", house.shop.passport.get("wet_bed.set_solids"))
    of_class = house.constants.flake.get(cast("SeenFlake", asked.colour.flake))
    if of_class:
        add("flake size", of_class.d50_um, asked.flake_um)
        add("flake spread", of_class.log_sd, asked.log_sd)
        add("flake tilt", of_class.tilt_deg, asked.tilt_deg)
    add("thinnest line seen", sight.thinnest_line_arcsec)
    add("viewing distance", sight.viewing_distance_mm)
    add("short arcs", sight.short_arc_factor)
    return {kind: names for kind, names in known.items() if names}
