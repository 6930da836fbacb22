"""The unknowns of a fit and what is believed of them before any panel: log-normal priors.

In the vector of unknowns stand, as logarithms: the threshold T, the scatter s of one panel about it, the
depth factor of every tool and pad, β = ln(−ln(1−φ_s)) of the wet bed's set solids φ_s, the flake size of
every colour, and how outcomes and wet looks are read against test panels.
"""

import math
from collections.abc import Iterable, Mapping
from typing import Final

import numpy as np

from prepadvisor.named import NamedTuple
from prepadvisor.records.constants import Constants
from prepadvisor.records.panel_rows import RowKind
from prepadvisor.records.words import TOOLS, Tool
from prepadvisor.surface.domain import Array

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
    mean: Array
    sd: Array
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
