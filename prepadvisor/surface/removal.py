"""How fast a DA cuts clear, and how long a grit step takes.

The rate rises with the grain to a power and is flat above a critical grain size: Sydor et al. 2021,
Appl. Sci. 11(6) 2860. The rate itself is an assumption of the constants file.
"""

import numpy as np

from prepadvisor.surface.domain import Numbers, require_not_negative, require_positive


def rate_um_dm2_per_minute(
    ds50_um: Numbers,
    reference_rate_um_dm2_per_minute: float,
    reference_ds50_um: float,
    exponent: float,
    flat_above_ds50_um: float,
) -> Numbers:
    """Return the film a DA takes off one dm² in a minute: r = r₀ · (min(ds50, flat) / ds50₀)ᵖ.

    Over A dm² the film falls by r/A a minute.

    Args:
        ds50_um: mean grain size [µm], above 0.
        reference_rate_um_dm2_per_minute: r₀ [µm·dm²/min], above 0; start value 10.
        reference_ds50_um: ds50₀, the grain r₀ is known for [µm], above 0; start value 18.3 (P1000).
        exponent: p [1], 0 or more; start value 0.65.
        flat_above_ds50_um: grain above which the rate rises no more [µm], above 0; start value 100.

    Returns:
        r [µm·dm²/min].

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_positive("mean grain size", ds50_um)
    require_positive("reference rate", reference_rate_um_dm2_per_minute)
    require_positive("reference grain size", reference_ds50_um)
    require_not_negative("removal exponent", exponent)
    require_positive("grain size above which the rate is flat", flat_above_ds50_um)
    grain = np.minimum(ds50_um, flat_above_ds50_um) / reference_ds50_um
    rate: Numbers = reference_rate_um_dm2_per_minute * grain**exponent
    return rate


def step_minutes(
    area_m2: float,
    depth_below_um: Numbers,
    rate_um_dm2_per_minute: float,
    pass_m2_per_minute: float,
    disc_minutes: float,
    guide_coat_minutes: float = 0.0,
) -> Numbers:
    """Return the minutes of one grit step: once over the area, or longer to cut out the grooves below.

    Minutes = max(area / pass rate, area · depth below / r) + disc change + guide coat. A groove is out when
    its depth is off.

    Args:
        area_m2: area [m²], 0 or more; of a line its length times the edge strip.
        depth_below_um: depth of the grooves to cut out [µm], 0 or more; 0 on gloss.
        rate_um_dm2_per_minute: r of this step's grade [µm·dm²/min], above 0.
        pass_m2_per_minute: area a DA goes over in a minute [m²/min], above 0.
        disc_minutes: changing the disc [min], 0 or more.
        guide_coat_minutes: putting guide coat on [min], 0 or more; 0 where there is none.

    Returns:
        Time [min].

    Raises:
        ValueError: for nan, infinity or values outside these ranges.
    """
    require_not_negative("area", area_m2)
    require_not_negative("groove depth", depth_below_um)
    require_positive("removal rate", rate_um_dm2_per_minute)
    require_positive("pass rate", pass_m2_per_minute)
    require_not_negative("disc change", disc_minutes)
    require_not_negative("guide coat", guide_coat_minutes)
    cutting = 100.0 * area_m2 * depth_below_um / rate_um_dm2_per_minute
    sanding: Numbers = np.maximum(area_m2 / pass_m2_per_minute, cutting)
    return sanding + (disc_minutes + guide_coat_minutes)
