"""Whatever a job file holds, it is a job or a list of one-line faults; nothing else ever comes out."""

import copy
import datetime as dt
from random import Random
from typing import Any

import tomli
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.files import demo_jobs_dir, job_of_text
from prepadvisor.records import BadInputError, Job
from prepadvisor.standards import House

RAW = (demo_jobs_dir() / "very-fine-door-and-wing.toml").read_bytes() + (
    b'[[check]]\nat = 2026-03-02T09:40:00Z\nby = "K. M."\npanel = "left-front-door"\nfeature = "E1"\n'
    b'step = "scuffed"\n'
)
ODD: list[Any] = [
    0, -1, 1e308, float("nan"), float("inf"), True, "", "x", "front", "600", "P600", "../x", "\u202e",
    "é" * 500, [], [[]], [1, "x"], [{}], {}, {"a": 1}, {"tool": "da"}, dt.date(2026, 3, 2), dt.time(1, 2),
    dt.datetime.fromisoformat("2026-03-02T01:02:00"), [[0.1, 0.2]], [[0.1, 0.2, 0.3], [1, 2]],
]  # fmt: skip


def read(raw: bytes, house: House) -> Job | list[str]:
    """Return the job, or its faults as printed; anything else that is raised fails the test."""
    try:
        return job_of_text(raw, "job.toml", house)
    except BadInputError as error:
        return [str(fault) for fault in error.faults]


def check_plain(result: Job | list[str]) -> None:
    """Faults are there, sorted, each in one line that begins with the file."""
    if isinstance(result, Job):
        return
    assert result
    for line in result:
        assert line.startswith("job.toml:")
        assert line.isprintable(), line
        assert "; ;" not in line


@settings(max_examples=250)
@given(st.randoms(use_true_random=False))
def test_damaged_bytes(shipped_house: House, random: Random) -> None:
    """Cut, doubled, swapped and foreign bytes."""
    raw = bytearray(RAW)
    for _ in range(random.randint(1, 6)):
        at = random.randrange(len(raw))
        shape = random.randrange(4)
        if shape == 0:
            del raw[at : at + random.randint(1, 40)]
        elif shape == 1:
            raw[at:at] = raw[at : at + random.randint(1, 200)]
        elif shape == 2:
            raw[at] = random.randrange(256)
        else:
            raw[at:at] = random.choice([b"[", b"]", b'"', b"=", b"\n", b"{", b"#", b"'''", b"\xff", b"\r"])
    check_plain(read(bytes(raw), shipped_house))


def _spots(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [path, *(spot for key, value in inner for spot in _spots(value, (*path, key)))]


@settings(max_examples=250)
@given(st.randoms(use_true_random=False))
def test_odd_values_anywhere(shipped_house: House, random: Random) -> None:
    """Any value replaced by one of another kind, dropped, or an odd key added beside it."""
    data = copy.deepcopy(tomli.loads(RAW.decode()))
    for _ in range(random.randint(1, 5)):
        spot = random.choice([each for each in _spots(data) if each])
        around: Any = data
        for step in spot[:-1]:
            around = around[step]
        shape = random.randrange(3)
        if shape == 0:
            around[spot[-1]] = copy.deepcopy(random.choice(ODD))
        elif shape == 1:
            del around[spot[-1]]
        elif isinstance(around, dict):
            around[random.choice(["x", "colour_mn", "patch", "now", "id", "ключ", "a.b"])] = random.choice(
                ODD
            )
    check_plain(read(tomli_w.dumps(data).encode(), shipped_house))


def test_the_sound_text_is_a_job(shipped_house: House) -> None:
    """Without damage it loads."""
    assert isinstance(read(RAW, shipped_house), Job)
