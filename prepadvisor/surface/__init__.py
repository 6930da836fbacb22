"""The numeric model, one physical topic a file; pure functions over numpy arrays, no file is read.

A topic's code is loaded when something of it is first asked for: whoever needs only grades loads no numpy.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.surface.domain import Array as Array
    from prepadvisor.surface.domain import require_not_negative as require_not_negative
    from prepadvisor.surface.domain import require_positive as require_positive
    from prepadvisor.surface.domain import require_share as require_share
    from prepadvisor.surface.film import coat_ml as coat_ml
    from prepadvisor.surface.film import mix_ml as mix_ml
    from prepadvisor.surface.film import print_through as print_through
    from prepadvisor.surface.film import wet_um as wet_um
    from prepadvisor.surface.geometry import NearShape as NearShape
    from prepadvisor.surface.geometry import area_below_mm2 as area_below_mm2
    from prepadvisor.surface.geometry import nearer_than as nearer_than
    from prepadvisor.surface.geometry import path_shape as path_shape
    from prepadvisor.surface.geometry import rect_shape as rect_shape
    from prepadvisor.surface.layout import Layout as Layout
    from prepadvisor.surface.layout import Rect as Rect
    from prepadvisor.surface.layout import depth_mm as depth_mm
    from prepadvisor.surface.layout import farthest_mm as farthest_mm
    from prepadvisor.surface.layout import length_below_mm as length_below_mm
    from prepadvisor.surface.layout import path_length_mm as path_length_mm
    from prepadvisor.surface.removal import rate_um_dm2_per_minute as rate_um_dm2_per_minute
    from prepadvisor.surface.removal import step_minutes as step_minutes
    from prepadvisor.surface.scratch import brightness_loss as brightness_loss
    from prepadvisor.surface.scratch import depth_um as depth_um
    from prepadvisor.surface.scratch import profile_um as profile_um
    from prepadvisor.surface.scratch import tilt_rad as tilt_rad
    from prepadvisor.surface.scratch import width_um as width_um
    from prepadvisor.surface.sight import ARCSEC_PER_RAD as ARCSEC_PER_RAD
    from prepadvisor.surface.sight import diameter_nodes as diameter_nodes
    from prepadvisor.surface.sight import gauss_legendre as gauss_legendre
    from prepadvisor.surface.sight import line_arcsec as line_arcsec
    from prepadvisor.surface.sight import line_strength as line_strength
    from prepadvisor.surface.sight import log_uncertainty as log_uncertainty
    from prepadvisor.surface.sight import lost_width as lost_width
    from prepadvisor.surface.sight import risk as risk

_PARTS = {
    "domain": "Array require_not_negative require_positive require_share",
    "film": "coat_ml mix_ml print_through wet_um",
    "geometry": "NearShape area_below_mm2 nearer_than path_shape rect_shape",
    "layout": "Layout Rect depth_mm farthest_mm length_below_mm path_length_mm",
    "removal": "rate_um_dm2_per_minute step_minutes",
    "scratch": "brightness_loss depth_um profile_um tilt_rad width_um",
    "sight": (
        "ARCSEC_PER_RAD diameter_nodes gauss_legendre line_arcsec line_strength log_uncertainty "
        "lost_width risk"
    ),
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
