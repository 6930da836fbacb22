"""Jobs for planning tests: one door, blended from the front, that a test changes as it needs."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from shutil import copy
from typing import Any

import pytest
from hypothesis import assume
from hypothesis import strategies as st

from prepadvisor.cases import with_usual_lines
from prepadvisor.files import impossible_places, layout_problems, load_house
from prepadvisor.planning import advise
from prepadvisor.records import (
    FLAKES,
    LINE_KINDS,
    OUTLINES,
    SIDES,
    SPECIALS,
    SURFACES,
    TONES,
    TOOLS,
    Advice,
    Job,
    Place,
    Spot,
)
from prepadvisor.standards import House
from prepadvisor.surface import Layout, farthest_mm

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


_MOSTLY = 30
_DONE_GRADES = ("P80", "P180", "P320", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000")
_shares = st.integers(0, 20).map(lambda twentieths: twentieths / 20)
_points = st.tuples(_shares, _shares)


def _or_nothing(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


def _mostly(usual: str, words: tuple[str, ...]) -> st.SearchStrategy[str]:
    return st.sampled_from((usual,) * _MOSTLY + words)


_abrasives = st.fixed_dictionaries({"tool": st.sampled_from(TOOLS), "grade": st.sampled_from(_DONE_GRADES)})
_colours = st.fixed_dictionaries(
    {"flake": st.sampled_from((*FLAKES, "unknown"))},
    optional={
        "stages": st.sampled_from((2, 2, 3)),
        "tone": st.sampled_from(TONES),
        "flake_um": st.integers(2, 40),
        "tilt_deg": st.integers(2, 12),
    },
)


def _stated(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


@st.composite
def _lines(draw: st.DrawFn, number: int) -> dict[str, Any]:
    path = draw(st.lists(_points, min_size=2, max_size=4, unique=True))
    return _stated(
        {
            "id": f"L{number}",
            "kind": draw(st.sampled_from(LINE_KINDS)),
            "path": path,
            "reach": draw(st.sampled_from((None, "hand", "machine", "machine"))),
            "seen": draw(st.sampled_from((None, None, True, False))),
            "done": draw(_or_nothing(_abrasives)),
        }
    )


@st.composite
def _patches(draw: st.DrawFn, number: int, size: tuple[float, float]) -> dict[str, Any]:
    at = draw(st.tuples(*[st.sampled_from((0.3, 0.5, 0.7))] * 2))
    room = min(0.3 * size[0], 0.3 * size[1]) * 2
    return _stated(
        {
            "id": f"R{number}",
            "surface": draw(st.sampled_from(SURFACES)),
            "next": draw(st.sampled_from(("primer", "sealer", "base", "base", "base"))),
            "at": at,
            "size_mm": draw(st.tuples(*[st.integers(10, int(room))] * 2)),
            "now": draw(_or_nothing(_abrasives)),
        }
    )


@st.composite
def _panels(draw: st.DrawFn, number: int) -> dict[str, Any]:
    size = draw(st.tuples(st.integers(200, 2000), st.integers(150, 1500)))
    patches = [draw(_patches(at, size)) for at in range(draw(st.sampled_from((0, 0, 1, 2))))]
    role = draw(st.sampled_from(("blend", "blend", "blend", "repair", "clear-only")))
    panel = {
        "id": f"panel{number}",
        "kind": draw(st.sampled_from(OUTLINES)),
        "role": role,
        "surface": draw(_mostly("aged-clear", SURFACES)),
        "next": draw(_mostly("base", ("primer", "sealer", "base", "clear"))),
        "special": draw(_mostly("none", SPECIALS)),
        "length_mm": size[0],
        "height_mm": size[1],
        "film_um": draw(st.lists(st.integers(60, 350), max_size=2)),
        "now": draw(_or_nothing(_abrasives)),
        "patch": patches,
        "feature": [draw(_lines(at)) for at in range(draw(st.integers(0, 4)))],
    }
    if role == "blend" or (role == "repair" and draw(st.booleans())):
        panel |= draw(_layouts(size))
    return _stated(panel)


@st.composite
def _layouts(draw: st.DrawFn, size: tuple[float, float]) -> dict[str, Any]:
    sides = draw(st.lists(st.sampled_from(SIDES), min_size=1, max_size=2, unique=True))
    farthest = farthest_mm(Layout(*size, tuple(sides)))
    colour = draw(_shares) * farthest * 0.6
    fade = max(1.0, draw(_shares) * (farthest - colour) * 0.99)
    return {"colour_from": sides, "colour_mm": round(colour, 1), "fade_mm": round(fade, 1)}


@st.composite
def _jobs(draw: st.DrawFn, house: House) -> Job:
    stated = {
        "job": {"number": "1"},
        "colour": draw(_colours),
        "panel": [draw(_panels(number)) for number in range(draw(st.sampled_from((1, 1, 2))))],
    }
    job = with_usual_lines(Job.model_validate(stated), house.outlines)
    assume(not layout_problems(job) and not impossible_places(job, house))
    return job


@pytest.fixture(scope="session")
def any_job(shipped_house: House) -> st.SearchStrategy[Job]:
    """Draw any job that loads: panels, layouts, patches, lines, surfaces, specials, scuffs, readings."""
    return _jobs(shipped_house)


@pytest.fixture(scope="session")
def houses(shipped_house: House, tmp_path_factory: pytest.TempPathFactory) -> st.SearchStrategy[House]:
    """Draw the shipped house or one with rules of its own, with a full or a poor shelf, and its hand tool."""
    folder = tmp_path_factory.mktemp("house")
    copy(Path(__file__).with_name("own_rules.toml"), folder)
    shelves = (
        "P80 P120 P180 P240 P320 P400 P500 P600 P800 P1000 P1200 P1500 P2000",
        "P80 P180 P320 P500 P800 P1500",
        "P1000 P400 P240",
    )
    return st.sampled_from(
        [
            replace(house, shop=house.shop.model_copy(update={"shelf": tuple(shelf.split()), **tools}))
            for house in (shipped_house, load_house(folder))
            for shelf in (shelves[0], *shelves)
            for tools in ({}, {"hand_tool": "hand-paper", "finishing_tool": "da"})
        ]
    )
