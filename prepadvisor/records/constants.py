"""Every number of the numeric model, each with its unit, its source and how it is known."""

import datetime as dt
from typing import Annotated, Any, Final, Literal, Self, cast, get_args

from pydantic import Field, GetCoreSchemaHandler, model_validator
from pydantic_core import CoreSchema, core_schema

from prepadvisor.named import NamedTuple
from prepadvisor.records.base import Number, Record, Text
from prepadvisor.records.fault import UnfitError
from prepadvisor.records.words import TOOLS, Known, Tool

SeenFlake = Literal["coarse", "medium", "fine", "very-fine", "vapour"]
"""Flake classes in which a line can be seen: all but solid."""


class Quantity(Record):
    """A number with its passport.

    Attributes:
        value: the number.
        unit: what it counts in.
        source: an id of the register of sources, or house.
        known: how it is known.
        note: a word of explanation.
        low: low end of a measured number's 90 % interval.
        high: high end of a measured number's 90 % interval.
        rows: how many rows of test panels bear on it.
        measured_on: the day it was fitted.
        log_sd: standard deviation of its logarithm, which then stands for the general one in `uncertainty`.
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


class Within:
    """A kind of quantity: the bounds of its value. All are one class, since each class costs every start."""

    def __init__(self, name: str, least: float, most: float) -> None:
        self._name: Final = name
        self.least: Final = least
        self.most: Final = most

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Return the record's schema with bounds at its value, so that a fault is found there."""
        schema: dict[str, Any] = dict(handler.resolve_ref_schema(handler(source)))
        number = core_schema.float_schema(strict=True, allow_inf_nan=False, ge=self.least, le=self.most)
        fields = {**schema["schema"]["fields"], "value": core_schema.model_field(number)}
        made = {
            **schema,
            "ref": f"{__name__}.{self._name}:0",
            "schema": {**schema["schema"], "fields": fields},
        }
        return cast("CoreSchema", made)


DEPTH_PER_GRAIN: Final = Within("DepthPerGrain", 0.002, 0.5)
FLAKE_UM: Final = Within("FlakeUm", 0.5, 500)
ARCSEC: Final = Within("Arcsec", 0.02, 20)
LEAST_UNCERTAIN: Final = Within("LeastUncertain", 0.02, 3)

DepthPerGrain = Annotated[Quantity, DEPTH_PER_GRAIN]
"""A scratch's depth per grain size."""
WidthPerDepth = Annotated[Quantity, Within("WidthPerDepth", 0.5, 50)]
"""A scratch's width per depth."""
Solids = Annotated[Quantity, Within("Solids", 0, 0.95)]
"""Volume share of solids at which a coat stops levelling."""
Coats = Annotated[Quantity, Within("Coats", 0, 10)]
"""A number of coats."""
FlakeUm = Annotated[Quantity, FLAKE_UM]
"""A flake's median diameter in µm."""
Spread = Annotated[Quantity, Within("Spread", 0.01, 2)]
"""A log-normal spread."""
TiltDeg = Annotated[Quantity, Within("TiltDeg", 0.5, 45)]
"""A spread of tilt in degrees."""
DistanceMm = Annotated[Quantity, Within("DistanceMm", 50, 10000)]
"""A viewing distance in mm."""
Arcsec = Annotated[Quantity, ARCSEC]
"""A line's width as an angle in arcseconds."""
SeenFactor = Annotated[Quantity, Within("SeenFactor", 0.02, 2)]
"""How a kind of line counts against a long straight one."""
Uncertain = Annotated[Quantity, Within("Uncertain", 0, 3)]
"""A relative standard uncertainty."""
LeastUncertain = Annotated[Quantity, LEAST_UNCERTAIN]
"""A relative standard uncertainty that is never nothing."""
Share = Annotated[Quantity, Within("Share", 0, 1)]
"""A part of a whole."""
CutRate = Annotated[Quantity, Within("CutRate", 0.05, 1000)]
"""Film cut over 1 dm² in µm·dm²/min."""
GrainUm = Annotated[Quantity, Within("GrainUm", 1, 1000)]
"""A grain size in µm."""
Exponent = Annotated[Quantity, Within("Exponent", 0, 4)]
"""An exponent of grain size."""
MixFactor = Annotated[Quantity, Within("MixFactor", 0.1, 20)]
"""How many times what is computed."""
MixMl = Annotated[Quantity, Within("MixMl", 0, 10000)]
"""Millilitres."""
MixStepMl = Annotated[Quantity, Within("MixStepMl", 1, 10000)]
"""A step of a mixing scale in ml."""


class Groove(Record):
    """Scratch depth k·ds50 by tool, and width a·depth.

    Attributes:
        depth_per_grain: scratch depth as a share of the mean grain size, by tool.
        width_per_depth: scratch width as a multiple of its depth.
    """

    depth_per_grain: dict[Tool, DepthPerGrain]
    width_per_depth: WidthPerDepth

    @model_validator(mode="after")
    def _has_every_tool(self) -> Self:
        lacking = [tool for tool in TOOLS if tool not in self.depth_per_grain]
        if lacking:
            raise UnfitError(f"depth_per_grain lacks {', '.join(lacking)}", "every tool needs its depth")
        return self


class Film(Record):
    """How much of a groove the coats leave: set solids of colour, and earlier colour coats by zone.

    Attributes:
        colour_set_solids: share of solids at which the colour coat stops levelling.
        earlier_colour_coats_colour: colour coats under the flakes one sees, in full colour.
        earlier_colour_coats_fade: colour coats under the flakes one sees, in the fade.
    """

    colour_set_solids: Solids
    earlier_colour_coats_colour: Coats
    earlier_colour_coats_fade: Coats


class FlakeClass(Record):
    """One flake class: median diameter by area, log-normal spread, and spread of tilt.

    Attributes:
        d50_um: median diameter by area in µm.
        log_sd: spread (standard deviation) of the logarithm of the diameter.
        tilt_deg: spread (standard deviation) of the flakes' tilt, in degrees.
    """

    d50_um: FlakeUm
    log_sd: Spread
    tilt_deg: TiltDeg


class Sight(Record):
    """The eye that looks: viewing distance, thinnest line seen, and how a sander's short arcs count.

    Attributes:
        viewing_distance_mm: how far the eye is away, in mm.
        thinnest_line_arcsec: the thinnest line seen in bright light, in arcseconds.
        straight_line_factor: how a straight line counts; 1 as a long one.
        short_arc_factor: how a sander's short arcs count against a straight line.
    """

    viewing_distance_mm: DistanceMm
    thinnest_line_arcsec: Arcsec
    straight_line_factor: SeenFactor
    short_arc_factor: SeenFactor


class Uncertainty(Record):
    """Relative standard uncertainties (of the logarithm) of what the line model rests on.

    Attributes:
        depth_per_grain: spread of the logarithm of the depth.
        d50: spread of the logarithm of the flake diameter.
        tilt: spread of the logarithm of the tilt.
        thinnest_line: spread of the logarithm of the thinnest line seen.
        borderline_risk: risk up to which a place is borderline.
    """

    depth_per_grain: Uncertain
    d50: Uncertain
    tilt: Uncertain
    thinnest_line: LeastUncertain
    borderline_risk: Share


class Removal(Record):
    """How fast a DA cuts clear: rate at a reference grain over 1 dm², exponent, grain it is flat above.

    Attributes:
        rate_um_dm2_per_minute: cut at the reference grain, in µm over 1 dm² a minute.
        reference_ds50_um: the reference grain in µm.
        exponent: how the cut grows with the grain.
        flat_above_ds50_um: grain in µm above which the cut grows no more.
    """

    rate_um_dm2_per_minute: CutRate
    reference_ds50_um: GrainUm
    exponent: Exponent
    flat_above_ds50_um: GrainUm


class Mixing(Record):
    """How much to mix beyond what is computed.

    Attributes:
        factor: what the computed amount is multiplied by.
        extra_ml: added for cup, line and overspray, in ml.
        step_ml: step in ml that the amount is rounded up to.
        least_ml: the least that is mixed, in ml.
    """

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

    Attributes:
        groove: grain to groove: how deep and wide a scratch is.
        film: what the coats leave of a groove.
        flake: diameter, spread and tilt by flake class.
        sight: the eye that looks.
        uncertainty: how unsure the model is of each number.
        removal: how fast a DA cuts.
        mixing: how much is mixed.
        colour_d50_um: median flake diameters in µm fitted to the shop's own panels, by the colour's name.
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
    """One entry of the source register.

    Attributes:
        id: the name it is found by.
        title: its title.
        read: what of it was read.
        known: stated where nothing was published: how what rests on it is known.
        note: what it is worth here.
    """

    id: Text
    title: Text
    read: Text
    known: Known | None = None
    note: Annotated[str, Field(max_length=1000)] = ""
