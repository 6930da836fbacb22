"""What all records share: frozen, no unknown key, numbers that are finite."""

import unicodedata
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, Strict

from prepadvisor.surface import grades


class Record(BaseModel):
    """A frozen record that refuses keys it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


_BIDI_CONTROLS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def _printable(text: str) -> str:
    if text.isprintable():  # as nearly every text is: then there is nothing to look for
        return text.strip()
    for char in text:
        if unicodedata.category(char) == "Cc" or char in _BIDI_CONTROLS:
            raise ValueError(f"holds an invisible control character (U+{ord(char):04X}); type it again")
    return text.strip()


def _identifier(text: str) -> str:
    if text in RESERVED_IDS:
        raise ValueError(f'"{text}" is kept for the check-off; take another id')
    if any(char in "/\\" for char in text) or text in {".", ".."} or any(char.isspace() for char in text):
        raise ValueError("an id has no slash, no backslash and no blank")
    return text


RESERVED_IDS = frozenset({"face", "all", "panel"})
"""Ids that mean something in a check-off entry and so cannot name a panel, line or patch."""

Number = Annotated[float, Strict(), Field(allow_inf_nan=False)]
"""A finite number; an integer is taken, true and false are not."""

Text = Annotated[str, Field(max_length=400), AfterValidator(_printable)]
"""Text for people: any script, no control or direction characters."""

Identifier = Annotated[
    str, Field(min_length=1, max_length=60), AfterValidator(_printable), AfterValidator(_identifier)
]
"""A short id without slash or blank."""

Grade = Annotated[
    str, AfterValidator(grades.grade), Field(json_schema_extra={"pattern": "^ *[Pp] ?[0-9]+ *$"})
]
"""A grade of the P series in its one spelling."""

PanelMm = Annotated[Number, Field(gt=0, le=6000)]
"""A length on a panel in mm; over 6 m is no panel of a car."""
