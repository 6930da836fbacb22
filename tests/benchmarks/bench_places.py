"""What a key costs on a job of 2,000 places: python tests/benchmarks/bench_places.py.

Sixty panels with 32 lines and a face each, all made up. Time of the processor in the handler of what a key
asks for, and until nothing is left to do, painting and keeping included, the medians of ten; the goal of the
handler is 30 ms.
"""

import asyncio
import os
import tempfile
import time
from collections.abc import Awaitable, Callable
from functools import partial
from itertools import cycle
from pathlib import Path
from statistics import median

from textual.pilot import Pilot

from prepadvisor.checkoff import Wanted
from prepadvisor.files import load_house, new_text
from prepadvisor.records import Feature
from prepadvisor.standards import House
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import OpenJob, add_panel, logging, revised, with_colour
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


async def usual_ms(
    pilot: Pilot[None], do: Callable[[int], Awaitable[None]], times: int
) -> tuple[float, float]:
    """Return the median milliseconds of the processor's time in a handler, and until all is done, warm."""
    handled, whole = [], []
    for at in range(times + 2):
        start = time.thread_time()
        await do(at)
        handled.append(time.thread_time() - start)
        await pilot.pause()
        whole.append(time.thread_time() - start)
    return median(handled[2:]) * 1000, median(whole[2:]) * 1000


async def measured(desk: Desk, view: str) -> None:
    """Print what an arrow, an entry, a border and a colour cost in a view, and coming back after an edit."""
    session = desk.session
    assert session is not None
    session.view = view
    app = BenchApp(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()

        async def arrow(_: int) -> None:
            await pilot.press("down")

        async def entry(at: int) -> None:
            wanted = [Wanted(f"{session.job.panel[at].id}/panel", "cleaned", "K. M.")]
            app._edited(View.Edited("entry", lambda job: logging(session, wanted)(job)))

        async def border(at: int) -> None:
            here = session.job.panel[at % PANELS]
            wider = revised(here, {"colour_mm": (here.colour_mm or 100.0) + 1})
            panels = tuple(wider if panel is here else panel for panel in session.job.panel)
            app._edited(View.Edited("border", lambda job: revised(job, {"panel": panels})))

        async def colour(at: int) -> None:
            flake = ("fine", "medium", "coarse", "very-fine")[at % 4]
            app._edited(View.Edited("colour", partial(with_colour, flake=flake)))

        async def back(_: int) -> None:
            await app.action_go(view)

        pairs = [("arrow", arrow, _TIMES), ("entry", entry, _TIMES), ("border", border, _TIMES)]
        for name, do, times in [*pairs, ("colour", colour, 4)]:
            handled, whole = await usual_ms(pilot, do, times)
            print(f"{view:<10} {name:<7} handler {handled:6.1f} ms, all {whole:7.1f} ms")
        took = []
        for at in range(3):
            await app.action_go("colour")
            await border(at)
            await pilot.pause()
            start = time.thread_time()
            await back(at)
            took.append(time.thread_time() - start)
            await pilot.pause()
        print(f"{view:<10} opened after an edit: handler {median(took) * 1000:6.1f} ms")


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
