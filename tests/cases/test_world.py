"""The world a card can meet: every case of any job lies in it, and every case in it is some job's."""

from collections.abc import Iterator, Sequence
from itertools import product
from math import prod
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import (
    CATEGORIES,
    CaseSpot,
    Category,
    Facts,
    Value,
    facts_of,
    groups,
    judged,
    spot_facts,
    subjects,
    with_usual_lines,
    world,
    zoning,
)
from prepadvisor.files import impossible_places, layout_problems
from prepadvisor.records import FLAKES, LINE_KINDS, OUTLINES, SIDES, SPECIALS, SURFACES, TONES, Job
from prepadvisor.standards import UNKNOWN, House, Space, World
from prepadvisor.standards.engine import box_of

NUMBERS = ("film_um", "length_mm", "panel_m2")


def cases_of(job: Job, house: House) -> Iterator[Facts]:
    """Yield the case of every spot of a job."""
    for panel in with_usual_lines(job, house.outlines).panel:
        for subject in subjects(panel, zoning(panel, house.shop.mist_mm)):
            for zone, amount in subject.amounts:
                yield facts_of(CaseSpot(judged(job.colour), subject, zone, amount))


def in_world(case: Facts) -> bool:
    """Say whether a case's facts stand together in a row of every group."""
    stated = {name: value is not None if name in NUMBERS else value for name, value in case._asdict().items()}
    return all(tuple(stated[name] for name in group.facts) in group.rows for group in groups())


_shares = st.integers(0, 20).map(lambda twentieth: twentieth / 20)


def _drawn(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Draw a job of one panel with a patch and some lines; it may be one that is refused."""
    role = draw(st.sampled_from(("blend", "repair", "clear-only")))
    panel: dict[str, Any] = {
        "id": "p",
        "kind": draw(st.sampled_from(OUTLINES)),
        "role": role,
        "surface": draw(st.sampled_from(SURFACES)),
        "next": draw(st.sampled_from(("primer", "sealer", "base", "clear"))),
        "special": draw(st.sampled_from(SPECIALS)),
        "length_mm": draw(st.integers(100, 2000)),
        "height_mm": draw(st.integers(100, 2000)),
        "film_um": draw(st.lists(st.integers(60, 350), max_size=2)),
        "patch": [
            {"id": "R", "surface": draw(st.sampled_from(SURFACES)), "at": (0.5, 0.5), "size_mm": (50, 50)}
        ],
        "feature": [
            _drawn(
                {
                    "id": f"L{number}",
                    "kind": draw(st.sampled_from(LINE_KINDS)),
                    "path": draw(st.lists(st.tuples(_shares, _shares), min_size=2, max_size=3, unique=True)),
                    "reach": draw(st.sampled_from((None, "hand", "machine"))),
                    "seen": draw(st.sampled_from((None, True, False))),
                }
            )
            for number in range(draw(st.integers(0, 4)))
        ],
    }
    if role == "blend" or (role == "repair" and draw(st.booleans())):
        panel = {**panel, "colour_from": [str(draw(st.sampled_from(SIDES)))], "colour_mm": 20, "fade_mm": 50}
    colour = _drawn(
        {
            "flake": draw(st.sampled_from((*FLAKES, "unknown"))),
            "stages": draw(st.sampled_from((None, 2, 3))),
            "tone": draw(st.sampled_from((None, *TONES))),
        }
    )
    return Job.model_validate({"job": {"number": "1"}, "colour": colour, "panel": [panel]})


@settings(max_examples=200, deadline=None)
@given(job=jobs())
def test_every_case_of_any_job_lies_in_the_world(job: Job, shipped_house: House) -> None:
    """Whatever a job file may state, judged, is a case the standards are proven over."""
    assert all(in_world(case) for case in cases_of(job, shipped_house))


def job_with(case: Facts) -> Job:
    """Return a job that has a case: written down fact by fact, by hand."""
    is_line = case.feature in LINE_KINDS
    panel: dict[str, Any] = {
        "id": "p",
        "kind": case.panel,
        "role": case.role,
        "surface": case.surface if case.feature != "patch" else "aged-clear",
        "next": case.next,
        "special": case.special,
        "length_mm": 1000,
        "height_mm": 500,
        "film_um": [] if case.film_um is None else [case.film_um],
    }
    if case.feature == "patch":
        patch = {
            "id": "R",
            "surface": case.surface,
            "next": case.next,
            "at": (0.5, 0.5),
            "size_mm": (990, 100),
        }
        panel["patch"] = [patch]
    if is_line:
        line = {"id": "L", "kind": case.feature, "path": [(0, 0.1), (1, 0.1)], "reach": case.reach}
        panel["feature"] = [line | {"seen": case.seen}]
    if case.role == "blend" or (case.role == "repair" and case.zone != "colour"):
        panel = panel | {"colour_from": ["front"], "colour_mm": 200, "fade_mm": 200}
    colour = {"flake": case.flake, "stages": case.stages, "tone": case.tone}
    return Job.model_validate({"job": {"number": "1"}, "colour": colour, "panel": [panel]})


def own_values(fact: Category) -> Sequence[Value]:
    """Return the values that a fact has where no rule names any."""
    return fact.stated


def a_case(choose: st.DataObject) -> Facts:
    """Draw a case of the world, every fact of it."""
    values = {fact.name: choose.draw(st.sampled_from(own_values(fact))) for fact in CATEGORIES}
    known: dict[str, Any] = {name: choose.draw(st.booleans()) for name in NUMBERS}
    for group in groups():
        rows = sorted(group.rows, key=str)
        for name, value in zip(group.facts, choose.draw(st.sampled_from(rows)), strict=True):
            (known if name in NUMBERS else values)[name] = value
    numbers = {name: 100.0 if known[name] else None for name in NUMBERS}
    return Facts(**values, **numbers)  # type: ignore[arg-type]


@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_every_case_of_the_world_is_some_jobs(data: st.DataObject, shipped_house: House) -> None:
    """For a sample of the world, a job whose spots have it, that also loads; amounts are the job's own."""
    case = a_case(data)
    job = job_with(case)

    found = [_without_amounts(other) for other in cases_of(job, shipped_house)]

    assert _without_amounts(case) in found
    assert not layout_problems(job)
    assert not impossible_places(job, shipped_house)


def _without_amounts(case: Facts) -> Facts:
    return case._replace(
        length_mm=None if case.length_mm is None else 1.0, panel_m2=None if case.panel_m2 is None else 1.0
    )


@pytest.fixture
def afresh() -> None:
    """Forget what was judged before, so that it is judged here."""
    for known in (groups, spot_facts, world._lines):
        known.cache_clear()


@pytest.mark.usefixtures("afresh")
def test_what_judging_ties_together() -> None:
    """The contract, restated: 8 pairs of flake and stages, and 7 of zone and role with every place."""
    colour, place = groups()
    assert set(colour.facts) == {"flake", "stages"}
    assert len(colour.rows) == 8
    assert {row[colour.facts.index("flake")] for row in colour.rows if 3 in row} == {"very-fine", "vapour"}
    assert set(place.facts) == {"zone", "role", "feature", "reach", "seen", "length_mm", "panel_m2"}
    areas, lines = 2, len(LINE_KINDS) * 2 * 2
    assert len(place.rows) == (3 + 3 + 1) * (areas + lines)


@pytest.mark.usefixtures("afresh")
def test_zone_and_length_differ_between_the_spots_of_a_place() -> None:
    """All else is the place's."""
    assert set(spot_facts()) == {"zone", "length_mm"}


def test_the_region_of_the_world_has_exactly_its_rows(shipped_house: House) -> None:
    """The number of cases: rows of both groups times all that varies freely, less what cannot be."""
    space = Space([], [entry.when for entry in shipped_house.engine.impossibles])
    of_space = World(space, [])
    free = {fact.name: len(own_values(fact)) for fact in CATEGORIES}
    tied = [name for group in groups() for name in group.facts]
    rest = 2  # film known or not
    for name, size in free.items():
        rest *= 1 if name in tied else size
    assert space.diagrams.count(of_space.met) == rest * prod(len(group.rows) for group in groups())
    assert UNKNOWN == 1


@pytest.mark.parametrize(("surface", "next_"), list(product(("filler", "aged-clear"), ("primer", "base"))))
def test_a_hold_takes_its_cases_out_of_the_living(shipped_house: House, surface: str, next_: str) -> None:
    """Base: nothing but primer goes on filler, and no primer on clear."""
    engine = shipped_house.engine
    space = Space([rule.when for rule in engine.rules], [entry.when for entry in engine.impossibles])
    of_rules = World(space, engine.rules)
    case = Facts(surface=surface, next=next_, zone="colour", feature="patch", panel_m2=1.0)
    held = bool(engine.decide(case).holds)
    box = {fact.name: (getattr(case, fact.name),) for fact in CATEGORIES}
    region = space.diagrams.both(space.diagrams.box(space.masks(box_of(box))), of_rules.living)
    assert (region == space.diagrams.no) == held
