"""Film as a ledger: what the plan takes off a place plus every pass that was logged beyond it.

The first pass of each task takes what the plan says. Each further pass takes off the depth of the
scratches that it finds, those of the pass before it. Once that is more than may come off, or leaves less
than must stay, nothing more is cut there until the lead has said so. It never changes what is planned.
"""

from collections.abc import Sequence

from prepadvisor.checkoff.floor import ShopFloor
from prepadvisor.checkoff.limits import admits
from prepadvisor.checkoff.spoken import STEP_OF
from prepadvisor.logbook import Entry
from prepadvisor.named import NamedTuple
from prepadvisor.records.advice import PanelAdvice, Spot
from prepadvisor.records.work import Task
from prepadvisor.surface.grades import DS50_UM


class Ledger(NamedTuple):
    """What comes off a place.

    Attributes:
        off_um: planned and logged together.
        off_max_um: the most that may, None where film is not counted.
        over: the pass that went over it, None where none did.
        passes: cuts logged beyond the plan.
    """

    off_um: float
    off_max_um: float | None
    over: Entry | None
    passes: int

    def has_room(self, more_um: float) -> bool:
        """Say whether one more pass may be cut."""
        return self.off_max_um is None or self.off_um + more_um <= self.off_max_um + 1e-9


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
    entries: Sequence[Entry], chain: Sequence[Task], off_max_um: float | None, floor: ShopFloor
) -> Ledger:
    """Add up what comes off a place.

    Args:
        entries: what was logged there, in the order of the file.
        chain: the tasks of the place.
        off_max_um: the most that may come off.
        floor: the shop, for the depth of its tools' scratches.
    """
    counted = off_max_um is not None and any(task.film_off_um is not None for task in chain)
    total = sum(task.film_off_um or 0.0 for task in chain)
    if not counted:
        return Ledger(total, None, None, 0)
    used: set[str] = set()
    before: Entry | None = None
    over: Entry | None = None
    passes = 0
    for entry in entries:
        if entry.check.step not in {"scuffed", "sanded"}:
            continue
        own = [task for task in chain if STEP_OF.get(task.do) == entry.check.step]
        task = next((each for each in own if each.id not in used and admits(each, entry.check.grade)), None)
        if task is not None:
            used.add(task.id)
        elif before is not None:
            total += depth_um(before, floor)
            passes += 1
            if over is None and off_max_um is not None and total > off_max_um + 1e-9:
                over = entry
        before = entry
    return Ledger(total, off_max_um, over, passes)


def depth_um(entry: Entry, floor: ShopFloor) -> float:
    """Return the depth in µm of the scratches that a logged cut left; what is not recorded counts as none."""
    check = entry.check
    if check.tool is None or check.grade is None:
        return 0.0
    return floor.constants.groove.depth_per_grain[check.tool].value * DS50_UM[check.grade]


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
