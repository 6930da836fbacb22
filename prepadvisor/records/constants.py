"""Every number of the numeric model, each with its unit, its source and how it is known."""

from prepadvisor.records.base import Number, Record, Text
from prepadvisor.records.words import Known, Tool


class Quantity(Record):
    """A number with its passport. `source` is an id of the source register."""

    value: Number
    unit: Text
    source: Text
    known: Known
    note: Text = ""


class Groove(Record):
    """Scratch depth k·ds50 by tool, and width a·depth."""

    depth_per_grain: dict[Tool, Quantity]
    width_per_depth: Quantity


class Film(Record):
    """How much of a groove the coats leave: set solids of colour, and earlier colour coats by zone."""

    colour_set_solids: Quantity
    earlier_colour_coats_colour: Quantity
    earlier_colour_coats_fade: Quantity


class FlakeClass(Record):
    """One flake class: median diameter by area, log-normal spread, and spread of tilt."""

    d50_um: Quantity
    log_sd: Quantity
    tilt_deg: Quantity


class Sight(Record):
    """The eye that looks: viewing distance, thinnest line seen, and how a sander's short arcs count."""

    viewing_distance_mm: Quantity
    thinnest_line_arcsec: Quantity
    straight_line_factor: Quantity
    short_arc_factor: Quantity


class Uncertainty(Record):
    """Relative standard uncertainties (of the logarithm) of what the line model rests on."""

    depth_per_grain: Quantity
    d50: Quantity
    tilt: Quantity
    thinnest_line: Quantity
    borderline_risk: Quantity


class Removal(Record):
    """How fast a DA cuts clear: rate at a reference grain over 1 dm², exponent, grain it is flat above."""

    rate_um_dm2_per_minute: Quantity
    reference_ds50_um: Quantity
    exponent: Quantity
    flat_above_ds50_um: Quantity


class Mixing(Record):
    """How much to mix beyond what is computed."""

    factor: Quantity
    extra_ml: Quantity
    step_ml: Quantity
    least_ml: Quantity


class Constants(Record):
    """All numbers of the model; a house may lay its own over them, key by key."""

    groove: Groove
    film: Film
    flake: dict[str, FlakeClass]
    sight: Sight
    uncertainty: Uncertainty
    removal: Removal
    mixing: Mixing


class Source(Record):
    """One entry of the source register."""

    id: Text
    title: Text
    read: Text
    note: Text = ""
