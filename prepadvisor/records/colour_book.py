"""The shop's colour book: what is known of each colour, and who sealed it."""

import datetime as dt
from collections.abc import Iterable
from typing import Annotated, Final, Literal

from pydantic import BeforeValidator, Field, Strict

from prepadvisor.records.base import Number, Record, Text
from prepadvisor.records.words import Flake, Tone

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
