"""A door with every kind of place, its advice made by hand, and a log of it."""

import datetime as dt
from typing import Any, NamedTuple

from prepadvisor.records import (
    Advice,
    Check,
    Finish,
    Grade,
    Job,
    JobSummary,
    Place,
    Spot,
    StandardsUsed,
    WetBedAdvice,
)

START = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)
PANEL = "door"


class Case(NamedTuple):
    """A job without a log, and its advice."""

    job: Job
    advice: Advice


def _line(name: str, kind: str, reach: str, path: list[list[float]]) -> dict[str, object]:
    return {"id": name, "kind": kind, "reach": reach, "path": path}


JOB = Job.model_validate(
    {
        "job": {"number": "1"},
        "colour": {"flake": "very-fine", "stages": 2, "tone": "light"},
        "panel": [
            {
                "id": PANEL,
                "kind": "front-door",
                "role": "blend",
                "surface": "aged-clear",
                "length_mm": 1000,
                "height_mm": 600,
                "colour_from": ["front"],
                "colour_mm": 150,
                "fade_mm": 400,
                "patch": [
                    {"id": "R1", "surface": "primer-surfacer", "at": [0.1, 0.5], "size_mm": [100, 100]},
                ],
                "feature": [
                    _line("E1", "edge", "machine", [[0.0, 0.1], [0.0, 0.9]]),
                    _line("E2", "edge", "machine", [[1.0, 0.1], [1.0, 0.9]]),
                    _line("H1", "recess", "hand", [[0.4, 0.3], [0.6, 0.3]]),
                    _line("L1", "body-line", "machine", [[0.2, 0.3], [0.8, 0.3]]),
                    _line("F1", "flange", "hand", [[0.3, 1.0], [0.7, 1.0]]),
                ],
            }
        ],
    }
)


def _spot(
    feature: str, zone: str, kind: str, reach: str, coarsest: str, finest: str, hand: str | None
) -> Spot:
    finish = Finish(
        coarsest=Grade(coarsest),
        finest=Grade(finest),
        chosen=Grade(coarsest),
        tool="hand-pad" if reach == "hand" else "da-soft",
        verdict="safe",
    )
    stated: dict[str, Any] = {
        "id": f"{PANEL}/{feature}/{zone}",
        "panel": PANEL,
        "feature": feature,
        "zone": zone,
        "kind": kind,
        "reach": reach,
        "seen": True,
        "length_mm": None if kind in {"face", "patch"} else 300.0,
        "area_m2": 0.2 if kind in {"face", "patch"} else 0.0,
        "finish": finish,
        "hand_coarsest": hand,
    }
    return Spot(**stated)


SPOTS = (
    _spot("face", "colour", "face", "machine", "P1000", "P1500", None),
    _spot("face", "fade", "face", "machine", "P1000", "P1500", None),
    _spot("face", "clear", "face", "machine", "P800", "P1500", None),
    _spot("R1", "colour", "patch", "machine", "P800", "P1000", None),
    _spot("E1", "colour", "edge", "machine", "P1000", "P1500", "P1000"),
    _spot("E2", "clear", "edge", "machine", "P800", "P1500", "P800"),
    _spot("H1", "fade", "recess", "hand", "P1500", "P1500", None),
    _spot("L1", "fade", "body-line", "machine", "P1000", "P1500", "P1000"),
    _spot("L1", "clear", "body-line", "machine", "P800", "P1500", "P800"),
    _spot("F1", "fade", "flange", "hand", "P800", "P1500", None),
)


def _place(number: int, feature: str) -> Place:
    own = [spot for spot in SPOTS if spot.feature == feature]
    first = own[0]
    coloured = any(spot.zone != "clear" for spot in own)
    is_line = first.kind not in {"face", "patch"}
    stated: dict[str, Any] = {
        "id": f"{PANEL}/{feature}",
        "panel": PANEL,
        "feature": feature,
        "kind": first.kind,
        "number": number,
        "surface": "primer-surfacer" if first.kind == "patch" else "aged-clear",
        "reach": first.reach,
        "seen": True,
        "spots": tuple(spot.id for spot in own),
        "finish": first.finish.chosen if first.finish else None,
        "tool": first.finish.tool if first.finish else None,
        "hand_coarsest": first.hand_coarsest,
        "guide_coat": "after-hand" if is_line and first.reach == "machine" and coloured else "no",
        "wet_bed": WetBedAdvice(need="advised", coats=1) if coloured else WetBedAdvice(),
    }
    return Place(**stated)


ADVICE = Advice(
    job=JobSummary(number="1", flake="very-fine", flake_stated="very-fine", stages=2, tone="light"),
    standards=StandardsUsed(),
    spots=SPOTS,
    places=tuple(_place(n, f) for n, f in enumerate(("face", "R1", "E1", "E2", "H1", "L1", "F1"))),
    panels=(),
)


DOOR = Case(JOB, ADVICE)


def whole_log() -> tuple[Check, ...]:
    """Return a log of the door, place by place in the order of the trade."""
    hand, machine = {"tool": "hand-pad"}, {"tool": "da-soft"}
    steps: list[tuple[str, str, dict[str, object]]] = [("panel", "cleaned", {})]
    steps += [(f, "scuffed", {**hand, "grade": g}) for f, g in (("H1", "P1500"), ("F1", "P1000"))]
    steps += [(f, "scuffed", {**hand, "grade": "P1000"}) for f in ("E1", "E2", "L1")]
    steps += [(f, "guide-coated", {}) for f in ("E1", "L1")]
    steps += [(f, "sanded", {**machine, "grade": "P1000"}) for f in ("E1", "E2", "L1", "face")]
    steps += [("R1", "sanded", {**machine, "grade": "P800"})]
    steps += [(f, "inspected", {"result": "clear"}) for f in ("face", "R1", "E1", "E2", "H1", "L1", "F1")]
    steps += [("panel", "wiped", {})]
    return tuple(
        Check.model_validate(
            {
                "at": START + dt.timedelta(minutes=minute), "by": "K. M.", "panel": PANEL, "feature": feature,
                "step": step, **stated,
            }
        )
        for minute, (feature, step, stated) in enumerate(steps)
    )  # fmt: skip
