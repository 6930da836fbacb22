"""What the eye makes of a scratch: how wide a dark line it amounts to, and how likely that is seen.

References: thinnest dark line seen in bright light 0.5 arcseconds: Hecht & Mintz 1939, J. Gen. Physiol.
22(5) 593; that the eye sums fully across a narrow line, so that only width × contrast counts: Chung et al.
1996, J. Opt. Soc. Am. A 13(11) 2129.
"""

import math
from typing import Final

import numpy as np

from prepadvisor.named import NamedTuple
from prepadvisor.surface.domain import Array, Numbers, require_not_negative, require_positive, require_share

# Line strength: the width of the fully dark line that a scratch under flakes amounts to.
#
# W = ∫ E_D[c] dx, with c the brightness a flake of diameter D at x loses by its tilt. In units of the
# groove's width w the integral over x is a function of δ = D/w alone,
#
#   F(δ) = 2 ∫₀ c(τ(ξ)) dξ,  τ = atan(|G(ξ+δ/2) − G(ξ−δ/2)| / δ · B/a),  G(ξ) = cos²(πξ) for |ξ| ≤ ½, else 0,
#
# so that W = w · E[F(D/w)] for every tool and grade at once. Both integrals are done by fixed
# Gauss–Legendre nodes: over x on the pieces between |x| = |D−w|/2 and (D+w)/2, where the integrand has
# kinks, over D on panels in ln D with a border at D = w, where F has one. Right to 0.1 %, also for D ≫ w.

_PIECE_NODES: Final = 32
_PANEL_NODES: Final = 6
_PANEL_SD: Final = 2.5  # width of a panel in ln D against its standard deviation …
_WIDEST_PANEL: Final = 0.6  # … and at most this, so that the mean follows F itself
_REACH_SD: Final = 6.0  # part of a Gaussian beyond: 2e-9

LOG_SD_RANGE: Final = (0.01, 2.0)
"""Spreads of ln D that the quadrature is made for."""


def gauss_legendre(count: int) -> tuple[Array, Array]:
    """Return nodes and weights on 0 to 1, exact for polynomials up to degree 2 · count − 1.

    Golub & Welsch: eigenvalues of the Jacobi matrix. Here rather than from numpy.polynomial, whose import
    costs a cold start more than the whole line model.

    Args:
        count: number of nodes, 1 or more.

    Returns:
        Nodes and weights, each of shape (count,).
    """
    k = np.arange(1.0, count)
    side = k / np.sqrt(4.0 * k * k - 1.0)
    nodes, vectors = np.linalg.eigh(np.diag(side, -1))  # of a symmetric matrix it reads the lower half only
    return (nodes + 1.0) / 2.0, vectors[0] ** 2


_NODES, _WEIGHTS = gauss_legendre(_PIECE_NODES)
_ON_PANEL, _PANEL_WEIGHTS = gauss_legendre(_PANEL_NODES)


class Strength(NamedTuple):
    """Line strength W [µm] and how ln W answers to ln k, ln D50, ln σ and ln B [1]; arrays of one shape.

    `by_depth` and `by_d50` sum to 1 (scaling law). Where W is 0 the answers are 0.
    """

    strength_um: Array
    by_depth: Array
    by_d50: Array
    by_tilt: Array
    by_print_through: Array


def line_strength(
    width_um: Array,
    width_per_depth: float,
    d50_um: float | Array,
    log_sd: float,
    spread_rad: float,
    print_through: float,
) -> Strength:
    """Return line strength and its sensitivities for many grooves under one film and one sort of flake.

    Args:
        width_um: w of each groove [µm], above 0; shape (n,).
        width_per_depth: a [1], above 0.
        d50_um: median flake diameter by area [µm], above 0; one for all grooves, or shape (n,).
        log_sd: standard deviation of ln D [1], 0.01 to 2.
        spread_rad: σ, standard deviation of the flakes' normals [rad], above 0.
        print_through: B, part of the depth the film leaves [1], 0 to 1; 0 gives no line.

    Returns:
        `Strength` with arrays of shape (n,).

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_positive("groove width", width_um)
    require_positive("width per depth", width_per_depth)
    require_positive("median flake diameter", d50_um)
    require_positive("spread of tilt", spread_rad)
    require_share("print-through", print_through)
    if not LOG_SD_RANGE[0] <= log_sd <= LOG_SD_RANGE[1]:
        raise ValueError(f"spread of flake diameters must lie between 0.01 and 2, not {log_sd}")
    centre = np.log(d50_um / width_um)
    log_delta, spacing = diameter_nodes(float(centre.min()), float(centre.max()), log_sd)
    share, share_by_tilt, share_by_slope = lost_width(
        np.exp(log_delta), print_through / width_per_depth, spread_rad
    )
    z = (log_delta - centre[:, None]) / log_sd
    weight = np.exp(-0.5 * z * z) * (spacing / (log_sd * math.sqrt(2.0 * math.pi)))
    mean = weight @ share
    with np.errstate(invalid="ignore", divide="ignore"):
        by_d50 = np.where(mean > 0, (weight * z) @ share / (log_sd * mean), 0.0)
        by_tilt = np.where(mean > 0, weight @ share_by_tilt / mean, 0.0)
        by_print = np.where(mean > 0, weight @ share_by_slope / mean, 0.0)
    by_depth = np.where(mean > 0, 1.0 - by_d50, 0.0)
    return Strength(width_um * mean, by_depth, by_d50, by_tilt, by_print)


def lost_width(delta: Array, slope: float, spread_rad: float) -> tuple[Array, Array, Array]:
    """Return F(δ), the brightness lost over one groove in groove widths, ∂F/∂lnσ and ∂F/∂ln slope.

    Args:
        delta: flake diameter over groove width [1], above 0; shape (m,).
        slope: B/a, depth left over width [1], 0 or more.
        spread_rad: σ [rad], above 0.

    Returns:
        F, ∂F/∂lnσ and ∂F/∂ln slope [1], each of shape (m,).
    """
    delta = delta[:, None]
    inside = np.maximum(1.0 - delta, 0.0) / 2.0  # up to here both ends lie in the groove
    both = np.pi * np.sin(2.0 * np.pi * inside * _NODES) * np.sinc(delta)  # ΔG/δ without cancellation
    one_length = np.minimum(delta, 1.0)  # from there on one end only, at η = ½ − length … ½ in the groove
    one = np.sin(np.pi * one_length * _NODES) ** 2 / delta
    chord = np.concatenate([both, one], axis=1) * slope
    length = np.concatenate([inside * _WEIGHTS, one_length * _WEIGHTS], axis=1)
    loss, by_tilt, by_slope = _loss(chord, spread_rad)
    f, f_by_tilt, f_by_slope = (2.0 * (each * length).sum(axis=1) for each in (loss, by_tilt, by_slope))
    return f, f_by_tilt, f_by_slope


def _loss(chord_slope: Array, spread_rad: float) -> tuple[Array, Array, Array]:
    """Return c, ∂c/∂lnσ and ∂c/∂ln(slope) of a flake that lies on a chord of this slope."""
    tilt = np.arctan(chord_slope)
    half_square = 0.5 * (tilt / spread_rad) ** 2
    kept = np.exp(-half_square)
    by_slope = kept * tilt * chord_slope / (spread_rad * spread_rad * (1.0 + chord_slope * chord_slope))
    return -np.expm1(-half_square), -2.0 * half_square * kept, by_slope


def diameter_nodes(lowest: float, highest: float, log_sd: float) -> tuple[Array, Array]:
    """Return nodes and weights in ln δ that reach over the Gaussians about lowest to highest.

    Where F falls as δ⁻² the mean rests on the lower tail, by 2s² below the centre: the panels go past it.

    Args:
        lowest: lowest centre, ln(D50/w).
        highest: highest centre.
        log_sd: standard deviation of ln D [1], 0.01 to 2.

    Returns:
        Nodes and spacings, each of shape (m,).
    """
    panel = min(_PANEL_SD * log_sd, _WIDEST_PANEL)
    first = math.floor((lowest - (_REACH_SD + 2.0 * log_sd) * log_sd) / panel)
    last = math.ceil((highest + _REACH_SD * log_sd) / panel)
    starts = np.arange(first, last, dtype=np.float64)[:, None]  # whole numbers: δ = 1 is always a border
    return ((starts + _ON_PANEL) * panel).ravel(), np.tile(_PANEL_WEIGHTS * panel, last - first)


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
