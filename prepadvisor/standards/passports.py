"""Where the numbers of a house come from: unit, source and how each is known, and their count."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.base import Record
from prepadvisor.records.constants import Quantity
from prepadvisor.records.known import MEANS
from prepadvisor.records.words import Known
from prepadvisor.standards.house import House
from prepadvisor.standards.outputs import OUTPUTS

GRADE_UNIT: Final = "P grade"
"""What a grade is measured in: the grain designation of the P series."""


class Stated(NamedTuple):
    """A number with its passport; `known` is None where a shop names a source of its own without saying."""

    name: str
    value: str | float
    unit: str
    source: str
    known: Known | None
    note: str


class KnownTally(NamedTuple):
    """How many numbers there are and how many are known in each way, in the order of `MEANS`."""

    total: int
    counts: Mapping[Known, int]


def tally(house: House) -> KnownTally:
    """Count the numbers of constants and shop that every card rests on, by how they are known."""
    found = Counter(each.known for each in (*constants_stated(house), *shop_stated(house)))
    counts = {known: found[known] for known in MEANS}
    return KnownTally(sum(counts.values()), counts)


def constants_stated(house: House) -> Iterator[Stated]:
    """Yield the numbers of the line model, removal and mixing."""
    yield from _quantities("", house.constants)


def shop_stated(house: House) -> Iterator[Stated]:
    """Yield the numbers and grades of the shop file that carry a passport."""
    for name, passport in house.shop.passport.items():
        value: object = house.shop
        for key in name.split("."):
            value = value.get(key) if isinstance(value, Mapping) else getattr(value, key, None)
        if isinstance(value, str | int | float):
            yield Stated(
                name=name,
                value=value,
                unit=passport.unit,
                source=passport.source,
                known=passport.known,
                note=passport.note,
            )


def rules_stated(house: House) -> Iterator[Stated]:
    """Yield the grades and numbers that rules in force set, known as their rule's source is."""
    for rule in house.engine.rules:
        source = house.sources.get(rule.source)
        for name, value in rule.set.items():
            output = OUTPUTS[name]
            if not (output.is_grade or output.is_number) or isinstance(value, tuple):
                continue
            unit = GRADE_UNIT if output.is_grade else output.unit or "1"
            known = source.known if source else None
            yield Stated(
                name=f"{rule.id}.{name}",
                value=value,
                unit=unit,
                source=rule.source,
                known=known,
                note=source.note if source else "",
            )


def _quantities(name: str, value: object) -> Iterator[Stated]:
    if isinstance(value, Quantity):
        yield Stated(
            name=name,
            value=value.value,
            unit=value.unit,
            source=value.source,
            known=value.known,
            note=value.note,
        )
        return
    below = value.items() if isinstance(value, Mapping) else value if isinstance(value, Record) else ()
    for key, each in below:
        yield from _quantities(f"{name}.{key}" if name else str(key), each)
