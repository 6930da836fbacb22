"""The P series of coated abrasives: which grades there are and how coarse their grain is.

Source: FEPA 43 / ISO 6344-2 and -3, mean grain size ds50 in micrometres. P12 to P120 stand alike in two
published sources, P150 to P2500 in one; P3000 is from memory; P4000 stands on one secondary page.
"""

from difflib import get_close_matches
from typing import Final, NewType, TypeGuard

Grade = NewType("Grade", str)
"""A grade of the P series in its one spelling: what `grade` returns, never a bare string."""

DS50_UM: Final[dict[Grade, float]] = {Grade(name): ds50 for name, ds50 in {
    "P12": 1815.0, "P16": 1324.0, "P20": 1000.0, "P24": 764.0, "P30": 642.0, "P36": 538.0, "P40": 425.0,
    "P50": 336.0, "P60": 269.0, "P80": 201.0, "P100": 162.0, "P120": 125.0, "P150": 100.0, "P180": 82.0,
    "P220": 68.0, "P240": 58.5, "P280": 52.2, "P320": 46.2, "P360": 40.5, "P400": 35.0, "P500": 30.2,
    "P600": 25.8, "P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3, "P2500": 8.4,
    "P3000": 6.5, "P4000": 5.0,
}.items()}  # fmt: skip
"""Mean grain size ds50 in µm by grade, coarse to fine. Source: FEPA 43 / ISO 6344, but for `FROM_MEMORY`."""

FROM_MEMORY: Final = frozenset({"P3000"})
"""Grades whose grain no source was read for."""

GRADES: Final[tuple[Grade, ...]] = tuple(DS50_UM)
"""All grades, coarse to fine."""

RANK: Final[dict[Grade, int]] = {grade: rank for rank, grade in enumerate(GRADES)}
"""Place of a grade in the series: a higher rank is a finer grade."""


_DIGITS_MAX: Final = 6


class NotAGradeError(ValueError):
    """What was given is no grade of the P series: `says` why, `mend` what was probably meant."""

    def __init__(self, says: str, mend: str = "") -> None:
        """Keep both; `says` names the value."""
        self.says, self.mend, self.names_value = says, mend, True
        super().__init__(f"{says}; {mend}" if mend else says)


def grade(text: str) -> Grade:
    """Return the grade that a person wrote, in its one spelling.

    Args:
        text: a grade with its P, in either case and with blanks around, such as "P1000" or "p1000".

    Returns:
        The grade as in `GRADES`.

    Raises:
        NotAGradeError: for a bare number (which series it means cannot be known) and for anything else
            that is not in the series.
    """
    word = text.strip().upper().replace(" ", "")
    if word in DS50_UM:
        return Grade(word)
    if word.isdecimal():
        meant = f"P{word}"
        known = meant in DS50_UM
        hint = f'write "{meant}" if the back of the sheet says so' if known else "read the back of the sheet"
        raise NotAGradeError(
            f'"{text.strip()}" has no P: other series use the same numbers for other grain '
            "(P600 is 25.8 µm, another common series' 600 is 16 µm)",
            hint,
        )
    raise NotAGradeError(f'"{text.strip()}" is not a grade of the P series', _meant(word))


def _meant(word: str) -> str:
    """Return which grades were probably meant: the two that stand beside a number, else a near spelling."""
    number = word.removeprefix("P")
    if number.isascii() and number.isdecimal() and len(number) <= _DIGITS_MAX:
        lower = [grade for grade in GRADES if int(grade[1:]) < int(number)]
        higher = [grade for grade in GRADES if int(grade[1:]) > int(number)]
        beside = [*lower[-1:], *higher[:1]]
        return "did you mean " + " or ".join(f'"{grade}"' for grade in beside) + "?"
    near = get_close_matches(word, GRADES, n=1)
    return f'did you mean "{near[0]}"?' if near else ""


def is_grade(value: object) -> TypeGuard[Grade]:
    """Say whether a value is a grade in its one spelling."""
    return isinstance(value, str) and value in DS50_UM


def ds50_um(name: Grade) -> float:
    """Return the mean grain size ds50 of a grade in µm."""
    return DS50_UM[name]


def is_finer(one: Grade, other: Grade) -> bool:
    """Say whether `one` is strictly finer than `other`."""
    return RANK[one] > RANK[other]


def finest(*names: Grade) -> Grade:
    """Return the finest of one or more grades."""
    return max(names, key=RANK.__getitem__)


def coarsest(*names: Grade) -> Grade:
    """Return the coarsest of one or more grades."""
    return min(names, key=RANK.__getitem__)
