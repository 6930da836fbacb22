"""Laws of the advice over all demo jobs: finer flake, and facts that are not stated, never loosen it."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from prepadvisor.files import demo_jobs_dir, job_of_text
from prepadvisor.planning import advise
from prepadvisor.records import FLAKES, RANK, WET_BED, Advice, BadInputError, Job, Spot
from prepadvisor.standards import House

JOBS = sorted(demo_jobs_dir().glob("*.toml"))
every_job = pytest.mark.parametrize("path", JOBS, ids=[path.stem for path in JOBS])

Key = tuple[str | int, ...]


def _read(path: Path, house: House) -> Job:
    return job_of_text(path.read_bytes(), path.name, house)


def _coarsest(spot: Spot) -> float:
    """No finish is the strictest answer of all: it holds."""
    return RANK[spot.finish.coarsest] if spot.finish else float("inf")


def _looser(before: Spot, after: Spot) -> list[str]:
    """Name each way in which `after` asks for less than `before`."""
    found = []
    if _coarsest(after) < _coarsest(before):
        found.append(f"finish {before.finish} -> {after.finish}")
    hands = before.hand_coarsest, after.hand_coarsest
    if hands[0] and hands[1] and RANK[hands[1]] < RANK[hands[0]]:
        found.append(f"hand {hands[0]} -> {hands[1]}")
    beds = [(WET_BED.index(one.wet_bed.need), one.wet_bed.coats) for one in (before, after)]
    if after.finish and (beds[1][0] < beds[0][0] or beds[1][1] < beds[0][1]):
        found.append(f"wet bed {before.wet_bed} -> {after.wet_bed}")
    return found


def _looser_spots(before: Advice, after: Advice) -> list[str]:
    """Compare spots of one id; a spot that is in one advice only has nothing to be compared with."""
    others = {spot.id: spot for spot in after.spots}
    return [
        f"{spot.id}: {words}"
        for spot in before.spots
        if spot.id in others
        for words in _looser(spot, others[spot.id])
    ]


@every_job
def test_a_finer_flake_never_makes_a_limit_coarser_nor_a_wet_bed_weaker(
    path: Path, shipped_house: House
) -> None:
    """From solid to vapour, on the shipped shelf, one class at a time."""
    job = _read(path, shipped_house)
    advices = [
        advise(
            job.model_copy(update={"colour": job.colour.model_copy(update={"flake": flake})}), shipped_house
        )
        for flake in FLAKES
    ]
    loosened = [
        f"{flake}: {words}"
        for flake, coarser, finer in zip(FLAKES[1:], advices, advices[1:], strict=False)
        for words in _looser_spots(coarser, finer)
    ]
    assert loosened == []


OPTIONAL_COLOUR = ("name", "flake", "stages", "tone")
OPTIONAL_PANEL = ("next", "special", "film_um", "now", "patch", "colour_from", "colour_mm", "fade_mm")
OPTIONAL_PART = ("name", "reach", "seen", "done", "next", "now")


def _optional_keys(job: dict[str, Any]) -> Iterator[Key]:
    """Yield the key path of every optional fact that a job states, measured flakes apart."""
    yield from (("colour", key) for key in OPTIONAL_COLOUR if key in job["colour"])
    yield from (("job", key) for key in ("vehicle", "by", "date", "units") if key in job["job"])
    for number, panel in enumerate(job["panel"]):
        yield from (("panel", number, key) for key in OPTIONAL_PANEL if key in panel)
        for kind in ("patch", "feature"):
            for at, part in enumerate(panel.get(kind, ())):
                yield from (("panel", number, kind, at, key) for key in OPTIONAL_PART if key in part)


def _by_agreement(job: dict[str, Any], key: Key) -> bool:
    """Say whether a file format's own start value, stated for the fact, is allowed to ask for less.

    An unknown flake counts as very fine, so a vapour that is left out asks for less; a matt or wrapped panel
    cannot be guessed; a flange that nobody says is seen counts as not seen; a patch that is left out is not
    there, and a repair panel without a layout is all colour. The card says each of these.
    """
    if key == ("colour", "flake"):
        return bool(job["colour"]["flake"] == "vapour")
    return key[-1] in {"special", "seen", "patch", "colour_mm"}


@every_job
def test_dropping_an_optional_fact_never_loosens_the_advice(path: Path, shipped_house: House) -> None:
    """What is left blank is judged on the safe side, or the job is refused."""
    stated = tomllib.loads(path.read_text("utf-8"))
    before = advise(_read(path, shipped_house), shipped_house)
    loosened = []
    for key in _optional_keys(stated):
        if _by_agreement(stated, key):
            continue
        changed = tomllib.loads(path.read_text("utf-8"))
        holder: Any = changed
        for step in key[:-1]:
            holder = holder[step]
        del holder[key[-1]]
        try:
            job = job_of_text(tomli_w.dumps(changed).encode(), path.name, shipped_house)
        except BadInputError:
            continue
        loosened += [f"{key}: {words}" for words in _looser_spots(before, advise(job, shipped_house))]
    assert loosened == []


@every_job
def test_every_spot_without_a_finish_stands_in_holds(path: Path, shipped_house: House) -> None:
    """No place is left out silently."""
    advice = advise(_read(path, shipped_house), shipped_house)
    held = {hold.spot for hold in advice.holds}
    assert [spot.id for spot in advice.spots if spot.finish is None and spot.id not in held] == []


@every_job
def test_hand_as_last_touch_is_never_coarser_than_hand_ahead_of_a_da(
    path: Path, shipped_house: House
) -> None:
    """Nothing comes after it to take its scratches out."""
    advice = advise(_read(path, shipped_house), shipped_house)
    coarser = [
        panel.id
        for panel in advice.panels
        if panel.hand and panel.hand_only and RANK[panel.hand_only] < RANK[panel.hand]
    ]
    assert coarser == []


@every_job
def test_the_order_of_panels_and_lines_changes_no_answer(path: Path, shipped_house: House) -> None:
    """What is asked first does not decide."""
    job = _read(path, shipped_house)
    turned = tuple(
        panel.model_copy(update={"feature": panel.feature[::-1], "patch": panel.patch[::-1]})
        for panel in job.panel[::-1]
    )
    before = advise(job, shipped_house)
    after = advise(job.model_copy(update={"panel": turned}), shipped_house)
    assert {spot.id: spot for spot in before.spots} == {spot.id: spot for spot in after.spots}
    assert before.discs == after.discs
    assert before.mix_ml == after.mix_ml
