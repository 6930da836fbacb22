"""What a key costs on a job of 2,000 places: python tests/benchmarks/bench_places.py.

Sixty panels with 32 lines and a face each, all made up. Time of the processor from a key to when nothing is
left to do, painting and keeping included, the median of ten; the goal of the handler alone is 30 ms.
"""

import asyncio
import os
import tempfile
import time
from collections.abc import Awaitable, Callable
from itertools import cycle
from pathlib import Path
from statistics import median

from prepadvisor.files import load_house, new_text
from prepadvisor.records import Feature
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, add_panel, revised, with_colour
from prepadvisor.tui.screens.view import View

PANELS, LINES = 60, 32
_KINDS = ("edge", "body-line", "recess")
_TIMES = 10


def many_places(house: House) -> OpenJob:
    """Return a job of so many panels of all kinds, each with so many lines across its zones."""
    job = with_colour(OpenJob.new("many"), flake="very-fine", stages=2, tone="light")
    for _, outline in zip(range(PANELS), cycle(house.outlines.values()), strict=False):
        job, _ = add_panel(job, outline, "blend", "front")
    lines = [
        Feature.model_validate(
            {
                "id": f"L{at}",
                "kind": _KINDS[at % 3],
                "path": [[0.0, (at + 1) / (LINES + 2)], [1.0, (at + 1) / (LINES + 2)]],
                "reach": ("machine", "hand")[at % 2],
            }
        )
        for at in range(LINES)
    ]
    return revised(job, {"panel": tuple(revised(panel, {"feature": tuple(lines)}) for panel in job.panel)})


async def usual_ms(do: Callable[[int], Awaitable[None]]) -> float:
    """Return the median milliseconds of the processor's time that something took, warm."""
    took = []
    for at in range(_TIMES + 2):
        start = time.thread_time()
        await do(at)
        took.append(time.thread_time() - start)
    return median(took[2:]) * 1000


async def measured(desk: Desk, view: str) -> None:
    """Print what an arrow and a border cost in a view, and going there and back."""
    session = desk.session
    assert session is not None
    session.view = view
    app = BenchApp(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()

        async def arrow(_: int) -> None:
            await pilot.press("down")

        async def border(at: int) -> None:
            here = session.job.panel[at % PANELS]
            wider = revised(here, {"colour_mm": (here.colour_mm or 100.0) + 1})
            panels = tuple(wider if panel is here else panel for panel in session.job.panel)
            app._edited(View.Edited("border", lambda job: revised(job, {"panel": panels})))
            await pilot.pause()

        async def go(_: int) -> None:
            await app.action_go("colour")
            await pilot.pause()
            await app.action_go(view)
            await pilot.pause()

        pairs = [("arrow", arrow), ("edit", border)]
        told = [f"{name} {await usual_ms(do):6.1f} ms" for name, do in pairs]
        print(f"{view:<10} {', '.join(told)}, there and back {await usual_ms(go):6.1f} ms")


def main() -> None:
    """Measure every view."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["PREPADVISOR_STATE"] = folder
        path, house = Path(folder) / "many.toml", load_house()
        path.write_text(new_text(many_places(house)), encoding="utf-8")
        for view in ("panels", "lines", "answer", "check-off", "card"):
            desk = Desk(house, Path(folder))
            desk.open(path)
            asyncio.run(measured(desk, view))
            desk.close()


if __name__ == "__main__":
    main()
