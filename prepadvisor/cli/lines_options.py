"""What was asked of `prepadvisor lines`, checked: every fault at once, each a plain sentence."""

import argparse
import math
from difflib import get_close_matches
from typing import Final, Literal, TypeVar

from prepadvisor.cases.colour import TONE_IF_UNKNOWN, JudgedColour, Measured, judged_flake
from prepadvisor.named import NamedTuple
from prepadvisor.planning.line_model import LINE_ZONES
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.records.trade_words import first_word
from prepadvisor.records.words import FLAKES, Flake, Zone

COATS_MOST: Final = 10
"""More coats of wet bed than this are a slip of the finger."""

MEASURED: Final = {
    "flake_um": (1.0, 200.0, "µm"),
    "tilt": (0.5, 45.0, "degrees"),
    "log_sd": (0.01, 2.0, "(a plain number)"),
}
"""Measured values: lowest, highest, unit; the same ranges as in a job file."""

_FLAKES: Final[tuple[Flake | Literal["unknown"], ...]] = (*FLAKES, "unknown")
_Word = TypeVar("_Word", bound=str)


class Asked(NamedTuple):
    """Flake class, zone, coats of wet bed, and the measured values, None where not given."""

    flake: Flake | Literal["unknown"]
    zone: Zone
    coats: int
    flake_um: float | None
    tilt_deg: float | None
    log_sd: float | None

    @property
    def colour(self) -> JudgedColour:
        """The colour as judged, of two stages; what is given stands for the class, coarser or finer."""
        given = Measured(self.flake_um, self.log_sd, self.tilt_deg)
        return JudgedColour(judged_flake(self.flake, 2), 2, TONE_IF_UNKNOWN, standing=given)

    @property
    def is_measured(self) -> bool:
        """Whether any measured value stands in for one of the class."""
        return not (self.flake_um is None and self.tilt_deg is None and self.log_sd is None)


def asked(args: argparse.Namespace) -> Asked:
    """Return what the options ask for.

    Raises:
        BadInputError: with every fault of the options.
    """
    faults: list[Fault] = []
    flake = _known_word("--flake", args.flake.strip() or "unknown", _FLAKES, faults)
    zone = _known_word("--zone", args.zone.strip(), LINE_ZONES, faults)
    coats = _coats(args.coats, faults)
    numbers = {name: _measured(name, getattr(args, name), faults) for name in MEASURED}
    if flake == "solid" and any(value is not None for value in numbers.values()):
        says = "a solid colour has no flake to measure"
        faults.append(Fault("--flake", 0, 0, says, "leave the class or the measured values out"))
    if faults:
        raise BadInputError(faults)
    return Asked(
        flake=flake,
        zone=zone,
        coats=coats,
        flake_um=numbers["flake_um"],
        tilt_deg=numbers["tilt"],
        log_sd=numbers["log_sd"],
    )


def _known_word(option: str, given: str, words: tuple[_Word, ...], faults: list[Fault]) -> _Word:
    given = first_word(option.removeprefix("--"), given)
    for word in words:
        if word == given:
            return word
    near = get_close_matches(given, words, n=1)
    mend = f'did you mean "{near[0]}"?' if near else f"take one of {', '.join(words)}"
    faults.append(Fault(option, 0, 0, f'"{given}" is not known here', mend))
    return words[-1]


def _coats(given: str, faults: list[Fault]) -> int:
    try:
        coats = int(given)
    except ValueError:
        coats = -1
    if not 0 <= coats <= COATS_MOST:
        mend = f"a whole number from 0 to {COATS_MOST}"
        faults.append(Fault("--coats", 0, 0, f'"{given}" is no number of coats', mend))
    return coats


def _measured(name: str, given: str | None, faults: list[Fault]) -> float | None:
    if given is None:
        return None
    lowest, highest, unit = MEASURED[name]
    try:
        value = float(given)
    except ValueError:
        value = math.nan
    if not lowest <= value <= highest:
        mend = f"a number from {lowest:g} to {highest:g} {unit}"
        faults.append(Fault(f"--{name.replace('_', '-')}", 0, 0, f'"{given}" cannot be', mend))
    return value
