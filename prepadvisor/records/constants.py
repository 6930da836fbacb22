"""Every number of the numeric model, each with its unit, its source and how it is known."""

import datetime as dt
from typing import Annotated, Literal, Self, get_args

from pydantic import Field, model_validator

from prepadvisor.named import NamedTuple
from prepadvisor.records.base import Number, Record, Text
from prepadvisor.records.fault import UnfitError
from prepadvisor.records.words import TOOLS, Known, Tool

SeenFlake = Literal["coarse", "medium", "fine", "very-fine", "vapour"]
"""Flake classes in which a line can be seen: all but solid."""


class Quantity(Record):
    """A number with its passport. `source` is an id of the source register.

    A measured number has its 90 % interval, how many rows of test panels bear on it, the day it was fitted,
    and the standard deviation of its logarithm, which then stands for the general one under `uncertainty`.
    """

    value: Number
    unit: Text
    source: Text
    known: Known
    note: Text = ""
    low: Number | None = None
    high: Number | None = None
    rows: Annotated[int, Field(ge=0)] | None = None
    measured_on: dt.date | None = None
    log_sd: Annotated[Number, Field(ge=0)] | None = None


class DepthPerGrain(Quantity):
    """A scratch's depth per grain size."""

    value: Annotated[Number, Field(ge=0.002, le=0.5)]


class WidthPerDepth(Quantity):
    """A scratch's width per depth."""

    value: Annotated[Number, Field(ge=0.5, le=50)]


class Solids(Quantity):
    """Volume share of solids at which a coat stops levelling."""

    value: Annotated[Number, Field(ge=0, le=0.95)]


class Coats(Quantity):
    """A number of coats."""

    value: Annotated[Number, Field(ge=0, le=10)]


class FlakeUm(Quantity):
    """A flake's median diameter in µm."""

    value: Annotated[Number, Field(ge=0.5, le=500)]


class Spread(Quantity):
    """A log-normal spread."""

    value: Annotated[Number, Field(ge=0.01, le=2)]


class TiltDeg(Quantity):
    """A spread of tilt in degrees."""

    value: Annotated[Number, Field(ge=0.5, le=45)]


class DistanceMm(Quantity):
    """A viewing distance in mm."""

    value: Annotated[Number, Field(ge=50, le=10000)]


class Arcsec(Quantity):
    """A line's width as an angle in arcseconds."""

    value: Annotated[Number, Field(ge=0.02, le=20)]


class SeenFactor(Quantity):
    """How a kind of line counts against a long straight one."""

    value: Annotated[Number, Field(ge=0.02, le=2)]


class Uncertain(Quantity):
    """A relative standard uncertainty."""

    value: Annotated[Number, Field(ge=0, le=3)]


class LeastUncertain(Quantity):
    """A relative standard uncertainty that is never nothing."""

    value: Annotated[Number, Field(ge=0.02, le=3)]


class Share(Quantity):
    """A part of a whole."""

    value: Annotated[Number, Field(ge=0, le=1)]


class CutRate(Quantity):
    """Film cut over 1 dm² in µm·dm²/min."""

    value: Annotated[Number, Field(ge=0.05, le=1000)]


class GrainUm(Quantity):
    """A grain size in µm."""

    value: Annotated[Number, Field(ge=1, le=1000)]


class Exponent(Quantity):
    """An exponent of grain size."""

    value: Annotated[Number, Field(ge=0, le=4)]


class MixFactor(Quantity):
    """How many times what is computed."""

    value: Annotated[Number, Field(ge=0.1, le=20)]


class MixMl(Quantity):
    """Millilitres."""

    value: Annotated[Number, Field(ge=0, le=10000)]


class MixStepMl(Quantity):
    """A step of a mixing scale in ml."""

    value: Annotated[Number, Field(ge=1, le=10000)]


class Groove(Record):
    """Scratch depth k·ds50 by tool, and width a·depth."""

    depth_per_grain: dict[Tool, DepthPerGrain]
    width_per_depth: WidthPerDepth

    @model_validator(mode="after")
    def _has_every_tool(self) -> Self:
        lacking = [tool for tool in TOOLS if tool not in self.depth_per_grain]
        if lacking:
            raise UnfitError(f"depth_per_grain lacks {', '.join(lacking)}", "every tool needs its depth")
        return self


class Film(Record):
    """How much of a groove the coats leave: set solids of colour, and earlier colour coats by zone."""

    colour_set_solids: Solids
    earlier_colour_coats_colour: Coats
    earlier_colour_coats_fade: Coats


class FlakeClass(Record):
    """One flake class: median diameter by area, log-normal spread, and spread of tilt."""

    d50_um: FlakeUm
    log_sd: Spread
    tilt_deg: TiltDeg


class Sight(Record):
    """The eye that looks: viewing distance, thinnest line seen, and how a sander's short arcs count."""

    viewing_distance_mm: DistanceMm
    thinnest_line_arcsec: Arcsec
    straight_line_factor: SeenFactor
    short_arc_factor: SeenFactor


class Uncertainty(Record):
    """Relative standard uncertainties (of the logarithm) of what the line model rests on."""

    depth_per_grain: Uncertain
    d50: Uncertain
    tilt: Uncertain
    thinnest_line: LeastUncertain
    borderline_risk: Share


class Removal(Record):
    """How fast a DA cuts clear: rate at a reference grain over 1 dm², exponent, grain it is flat above."""

    rate_um_dm2_per_minute: CutRate
    reference_ds50_um: GrainUm
    exponent: Exponent
    flat_above_ds50_um: GrainUm


class Mixing(Record):
    """How much to mix beyond what is computed."""

    factor: MixFactor
    extra_ml: MixMl
    step_ml: MixStepMl
    least_ml: MixMl


class MeasuredHere(NamedTuple):
    """How many rows of the shop's own panels the line model was fitted to, when, and with which tools."""

    rows: int
    on: dt.date
    tools: tuple[Tool, ...]


class Constants(Record):
    """All numbers of the model; a house may lay its own over them, key by key.

    `colour_d50_um` has median flake diameters fitted to a shop's own panels, by the colour's name.
    """

    groove: Groove
    film: Film
    flake: dict[SeenFlake, FlakeClass]
    sight: Sight
    uncertainty: Uncertainty
    removal: Removal
    mixing: Mixing
    colour_d50_um: dict[Text, FlakeUm] = {}

    @property
    def measured_here(self) -> "MeasuredHere | None":
        """What the line model was fitted to, None while its numbers are those shipped."""
        line = self.sight.thinnest_line_arcsec
        if line.known != "measured" or not line.rows or line.measured_on is None:
            return None
        depths = self.groove.depth_per_grain.items()
        tools = tuple(tool for tool, depth in depths if depth.known == "measured")
        return MeasuredHere(line.rows, line.measured_on, tools)

    def measured_for(self, tool: Tool) -> "MeasuredHere | None":
        """What a line of this tool was fitted to, None while threshold or the tool's depth are as shipped."""
        here = self.measured_here
        return here if here is not None and tool in here.tools else None

    @model_validator(mode="after")
    def _has_every_flake(self) -> Self:
        lacking = [name for name in get_args(SeenFlake) if name not in self.flake]
        if lacking:
            raise UnfitError(f"flake lacks {', '.join(lacking)}", "every class but solid needs its numbers")
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
