"""Film as a ledger: what the plan takes off a place plus every pass beyond it, logged or yet to be done.

The first pass of each task takes what the plan says. Each further pass takes off the depth of the
scratches that it finds, those of the pass before it. Once that is more than may come off, or leaves less
than must stay, nothing more is cut there until the lead has said so. It never changes what is planned.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.records import DS50_UM, Do, NamedTuple, OutputName, PanelAdvice, Spot, Task, Tool, admits

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Ask, Constants, Grade

CUTS: frozenset[Do] = frozenset({"scuff", "sand"})
"""What takes film off."""


class Ledger(NamedTuple):
    """What comes off a place.

    Attributes:
        off_um: planned and logged together.
        off_max_um: the most that may, None where film is not counted.
        over: the logged pass that went over it, None where none did.
        passes: cuts beyond the plan.
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


class Overrun(NamedTuple):
    """Passes that would take off more than may come off: film in µm, and the grade that goes over it."""

    off_um: float
    off_max_um: float
    grade: "Grade | None"


def budget(spots: Sequence[Spot], panel: PanelAdvice | None) -> float | None:
    """Return the most film in µm that may come off a place: the rules', or what the lowest reading leaves."""
    limits = _values(spots, "film_off_max_um")
    if not limits:
        return None
    most = min(limits)
    least = _values(spots, "film_left_min_um")
    reading = panel.film.reading_um if panel is not None else None
    return min(most, reading - max(least)) if reading is not None and least else most


def once_worked(
    chain: Sequence[Task], spots: Sequence[Spot], panel: PanelAdvice, constants: "Constants"
) -> Ledger:
    """Return the ledger of a place once all that is planned there is done, and nothing else."""
    return once_planned(planned(chain, budget(spots, panel)), chain, constants)


def planned(chain: Sequence[Task], off_max_um: float | None) -> Ledger:
    """Return what the plan takes off a place, before any pass is made.

    Args:
        chain: the tasks of the place.
        off_max_um: the most that may come off.
    """
    counted = any(task.film_off_um is not None for task in chain)
    return Ledger(cut_um(chain), off_max_um if counted else None)


def cut_um(chain: Sequence[Task]) -> float:
    """Return the film in µm that tasks of a place take off at any one point.

    Of the parts of a split pass, which lie side by side, that is one: the most along what follows what.
    """
    upto: dict[str, float] = {}
    for task in chain:
        before = max((upto[each] for each in task.after if each in upto), default=0.0)
        upto[task.id] = before + (task.film_off_um or 0.0)
    return max(upto.values(), default=0.0)


def spend(
    film: Ledger,
    cut: tuple[Do, Tool | None, "Grade | None"],
    chain: Sequence[Task],
    constants: "Constants",
) -> Ledger:
    """Return the ledger after one more pass.

    Args:
        film: what came off up to it.
        cut: what is done, its tool and its grade.
        chain: the tasks of the place.
        constants: the numbers in force, for the depth of a tool's scratches.
    """
    do, tool, grade = cut
    below = _depth_um(tool, grade, constants)
    own = [each for each in chain if each.do == do and each.id not in film.used]
    task = next((each for each in own if admits(each, grade)), None)
    if task is not None:
        return film._replace(used=film.used | {task.id}, below_um=below)
    if film.below_um is None:
        return film._replace(below_um=below)
    return film._replace(off_um=film.off_um + film.below_um, passes=film.passes + 1, below_um=below)


def once_planned(film: Ledger, chain: Sequence[Task], constants: "Constants") -> Ledger:
    """Return the ledger once every pass of the plan is made."""
    for task in chain:
        if task.do in CUTS and task.id not in film.used:
            below = _depth_um(task.tool, task.grade, constants)
            film = film._replace(used=film.used | {task.id}, below_um=below)
    return film


def overrun(
    film: Ledger, asks: Sequence["Ask"], chain: Sequence[Task], constants: "Constants"
) -> Overrun | None:
    """Return how passes would take off more than may come off, None where they would not."""
    cuts = [each for each in asks if each.do in CUTS]
    if not cuts:
        return None
    gone = film.over is not None
    grade = film.over.check.grade if film.over is not None else None
    for each in cuts:
        before, film = film, spend(film, (each.do, each.tool, each.grade), chain, constants)
        if not gone and film.passes > before.passes and film.is_over:
            gone, grade = True, each.grade
    return Overrun(film.off_um, film.off_max_um or 0.0, grade) if gone else None


def _depth_um(tool: Tool | None, grade: "Grade | None", constants: "Constants") -> float:
    """Return the depth of the scratches that a cut leaves; what is not recorded counts as none."""
    if tool is None or grade is None:
        return 0.0
    return constants.groove.depth_per_grain[tool].value * DS50_UM[grade]


def _values(spots: Sequence[Spot], output: OutputName) -> list[float]:
    return [
        float(each.value)
        for spot in spots
        for each in spot.because
        if each.output == output and isinstance(each.value, int | float)
    ]
