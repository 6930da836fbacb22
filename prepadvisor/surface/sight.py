"""The eye: how large a line looks, and how likely it is to be seen.

References: thinnest dark line seen in bright light 0.5 arcseconds: Hecht & Mintz 1939, J. Gen. Physiol.
22(5) 593; that the eye sums fully across a narrow line, so that only width × contrast counts: Chung et al.
1996, J. Opt. Soc. Am. A 13(11) 2129.
"""

import math
from typing import Final

from prepadvisor.surface.domain import Numbers, require_not_negative, require_positive

ARCSEC_PER_RAD: Final = 180.0 * 3600.0 / math.pi
"""Arcseconds in a radian."""


def line_arcsec(strength_um: Numbers, line_factor: float, viewing_distance_mm: float) -> Numbers:
    """Return line strength as an angle at the eye: A = q · W / L.

    Args:
        strength_um: W, width of the fully dark line that would look the same [µm], 0 or more.
        line_factor: q [1], above 0; 1 for straight lines, start value 0.6 for a sander's short arcs.
        viewing_distance_mm: L [mm], above 0.

    Returns:
        A [arcsec]; small angles.

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("line strength", strength_um)
    require_positive("line factor", line_factor)
    require_positive("viewing distance", viewing_distance_mm)
    return strength_um * (line_factor * 1e-3 / viewing_distance_mm * ARCSEC_PER_RAD)


def log_uncertainty(
    by_depth: Numbers,
    by_d50: Numbers,
    by_tilt: Numbers,
    u_depth: Numbers | float,
    u_d50: float,
    u_tilt: float,
    u_line: float,
) -> Numbers:
    """Return the standard uncertainty of ln(A/T): u² = Σ (e_p · u_p)² + u_T².

    Args:
        by_depth: e_k = ∂lnA/∂ln k [1].
        by_d50: e_D50 = ∂lnA/∂ln D50 [1]; by the scaling law e_k + e_D50 = 1.
        by_tilt: e_σ = ∂lnA/∂ln σ [1].
        u_depth: relative standard uncertainty of depth per grain [1], 0 or more; one, or one for each.
        u_d50: likewise of the median flake diameter.
        u_tilt: likewise of the spread of tilt.
        u_line: likewise of the thinnest line seen.

    Returns:
        u [1], shape of the sensitivities.
    """
    square = (by_depth * u_depth) ** 2 + (by_d50 * u_d50) ** 2 + (by_tilt * u_tilt) ** 2 + u_line**2
    root: Numbers = square**0.5
    return root


def risk(arcsec: float, thinnest_line_arcsec: float, log_uncertainty: float) -> float:
    """Return the probability that a line shows: Φ(ln(A/T) / u).

    Args:
        arcsec: A [arcsec], 0 or more; 0 is risk 0.
        thinnest_line_arcsec: T [arcsec], above 0.
        log_uncertainty: u [1], above 0.

    Returns:
        Risk [1], 0 to 1; 0.5 for a line at the limit of sight.

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("line strength", arcsec)
    require_positive("thinnest line", thinnest_line_arcsec)
    require_positive("uncertainty", log_uncertainty)
    if arcsec == 0:
        return 0.0
    z = math.log(arcsec / thinnest_line_arcsec) / log_uncertainty
    return 0.5 * math.erfc(-z / math.sqrt(2.0))
