"""Job against colour book, field by field: the stricter counts, both stand on the card.

The contract of the shop's own numbers: finer flake, smaller size and tilt, three stages, lighter tone; else
the job's. A missing entry is told, and judged from the job.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

import pytest

from prepadvisor.cards import write_card
from prepadvisor.planning import advise
from prepadvisor.records import Advice, BookColour, Job, key_of
from prepadvisor.standards import House
from tests.cards.conftest import JOB

_FIELDS: Mapping[str, tuple[object, object, object, str]] = {
    # field: stricter, looser, what counts where they differ ("job": the job's), and its words on the card
    "flake": ("very-fine", "medium", "very-fine", "Flake: the job says {job}, the colour book {book}"),
    "stages": (3, 2, 3, "Stages: the job says {job}, the colour book {book}"),
    "tone": ("light", "dark", "light", "Tone: the job says {job}, the colour book {book}"),
    "flake_um": (9.0, 14.5, 9.0, "Flake size in um: the job says {job}, the colour book {book}"),
    "tilt_deg": (6.5, 8.5, 6.5, "Spread of tilt in degrees: the job says {job}, the colour book {book}"),
    "log_sd": (0.6, 0.3, "job", "Spread of sizes: the job says {job}, the colour book {book}"),
}
_BASE = {"flake": "medium", "stages": 2, "tone": "mid"}
_SEAL = {"sealed_by": "K. M.", "sealed_on": dt.date(2026, 3, 2)}


def _judged(
    house: House, job: Mapping[str, object], book: Mapping[str, object] | None, word: str = "Mist"
) -> tuple[Advice, str]:
    entries = {} if book is None else {key_of("Mist"): BookColour.model_validate({"book": "Mist", **book})}
    ours = replace(house, book=entries)
    colour = {"name": "Mist", **job, **({"book": word} if word else {})}
    stated = Job.model_validate({**JOB, "colour": colour})
    advice = advise(stated, ours)
    return advice, " ".join(str(write_card(stated, advice, ours)).split())


def _answers(advice: Advice) -> list[object]:
    return [(spot.id, spot.finish, spot.hand_coarsest, spot.guide_coat, spot.wet_bed, spot.line)
            for spot in advice.spots]  # fmt: skip


def _word(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value).replace("-", " ")


@pytest.mark.parametrize("sealed", [True, False], ids=["sealed", "unsealed"])
@pytest.mark.parametrize("job_is_stricter", [True, False], ids=["job-stricter", "book-stricter"])
@pytest.mark.parametrize("field", list(_FIELDS))
def test_where_they_differ_the_stricter_counts_and_both_are_on_the_card(
    shipped_house: House, field: str, job_is_stricter: bool, sealed: bool
) -> None:
    """Decided as by a job alone that states the stricter; the card has both values and which counts."""
    strict, loose, counts, words = _FIELDS[field]
    in_job, in_book = (strict, loose) if job_is_stricter else (loose, strict)
    advice, card = _judged(
        shipped_house, {**_BASE, field: in_job}, {**_BASE, field: in_book, **(_SEAL if sealed else {})}
    )
    expected = in_job if counts == "job" else counts
    alone, _ = _judged(shipped_house, {**_BASE, field: expected}, None, word="")
    assert _answers(advice) == _answers(alone)
    told = words.format(job=_word(in_job), book=_word(in_book))
    assert f"{told}: {_word(expected)} counts" in card


@pytest.mark.parametrize("field", list(_FIELDS))
def test_what_only_the_book_states(shipped_house: House, field: str) -> None:
    """Sealed it counts as if the job stated it; unsealed it only makes advice stricter."""
    strict, loose, _, _ = _FIELDS[field]
    job = {key: value for key, value in _BASE.items() if key != field}
    without, _ = _judged(shipped_house, job, None, word="")
    for value in (strict, loose):
        book = {**_BASE, field: value}
        sealed, card = _judged(shipped_house, job, {**book, **_SEAL})
        assert "sealed by K. M. on 2026-03-02" in card
        if field in _BASE:
            stated, _ = _judged(shipped_house, {**job, field: value}, None, word="")
            assert _answers(sealed) == _answers(stated)
        unsealed, card = _judged(shipped_house, job, book)
        assert "Mist is not sealed: it makes nothing looser" in card
        pairs = zip(unsealed.spots, without.spots, strict=True)
        alike = [(one, two) for one, two in pairs if (one.finish, one.wet_bed) == (two.finish, two.wet_bed)]
        risks = [(one.line.risk, two.line.risk) for one, two in alike if one.line and two.line]
        assert all(with_book >= alone - 1e-9 for with_book, alone in risks)


def test_a_missing_entry_is_told_and_the_job_decides(shipped_house: House) -> None:
    """A word that the book has not, with the nearest that it has."""
    advice, card = _judged(shipped_house, {**_BASE}, {**_BASE, **_SEAL}, word="Mizt")
    alone, _ = _judged(shipped_house, {**_BASE}, None, word="")
    assert _answers(advice) == _answers(alone)
    assert 'The colour book has no "Mizt": judged from the job alone; did you mean "Mist"?' in card
