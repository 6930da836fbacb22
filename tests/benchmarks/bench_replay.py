"""How fast many jobs are replayed under changed standards: python tests/benchmarks/bench_replay.py.

One job is: its file of three panels read and checked, then advised on twice, as for a replay of one house's
standards against another's. All is warm and in one process, as from the second job on. The aim, 10,000 jobs
in 20 s on two cores, is 4 ms of a processor's time for each. Also the time of one advice on a job of about
40 spots, aim 10 ms. The same sum in the bare interpreter stands beside it, so that machines compare.
"""

import gc
import random
import time
from collections.abc import Callable

from prepadvisor.cli.short_life import GARBAGE_LOOKED_FOR_EVERY
from prepadvisor.files import job_of_text, load_house
from prepadvisor.planning import advise

JOBS = 300
ROUNDS = 3

_JOB = """
[job]
number = "{number}"

[colour]
name = "invented {number}"
flake = "{flake}"
stages = 2
{panels}"""

_PANEL = """
[[panel]]
id = "panel-{number}"
kind = "{kind}"
role = "{role}"
surface = "aged-clear"
length_mm = {length}
height_mm = 640
colour_from = ["front"]
colour_mm = {colour}
fade_mm = {fade}
film_um = [118, 112]
now = {{ tool = "da", grade = "P320" }}
"""


def some_jobs(count: int) -> list[bytes]:
    """Write job files of three panels each, no two alike."""
    draw = random.Random(3)
    jobs = []
    for number in range(count):
        flake = draw.choice(("coarse", "medium", "fine", "very-fine"))
        panels = "".join(
            _PANEL.format(
                number=place,
                kind=draw.choice(("front-door", "front-wing", "rear-door", "rear-quarter")),
                role=draw.choice(("blend", "repair")),
                length=draw.randint(1000, 1200),
                colour=draw.randint(120, 200),
                fade=draw.randint(250, 400),
            )
            for place in range(3)
        )
        jobs.append(_JOB.format(number=number, flake=flake, panels=panels).encode())
    return jobs


def cpu_ms(work: Callable[[], object]) -> float:
    """Return the milliseconds of processor time of a call."""
    start = time.process_time()
    work()
    return (time.process_time() - start) * 1e3


def main() -> None:
    """Print the times, the best of some rounds each."""
    gc.set_threshold(GARBAGE_LOOKED_FOR_EVERY, 20, 20)  # as the command does
    house, jobs = load_house(), some_jobs(JOBS)

    def replay() -> None:
        for raw in jobs:
            job = job_of_text(raw, "job.toml", house)
            advise(job, house)
            advise(job, house)

    replay()
    each = min(cpu_ms(replay) for _ in range(ROUNDS)) / JOBS
    read = [job_of_text(raw, "job.toml", house) for raw in jobs]
    spots = {id(job): len(advise(job, house).spots) for job in read}
    near = min(read, key=lambda job: abs(spots[id(job)] - 40))
    warm = min(cpu_ms(lambda: advise(near, house)) for _ in range(100))
    loop = min(cpu_ms(lambda: sum(range(1_000_000))) for _ in range(20))
    print(f"sum(range(1_000_000)), the yardstick       {loop:6.1f} ms")
    print(f"one job of 3 panels read, advised on twice {each:6.1f} ms {each / loop:6.2f} ×, aim 4 ms")
    of_spots = f"one advice on {spots[id(near)]} spots, warm"
    print(f"{of_spots:42} {warm:6.1f} ms {warm / loop:6.2f} ×, aim 10 ms")


if __name__ == "__main__":
    main()
