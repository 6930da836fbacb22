"""The colour as it is judged: what is not stated counts as the stricter, and a measurement never loosens."""

from typing import Final, NamedTuple, cast

from prepadvisor.records.constants import Constants
from prepadvisor.records.job import Colour
from prepadvisor.records.words import FLAKES, Flake, Tone

STAGES_IF_UNKNOWN: Final = 3
"""A colour whose stages are not stated is judged as three-stage, the stricter."""

TONE_IF_UNKNOWN: Final[Tone] = "light"
"""A colour whose tone is not stated is judged as light, on which scratches show most."""

FLAKE_IF_UNKNOWN: Final[Flake] = "very-fine"
"""A flake that nobody knows is judged as this."""

THREE_STAGE_FLAKE: Final[Flake] = "very-fine"
"""A three-stage colour is judged as at least this fine."""


class FlakeNumbers(NamedTuple):
    """Flake as the model sees it: median diameter by area [µm], spread of ln D [1], spread of tilt [°]."""

    d50_um: float
    log_sd: float
    tilt_deg: float


class Measured(NamedTuple):
    """What was measured of a flake, None where nothing was; the units of `FlakeNumbers`."""

    d50_um: float | None = None
    log_sd: float | None = None
    tilt_deg: float | None = None


class JudgedColour(NamedTuple):
    """A colour as standards and line model judge it.

    `measured` enters the line model only, and there the smaller of class and measurement counts, unless the
    measurement is `sealed`: then it stands for the class.
    """

    flake: Flake
    stages: int
    tone: Tone
    measured: Measured = Measured()
    sealed: bool = False


def judged(colour: Colour) -> JudgedColour:
    """Return a job's colour as it is judged.

    An unknown flake counts as very fine, stages that are not stated as three, three stages as very fine at
    least, a tone that is not stated as light.
    """
    stages = colour.stages or STAGES_IF_UNKNOWN
    return JudgedColour(
        judged_flake(colour.flake, stages),
        stages,
        colour.tone or TONE_IF_UNKNOWN,
        Measured(colour.flake_um, colour.log_sd, colour.tilt_deg),
    )


def judged_flake(stated: str, stages: int) -> Flake:
    """Return the flake class that the standards judge by.

    Args:
        stated: a flake class, or "unknown".
        stages: 2 or 3.
    """
    flake = FLAKE_IF_UNKNOWN if stated == "unknown" else cast("Flake", stated)
    return flake if stages < 3 else max(flake, THREE_STAGE_FLAKE, key=FLAKES.index)


def numbers_of_class(constants: Constants, flake: Flake) -> FlakeNumbers | None:
    """Return the flake of a class, None for solid colour: it has no flake that a scratch could turn."""
    if flake == "solid":
        return None
    of_class = constants.flake[flake]
    return FlakeNumbers(of_class.d50_um.value, of_class.log_sd.value, of_class.tilt_deg.value)


def flake_numbers(constants: Constants, colour: JudgedColour) -> FlakeNumbers | None:
    """Return the flake that the line model judges a colour by, None for solid colour.

    Of size and tilt the smaller of class and measurement counts, because a smaller flake, or one that lies
    flatter, shows more; the spread of sizes is taken as measured. A sealed measurement stands for the class.
    """
    of_class = numbers_of_class(constants, colour.flake)
    if of_class is None:
        return None
    found = colour.measured
    if colour.sealed:
        return measured_or(of_class, found)
    return FlakeNumbers(
        min(of_class.d50_um, found.d50_um or of_class.d50_um),
        found.log_sd or of_class.log_sd,
        min(of_class.tilt_deg, found.tilt_deg or of_class.tilt_deg),
    )


def measured_or(of_class: FlakeNumbers, measured: Measured) -> FlakeNumbers:
    """Return measured numbers where there are any, else those of the class."""
    return FlakeNumbers(
        *(own if found is None else found for own, found in zip(of_class, measured, strict=True))
    )


def finer_by_measure(constants: Constants, colour: JudgedColour) -> Flake | None:
    """Return the finest class that a measured size belongs to, None unless finer than the class judged by.

    Vapour is left out: it is told by its mirror look, not by its size.
    """
    size, judged_at = colour.measured.d50_um, FLAKES.index(colour.flake)
    finer = [
        name
        for name, numbers in constants.flake.items()
        if name != "vapour" and FLAKES.index(name) > judged_at and (size or 1e9) <= numbers.d50_um.value
    ]
    return max(finer, key=FLAKES.index, default=None)
