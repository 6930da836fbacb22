"""A worked job laid out by hand, so that what a card prints is tested apart from what is advised."""

from collections.abc import Callable
from typing import NamedTuple

import pytest

from prepadvisor.records import Advice, Grade, Hold, Job, NoWayUp
from prepadvisor.standards import House

DOOR, WING = "left-front-door", "left-front-wing"
JOB = {
    "job": {"number": "1042", "vehicle": "five-door hatchback", "by": "K. M."},
    "colour": {"name": "Harbour mist", "flake": "very-fine", "stages": 2, "tone": "light"},
    "panel": [
        {
            "id": DOOR, "kind": "front-door", "role": "blend", "surface": "aged-clear",
            "length_mm": 1050, "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400,
            "film_um": [118, 112],
            "feature": [
                {"id": "E1", "kind": "edge", "name": "front edge", "path": [[0, 0], [0, 1]],
                    "reach": "machine"},
                {
                    "id": "L1", "kind": "body-line", "name": "body line", "path": [[0, 0.5], [1, 0.5]],
                    "reach": "machine", "done": {"tool": "hand-pad", "grade": "P600"},
                },
                {
                    "id": "H1", "kind": "recess", "name": "handle recess", "path": [[0.5, 0.4], [0.6, 0.4]],
                    "reach": "hand",
                },
            ],
        },
        {
            "id": WING, "kind": "front-wing", "role": "repair", "surface": "aged-clear",
            "length_mm": 900, "height_mm": 600, "colour_from": ["R1"], "colour_mm": 100, "fade_mm": 300,
            "patch": [
                {
                    "id": "R1", "surface": "primer-surfacer", "at": [0.4, 0.6], "size_mm": [300, 250],
                    "now": {"tool": "block", "grade": "P320"},
                }
            ],
            "feature": [{"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "hand"}],
        },
    ],
}  # fmt: skip


class Worked(NamedTuple):
    """A job with its advice and house."""

    job: Job
    advice: Advice
    house: House


def _worked(house: House, units: str = "metric") -> Worked:
    from prepadvisor.planning import advise

    job = Job.model_validate({**JOB, "job": {**JOB["job"], "units": units}})  # type: ignore[dict-item]
    return Worked(job, advise(job, house), house)


@pytest.fixture(scope="session")
def worked(shipped_house: House) -> Worked:
    """A blend door with a hand-only recess and a scuff too coarse, and a wing with a primer patch."""
    return _worked(shipped_house)


@pytest.fixture(scope="session")
def worked_imperial(shipped_house: House) -> Worked:
    """The same, to be shown in inches and mils."""
    return _worked(shipped_house, "imperial")


@pytest.fixture(scope="session")
def held(worked: Worked) -> Worked:
    """The same with a hold on the wing's edge, which then has no work."""
    advice, place = worked.advice, f"{WING}/E1"
    spot = next(spot for one in advice.places if one.id == place for spot in one.spots)
    hold = Hold(
        spot=spot,
        fact=NoWayUp(Grade("P800"), Grade("P1500")),
        rules=("clear-hand",),
        lacks=(Grade("P1000"), Grade("P1200")),
    )
    spots = tuple(each._replace(finish=None) if each.id == spot else each for each in advice.spots)
    work = advice.work._replace(
        tasks=tuple(task for task in advice.work.tasks if task.place != place),
        steps=tuple(
            step._replace(tasks=tuple(name for name in step.tasks if not name.startswith(f"{place}.")))
            for step in advice.work.steps
        ),
    )
    return worked._replace(advice=advice._replace(holds=(hold,), spots=spots, work=work))


@pytest.fixture
def renamed(worked: Worked) -> Callable[[str], Worked]:
    """Gives the same job with one name everywhere a person may type one."""

    def rename(name: str) -> Worked:
        places = tuple(
            place._replace(name=name) if place.kind == "edge" else place for place in worked.advice.places
        )
        head = worked.advice.job._replace(vehicle=name, colour=name, by=name, number=name)
        return worked._replace(advice=worked.advice._replace(job=head, places=places))

    return rename


@pytest.fixture(scope="session")
def of_rows(shipped_house: House) -> Callable[[int, int], Worked]:
    """Makes an advised job with so many places in all, on so many equal panels."""
    from prepadvisor.planning import advise

    kinds = ("edge", "body-line", "recess", "flange")

    def line(number: int, of: int) -> dict[str, object]:
        x = 0.02 + 0.95 * number / max(1, of)
        kind = kinds[number % 4]
        reach = "machine" if number % 4 < 2 else "hand"
        name = f"{kind.replace('-', ' ')} {number + 1}"
        return {
            "id": f"E{number + 1}", "kind": kind, "name": name, "reach": reach,
            "path": [[x, 0.05], [x, 0.95]],
        }  # fmt: skip

    def make(places: int, panels: int = 1) -> Worked:
        lines = places // panels - 1
        panel = {
            "kind": "front-door", "role": "blend", "surface": "aged-clear", "length_mm": 1050,
            "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400, "film_um": [118],
        }  # fmt: skip
        outline = [line(number, lines) for number in range(lines)] or [line(0, 1)]
        each = [{**panel, "id": f"door-{count + 1}", "feature": outline} for count in range(panels)]
        job = Job.model_validate({**JOB, "panel": each})
        return Worked(job, advise(job, shipped_house), shipped_house)

    return make
