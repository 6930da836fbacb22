"""The shop: grades on the shelf, sanders, wet-bed material and rates. Start values are common practice."""

from typing import Annotated

from pydantic import Field, Strict

from prepadvisor.records.base import Grade, Number, Record, Text
from prepadvisor.records.words import Known, LineKind, Surface, Tool

Positive = Annotated[Number, Field(gt=0)]
Fraction = Annotated[Number, Field(gt=0, le=1)]


class WetBed(Record):
    """The uncoloured base used as wet bed: fractions by volume, dry film per coat in µm, overlap in mm."""

    volume_solids: Fraction
    set_solids: Fraction
    dry_um_per_coat: Positive
    transfer_efficiency: Fraction
    overlap_mm: Annotated[Number, Field(ge=0)]


class Rates(Record):
    """What work and material cost this shop, in its own money; what is left out costs nothing here."""

    currency: Annotated[Text, Field(max_length=12)] = ""
    labour_per_hour: Annotated[Number, Field(ge=0)] = 0.0
    wet_bed_per_litre: Annotated[Number, Field(ge=0)] = 0.0
    per_disc: Annotated[Number, Field(ge=0)] = 0.0


class Passport(Record):
    """Where a number of the shop file comes from."""

    unit: Text
    source: Text
    known: Known
    note: Text = ""


class Shop(Record):
    """What this shop has and how fast it works. Names carry their units.

    `gate_hours` is how long a wipe counts, `look_hours` how long a look; `leads` are the initials of those
    who may accept work outside its limits. `first_grade` is what an unsanded surface is first cut with, on a
    block; `pads` gives pads that are known by colour only the coarse end of their range.
    """

    name: Text = ""
    shelf: Annotated[tuple[Grade, ...], Field(min_length=1)]
    finishing_tool: Tool
    hand_tool: Tool
    mist_mm: Annotated[Number, Field(ge=0, le=2000)]
    interface_pad: Annotated[bool, Strict()] = True
    lap_mm: Annotated[Number, Field(ge=0, le=500)]
    ring_mm: Annotated[Number, Field(gt=0, le=500)]
    ring_grade: Grade
    pass_m2_per_minute: Positive
    cut_faster: dict[Surface, Positive] = {}
    hand_minutes_per_metre: Annotated[dict[LineKind, Positive], Field(min_length=1)]
    hand_minutes_least: Annotated[Number, Field(ge=0)]
    clean_minutes: Annotated[Number, Field(ge=0)]
    clean_minutes_per_m2: Annotated[Number, Field(ge=0)]
    look_minutes: Annotated[Number, Field(ge=0)]
    wipe_minutes: Annotated[Number, Field(ge=0)]
    mask_minutes: Annotated[Number, Field(ge=0)]
    clearing_minutes_per_dm2_max: Positive
    edge_strip_mm: Positive
    disc_minutes: Annotated[Number, Field(ge=0)]
    guide_coat_minutes: Annotated[Number, Field(ge=0)]
    disc_dm2: Positive
    gate_hours: Positive
    look_hours: Positive = 96
    leads: tuple[Text, ...] = ()
    wet_bed: WetBed
    rates: Rates | None = None
    first_grade: dict[Surface, Grade] = {}
    pads: dict[Text, Grade] = {}
    passport: dict[Text, Passport] = {}
