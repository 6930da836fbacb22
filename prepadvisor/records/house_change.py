"""One number or word by which a house differs from what ships with the program."""

from prepadvisor.named import NamedTuple

ChangeValue = float | str


class HouseChange(NamedTuple):
    """What a house states otherwise.

    Attributes:
        name: its dotted name, as in its file: mist_mm, groove.depth_per_grain.da.
        unit: its unit as its passport has it, empty for words.
        shipped: what ships with the program, null where that does not state it.
        house: what the house states, null where it does not.
        measured: whether the house measured it.
    """

    name: str
    unit: str
    shipped: ChangeValue | None
    house: ChangeValue | None
    measured: bool = False
