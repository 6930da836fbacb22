"""The colour as judged: the stricter reading of what is not stated, the smaller of class and measurement."""

import random
import tomllib
from itertools import product
from pathlib import Path
from typing import Any, get_args

import pytest

from prepadvisor.cases import (
    FlakeNumbers,
    JudgedColour,
    Measured,
    finer_by_measure,
    flake_numbers,
    is_fine,
    judged,
    may_stay,
    numbers_of_class,
)
from prepadvisor.records import TONES, BookColour, BookDiffers, Colour, Constants, Flake, Grade

CONSTANTS = Constants.model_validate(
    tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
)
FLAKES: tuple[Flake, ...] = get_args(Flake)


@pytest.mark.parametrize("flake", FLAKES)
def test_stages_that_are_not_stated_are_judged_as_three(flake: Flake) -> None:
    """One reading, the stricter: unstated is exactly as if three had been said."""
    assert judged(Colour(flake=flake)) == judged(Colour(flake=flake, stages=3))


@pytest.mark.parametrize(
    ("stated", "stages", "flake"),
    [
        ("solid", 2, "solid"),
        ("fine", 2, "fine"),
        ("unknown", 2, "very-fine"),
        ("solid", 3, "very-fine"),
        ("fine", 3, "very-fine"),
        ("vapour", 3, "vapour"),
        ("unknown", 3, "very-fine"),
    ],
)
def test_the_flake_judged_by(stated: Flake, stages: int, flake: Flake) -> None:
    """Unknown is very fine; three stages are very fine at least (section 4 of the job file's contract)."""
    assert judged(Colour(flake=stated, stages=stages)).flake == flake


def test_a_tone_that_is_not_stated_is_light() -> None:
    """On light colours scratches show most."""
    assert judged(Colour()).tone == "light"


def _numbers(**stated: float) -> FlakeNumbers | None:
    return flake_numbers(CONSTANTS, judged(Colour(flake="medium", stages=2, **stated)))


def test_of_class_and_measured_size_the_smaller_enters_the_line_model() -> None:
    """Medium is 18 µm, 9 degrees, 0.47 in the constants: smaller counts, larger is not believed."""
    assert _numbers() == FlakeNumbers(18.0, 0.47, 9.0)
    assert _numbers(flake_um=11.0, tilt_deg=6.0) == FlakeNumbers(11.0, 0.47, 6.0)
    assert _numbers(flake_um=30.0, tilt_deg=12.0) == FlakeNumbers(18.0, 0.47, 9.0)
    assert _numbers(log_sd=0.6) == FlakeNumbers(18.0, 0.6, 9.0)


def test_a_standing_measurement_stands_for_the_class() -> None:
    """Only what the shop has sealed, or fitted to its own panels, may loosen."""
    colour = judged(Colour(flake="medium", stages=2))._replace(standing=Measured(d50_um=30.0))
    assert flake_numbers(CONSTANTS, colour) == FlakeNumbers(30.0, 0.47, 9.0)


@pytest.mark.parametrize(
    ("flake", "um", "finer"),
    [
        ("coarse", 13.0, "medium"),
        ("coarse", 12.0, "fine"),
        ("coarse", 8.0, "very-fine"),
        ("fine", 20.0, None),
    ],
)
def test_a_measured_size_suggests_a_finer_class(flake: Flake, um: float, finer: Flake | None) -> None:
    """The classes' sizes: medium 18, fine 12, very fine 8 µm; vapour goes by its look, never by size."""
    assert finer_by_measure(CONSTANTS, judged(Colour(flake=flake, stages=2, flake_um=um))) == finer


def test_solid_colour_has_no_flake() -> None:
    """The line model is silent for it."""
    assert numbers_of_class(CONSTANTS, "solid") is None
    assert flake_numbers(CONSTANTS, judged(Colour(flake="solid", stages=2, flake_um=9.0))) is None


def by_the_words(colour: Colour, entry: BookColour) -> JudgedColour:
    """Judge a colour with an entry of the book as the contract says it, written down a second time.

    Stages and flake: what is stated; the stricter of two; what the job leaves out is filled in by a sealed
    entry and is safe without one. Three stages are very fine at least.
    """
    sealed, order = bool(entry.sealed_by), list(FLAKES)
    filled: set[str] = set()

    def settle(name: str, job: Any, book: Any, safe: Any, rising: list[Any]) -> Any:
        if book is None:
            return safe if job is None else job
        if job is None and sealed:
            filled.add(name)
            return book
        return max(safe if job is None else job, book, key=rising.index)

    stages = settle("stages", colour.stages, entry.stages, 3, [2, 3])
    tone = settle("tone", colour.tone, entry.tone, "light", list(TONES))
    job, book = (None if each == "unknown" else each for each in (colour.flake, entry.flake))
    flake = settle("flake", job, book, "very-fine", order)
    if stages == 3 and order.index(flake) < order.index("very-fine"):
        flake = "very-fine"
    finer = job is not None and book is not None and order.index(job) > order.index(book)
    own = Measured(entry.flake_um, entry.log_sd, entry.tilt_deg)
    given = Measured(colour.flake_um, colour.log_sd, colour.tilt_deg)
    if sealed and not finer:
        measured, standing = given, own
    else:
        least = [
            min([x for x in pair if x is not None], default=None) for pair in zip(given, own, strict=True)
        ]
        measured, standing = Measured(least[0], given.log_sd, least[2]), Measured()
    differ = []
    stated: tuple[tuple[str, Any, Any, Any], ...] = (
        ("flake", job, book, max(job or "solid", book or "solid", key=order.index)),
        ("stages", colour.stages, entry.stages, stages),
        ("tone", colour.tone, entry.tone, tone),
        ("flake_um", given.d50_um, own.d50_um, min(given.d50_um or 0, own.d50_um or 0)),
        ("tilt_deg", given.tilt_deg, own.tilt_deg, min(given.tilt_deg or 0, own.tilt_deg or 0)),
        ("log_sd", given.log_sd, own.log_sd, given.log_sd),
    )
    for what, one, other, counts in stated:
        if one is not None and other is not None and one != other:
            differ.append(BookDiffers(what, one, other, counts))
    doubted = own.log_sd if standing == Measured() and own != standing else None
    return JudgedColour(
        flake, stages, tone, measured, standing, entry.book, tuple(differ), frozenset(filled), doubted
    )


def test_job_and_book_are_judged_as_the_contract_says() -> None:
    """Every pair of flakes with drawn stages, tones and measurements, sealed and not."""
    draw = random.Random(6)

    def some(*values: object) -> object:
        return draw.choice((None, *values))

    def stated(flake: str) -> dict[str, Any]:
        values = {
            "flake": flake, "stages": some(2, 3), "tone": some(*TONES), "flake_um": some(6.0, 9.0, 30.0),
            "tilt_deg": some(3.0, 9.0), "log_sd": some(0.3, 0.6),
        }  # fmt: skip
        return {key: value for key, value in values.items() if value is not None}

    known = (*FLAKES, "unknown")
    for job, book, sealed in product(known, known, ("", "", "", "Lead", "Lead", "Lead")):
        colour = Colour.model_validate(stated(job))
        entry = BookColour.model_validate({"book": "hm-3", "sealed_by": sealed, **stated(book)})
        expected = by_the_words(colour, entry)
        assert judged(colour, entry) == expected, (colour, entry)
        fitted = expected._replace(standing=expected.standing._replace(d50_um=13.0))
        assert judged(colour, entry, 13.0) == fitted


@pytest.mark.parametrize("flake", FLAKES)
@pytest.mark.parametrize("cut", [None, "P600", "P800", "P1000"])
def test_a_cut_coarser_than_p800_never_stays_under_fine_flake(flake: Flake, cut: Grade | None) -> None:
    """An unknown cut counts as the worst; under solid, coarse and medium any may stay (practice)."""
    fine = flake in ("fine", "very-fine", "vapour")
    assert is_fine(flake) == fine
    assert may_stay(flake, cut) == (not fine or cut in ("P800", "P1000"))


def test_a_standing_size_suggests_a_finer_class_as_a_measured_one_does() -> None:
    """The smaller of both; none where nothing was measured; a size of a class is of that class."""
    colour = judged(Colour(flake="coarse", stages=2, flake_um=17.0))
    assert finer_by_measure(CONSTANTS, colour) == "medium"
    assert finer_by_measure(CONSTANTS, colour._replace(standing=Measured(d50_um=12.0))) == "fine"
    assert finer_by_measure(CONSTANTS, colour._replace(measured=Measured(), standing=Measured())) is None
    assert finer_by_measure(CONSTANTS, judged(Colour(flake="medium", stages=2, flake_um=18.0))) is None
    assert finer_by_measure(CONSTANTS, judged(Colour(flake="very-fine", stages=2, flake_um=1.0))) is None
