"""What an answer says of a line's strength: a probit model with a small lapse, and "barely" as an interval.

A judge answers by the line's margin m = ln(A/T) with a scatter s: he says yes where m + s·ε > 0, ε standard
normal. One answer in `lapse` falls at random. A judge who also says *barely* answers on three steps: barely
between −w and w, yes above, no below; the three add up to 1. A judge who never says it answers on two.
Reference: the ordered probit model; Finney 1971 for lapse ("natural response") in probit analysis.
"""

import math
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.numerics import FARTHEST, NORMAL, Curve
from prepadvisor.records import TOOLS, Constants, RowKind, Shows, Tool

if TYPE_CHECKING:
    from prepadvisor.surface import Array

# The unknowns of a fit and what is believed of them before any panel: log-normal priors.
#
# In the vector of unknowns stand, as logarithms: the threshold T, the scatter s of one panel about it, the
# depth factor of every tool and pad, β = ln(−ln(1−φ_s)) of the wet bed's set solids φ_s, the flake size of
# every colour, and how outcomes and wet looks are read against test panels.

THRESHOLD: Final = "threshold_arcsec"
SCATTER: Final = "scatter"
SOLIDS: Final = "bed_set_solids"
DEPTH: Final = "depth_per_grain."
SIZE: Final = "flake_um."
READ: Final = "read_as."

SCATTER_SD: Final = 0.25
"""Prior standard deviation of ln s. Assumption: 0.40 is √(0.33² + 0.23²), each known to about a quarter."""

PAD_SD: Final = 0.35
"""Extra standard deviation of ln k of a named pad: charts of what P grade a pad equals differ by a factor of
two in grain, ln 2 / 2 (grades_other.csv of the published tables)."""

READ_SD: Final = 0.40
"""Prior standard deviation of how an outcome or a wet look is read against a test panel [ln A]. Assumption:
another eye, light and distance, as much as one eye differs from another."""

UNKNOWN_CLASS_SD: Final = 0.5
"""Standard deviation of ln D50 over the flake classes: prior of a colour nobody gave a class. Derived."""

SOLIDS_HIGH: Final = 0.9
"""Set solids that the prior's 95 % point must reach: scratch-scale grooves still level at 10⁶ Pa·s by
the equation of Orchard 1962, so that 0.6 to 0.9 is plausible and the start value a lower bound. Derived."""

SOLIDS_SD_LEAST: Final = 0.5
Z_90: Final = 1.6448536269514722
"""A 90 % interval reaches this many standard deviations either way."""


class Unknowns(NamedTuple):
    """Names of the unknowns in their order, with prior means and standard deviations of the vector."""

    names: tuple[str, ...]
    mean: "Array"
    sd: "Array"
    place: Mapping[str, int]


def solids_to_unknown(set_solids: float) -> float:
    """Return β = ln(−ln(1−φ_s)) for set solids of 0 to 1, ends held off."""
    return math.log(-math.log1p(-min(max(set_solids, 1e-6), 1.0 - 1e-9)))


def solids_of_unknown(value: float) -> float:
    """Return set solids φ_s for β; the inverse of `solids_to_unknown`."""
    return -math.expm1(-math.exp(min(value, 5.0)))


def solids_sd(set_solids: float) -> float:
    """Return the prior standard deviation of β: its 95 % point is φ_s = 0.9, or higher."""
    reach = solids_to_unknown(SOLIDS_HIGH) - solids_to_unknown(set_solids)
    return max(reach / Z_90, SOLIDS_SD_LEAST)


def layout_of(
    constants: Constants,
    set_solids: float,
    pads: Mapping[str, Tool],
    colours: Mapping[str, tuple[float, float]],
    kinds: Iterable[RowKind],
) -> Unknowns:
    """Return the unknowns of a fit.

    Args:
        constants: centres of the priors and their uncertainties.
        set_solids: φ_s in force [1].
        pads: name of a pad to the tool it is counted with.
        colours: name of a colour to median size [µm] and standard deviation of its logarithm before.
        kinds: kinds of rows there are.
    """
    unsure, sight = constants.uncertainty, constants.sight
    depth = {tool: math.log(constants.groove.depth_per_grain[tool].value) for tool in TOOLS}
    u_depth = max(unsure.depth_per_grain.value, 1e-3)
    u_pad = math.hypot(u_depth, PAD_SD)
    u_line = unsure.thinnest_line.value
    rows: list[tuple[str, float, float]] = [
        (THRESHOLD, math.log(sight.thinnest_line_arcsec.value), u_line),
        (SCATTER, math.log(u_line), SCATTER_SD),
        *((f"{DEPTH}{tool}", centre, u_depth) for tool, centre in depth.items()),
        *((f"{DEPTH}{pad}", depth[tool], u_pad) for pad, tool in sorted(pads.items())),
        (SOLIDS, solids_to_unknown(set_solids), solids_sd(set_solids)),
        *((f"{SIZE}{name}", math.log(um), max(sd, 1e-3)) for name, (um, sd) in sorted(colours.items())),
        *((f"{READ}{kind}", 0.0, READ_SD) for kind in sorted(set(kinds) - {"panel"})),
    ]
    names = tuple(name for name, _, _ in rows)
    return Unknowns(
        names,
        np.array([centre for _, centre, _ in rows]),
        np.array([sd for _, _, sd in rows]),
        {name: place for place, name in enumerate(names)},
    )


BARELY_HALF_WIDTH: Final = 0.25
"""w [ln A]: who says barely means within a quarter of the threshold, either way. Assumption."""

LAPSE: Final = 0.02
"""Part of answers that fall at random: a slip of the pen, a look elsewhere. Assumption: 1 to 2 % is usual."""

ALL: Final = 0
PART: Final = 1


class Margins(NamedTuple):
    """m = ln(A/T) of rows, its slopes by the unknowns (n, unknowns), and its slope by ln B."""

    value: "Array"
    slopes: "Array"
    by_left: "Array"


class AnswerBounds(NamedTuple):
    """Answers as bounds on ε·s: the answer is given where `low` < m + s·ε ≤ `high`; arrays of one shape.

    `at_random` is the chance of this answer when it falls at random; `times` how many answered so.
    """

    low: "Array"
    high: "Array"
    at_random: "Array"
    lapse: "Array"
    times: "Array"


class LogLikelihood(NamedTuple):
    """ln P and its slopes by margin m and by ln s, each summed over the count; arrays of one shape."""

    value: "Array"
    by_margin: "Array"
    by_log_spread: "Array"
    by_margin_twice: "Array"
    by_both: "Array"
    by_log_spread_twice: "Array"


def bounds_of(answer: Shows, *, three_steps: bool) -> tuple[float, float]:
    """Return the bounds of an answer on m + s·ε.

    Args:
        answer: what was said.
        three_steps: whether this judge also says barely.
    """
    half = BARELY_HALF_WIDTH if three_steps else 0.0
    match answer:
        case "yes":
            return half, np.inf
        case "no":
            return -np.inf, -half
        case "barely":
            return -BARELY_HALF_WIDTH, BARELY_HALF_WIDTH


def chance(margin: "Array", spread: "Array | float", answers: AnswerBounds, curve: Curve = NORMAL) -> "Array":
    """Return the probability of each answer [1] for margins m [ln A] and scatter s [ln A]."""
    inside = curve.between((answers.low - margin) / spread, (answers.high - margin) / spread)
    found: Array = answers.lapse * answers.at_random + (1.0 - answers.lapse) * inside
    return found


def log_likelihood(
    margin: "Array", spread: float, answers: AnswerBounds, curve: Curve = NORMAL
) -> LogLikelihood:
    """Return ln P of the answers with its first and second slopes.

    Args:
        margin: m = ln(A/T) of each answer [1].
        spread: s, how one panel scatters about the threshold [ln A], above 0.
        answers: what was said; shape of `margin`.
        curve: how answers scatter.

    Returns:
        Value and slopes, each times the count.
    """
    a, b = (np.clip((edge - margin) / spread, -FARTHEST, FARTHEST) for edge in (answers.low, answers.high))
    (at_a, slope_a), (at_b, slope_b) = curve.density(a), curve.density(b)
    inside = np.maximum(curve.between(a, b), 1e-300)
    p = answers.lapse * answers.at_random + (1.0 - answers.lapse) * inside
    by_edge, by_both = at_b - at_a, b * at_b - a * at_a
    bend, bend_both = slope_b - slope_a, b * slope_b - a * slope_a
    bend_spread = by_both + b * b * slope_b - a * a * slope_a
    share = (1.0 - answers.lapse) / p
    by_margin, by_spread = -share * by_edge / spread, -share * by_both
    n = answers.times
    return LogLikelihood(
        value=n * np.log(p),
        by_margin=n * by_margin,
        by_log_spread=n * by_spread,
        by_margin_twice=n * (share * bend / spread**2 - by_margin**2),
        by_both=n * (share * (by_edge + bend_both) / spread - by_margin * by_spread),
        by_log_spread_twice=n * (share * bend_spread - by_spread**2),
    )


def information(
    margin: "Array", spread: float, lapse: "Array | float" = LAPSE, curve: Curve = NORMAL
) -> "Array":
    """Return what one yes-or-no answer is expected to say of the margin: Fisher's information [1/(ln A)²]."""
    z = np.clip(-margin / spread, -FARTHEST, FARTHEST)
    end = np.full_like(z, FARTHEST)
    p = lapse / 2.0 + (1.0 - lapse) * curve.between(z, end)
    rest = lapse / 2.0 + (1.0 - lapse) * curve.between(-end, z)
    height, _ = curve.density(z)
    found: Array = ((1.0 - lapse) * height / spread) ** 2 / np.maximum(p * rest, 1e-300)
    return found
