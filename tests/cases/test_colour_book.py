"""A colour of the shop's book: the stricter of job and book counts, and unsealed never loosens.

What is sealed, what differs and how: the contract of the shop's own numbers (section 15 of the design).
"""

import datetime as dt
import itertools
import tomllib
from pathlib import Path

import pytest

from prepadvisor.cases import FlakeNumbers, flake_numbers, judged
from prepadvisor.records import FLAKES, TONES, BookColour, Colour, Constants, found, key_of

CONSTANTS = Constants.model_validate(
    tomllib.loads((Path(__file__).parents[2] / "rules/constants.toml").read_text(encoding="utf-8"))
)
SEALED = {"sealed_by": "K. M.", "sealed_on": dt.date(2026, 3, 2)}


def _entry(**values: object) -> BookColour:
    return BookColour.model_validate({"book": "Harbour mist", **values})


def _strictness(colour: Colour, entry: BookColour | None) -> tuple[int, int, int, float, float]:
    one = judged(colour, entry)
    numbers = flake_numbers(CONSTANTS, one)
    size, tilt = (-numbers.d50_um, -numbers.tilt_deg) if numbers else (-999.0, -999.0)
    return FLAKES.index(one.flake), one.stages, TONES.index(one.tone), size, tilt


def test_a_sealed_entry_fills_in_what_the_job_leaves_out() -> None:
    """Flake, stages and tone may then be left out of the job."""
    one = judged(Colour(book="Harbour mist"), _entry(flake="medium", stages=2, tone="dark", **SEALED))
    assert (one.flake, one.stages, one.tone) == ("medium", 2, "dark")
    assert one.from_book == {"flake", "stages", "tone"}
    assert one.differ == ()


def test_a_sealed_measured_size_stands_for_the_class() -> None:
    """It replaces the class value in the line model, coarser too; the rules go by the class."""
    one = judged(Colour(), _entry(flake="medium", stages=2, flake_um=21.0, tilt_deg=10.0, **SEALED))
    assert flake_numbers(CONSTANTS, one) == FlakeNumbers(21.0, 0.47, 10.0)
    assert one.flake == "medium"


@pytest.mark.parametrize(
    ("job", "book", "counts"),
    [("fine", "medium", "fine"), ("medium", "fine", "fine"), ("vapour", "coarse", "vapour")],
)
def test_where_flakes_differ_the_finer_counts_and_both_are_told(job: str, book: str, counts: str) -> None:
    """Whoever states it."""
    colour = Colour.model_validate({"flake": job, "stages": 2})
    one = judged(colour, _entry(flake=book, stages=2, **SEALED))
    assert one.flake == counts
    assert [(each.what, each.job, each.book, each.counts) for each in one.differ] == [
        ("flake", job, book, counts)
    ]


def test_stages_tone_size_and_tilt_differ_too() -> None:
    """Three stages, the lighter tone, the smaller size and tilt; of the spread the job's."""
    colour = Colour(flake="fine", stages=2, tone="mid", flake_um=12.0, tilt_deg=7.0, log_sd=0.5)
    entry = _entry(flake="fine", stages=3, tone="light", flake_um=10.0, tilt_deg=8.0, log_sd=0.4, **SEALED)
    one = judged(colour, entry)
    assert {each.what: each.counts for each in one.differ} == {
        "stages": 3, "tone": "light", "flake_um": 10.0, "tilt_deg": 7.0, "log_sd": 0.5,
    }  # fmt: skip
    assert (one.stages, one.tone) == (3, "light")
    assert flake_numbers(CONSTANTS, one) == FlakeNumbers(10.0, 0.5, 7.0)


def test_a_job_that_states_a_finer_flake_keeps_that_classs_size() -> None:
    """A sealed 16 µm of a medium colour does not loosen a job judged as very fine."""
    one = judged(
        Colour(flake="very-fine", stages=2), _entry(flake="medium", stages=2, flake_um=16.0, **SEALED)
    )
    numbers = flake_numbers(CONSTANTS, one)
    assert numbers is not None
    assert numbers.d50_um == 8.0


_FLAKES = (None, "solid", "coarse", "fine", "very-fine", "vapour")


@pytest.mark.parametrize(
    ("stated", "booked"), list(itertools.product(_FLAKES, _FLAKES)), ids=lambda word: str(word)
)
def test_an_unsealed_entry_never_loosens(stated: str | None, booked: str | None) -> None:
    """Every flake, with stages, tone and sizes: as strict as the job alone, or stricter."""
    for stages, tone, um in itertools.product((None, 2, 3), (None, "dark", "light"), (None, 6.0, 40.0)):
        told = {"stages": 2, "tone": None, "flake_um": 9.0} if stages is None else {"stages": None}
        colour = Colour.model_validate(
            {key: value for key, value in {"flake": stated, **told}.items() if value is not None}
        )
        values = {"flake": booked, "stages": stages, "tone": tone, "flake_um": um, "tilt_deg": um and 5.0}
        entry = _entry(**{key: value for key, value in values.items() if value is not None})
        with_book, alone = _strictness(colour, entry), _strictness(colour, None)
        assert all(ours >= before for ours, before in zip(with_book[:3], alone[:3], strict=True)), (
            colour,
            entry,
        )
        if with_book[0] == alone[0]:  # a finer class has its own size: vapour is no smaller than very fine
            assert all(a >= b for a, b in zip(with_book[3:], alone[3:], strict=True)), (colour, entry)


def test_a_fitted_size_stands_for_the_class() -> None:
    """Fitted to the shop's own panels: it counts, with an entry or without one."""
    assert flake_numbers(CONSTANTS, judged(Colour(flake="fine", stages=2), None, 14.5)) == FlakeNumbers(
        14.5, 0.47, 8.0
    )
    sealed = _entry(flake="fine", stages=2, flake_um=11.0, **SEALED)
    numbers = flake_numbers(CONSTANTS, judged(Colour(), sealed, 14.5))
    assert numbers is not None
    assert numbers.d50_um == 14.5


def test_a_colour_is_found_by_a_part_of_its_words() -> None:
    """Word, name, code and notes, in either case."""
    book = [_entry(name="Mist over water", code="HM-1"), BookColour(book="Night", notes="pearl")]
    assert [each.book for each in found(book, "hm-1")] == ["Harbour mist"]
    assert [each.book for each in found(book, "PEARL")] == ["Night"]
    assert len(found(book, "")) == 2
    assert key_of(" harbour   MIST ") == key_of("Harbour mist")


@pytest.mark.parametrize(("book", "sealed", "counts"), [
    (0.3, False, 0.47), (0.6, False, 0.6), (0.3, True, 0.3), (0.6, True, 0.6),
])  # fmt: skip
def test_an_unsealed_spread_counts_only_where_it_is_wider(book: float, sealed: bool, counts: float) -> None:
    """A narrower one has fewer of the small flakes that show most: that would loosen (class: 0.47)."""
    entry = _entry(flake="fine", stages=2, log_sd=book, **(SEALED if sealed else {}))
    numbers = flake_numbers(CONSTANTS, judged(Colour(flake="fine", stages=2), entry))
    assert numbers is not None
    assert numbers.log_sd == counts
