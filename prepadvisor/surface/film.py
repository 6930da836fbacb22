"""Coats over a groove: how much of it they leave, and how much paint they take.

A wet coat levels flat over a groove this narrow at once. Once it has thickened to its set solids it stops
levelling and sinks by what it still loses, so that a part of the groove comes back.
References: Orchard 1962 (levelling); LaVergne & Hofer 1985, SPIE 539 (drying shrinkage brings the pattern
back); ISO 3233 (dry film = wet film × volume solids).
"""

import math

from prepadvisor.surface.domain import Numbers, require_not_negative, require_positive, require_share


def print_through(
    bed_coats: float, bed_set_solids: float, earlier_colour_coats: float, colour_set_solids: float
) -> float:
    """Return the part of a groove's depth that is left under the flakes one sees.

    B = (1−φ_s)ⁿ · (1−φ_c)ᵐ · (1−φ_c/2): n coats of wet bed, m earlier coats of colour, and half of the
    flake's own coat. Every coat is taken to level flat before it sets.

    Args:
        bed_coats: n [coats], 0 or more.
        bed_set_solids: φ_s, volume share of solids at which the wet bed stops levelling [1], 0 to 1.
        earlier_colour_coats: m [coats], 0 or more; 0 at the rim of a fade.
        colour_set_solids: φ_c, likewise of the colour [1], 0 to 1.

    Returns:
        B [1], 0 to 1; 1 is the bare groove.

    Raises:
        ValueError: for nan or values outside these ranges.
    """
    require_not_negative("coats of wet bed", bed_coats)
    require_share("set solids of the wet bed", bed_set_solids)
    require_not_negative("earlier colour coats", earlier_colour_coats)
    require_share("set solids of the colour", colour_set_solids)
    bed = (1.0 - bed_set_solids) ** bed_coats
    colour = (1.0 - colour_set_solids) ** earlier_colour_coats
    return float(bed * colour * (1.0 - colour_set_solids / 2.0))


def wet_um(dry_um: Numbers, volume_solids: float) -> Numbers:
    """Return the wet film that dries to a given film: wet = dry / φ.

    Args:
        dry_um: dry film [µm], 0 or more.
        volume_solids: φ of the paint as sprayed [1], above 0, up to 1.

    Returns:
        Wet film [µm].

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("dry film", dry_um)
    require_share("volume solids", volume_solids, zero=False)
    return dry_um / volume_solids


def coat_ml(
    area_m2: Numbers, dry_um_per_coat: float, coats: int, volume_solids: float, transfer_efficiency: float
) -> Numbers:
    """Return the paint that coats take at the gun: 1 ml covers 1 m² with 1 µm of wet film.

    Args:
        area_m2: area [m²], 0 or more.
        dry_um_per_coat: dry film of one coat [µm], above 0.
        coats: number of coats, 0 or more.
        volume_solids: φ as sprayed [1], above 0, up to 1.
        transfer_efficiency: part of the paint that reaches the panel [1], above 0, up to 1.

    Returns:
        Volume [ml], without what stays in cup and line (see `mix_ml`).

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("area", area_m2)
    require_positive("dry film of a coat", dry_um_per_coat)
    require_not_negative("coats", coats)
    require_share("transfer efficiency", transfer_efficiency, zero=False)
    return area_m2 * (wet_um(dry_um_per_coat, volume_solids) * coats / transfer_efficiency)


def mix_ml(computed_ml: float, factor: float, extra_ml: float, step_ml: float, least_ml: float) -> int:
    """Return what to mix for a whole job: factor × computed + extra, up to the next step, at least the least.

    Args:
        computed_ml: paint at the gun [ml], 0 or more; 0 needs nothing mixed.
        factor: how many times the computed amount [1], above 0.
        extra_ml: cup, line and overspray [ml], 0 or more.
        step_ml: what is rounded up to [ml], above 0.
        least_ml: smallest amount worth mixing [ml], 0 or more.

    Returns:
        Volume to mix [ml], whole.

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("computed volume", computed_ml)
    require_positive("mixing factor", factor)
    require_not_negative("extra volume", extra_ml)
    require_positive("mixing step", step_ml)
    require_not_negative("least volume", least_ml)
    if computed_ml == 0:
        return 0
    steps = math.ceil((factor * computed_ml + extra_ml) / step_ml - 1e-9)
    return math.ceil(max(steps * step_ml, least_ml))
