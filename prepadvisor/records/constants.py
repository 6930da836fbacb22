"""Every number of the numeric model, each with its unit, its source and how it is known."""

from typing import Annotated, Literal, Self, get_args

from pydantic import Field, model_validator

from prepadvisor.records.base import Number, Record, Text
from prepadvisor.records.words import TOOLS, Known, Tool

SeenFlake = Literal["coarse", "medium", "fine", "very-fine", "vapour"]
"""Flake classes in which a line can be seen: all but solid."""


class Quantity(Record):
    """A number with its passport. `source` is an id of the source register."""

    value: Number
    unit: Text
    source: Text
    known: Known
    note: Text = ""


class Positive(Quantity):
    """A quantity above 0."""

    value: Annotated[Number, Field(gt=0)]


class NotNegative(Quantity):
    """A quantity of 0 or more."""

    value: Annotated[Number, Field(ge=0)]


class Share(Quantity):
    """A part of a whole, 0 to 1."""

    value: Annotated[Number, Field(ge=0, le=1)]


class Groove(Record):
    """Scratch depth k·ds50 by tool, and width a·depth."""

    depth_per_grain: dict[Tool, Positive]
    width_per_depth: Positive

    @model_validator(mode="after")
    def _has_every_tool(self) -> Self:
        lacking = [tool for tool in TOOLS if tool not in self.depth_per_grain]
        if lacking:
            raise ValueError(f"depth_per_grain lacks {', '.join(lacking)}; every tool needs its depth")
        return self


class Film(Record):
    """How much of a groove the coats leave: set solids of colour, and earlier colour coats by zone."""

    colour_set_solids: Share
    earlier_colour_coats_colour: NotNegative
    earlier_colour_coats_fade: NotNegative


class FlakeClass(Record):
    """One flake class: median diameter by area, log-normal spread, and spread of tilt."""

    d50_um: Positive
    log_sd: Positive
    tilt_deg: Positive


class Sight(Record):
    """The eye that looks: viewing distance, thinnest line seen, and how a sander's short arcs count."""

    viewing_distance_mm: Positive
    thinnest_line_arcsec: Positive
    straight_line_factor: Positive
    short_arc_factor: Positive


class Uncertainty(Record):
    """Relative standard uncertainties (of the logarithm) of what the line model rests on."""

    depth_per_grain: NotNegative
    d50: NotNegative
    tilt: NotNegative
    thinnest_line: Positive
    borderline_risk: Share


class Removal(Record):
    """How fast a DA cuts clear: rate at a reference grain over 1 dm², exponent, grain it is flat above."""

    rate_um_dm2_per_minute: Positive
    reference_ds50_um: Positive
    exponent: NotNegative
    flat_above_ds50_um: Positive


class Mixing(Record):
    """How much to mix beyond what is computed."""

    factor: Positive
    extra_ml: NotNegative
    step_ml: Positive
    least_ml: NotNegative


class Constants(Record):
    """All numbers of the model; a house may lay its own over them, key by key."""

    groove: Groove
    film: Film
    flake: dict[SeenFlake, FlakeClass]
    sight: Sight
    uncertainty: Uncertainty
    removal: Removal
    mixing: Mixing

    @model_validator(mode="after")
    def _has_every_flake(self) -> Self:
        lacking = [name for name in get_args(SeenFlake) if name not in self.flake]
        if lacking:
            raise ValueError(f"flake lacks {', '.join(lacking)}; every class but solid needs its numbers")
        return self


class Source(Record):
    """One entry of the source register: `read` says what of it was read, `note` what it is worth here.

    `known` is stated where nothing was published: how what rests on it is known.
    """

    id: Text
    title: Text
    read: Text
    known: Known | None = None
    note: Annotated[str, Field(max_length=1000)] = ""
