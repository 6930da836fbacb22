"""What is told as taken for granted, with its facts whole, each thing left unsaid by itself."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from prepadvisor.planning import advise
from prepadvisor.records import (
    BookColour,
    BookMissing,
    BookUnsealed,
    Caution,
    FadesMeet,
    FlakeUnknown,
    FromBook,
    Job,
    MeasuredFiner,
    MistPastEnd,
    NarrowFade,
    PatchNowUnstated,
    ReachUnstated,
    SandedUnknown,
    SeenUnstated,
    StagesUnstated,
    ThreeStages,
    ToneUnstated,
    key_of,
)
from prepadvisor.standards import House

JobOf = Callable[..., Job]
PATCH: dict[str, Any] = {
    "id": "R1",
    "surface": "filler",
    "next": "primer",
    "at": [0.5, 0.5],
    "size_mm": [60, 60],
}
BOOK = {
    key_of(entry.book): entry
    for entry in (
        BookColour(book="Slate grey", name="Slate", flake="medium", stages=2, tone="dark", notes="one bed",
                   sealed_by="LM", sealed_on=dt.date(2026, 2, 1)),
        BookColour(book="Bare", flake="unknown", sealed_by="LM"),
        BookColour(book="Open", flake="fine", stages=2, tone="mid"),
    )
}  # fmt: skip

CASES: list[tuple[dict[str, Any], dict[str, Any], list[Caution]]] = [
    ({}, {}, []),
    ({"flake": "unknown"}, {}, [FlakeUnknown()]),
    ({"stages": None}, {}, [StagesUnstated()]),
    ({"flake": "fine", "stages": 3}, {}, [ThreeStages()]),
    ({"flake": "solid", "stages": 3}, {}, [ThreeStages()]),
    ({"flake": "very-fine", "stages": 3}, {}, []),
    ({"flake": "vapour", "stages": 3}, {}, []),
    ({"flake": "fine", "stages": None}, {}, [StagesUnstated()]),
    ({"tone": None}, {}, [ToneUnstated("light")]),
    ({"flake": "coarse", "flake_um": 12.0}, {}, [MeasuredFiner("fine")]),
    ({"flake": "coarse", "flake_um": 27.0}, {}, []),
    ({}, {"fade_mm": 120}, [NarrowFade("door", 120, 200)]),
    ({}, {"fade_mm": 200}, []),
    ({"flake": "solid"}, {"fade_mm": 120}, []),
    ({}, {"fade_mm": 750, "length_mm": 1050}, []),
    ({}, {"fade_mm": 751, "length_mm": 1050}, [MistPastEnd("door")]),
    ({}, {"colour_from": ["top", "bottom"], "colour_mm": 20, "fade_mm": 290}, [FadesMeet("door")]),
    ({}, {"colour_from": ["top", "front"], "colour_mm": 20, "fade_mm": 900}, [MistPastEnd("door")]),
    ({}, {"now": {"tool": "da"}}, [SandedUnknown("door/face")]),
    ({}, {"now": {"tool": "da", "grade": "P320"}}, []),
    ({}, {"patch": [PATCH]}, [PatchNowUnstated(("door/R1",))]),
    ({}, {"patch": [{**PATCH, "now": {"tool": "block"}}]}, [SandedUnknown("door/R1")]),
    ({}, {"role": "clear-only", "colour_from": None, "colour_mm": None, "fade_mm": None}, []),
    ({"book": "slate  GREY", "flake": "medium"}, {},
     [FromBook("Slate grey", "Slate", "LM", "2026-02-01", "one bed")]),
    ({"book": "Slate grey", "flake": "unknown", "stages": None, "tone": None}, {},
     [FromBook("Slate grey", "Slate", "LM", "2026-02-01", "one bed")]),
    ({"book": "Bare", "flake": "unknown", "stages": None, "tone": None}, {},
     [FromBook("Bare", "", "LM", "", ""), FlakeUnknown(), StagesUnstated(), ToneUnstated("light")]),
    ({"book": "Open", "flake": "unknown", "stages": None, "tone": None}, {},
     [BookUnsealed("Open"), FlakeUnknown(), StagesUnstated(), ToneUnstated("light")]),
    ({"book": "Slate gray"}, {}, [BookMissing("Slate gray", "Slate grey")]),
    ({"book": "Quite another thing"}, {}, [BookMissing("Quite another thing", "")]),
]  # fmt: skip


def taken_for_granted(job: Job, house: House) -> list[Caution]:
    """Return the cautions of an advice but those of rules and of what job and book state differently."""
    others = {"book-differs", "rule-caution", "held-after-primer"}
    return [each for each in advise(job, house).cautions if each.kind not in others]


@pytest.mark.parametrize(("colour", "panel", "told"), CASES, ids=lambda each: str(each)[:60])
def test_what_is_not_said_is_told(
    job_of: JobOf, shipped_house: House, colour: dict[str, Any], panel: dict[str, Any], told: list[Caution]
) -> None:
    """And nothing else; a value of the book is none of it."""
    house = replace(shipped_house, book=BOOK)
    job = job_of({key: value for key, value in colour.items() if value is not None}, **panel)
    left_out = {key: None for key, value in colour.items() if value is None}
    job = job.model_copy(update={"colour": job.colour.model_copy(update=left_out)})
    assert taken_for_granted(job, house) == told


def test_what_may_be_hidden_is_asked_for(job_of: JobOf, shipped_house: House) -> None:
    """A flange or cut-out that nobody says is seen or not; of other lines it need not be said."""
    kinds = ("edge", "flange", "cut-out", "recess")
    for seen, told in (
        ({}, [SeenUnstated(("door/L1", "door/L2"))]),
        ({"seen": False}, []),
        ({"seen": True}, []),
    ):
        lines = [
            {"id": f"L{at}", "kind": kind, "path": [[0, 0], [0, 1]], "reach": "hand", **seen}
            for at, kind in enumerate(kinds)
        ]
        assert taken_for_granted(job_of(feature=lines), shipped_house) == told


def test_reach_and_patches_are_told_panel_by_panel(job_of: JobOf, shipped_house: House) -> None:
    """Lines of one panel together, all patches of the job together, in the order of the job."""
    line = {"kind": "edge", "path": [[0, 0], [0, 1]]}
    lines = [{**line, "id": "E1"}, {**line, "id": "E2", "reach": "hand"}, {**line, "id": "E3"}]
    first = job_of(
        feature=lines, patch=[PATCH, {**PATCH, "id": "R2", "now": {"tool": "block", "grade": "P80"}}]
    )
    second = job_of(id="wing", feature=lines[:1], patch=[{**PATCH, "id": "R3"}])
    job = first.model_copy(update={"panel": (*first.panel, *second.panel)})
    assert taken_for_granted(job, shipped_house) == [
        ReachUnstated(("door/E1", "door/E3")),
        ReachUnstated(("wing/E1",)),
        PatchNowUnstated(("door/R1", "wing/R3")),
    ]
