"""The scratch and the flake over it: how deep a grain cuts, how far a flake tilts, what light that costs.

A flake rests on the film at both ends. Much wider than the groove it bridges it; much narrower it lies on
the wall. Assumptions: flakes are rigid and lie along the surface; their normals spread like a Gaussian
(fair below 10°); diameters are log-normal by area.
"""

import numpy as np

from prepadvisor.surface.domain import Array, Numbers, require_positive, require_share

# Grain to groove: how deep and wide a grain of a grade scratches.
#
# Assumptions: depth and width go linearly with the mean grain size; a groove is one arch of a raised
# cosine. References: linear in grain size: Gurău et al. 2019, BioResources 14(2) 4512; about the same
# across materials: Gurău 2022, Forests 13(2) 331. The factors are assumptions of the constants file.


def depth_um(ds50_um: Numbers, depth_per_grain: float) -> Numbers:
    """Return how deep a grade scratches: h = k · ds50.

    Args:
        ds50_um: mean grain size [µm], above 0.
        depth_per_grain: k of the tool [1], above 0; start values 0.039 to 0.09.

    Returns:
        Depth of the groove [µm].

    Raises:
        ValueError: for nan, infinity, 0 or below.
    """
    require_positive("mean grain size", ds50_um)
    require_positive("depth per grain", depth_per_grain)
    return ds50_um * depth_per_grain


def width_um(depth_um: Numbers, width_per_depth: float) -> Numbers:
    """Return how wide a groove is: w = a · h.

    Args:
        depth_um: depth of the groove [µm], above 0.
        width_per_depth: a [1], above 0; 3 for a sharp groove, 10 for a shallow scratch, start value 6.

    Returns:
        Width of the groove at the surface [µm].

    Raises:
        ValueError: for nan, infinity, 0 or below.
    """
    require_positive("groove depth", depth_um)
    require_positive("width per depth", width_per_depth)
    return depth_um * width_per_depth


def profile_um(x_um: Array, depth_um: float, width_um: float) -> Array:
    """Return how far the groove lies below the surface: g = h · cos²(π x / w) for |x| ≤ w/2, else 0.

    Args:
        x_um: distance from the middle of the groove, across it [µm]; any shape, nan gives 0.
        depth_um: h [µm], above 0.
        width_um: w [µm], above 0.

    Returns:
        Depth at x [µm], 0 to h, shape of `x_um`.

    Raises:
        ValueError: for a depth or width that is nan, infinite, 0 or below.
    """
    require_positive("groove depth", depth_um)
    require_positive("groove width", width_um)
    inside = np.abs(x_um) <= width_um / 2
    arch = depth_um * np.cos(np.pi * np.where(inside, x_um, 0.0) / width_um) ** 2
    return np.where(inside, arch, 0.0)


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
