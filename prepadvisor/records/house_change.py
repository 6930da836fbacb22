"""One number or word by which a house differs from what ships with the program."""

from typing import NamedTuple

Value = float | str


class HouseChange(NamedTuple):
    """What a house states otherwise.

    `name` is dotted, as in its file ("mist_mm", "groove.depth_per_grain.da"); `unit` as its passport has it,
    empty for words; None where only one of the two states it.
    """

    name: str
    unit: str
    shipped: Value | None
    house: Value | None
