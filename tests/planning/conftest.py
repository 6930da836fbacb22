"""Jobs for planning tests: one door, blended from the front, that a test changes as it needs."""

from collections.abc import Callable
from typing import Any

import pytest

from prepadvisor.planning import advise
from prepadvisor.records.advice import Advice, Place, Spot
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House

DOOR: dict[str, Any] = {
    "id": "door",
    "kind": "front-door",
    "role": "blend",
    "surface": "aged-clear",
    "length_mm": 1050,
    "height_mm": 640,
    "colour_from": ["front"],
    "colour_mm": 150,
    "fade_mm": 400,
    "feature": [
        {"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "machine"},
        {"id": "E2", "kind": "edge", "path": [[0, 0], [1, 0]], "reach": "machine"},
        {
            "id": "H1",
            "kind": "recess",
            "name": "handle recess",
            "path": [[0.4, 0.3], [0.5, 0.3]],
            "reach": "hand",
        },
    ],
}

JobOf = Callable[..., Job]
AdviseOn = Callable[..., Advice]


@pytest.fixture
def job_of() -> JobOf:
    """Make a one-panel job; keyword arguments change the panel, `colour` the colour."""

    def make(colour: dict[str, Any] | None = None, **panel: Any) -> Job:
        stated = {"flake": "very-fine", "stages": 2, "tone": "light", **(colour or {})}
        changed = {key: value for key, value in {**DOOR, **panel}.items() if value is not None}
        return Job.model_validate({"job": {"number": "1"}, "colour": stated, "panel": [changed]})

    return make


@pytest.fixture
def advise_on(job_of: JobOf, shipped_house: House) -> AdviseOn:
    """Advise on such a job under the shipped standards."""

    def advised(colour: dict[str, Any] | None = None, **panel: Any) -> Advice:
        return advise(job_of(colour, **panel), shipped_house)

    return advised


@pytest.fixture
def spot() -> Callable[[Advice, str], Spot]:
    """Find a spot by the end of its id, such as "face/fade"."""

    def find(advice: Advice, end: str) -> Spot:
        return next(one for one in advice.spots if one.id.endswith(f"/{end}"))

    return find


@pytest.fixture
def place() -> Callable[[Advice, str], Place]:
    """Find a place by its feature id."""

    def find(advice: Advice, feature: str) -> Place:
        return next(one for one in advice.places if one.feature == feature)

    return find
