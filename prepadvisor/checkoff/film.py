"""Film as a ledger: what the plan takes off a place plus every pass beyond it, logged or yet to be done.

The first pass of each task takes what the plan says. Each further pass takes off the depth of the
scratches that it finds, those of the pass before it. Once that is more than may come off, or leaves less
than must stay, nothing more is cut there until the lead has said so. It never changes what is planned.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.checkoff.bench import admits
from prepadvisor.named import NamedTuple
from prepadvisor.records import DS50_UM, STEP_OF, PanelAdvice, Spot, Step, Task, Tool

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Grade


class Ledger(NamedTuple):
    """What comes off a place.

    Attributes:
        off_um: planned and logged together.
        off_max_um: the most that may, None where film is not counted.
        over: the pass that went over it, None where none did.
        passes: cuts logged beyond the plan.
        used: ids of the tasks whose own pass was made.
        below_um: depth of the scratches that the next pass finds, None where nothing was cut yet.
    """

    off_um: float
    off_max_um: float | None
    over: "Entry | None" = None
    passes: int = 0
    used: frozenset[str] = frozenset()
    below_um: float | None = None

    @property
    def is_over(self) -> bool:
        """Whether more comes off than may."""
        return self.off_max_um is not None and self.off_um > self.off_max_um + 1e-9


def budget(spots: Sequence[Spot], panel: PanelAdvice | None) -> float | None:
    """Return the most film in µm that may come off a place: the rules', or what the lowest reading leaves."""
    limits = [limit for spot in spots if (limit := _lowest(spot, "film_off_max_um")) is not None]
    if not limits:
        return None
    most = min(limits)
    least = [left for spot in spots if (left := _highest(spot, "film_left_min_um")) is not None]
    reading = panel.film.reading_um if panel is not None else None
    if reading is not None and least:
        most = min(most, reading - max(least))
    return most


def ledger(
    entries: Sequence["Entry"], chain: Sequence[Task], off_max_um: float | None, floor: "ShopFloor"
) -> Ledger:
    """Add up what comes off a place.

    Args:
        entries: what was logged there, in the order of the file.
        chain: the tasks of the place.
        off_max_um: the most that may come off.
        floor: the shop, for the depth of its tools' scratches.
    """
    counted = off_max_um is not None and any(task.film_off_um is not None for task in chain)
    film = Ledger(sum(task.film_off_um or 0.0 for task in chain), off_max_um if counted else None)
    if not counted:
        return film
    for entry in entries:
        check = entry.check
        if check.step in {"scuffed", "sanded"}:
            before = film.passes
            film = spend(film, (check.step, check.tool, check.grade), chain, floor)
            if film.over is None and film.passes > before and film.is_over:
                film = film._replace(over=entry)
    return film


def spend(
    film: Ledger,
    cut: tuple[Step, Tool | None, "Grade | None"],
    chain: Sequence[Task],
    floor: "ShopFloor",
) -> Ledger:
    """Return the ledger after one more pass.

    Args:
        film: what came off up to it.
        cut: the step that it is logged as, its tool and its grade.
        chain: the tasks of the place.
        floor: the shop, for the depth of its tools' scratches.
    """
    step, tool, grade = cut
    below = _depth_um(tool, grade, floor)
    own = [task for task in chain if STEP_OF.get(task.do) == step]
    task = next((each for each in own if each.id not in film.used and admits(each, grade)), None)
    if task is not None:
        return film._replace(used=film.used | {task.id}, below_um=below)
    if film.below_um is None:
        return film._replace(below_um=below)
    return film._replace(off_um=film.off_um + film.below_um, passes=film.passes + 1, below_um=below)


def _depth_um(tool: Tool | None, grade: "Grade | None", floor: "ShopFloor") -> float:
    """Return the depth of the scratches that a cut leaves; what is not recorded counts as none."""
    if tool is None or grade is None:
        return 0.0
    return floor.constants.groove.depth_per_grain[tool].value * DS50_UM[grade]


def _values(spot: Spot, output: str) -> list[float]:
    return [
        float(each.value)
        for each in spot.because
        if each.output == output and isinstance(each.value, int | float)
    ]


def _lowest(spot: Spot, output: str) -> float | None:
    return min(_values(spot, output), default=None)


def _highest(spot: Spot, output: str) -> float | None:
    return max(_values(spot, output), default=None)
