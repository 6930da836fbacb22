"""What all records share: frozen, no unknown key, numbers that are finite."""

import unicodedata
from collections.abc import Callable
from typing import Annotated, Final

from pydantic import AfterValidator, BaseModel, ConfigDict, Field
from pydantic_core import CoreSchema, core_schema

from prepadvisor.records import words as grades
from prepadvisor.records.fault import UnfitError


class Record(BaseModel):
    """A frozen record that refuses keys it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)


TEXT_MAX: Final = 400
"""The longest text for people, in letters; what is longer is refused, or cut where a foreign file says it."""

_BIDI_CONTROLS: Final = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_SHOWS_NOTHING: Final = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0")
"""Letters by their category, of which nothing is seen."""


def is_invisible(char: str) -> bool:
    """Say whether nothing is seen of a sign: blanks, controls, direction marks, joiners, fillers."""
    return (
        char in _SHOWS_NOTHING
        or unicodedata.category(char)[0] in "CZ"
        or "\ufe00" <= char <= "\ufe0f"
        or "\U000e0000" <= char <= "\U000e0fff"
        or "\u180b" <= char <= "\u180f"
    )


def is_blank(text: str) -> bool:
    """Say whether nothing at all is seen of a text."""
    return all(map(is_invisible, text))


def cleaned(text: str, most: int = TEXT_MAX) -> str:
    """Return a text in one line, without signs that steer a terminal or turn the reading, cut to a length.

    The one door for texts from outside the shop's own jobs: rule files, folder names, other programs.
    Line ends and other controls become one blank, direction marks and halves of letters go.
    """
    if text.isprintable():
        return text if len(text) <= most else f"{text[: most - 1]}…"
    kept = "".join(
        " " if unicodedata.category(char) in {"Cc", "Zl", "Zp"} else char
        for char in text[: 4 * most]
        if char not in _BIDI_CONTROLS and unicodedata.category(char) != "Cs"
    )
    kept = " ".join(kept.split())
    return kept if len(kept) <= most else f"{kept[: most - 1]}…"


def _printable(text: str) -> str:
    return _as_written(text).strip()


def _as_written(text: str) -> str:
    if text.isprintable():  # as nearly every text is: then there is nothing to look for
        return text
    for char in text:
        if unicodedata.category(char) in {"Cc", "Cs", "Zl", "Zp"} or char in _BIDI_CONTROLS:
            raise UnfitError(f"holds an invisible control character (U+{ord(char):04X})", "type it again")
    return text


def _identifier(text: str) -> str:
    if text in RESERVED_IDS:
        raise UnfitError(f'"{text}" is kept for the check-off', "take another id", names_value=True)
    if any(char in "/\\" for char in text) or text in {".", ".."} or any(char.isspace() for char in text):
        raise UnfitError("an id has no slash, no backslash and no blank", "take letters, digits and dashes")
    if not text or (not text.isascii() and any(map(is_invisible, text))):
        raise UnfitError("an id is made of letters that are seen", "type it again")
    return text


def _seen(text: str) -> str:
    if is_blank(text):
        raise UnfitError("nothing is seen of this text", "type it again")
    return text


RESERVED_IDS = frozenset({"face", "all", "panel"})
"""Ids that mean something in a check-off entry and so cannot name a panel, line or patch."""


class _Finite:
    """A float that is strict and finite, in one step: every record has some, made at every start."""

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        return core_schema.float_schema(strict=True, allow_inf_nan=False)


class _Line:
    """A text of at most so many letters that is put through a function, in one step, as for numbers."""

    def __init__(self, read: Callable[[str], str]) -> None:
        self._read = read

    def __get_pydantic_core_schema__(self, _source: object, _handler: object) -> CoreSchema:
        text = core_schema.str_schema(max_length=TEXT_MAX)
        return core_schema.no_info_after_validator_function(self._read, text)


Number = Annotated[float, _Finite()]
"""A finite number; an integer is taken, true and false are not."""

Text = Annotated[str, _Line(_printable)]
"""Text for people: any script, no control or direction characters."""

SeenText = Annotated[Text, Field(min_length=1), AfterValidator(_seen)]
"""Text for people of which at least one letter is seen: a number on a card, initials."""

AsWritten = Annotated[str, _Line(_as_written)]
"""Text that keeps its blanks: a name with one behind it is another name."""

Identifier = Annotated[
    str, Field(min_length=1, max_length=60), AfterValidator(_printable), AfterValidator(_identifier)
]
"""A short id without slash or blank."""


def _panel_kind(text: str) -> str:
    if not text.replace("-", "").isalnum():
        raise UnfitError("a kind of panel is letters, digits and dashes", 'write it like "roof-spoiler"')
    return text


PanelKind = Annotated[Identifier, AfterValidator(_panel_kind)]
"""A kind of panel: a shipped one, or one that a house states in its panels.toml."""

GradeField = Annotated[
    grades.Grade, AfterValidator(grades.grade), Field(json_schema_extra={"pattern": "^ *[Pp] ?[0-9]+ *$"})
]
"""A grade of the P series in its one spelling."""

PanelMm = Annotated[Number, Field(gt=0, le=6000)]
"""A length on a panel in mm; over 6 m is no panel of a car."""
