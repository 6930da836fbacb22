"""The text card: 80 columns, the order of the worked example, nothing of the sheet left out."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.cards import write_card
from prepadvisor.cards.page.columns import width
from prepadvisor.cards.page.text import BOXES, write_text
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.planning import advise
from prepadvisor.records import Job, TaskState
from prepadvisor.standards import House
from prepadvisor.wording import Words
from prepadvisor.wording.remarks import hold_why

GOLDEN = Path(__file__).with_name("door_and_wing.txt")
NAMES = ["<script>alert(1)</script>", "דלת קדמית", "🚗" * 40, "日本語" * 40, "x" * 300, "a b " * 70]


def text_of(worked: Any) -> str:
    """Print the card of a worked job."""
    return write_text(card_sheet(Papers(worked.job, worked.advice, worked.house)))


def squeezed(text: str) -> str:
    """Leave out all white space, so that a fact is found however it was wrapped."""
    return "".join(text.split())


def facts(value: object) -> Iterator[str]:
    """List every string of a sheet that a person should read."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        skipped = {"spots", "place", "places", "id", "kind", "feature", "need", "tasks", "box", "holds_of"}
        names: tuple[str, ...] = getattr(value, "_fields", ())
        boxes = {"scuffed", "powder", "sanded", "look", "box"}
        for index, part in enumerate(value):
            name = names[index] if names else ""
            if name in skipped or (name in boxes and isinstance(part, str)):
                continue
            yield from facts(part)


def test_no_line_is_wider_than_80_columns(worked: Any) -> None:
    """Any printer and any terminal."""
    assert max(map(width, text_of(worked).splitlines())) <= 80


def test_every_fact_of_the_sheet_is_printed(worked: Any, held: Any) -> None:
    """A renderer leaves nothing out."""
    for job in (worked, held):
        sheet = card_sheet(Papers(job.job, job.advice, job.house))
        printed = squeezed(write_text(sheet)).lower()
        assert [fact for fact in facts(sheet) if squeezed(fact).lower() not in printed] == []


def test_the_parts_stand_in_the_order_of_work(worked: Any) -> None:
    """Job line, what blocks, ticks, panels, drills, before paint, booth, mix, signatures, cautions."""
    parts = (
        "JOB 1042", "NOTHING BLOCKS", "BEFORE SANDING", "A  LEFT FRONT DOOR", "LINES LEFT",
        "B  LEFT FRONT WING", "RUBBED THROUGH", "BEFORE PAINT",
        "IN THE BOOTH", "MIX", "DISCS", "TIME", "CLEAR TO MASK",
        "why:", "DUST",
    )  # fmt: skip
    printed = text_of(worked)
    found = [printed.index(part) for part in parts]
    assert found == sorted(found)


def test_holds_stand_above_the_first_panel(held: Any) -> None:
    """Whoever reads only the top has read them."""
    top = text_of(held).split("BEFORE SANDING")[0]
    for hold in held.advice.holds:
        assert squeezed(hold_why(hold, Words(held.advice))) in squeezed(top)
        assert "B1 edge E1 (fade)" in top


def test_the_boxes_of_all_rows_stand_in_the_same_columns(renamed: Callable[[str], Any]) -> None:
    """A long or wide name wraps under itself and moves no box."""
    for name in NAMES:
        lines = [
            line for line in text_of(renamed(name)).splitlines() if line.endswith("[_]") and "..[_]" in line
        ]
        places = [[width(line[: -len("[_]")])] for line in lines]
        assert len(lines) == 7
        assert all(place == places[0] for place in places)


@pytest.mark.parametrize("name", NAMES)
def test_hostile_names_stay_within_80_columns(renamed: Callable[[str], Any], name: str) -> None:
    """Right-to-left, emoji, wide letters, 300 letters without a blank."""
    printed = text_of(renamed(name))
    assert max(map(width, printed.splitlines())) <= 80
    assert squeezed(name) in squeezed(printed)


def test_no_name_starts_a_line_of_the_head(renamed: Callable[[str], Any]) -> None:
    """A right-to-left number cannot turn the whole line round: the line starts with a word of ours."""
    assert text_of(renamed("דלת קדמית")).startswith("JOB ")


def test_every_state_of_a_box_is_printed_apart(worked: Any) -> None:
    """Ticked, open, logged but may not stand, nothing owed."""
    assert len(set(BOXES.values())) == 4
    states: tuple[TaskState, ...] = ("done", "held", "open")
    at = [task.id for task in worked.advice.work.tasks if task.place == "left-front-door/E1"]
    marked = {name: states[min(number, 2)] for number, name in enumerate(at)}
    work = worked.advice.work._replace(
        tasks=tuple(task._replace(state=marked.get(task.id, "open")) for task in worked.advice.work.tasks),
    )
    advice = worked.advice._replace(work=work)
    line = next(
        line for line in write_text(card_sheet(Papers(worked.job, advice, worked.house))).splitlines()
        if line.startswith(" A1")
    )  # fmt: skip
    assert line.endswith("[x]...[!]...[_]..[_]")


def test_json_is_the_whole_advice_by_its_public_names(worked: Any) -> None:
    """The first key is the schema."""
    printed = write_card(worked.job, worked.advice, worked.house, "json")
    assert isinstance(printed, str)
    assert printed.startswith('{"schema":"prepadvisor/advice/1"')


def test_thirty_panels_of_long_names_stay_within_80_columns(shipped_house: House) -> None:
    """Letters go on as AA, AB …, and no row is lost; the last panel has more than a hundred."""
    line = {"kind": "edge", "name": "a long name of an edge", "path": [[0, 0], [1, 1]]}
    panel = {
        "kind": "roof", "role": "blend", "surface": "aged-clear", "length_mm": 1000, "height_mm": 900,
        "colour_from": ["front"], "colour_mm": 100, "fade_mm": 300,
    }  # fmt: skip
    lines = [8] * 29 + [110]
    panels = [
        {**panel, "id": f"roof-{number}", "feature": [{"id": f"E{n}", **line} for n in range(count)]}
        for number, count in enumerate(lines)
    ]
    job = Job.model_validate({"job": {"number": "1"}, "panel": panels})
    printed = write_text(card_sheet(Papers(job, advise(job, shipped_house), shipped_house)))
    rows = [line for line in printed.splitlines() if line.endswith("..[_]")]
    assert max(map(width, printed.splitlines())) <= 80
    assert len(rows) == sum(lines) + 30
    assert any(row.split()[0] == "AD110" for row in rows)


@pytest.mark.regression
def test_the_door_and_wing_card_is_as_it_was_read_and_approved(
    worked: Any, accept: Callable[[Path, str], None]
) -> None:
    """Made by this program and then read line by line; guards against change, proves nothing else."""
    from prepadvisor import __version__

    printed = text_of(worked).replace(f"digest {worked.house.digest[:8]}", "digest 00000000")
    printed = printed.replace(f"prepadvisor {__version__}", "prepadvisor 0")
    accept(GOLDEN, printed)
    assert printed == GOLDEN.read_text(encoding="utf-8")
