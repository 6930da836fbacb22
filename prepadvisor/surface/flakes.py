"""Flake over a groove: how far it tilts, and what brightness that costs.

A flake rests on the film at both ends. Much wider than the groove it bridges it; much narrower it lies on
the wall. Assumptions: flakes are rigid and lie along the surface; their normals spread like a Gaussian
(fair below 10°); diameters are log-normal by area.
"""

import numpy as np

from prepadvisor.surface.domain import Array, require_positive, require_share
from prepadvisor.surface.grooves import profile_um


def tilt_rad(x_um: Array, flake_um: float, depth_um: float, width_um: float, print_through: float) -> Array:
    """Return the tilt of a flake over a groove, by its chord: τ = atan(|g(x+D/2) − g(x−D/2)| / D · B).

    Args:
        x_um: middle of the flake, from the middle of the groove [µm]; any shape.
        flake_um: diameter D [µm], above 0.
        depth_um: depth of the groove [µm], above 0.
        width_um: width of the groove [µm], above 0.
        print_through: B, part of the depth the film leaves [1], 0 to 1.

    Returns:
        Tilt [rad], 0 to π/2, shape of `x_um`.

    Raises:
        ValueError: for nan, infinity or values outside these ranges (of x: none).
    """
    require_positive("flake diameter", flake_um)
    require_share("print-through", print_through)
    ends = [profile_um(x_um + side * flake_um / 2.0, depth_um, width_um) for side in (1.0, -1.0)]
    return np.arctan(np.abs(ends[0] - ends[1]) / flake_um * print_through)


def brightness_loss(tilt_rad: Array, spread_rad: float) -> Array:
    """Return the part of the brightness at the mirror angle that a tilt costs: c = 1 − exp(−τ²/(2σ²)).

    Args:
        tilt_rad: τ [rad]; any shape, nan stays nan.
        spread_rad: σ, standard deviation of the flakes' normals [rad], above 0.

    Returns:
        Loss c [1], 0 to 1; right to the last digits for small tilts too.

    Raises:
        ValueError: for a spread that is nan, infinite, 0 or below.
    """
    require_positive("spread of tilt", spread_rad)
    return -np.expm1(-0.5 * (tilt_rad / spread_rad) ** 2)
