"""Random jobs of every kind the file format knows, as the words of a job file; bent to corners."""

import datetime as dt
import random
from collections.abc import Sequence
from typing import Any, Final

from tests.recompute.house import ORDERED

OUTLINES: Final = (
    "front-door", "rear-door", "front-wing", "rear-quarter", "bonnet", "boot-lid", "tailgate", "roof", "sill",
    "front-bumper", "rear-bumper", "pillar", "mirror-cap", "fuel-flap",
)  # fmt: skip
SURFACES: Final = (
    "aged-clear", "cured-clear", "primer-surfacer", "sealer", "electrocoat", "primed-plastic", "feather-edge",
    "filler", "bare",
)  # fmt: skip
LINES: Final = ("edge", "body-line", "wheel-arch", "flange", "recess", "cut-out", "run-on")
TOOLS: Final = ("hand-paper", "hand-pad", "hand-foam", "block", "da-hard", "da", "da-soft")
GRADES: Final = (
    "P80",
    "P120",
    "P180",
    "P240",
    "P320",
    "P400",
    "P500",
    "P600",
    "P800",
    "P1000",
    "P1500",
    "P2000",
)
SPECIALS: Final = ("matt", "lacquer", "wrap", "melt-out", "radar", "fresh-clear")
BOOK_WORDS: Final = (
    "Harbour mist", "slate grey", "SLATE  Grey", "Pearl three", "Mirror", "Sun coarse", "Nothing known",
    "Lost",
)  # fmt: skip
"""Colours of the book of some houses, and one that stands in none."""

PRIMED_AT: Final = dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)
SIDES: Final = ("front", "rear", "top", "bottom")


def drawn(rng: random.Random) -> dict[str, Any]:
    """Return the words of a job; it may still be refused for what cannot be or does not fit."""
    job: dict[str, Any] = {
        "job": {"number": str(rng.randint(1, 9999)), "units": rng.choice(("metric", "imperial"))},
        "colour": _colour(rng),
        "panel": [_panel(rng, number) for number in range(rng.choice((1, 1, 2, 3)))],
    }
    more = random.Random(job["job"]["number"])
    """Facts that came later: drawn apart, so that old seeds draw what they always drew."""
    if more.random() < 0.5:
        job["colour"]["book"] = more.choice(BOOK_WORDS)
        for key in more.sample(("flake", "stages", "tone"), more.randint(0, 3)):
            job["colour"].pop(key, None)
    if more.random() < 0.5:
        job["job"] |= {"vehicle": "five-door hatchback", "by": "K. M.", "date": dt.date(2026, 3, 2)}
    checks = [check for panel in job["panel"] for check in _primed(panel, rng)]
    return {**job, "check": checks} if checks else job


def with_kinds(job: dict[str, Any], kinds: Sequence[str], rng: random.Random) -> dict[str, Any]:
    """Return a job about half of whose panels are of one of these kinds."""
    panels = [{**panel, "kind": rng.choice(kinds)} if rng.random() < 0.5 else panel for panel in job["panel"]]
    return {**job, "panel": panels}


def _primed(panel: dict[str, Any], rng: random.Random) -> list[dict[str, Any]]:
    """Return log entries by which some of the primer that a panel waits for is on."""
    waiting = [patch["id"] for patch in panel.get("patch", []) if patch["next"] == "primer"]
    waiting = ["panel"] if panel.get("next") == "primer" else waiting
    return [
        {"at": PRIMED_AT, "by": "KM", "panel": panel["id"], "feature": feature, "step": "primed"}
        for feature in waiting
        if rng.random() < 0.4
    ]


def _colour(rng: random.Random) -> dict[str, Any]:
    colour: dict[str, Any] = {"flake": rng.choice((*ORDERED["flake"], "vapour", "unknown"))}
    if rng.random() < 0.85:
        colour["stages"] = rng.choice((2, 2, 2, 3))
    if rng.random() < 0.6:
        colour["tone"] = rng.choice(ORDERED["tone"])
    if rng.random() < 0.3:
        colour["flake_um"] = rng.choice((5.0, 7.0, 9.0, 11.0, 14.0, 22.0, 35.0))
    if rng.random() < 0.15:
        colour["tilt_deg"] = rng.choice((3.0, 6.0, 10.0))
    if rng.random() < 0.15:
        colour["log_sd"] = rng.choice((0.2, 0.6))
    return colour


def _abrasive(rng: random.Random, tools: tuple[str, ...] = TOOLS) -> dict[str, Any]:
    used: dict[str, Any] = {"tool": rng.choice(tools)}
    if rng.random() < 0.9:
        used["grade"] = rng.choice(GRADES)
    return used


def _panel(rng: random.Random, number: int) -> dict[str, Any]:
    length, height = float(rng.randint(150, 2000)), float(rng.randint(120, 1400))
    panel: dict[str, Any] = {
        "id": f"p{number}",
        "kind": rng.choice(OUTLINES),
        "role": rng.choice(("blend", "blend", "blend", "repair", "clear-only")),
        "surface": rng.choice(SURFACES) if rng.random() < 0.25 else rng.choice(("aged-clear", "cured-clear")),
        "length_mm": length,
        "height_mm": height,
    }
    if rng.random() < 0.15:
        panel["next"] = rng.choice(("primer", "sealer", "base", "clear"))
    if rng.random() < 0.08:
        panel["special"] = rng.choice(SPECIALS)
    if rng.random() < 0.4:
        panel["film_um"] = [
            rng.choice((59, 61, 70, 89, 90, 110, 140, 299, 320)) for _ in range(rng.randint(1, 3))
        ]
    if rng.random() < 0.3:
        panel["now"] = _abrasive(rng, ("da", "da-soft", "block", "hand-pad", "da-hard"))
    patches = [_patch(rng, at, length, height) for at in range(rng.choice((0, 0, 0, 1, 1, 2)))]
    if patches:
        panel["patch"] = patches
    if rng.random() < 0.8:
        panel["feature"] = [_line(rng, at) for at in range(rng.randint(1, 5))]
    if panel["role"] == "blend" or (panel["role"] == "repair" and rng.random() < 0.3):
        panel |= _layout(rng, length, height, [patch["id"] for patch in patches])
    return panel


def _layout(rng: random.Random, length: float, height: float, patches: list[str]) -> dict[str, Any]:
    sources = rng.sample(SIDES, rng.choice((1, 1, 1, 2)))
    if patches and rng.random() < 0.5:
        sources = rng.choice((patches[:1], [*sources, patches[0]]))
    room = min(
        (length if side in ("front", "rear") else height) / (2 if len(sources) > 1 else 1) for side in sources
    ) if set(sources) <= set(SIDES) else min(length, height) / 2  # fmt: skip
    colour = round(rng.choice((0.0, 0.1, 0.3, 0.6)) * room * rng.random(), 1)
    fade = round(max(1.0, rng.choice((0.02, 0.3, 0.9)) * (room - colour)), 1)
    return {"colour_from": sources, "colour_mm": colour, "fade_mm": fade}


def _patch(rng: random.Random, number: int, length: float, height: float) -> dict[str, Any]:
    size = [round(rng.uniform(0.05, 0.5) * side, 1) for side in (length, height)]
    at = [
        round(rng.uniform(one / side / 2 + 0.001, 1 - one / side / 2 - 0.001), 4)
        for one, side in zip(size, (length, height), strict=True)
    ]
    patch: dict[str, Any] = {
        "id": f"R{number}",
        "surface": rng.choice((*SURFACES, "primer-surfacer", "filler")),
        "next": rng.choice(("base", "base", "base", "primer", "sealer")),
        "at": at,
        "size_mm": size,
    }
    if rng.random() < 0.4:
        patch["now"] = _abrasive(rng, ("block", "da", "da-hard", "hand-paper"))
    return patch


def _line(rng: random.Random, number: int) -> dict[str, Any]:
    line: dict[str, Any] = {"id": f"L{number}", "kind": rng.choice(LINES)}
    points = rng.randint(2, 4)
    path = [[round(rng.random(), 3), round(rng.random(), 3)] for _ in range(points)]
    if rng.random() < 0.3:
        edge = rng.choice((0.0, 1.0))
        path = [[edge, 0.0], [edge, 1.0]]
    line["path"] = path
    if rng.random() < 0.85:
        line["reach"] = rng.choice(("machine", "machine", "hand"))
    if rng.random() < 0.3:
        line["seen"] = rng.choice((True, False))
    if rng.random() < 0.25:
        line["done"] = _abrasive(rng)
    return line
