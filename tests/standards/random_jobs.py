"""Random jobs and cases for proofs that need many of them: fast, seeded, of every kind a job can state."""

import random
from typing import Any

from prepadvisor.cases import CATEGORIES, Facts
from prepadvisor.records import FLAKES, LINE_KINDS, OUTLINES, SIDES, SURFACES, TONES, Job

FILMS = (None, 60.0, 89.9, 90.0, 120.0, 300.0, 300.1, 450.0)


def random_case(rng: random.Random) -> Facts:
    """Draw any case, one a card can meet or not; sound jobs a little more often than strange ones."""
    drawn: dict[str, Any] = {fact.name: rng.choice(fact.stated) for fact in CATEGORIES}
    if rng.random() < 0.7:
        drawn |= {"special": "none"}
    if rng.random() < 0.5:
        drawn |= {"surface": rng.choice(("aged-clear", "cured-clear")), "next": "base"}
    line = drawn["feature"] in LINE_KINDS
    drawn["film_um"] = rng.choice(FILMS)
    drawn["length_mm"] = round(rng.uniform(20, 2000), 1) if line else None
    drawn["panel_m2"] = round(rng.uniform(0.02, 3), 3)
    return Facts(**drawn)


def random_job(rng: random.Random) -> Job:
    """Draw a job of one panel with a patch and some lines; some a job file would not be taken with."""
    role = rng.choice(("blend", "blend", "repair", "clear-only"))
    panel: dict[str, Any] = {
        "id": "p",
        "kind": rng.choice(OUTLINES),
        "role": role,
        "surface": rng.choice(("aged-clear", "cured-clear", *SURFACES)),
        "next": rng.choice(("base", "base", "primer", "sealer", "clear")),
        "special": rng.choice(("none", "none", "none", "radar", "matt")),
        "length_mm": rng.randint(200, 2000),
        "height_mm": rng.randint(200, 1500),
        "film_um": [rng.randint(60, 350) for _ in range(rng.randint(0, 2))],
        "patch": [{"id": "R", "surface": rng.choice(SURFACES), "at": (0.5, 0.5), "size_mm": (50, 50)}],
        "feature": [_line(rng, number) for number in range(rng.randint(1, 4))],
    }
    if role == "blend" or (role == "repair" and rng.random() < 0.5):
        panel |= {"colour_from": [rng.choice(SIDES)], "colour_mm": 40, "fade_mm": 60}
    colour = {
        "flake": rng.choice((*FLAKES, "unknown")),
        "stages": rng.choice((2, 2, 3, None)),
        "tone": rng.choice((*TONES, None)),
    }
    known = {key: value for key, value in colour.items() if value is not None}
    return Job.model_validate({"job": {"number": "1"}, "colour": known, "panel": [panel]})


def _line(rng: random.Random, number: int) -> dict[str, Any]:
    path = [(rng.randint(0, 20) / 20, rng.randint(0, 20) / 20) for _ in range(2)]
    if path[0] == path[1]:
        path[1] = (1 - path[0][0] / 2, path[1][1])
    line: dict[str, Any] = {"id": f"L{number}", "kind": rng.choice(LINE_KINDS), "path": path}
    for key, values in (("reach", ("hand", "machine", None)), ("seen", (True, False, None))):
        value = rng.choice(values)
        if value is not None:
            line[key] = value
    return line
