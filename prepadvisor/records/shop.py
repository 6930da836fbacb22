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
    """The uncoloured base used as wet bed: fractions by volume, dry film per coat in µm, overlap in mm."""

    volume_solids: Annotated[Number, Field(ge=0.02, le=1)]
    set_solids: Annotated[Number, Field(ge=0.05, le=0.95)]
    dry_um_per_coat: Annotated[Number, Field(ge=0.5, le=100)]
    transfer_efficiency: Annotated[Number, Field(ge=0.05, le=1)]
    overlap_mm: Annotated[Number, Field(ge=0, le=2000)]


class Rates(Record):
    """What work and material cost this shop, in its own money; what is left out costs nothing here."""

    currency: Annotated[Text, Field(max_length=12)] = ""
    labour_per_hour: Money = 0.0
    wet_bed_per_litre: Money = 0.0
    per_disc: Money = 0.0


class Passport(Record):
    """Where a number of the shop file comes from; a measured one has interval, rows and day."""

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

    `gate_hours` is how long a wipe counts, `look_hours` how long a look; `leads` are the initials of those
    who may accept work outside its limits. `first_grade` is what an unsanded surface is first cut with, on a
    block; `pads` gives pads that are known by colour only the coarse end of their range. `interface_pad` says
    whether there is one at all. Primer laps `lap_mm` past a patch; it and `ring_mm` more all round are keyed
    with `ring_grade` before. `cut_faster` is how many times faster than clear a surface is cut.
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
    """One colour. `book` is what jobs call it by; `code` the shop's own or the maker's code.

    `flake_um`, `tilt_deg` and `log_sd` are measured. An entry counts in full once it is sealed: until then it
    only makes advice stricter.
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
