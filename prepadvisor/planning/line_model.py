"""The line model at work: does a scratch of this tool and grade show once this flake is over it?

A first-principles estimate. It applies where the next coat carries a flake that can be seen, in colour and
fade; what it rests on and how well each number is known stands in the constants.
"""

import math
from collections.abc import Iterable
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.records import (
    DS50_UM,
    GRADES,
    HAND_TOOLS,
    TOOLS,
    Constants,
    Grade,
    NamedTuple,
    Tool,
    Verdict,
    Zone,
)
from prepadvisor.surface import line_arcsec, line_strength, log_uncertainty, print_through, risk

if TYPE_CHECKING:
    from prepadvisor.cases import FlakeNumbers

LINE_ZONES: Final[tuple[Zone, ...]] = ("colour", "fade")
"""Zones in which flakes lie over the scratch."""

_GRAINS_UM: Final = np.array(list(DS50_UM.values()))


class LineEstimate(NamedTuple):
    """Line strength at the eye [arcsec] and the risk, 0 to 1, that it shows."""

    arcsec: float
    risk: float


class _Numbers(NamedTuple):
    """All constants that a table rests on, as plain numbers, so that equal ones share one table."""

    depth_per_grain: tuple[float, ...]
    width_per_depth: float
    colour_set_solids: float
    earlier_colour_coats: tuple[float, ...]
    line_factor: tuple[float, ...]
    viewing_distance_mm: float
    thinnest_line_arcsec: float
    u_depth: tuple[float, ...]
    u_d50: float
    u_tilt: float
    u_line: float


class GrooveLeft(NamedTuple):
    """A groove in µm as it was cut, and what of its depth the film leaves under the flakes, 0 to 1."""

    depth_um: float
    width_um: float
    left: float


Estimates = MappingProxyType[tuple[Tool, Grade], LineEstimate]
"""Estimates by (tool, grade); read-only, because it is shared."""


def verdict_of(risk: float, limit: float | None, borderline: float) -> Verdict:
    """Return the word for a risk: within the limit, up to the borderline, or above.

    Args:
        risk: that a line shows, 0 to 1.
        limit: what the rules allow, None where none sets one: then the rules alone decide.
        borderline: above the limit and up to this a test panel or the lead decides.
    """
    if limit is None or risk <= limit:
        return "safe"
    return "borderline" if risk <= borderline else "will show"


def depth_uncertainty(constants: Constants, tool: Tool) -> float:
    """Return the standard uncertainty of ln k of a tool: its own where measured, else the general one."""
    own = constants.groove.depth_per_grain[tool].log_sd
    return constants.uncertainty.depth_per_grain.value if own is None else own


class LineModel:
    """The line model with one set of constants.

    Building one is cheap, and models with equal constants share their tables: a table of all tools and grades
    costs well under a millisecond the first time and a look-up from then on.
    """

    def __init__(self, constants: Constants) -> None:
        """Take the model's numbers out of the constants."""
        sight, film, unsure = constants.sight, constants.film, constants.uncertainty
        straight, arcs = sight.straight_line_factor.value, sight.short_arc_factor.value
        self._numbers = _Numbers(
            depth_per_grain=tuple(constants.groove.depth_per_grain[tool].value for tool in TOOLS),
            width_per_depth=constants.groove.width_per_depth.value,
            colour_set_solids=film.colour_set_solids.value,
            earlier_colour_coats=(
                film.earlier_colour_coats_colour.value,
                film.earlier_colour_coats_fade.value,
            ),
            line_factor=tuple(straight if tool in HAND_TOOLS else arcs for tool in TOOLS),
            viewing_distance_mm=sight.viewing_distance_mm.value,
            thinnest_line_arcsec=sight.thinnest_line_arcsec.value,
            u_depth=tuple(depth_uncertainty(constants, tool) for tool in TOOLS),
            u_d50=unsure.d50.value,
            u_tilt=unsure.tilt.value,
            u_line=unsure.thinnest_line.value,
        )

    def estimate(
        self, flake: "FlakeNumbers", tool: Tool, grade: Grade, zone: Zone, coats: int, set_solids: float
    ) -> LineEstimate:
        """Return strength and risk of one line.

        Args:
            flake: the flake that comes over it.
            tool: what cut the line.
            grade: with which grade.
            zone: "colour" or "fade"; over the clear zone comes no flake.
            coats: coats of wet bed over it, 0 or more.
            set_solids: volume share of solids at which the wet bed stops levelling [1], 0 to 1.

        Returns:
            The estimate.

        Raises:
            KeyError: for a tool or grade that is not known.
            ValueError: for another zone, and for numbers without meaning.
        """
        return _table(self._numbers, flake, zone, coats, set_solids)[tool, grade]

    def table(
        self,
        flake: "FlakeNumbers",
        tools: Iterable[Tool],
        grades: Iterable[Grade],
        zone: Zone,
        coats: int,
        set_solids: float,
    ) -> dict[tuple[Tool, Grade], LineEstimate]:
        """Return the estimates of several tools and grades by (tool, grade), in the order given.

        Arguments and errors as `estimate`.
        """
        whole = _table(self._numbers, flake, zone, coats, set_solids)
        columns = list(grades)
        return {(tool, grade): whole[tool, grade] for tool in tools for grade in columns}

    def groove(self, tool: Tool, grade: Grade, zone: Zone, coats: int, set_solids: float) -> GrooveLeft:
        """Return the groove that a line is judged by.

        Arguments as `estimate`; over the clear zone, which comes under no colour coat, as in the fade.
        """
        numbers = self._numbers
        depth = numbers.depth_per_grain[TOOLS.index(tool)] * DS50_UM[grade]
        earlier = numbers.earlier_colour_coats[0 if zone == "colour" else 1]
        left = print_through(coats, set_solids, earlier, numbers.colour_set_solids)
        return GrooveLeft(depth, depth * numbers.width_per_depth, float(left))


@lru_cache(maxsize=256)
def _table(numbers: _Numbers, flake: "FlakeNumbers", zone: Zone, coats: int, set_solids: float) -> Estimates:
    """Return the estimates of every tool and grade: they share the flake's integral, so all cost as one."""
    if zone not in LINE_ZONES:
        raise ValueError(
            f'no flake comes over the zone "{zone}": lines are judged in {" and ".join(LINE_ZONES)}'
        )
    left = print_through(
        coats,
        set_solids,
        numbers.earlier_colour_coats[LINE_ZONES.index(zone)],
        numbers.colour_set_solids,
    )
    depth_um = np.outer(numbers.depth_per_grain, _GRAINS_UM).ravel()
    strength = line_strength(
        depth_um * numbers.width_per_depth,
        numbers.width_per_depth,
        flake.d50_um,
        log_sd=flake.log_sd,
        spread_rad=math.radians(flake.tilt_deg),
        print_through=left,
    )
    unsure = log_uncertainty(
        strength.by_depth,
        strength.by_d50,
        strength.by_tilt,
        u_depth=np.repeat(numbers.u_depth, len(GRADES)),
        u_d50=numbers.u_d50,
        u_tilt=numbers.u_tilt,
        u_line=numbers.u_line,
    ).tolist()
    estimates: dict[tuple[Tool, Grade], LineEstimate] = {}
    for row, tool in enumerate(TOOLS):
        own = slice(row * len(GRADES), (row + 1) * len(GRADES))
        arcsec = line_arcsec(
            strength.strength_um[own], numbers.line_factor[row], numbers.viewing_distance_mm
        ).tolist()
        for grade, angle, spread in zip(GRADES, arcsec, unsure[own], strict=True):
            shows = risk(angle, numbers.thinnest_line_arcsec, spread)
            estimates[tool, grade] = LineEstimate(angle, shows)
    return MappingProxyType(estimates)
