"""The colour as it is judged: what is not stated counts as the stricter, and a measurement never loosens."""

from collections.abc import Iterator
from typing import Final, cast

from prepadvisor.records import (
    FLAKES,
    TONES,
    BookColour,
    BookDiffers,
    Colour,
    Constants,
    Flake,
    Grade,
    NamedTuple,
    Tone,
    is_finer,
)

STAGES_IF_UNKNOWN: Final = 3
"""A colour whose stages are not stated is judged as three-stage, the stricter."""

TONE_IF_UNKNOWN: Final[Tone] = "light"
"""A colour whose tone is not stated is judged as light, on which scratches show most."""

FLAKE_IF_UNKNOWN: Final[Flake] = "very-fine"
"""A flake that nobody knows is judged as this."""

FINE_FROM: Final[Flake] = "fine"
"""From this flake on a coarse cut is never let stand."""

COARSEST_UNDER_FINE: Final = Grade("P800")
"""The coarsest cut that a wet bed or a lead's word may leave from fine flake on; practice, no source."""

THREE_STAGE_FLAKE: Final[Flake] = "very-fine"
"""A three-stage colour is judged as at least this fine."""


def is_fine(flake: Flake) -> bool:
    """Say whether a flake is fine or finer."""
    return FLAKES.index(flake) >= FLAKES.index(FINE_FROM)


def may_stay(flake: Flake, cut: Grade | None) -> bool:
    """Say whether a cut may stay under a flake by a wet bed or a lead's word; an unknown one is the worst."""
    return not is_fine(flake) or (cut is not None and not is_finer(COARSEST_UNDER_FINE, cut))


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

    `measured` enters the line model only, where the smaller of class and measurement counts; `standing`
    numbers (sealed in the colour book, or fitted to the shop's own panels) stand for those of the class.
    `doubted_log_sd` is a spread of sizes in the book that nobody stands for: it counts where it is wider, as
    more of the small flakes show more. `book` is the entry's word where there is one. `differ` tells where
    job and book do; `from_book` names what the job left to it.
    """

    flake: Flake
    stages: int
    tone: Tone
    measured: Measured = Measured()
    standing: Measured = Measured()
    book: str = ""
    differ: tuple[BookDiffers, ...] = ()
    from_book: frozenset[str] = frozenset()
    doubted_log_sd: float | None = None


def judged(colour: Colour, entry: BookColour | None = None, fitted_um: float | None = None) -> JudgedColour:
    """Return a job's colour as it is judged.

    An unknown flake counts as very fine, stages that are not stated as three, three stages as very fine at
    least, a tone that is not stated as light.

    With an entry of the colour book the stricter of job and book counts: finer flake, three stages, lighter
    tone, smaller size and tilt. A sealed entry fills in what the job leaves out and its measured numbers
    stand for the class; an unsealed one never loosens, so that what the job leaves out stays safe.

    Args:
        colour: as the job states it.
        entry: its entry in the colour book.
        fitted_um: its size as fitted to the shop's own panels [µm].
    """
    alone = _stated(colour)
    if entry is None:
        return alone._replace(standing=Measured(d50_um=fitted_um))
    stages, from_book = _stages(colour, entry, alone)
    flake, flake_from = _flake(colour, entry, stages)
    tone, tone_from = _tone(colour, entry)
    own, given = Measured(entry.flake_um, entry.log_sd, entry.tilt_deg), alone.measured
    stands = entry.is_sealed and not _job_is_finer(colour, entry)
    standing = own if stands else Measured()
    measured = (
        given
        if stands
        else Measured(
            _smaller(given.d50_um, own.d50_um),
            given.log_sd,
            _smaller(given.tilt_deg, own.tilt_deg),
        )
    )
    if fitted_um is not None:
        standing = standing._replace(d50_um=fitted_um)
    return JudgedColour(
        flake=flake,
        stages=stages,
        tone=tone,
        measured=measured,
        standing=standing,
        doubted_log_sd=None if stands else own.log_sd,
        book=entry.book,
        differ=tuple(_differences(colour, entry, stages, tone)),
        from_book=from_book | flake_from | tone_from,
    )


def _stated(colour: Colour) -> JudgedColour:
    stages = colour.stages or STAGES_IF_UNKNOWN
    return JudgedColour(
        judged_flake(colour.flake, stages),
        stages,
        colour.tone or TONE_IF_UNKNOWN,
        Measured(colour.flake_um, colour.log_sd, colour.tilt_deg),
    )


def _stages(colour: Colour, entry: BookColour, alone: JudgedColour) -> tuple[int, frozenset[str]]:
    if colour.stages is None and entry.is_sealed and entry.stages is not None:
        return entry.stages, frozenset({"stages"})
    return max(alone.stages, entry.stages or alone.stages), frozenset()


def _flake(colour: Colour, entry: BookColour, stages: int) -> tuple[Flake, frozenset[str]]:
    if entry.flake == "unknown":
        return judged_flake(colour.flake, stages), frozenset()
    of_book = judged_flake(entry.flake, stages)
    if colour.flake == "unknown" and entry.is_sealed:
        return of_book, frozenset({"flake"})
    return max(judged_flake(colour.flake, stages), of_book, key=FLAKES.index), frozenset()


def _tone(colour: Colour, entry: BookColour) -> tuple[Tone, frozenset[str]]:
    if entry.tone is None:
        return colour.tone or TONE_IF_UNKNOWN, frozenset()
    if colour.tone is None and entry.is_sealed:
        return entry.tone, frozenset({"tone"})
    return max(colour.tone or TONE_IF_UNKNOWN, entry.tone, key=TONES.index), frozenset()


def _differences(colour: Colour, entry: BookColour, stages: int, tone: Tone) -> Iterator[BookDiffers]:
    """Yield what both state, and differently."""
    if "unknown" not in {colour.flake, entry.flake} and colour.flake != entry.flake:
        finer = max(colour.flake, entry.flake, key=FLAKES.index)
        yield BookDiffers("flake", colour.flake, entry.flake, finer)
    if colour.stages is not None and entry.stages is not None and colour.stages != entry.stages:
        yield BookDiffers("stages", colour.stages, entry.stages, stages)
    if colour.tone is not None and entry.tone is not None and colour.tone != entry.tone:
        yield BookDiffers("tone", colour.tone, entry.tone, tone)
    for what, job, book in (
        ("flake_um", colour.flake_um, entry.flake_um), ("tilt_deg", colour.tilt_deg, entry.tilt_deg),
    ):  # fmt: skip
        if job is not None and book is not None and job != book:
            yield BookDiffers(what, job, book, min(job, book))
    if colour.log_sd is not None and entry.log_sd is not None and colour.log_sd != entry.log_sd:
        yield BookDiffers("log_sd", colour.log_sd, entry.log_sd, colour.log_sd)


def _job_is_finer(colour: Colour, entry: BookColour) -> bool:
    """Say whether the job states a finer flake than the book: then the book's size does not stand for it."""
    if "unknown" in {colour.flake, entry.flake}:
        return False
    return FLAKES.index(colour.flake) > FLAKES.index(entry.flake)


def _smaller(one: float | None, other: float | None) -> float | None:
    given = [each for each in (one, other) if each is not None]
    return min(given, default=None)


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
    flatter, shows more; the spread of sizes is taken as the job has it measured. Standing numbers stand for
    those of the class.
    """
    of_class = numbers_of_class(constants, colour.flake)
    if of_class is None:
        return None
    base, found = measured_or(of_class, colour.standing), colour.measured
    return FlakeNumbers(
        min(base.d50_um, found.d50_um or base.d50_um),
        found.log_sd or max(base.log_sd, colour.doubted_log_sd or 0.0),
        min(base.tilt_deg, found.tilt_deg or base.tilt_deg),
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
    size = _smaller(colour.measured.d50_um, colour.standing.d50_um)
    judged_at = FLAKES.index(colour.flake)
    finer = [
        name
        for name, numbers in constants.flake.items()
        if name != "vapour" and FLAKES.index(name) > judged_at and (size or 1e9) <= numbers.d50_um.value
    ]
    return max(finer, key=FLAKES.index, default=None)
