"""The shop: grades on the shelf, sanders, wet-bed material and rates. Start values are common practice."""

import datetime as dt
from collections.abc import Iterable
from typing import Annotated, Final, Literal

from pydantic import BeforeValidator, Field, Strict, model_validator

from prepadvisor.records.base import GradeField, Number, Record, SeenText, Text
from prepadvisor.records.fault import UnfitError
from prepadvisor.records.words import Flake, Known, LineKind, Surface, Tone, Tool

Minutes = Annotated[Number, Field(ge=0, le=120)]
Money = Annotated[Number, Field(ge=0, le=1_000_000)]


class WetBed(Record):
    """The uncoloured base used as wet bed.

    Attributes:
        volume_solids: share of solids in the ready-mixed material, by volume.
        set_solids: share of solids at which the coat stops levelling, by volume.
        dry_um_per_coat: dry film of one coat in µm.
        transfer_efficiency: share of what leaves the gun that lands on the panel.
        overlap_mm: how far the wet bed is laid past the fade, in mm.
    """

    volume_solids: Annotated[Number, Field(ge=0.02, le=1)]
    set_solids: Annotated[Number, Field(ge=0.05, le=0.95)]
    dry_um_per_coat: Annotated[Number, Field(ge=0.5, le=100)]
    transfer_efficiency: Annotated[Number, Field(ge=0.05, le=1)]
    overlap_mm: Annotated[Number, Field(ge=0, le=2000)]


class Rates(Record):
    """What work and material cost this shop, in its own money; what is left out costs nothing here.

    Attributes:
        currency: what money counts in, such as a short word or sign.
        labour_per_hour: what an hour of work costs.
        wet_bed_per_litre: what a litre of wet bed costs, ready to spray.
        per_disc: what one disc costs.
    """

    currency: Annotated[Text, Field(max_length=12)] = ""
    labour_per_hour: Money = 0.0
    wet_bed_per_litre: Money = 0.0
    per_disc: Money = 0.0


class Passport(Record):
    """Where a number of the shop file comes from; a measured one has interval, rows and day.

    Attributes:
        unit: what it counts in.
        source: an id of the register of sources, or house.
        known: how it is known.
        note: a word of explanation.
        low: low end of a measured number's range.
        high: high end of a measured number's range.
        rows: how many measurements it rests on.
        measured_on: the day it was measured.
    """

    unit: Text
    source: Text
    known: Known
    note: Text = ""
    low: Number | None = None
    high: Number | None = None
    rows: Annotated[int, Field(ge=0)] | None = None
    measured_on: dt.date | None = None


class Shop(Record):
    """What this shop has and how fast it works. Names carry their units.

    Attributes:
        name: what the shop is called.
        shelf: the grades there are; a house's list replaces the shipped one as a whole.
        finishing_tool: the sander of the last pass.
        hand_tool: what edges and lines are scuffed with by hand.
        mist_mm: how far mist of the colour lands beyond the fade, in mm.
        fade_least_mm: the narrowest fade that hides the change of colour, in mm.
        interface_pad: whether the shop has a soft interface pad.
        lap_mm: how far primer laps past a patch, in mm.
        ring_mm: how far past the primer the ring round a patch is keyed, in mm.
        ring_grade: the grade that ring is keyed with.
        pass_m2_per_minute: face that one DA pass covers, in m² a minute.
        cut_faster: how many times as fast as clear a surface is cut, by surface.
        hand_minutes_per_metre: minutes to scuff a metre of each kind of line by hand.
        hand_minutes_least: least minutes for any line by hand.
        clean_minutes: minutes to clean a panel, beside its area.
        clean_minutes_per_m2: minutes of cleaning for each m².
        look_minutes: minutes to look at a place under the lamp.
        wipe_minutes: minutes of the last wipe of a panel.
        mask_minutes: minutes to mask a panel.
        clearing_minutes_per_dm2_max: DA time that hand scratches may cost to clear, in minutes for each dm².
        edge_strip_mm: width that is sanded along a line, in mm.
        disc_minutes: minutes to change a disc and wipe.
        guide_coat_minutes: minutes to put guide coat on.
        disc_dm2: face that one disc lasts for, in dm².
        gate_hours: how long a wipe counts, in hours.
        look_hours: how long a look counts, in hours.
        leads: initials of those who may accept work outside its limits.
        wet_bed: the uncoloured base that is laid as wet bed.
        rates: what work and material cost, in the shop's own money.
        first_grade: what an unsanded surface is first cut with, on a block.
        pads: pads known by a name or colour only, each with the coarse end of its range.
        passport: unit, source and how it is known, for each number by its name.
    """

    name: Text = ""
    shelf: Annotated[tuple[GradeField, ...], Field(min_length=1)]
    finishing_tool: Tool
    hand_tool: Tool
    mist_mm: Annotated[Number, Field(ge=0, le=2000)]
    fade_least_mm: Annotated[Number, Field(ge=0, le=2000)]
    interface_pad: Annotated[bool, Strict()] = True
    lap_mm: Annotated[Number, Field(ge=0, le=500)]
    ring_mm: Annotated[Number, Field(gt=0, le=500)]
    ring_grade: GradeField
    pass_m2_per_minute: Annotated[Number, Field(ge=0.005, le=10)]
    cut_faster: dict[Surface, Annotated[Number, Field(ge=0.02, le=50)]] = {}
    hand_minutes_per_metre: Annotated[
        dict[LineKind, Annotated[Number, Field(ge=0.01, le=120)]], Field(min_length=1)
    ]
    hand_minutes_least: Minutes
    clean_minutes: Minutes
    clean_minutes_per_m2: Minutes
    look_minutes: Minutes
    wipe_minutes: Minutes
    mask_minutes: Minutes
    clearing_minutes_per_dm2_max: Annotated[Number, Field(ge=0.005, le=10)]
    edge_strip_mm: Annotated[Number, Field(ge=1, le=500)]
    disc_minutes: Minutes
    guide_coat_minutes: Minutes
    disc_dm2: Annotated[Number, Field(ge=0.5, le=5000)]
    gate_hours: Annotated[Number, Field(ge=0.1, le=168)]
    look_hours: Annotated[Number, Field(ge=0.1, le=720)] = 96
    leads: tuple[SeenText, ...] = ()
    wet_bed: WetBed
    rates: Rates | None = None
    first_grade: dict[Surface, GradeField] = {}
    pads: dict[Text, GradeField] = {}
    passport: dict[Text, Passport] = {}

    @model_validator(mode="after")
    def _last_pass_without_a_pad(self) -> "Shop":
        if not self.interface_pad and self.finishing_tool == "da-soft":
            raise UnfitError(
                'interface_pad is false, yet finishing_tool is "da-soft", a sander with that pad',
                'say what the last pass is done with, such as finishing_tool = "da"',
            )
        return self


# The shop's colour book: what is known of each colour, and who sealed it.

COLUMNS: Final = (
    "book", "name", "code", "flake", "flake_um", "tilt_deg", "log_sd", "stages", "tone", "notes", "sealed_by",
    "sealed_on",
)  # fmt: skip
"""Keys of an entry, and columns of the book as a table, in their order."""


def _blank_is_unknown(value: object) -> object:
    return "unknown" if isinstance(value, str) and not value.strip() else value


class BookColour(Record):
    """One colour. An entry counts in full once it is sealed: until then it only makes advice stricter.

    Attributes:
        book: the word that jobs call the colour by.
        name: what the colour is called.
        code: the shop's own or the maker's code.
        flake: flake class, coarse to fine; unknown is judged as very fine.
        flake_um: measured median diameter of the flakes, by area, in µm.
        tilt_deg: measured spread of the flakes' tilt in degrees.
        log_sd: measured spread (standard deviation) of the logarithm of the flakes' diameter.
        stages: 2: base and clear; 3: ground, translucent and clear, judged as very fine at least.
        tone: how light the colour is; scratches show most in light ones.
        notes: bed and blend notes, printed on the card.
        sealed_by: the lead who stands for the entry; without one it makes nothing looser.
        sealed_on: the day it was sealed.
    """

    book: Annotated[Text, Field(min_length=1, max_length=80)]
    name: Text = ""
    code: Text = ""
    flake: Annotated[Flake | Literal["unknown"], BeforeValidator(_blank_is_unknown)] = "unknown"
    flake_um: Annotated[Number, Field(ge=1, le=200)] | None = None
    tilt_deg: Annotated[Number, Field(ge=0.5, le=45)] | None = None
    log_sd: Annotated[Number, Field(ge=0.01, le=2)] | None = None
    stages: Annotated[int, Strict(), Field(ge=2, le=3)] | None = None
    tone: Tone | None = None
    notes: Text = ""
    sealed_by: Text = ""
    sealed_on: Annotated[dt.date, Strict()] | None = None

    @property
    def is_sealed(self) -> bool:
        """Whether a lead stands for it."""
        return bool(self.sealed_by)


def found(book: Iterable[BookColour], part: str) -> tuple[BookColour, ...]:
    """Return the entries whose book word, name, code or notes hold a part of text, in either case."""
    asked = part.strip().casefold()
    return tuple(
        entry
        for entry in book
        if any(asked in text.casefold() for text in (entry.book, entry.name, entry.code, entry.notes))
    )


def of_one_code(book: Iterable[BookColour], entry: BookColour) -> tuple[BookColour, ...]:
    """Return the other entries with an entry's code: variants of one colour, or a slip."""
    code = key_of(entry.code)
    return tuple(each for each in book if code and key_of(each.code) == code and each.book != entry.book)


def key_of(book: str) -> str:
    """Return what a colour's book word is compared by: case and blanks do not matter."""
    return " ".join(book.split()).casefold()
