"""Grain to groove: how deep and wide a grain of a grade scratches.

Assumptions: depth and width go linearly with the mean grain size; a groove is one arch of a raised cosine.
References: linear in grain size: Gurău et al. 2019, BioResources 14(2) 4512; about the same across
materials: Gurău 2022, Forests 13(2) 331. The factors are assumptions of the constants file.
"""

import numpy as np

from prepadvisor.surface.domain import Array, Numbers, require_positive


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
