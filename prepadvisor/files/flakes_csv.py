"""Reads measured flake diameters: a column of numbers, with a header or without."""

from pathlib import Path
from typing import Final

from prepadvisor.files.reading import TABLE_BYTES_MAX, number_in, read_bytes, shown_name, table_of, whole_in
from prepadvisor.records import BadInputError, Fault

COLUMNS: Final = ("um", "diameter_um", "count", "note")
_TIMES_MOST: Final = 10_000
_FLAKES_MOST: Final = 50_000


def read_flakes(path: Path | str, least: int) -> list[float]:
    """Read diameters in µm; a row with `count` stands for so many flakes.

    Args:
        path: the file; "-" is standard input.
        least: how many flakes there must be.

    Raises:
        BadInputError: with every cell that is no diameter, by line; or for too few flakes.
    """
    raw, name = read_bytes(path, TABLE_BYTES_MAX), shown_name(path)
    first = raw.lstrip(b"\xef\xbb\xbf \r\n\t").split(b"\n", 1)[0].split(b",")[0].split(b";")[0].strip()
    headed = not first[:1].isdigit()
    table = table_of(raw if headed else b"um\n" + raw, name, COLUMNS, (("um", "diameter_um"),))
    found: list[float] = []
    for row in table.rows:
        column = "um" if row.text("um") else "diameter_um" if row.text("diameter_um") else "um"
        size = row.read(column, number_in(0.5, 500.0, "um"))
        times = row.read("count", whole_in(0, _TIMES_MOST))
        if not row.text(column):
            row.fault(column, "is empty", "write the diameter in um")
        elif size is not None:
            found += [size] * (1 if times is None else times)
    if not headed:
        table.faults = [fault._replace(line=fault.line - 1) for fault in table.faults]
    if not table.faults and len(found) < least:
        says = f"{len(found)} flakes are too few to tell a size by"
        raise BadInputError([Fault(name, 0, 0, says, f"measure at least {least}; 200 tell it well")])
    if len(found) > _FLAKES_MOST:
        raise BadInputError([Fault(name, 0, 0, f"{len(found):,} flakes are too many", "up to 50,000")])
    table.raise_faults()
    return found
