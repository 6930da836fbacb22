"""The gate read plainly: which tasks of a stage a log of one writer leaves done, open or held.

Nothing of the check-off is used. One writer knows all that he wrote, so the order of the log is all there is;
tools that cut deeper than the one asked for are left to other tests.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, NamedTuple

from prepadvisor.records import Advice, Check, Task
from tests.recompute.house import GRAIN, finer

STEP: Final = {
    "clean": "cleaned", "scuff": "scuffed", "powder": "guide-coated", "sand": "sanded", "look": "inspected",
    "wipe": "wiped",
}  # fmt: skip
CUTS: Final = ("scuff", "sand")
WORK: Final = ("scuffed", "guide-coated", "sanded")
SOFT: Final = ("da", "da-soft")
HAND: Final = ("hand-paper", "hand-pad", "hand-foam")

Entry = tuple[int, Check]


class PlainPlace:
    """One place: its tasks but the look, in order, and what was logged there."""

    def __init__(self, chain: Sequence[Task], ratio: float) -> None:
        """Begin with nothing done."""
        self.chain, self.ratio = chain, ratio
        self.done: dict[str, int] = {}
        self.held: dict[str, str] = {}
        self.first: dict[str, int] = {}
        self.rough: str | None = None

    def ahead(self, task: Task) -> list[Task]:
        """Return the tasks here that a task must follow at once."""
        return [each for each in self.chain if each.id in task.after]

    def behind(self, task: Task) -> list[Task]:
        """Return the tasks here that follow a task at once or later."""
        found: list[Task] = []
        for each in self.chain:
            if any(other.id in each.after for other in (task, *found)):
                found.append(each)
        return found

    def due(self, task: Task) -> bool:
        """Say whether it is a task's turn."""
        return task.id not in self.done and all(each.id in self.done for each in self.ahead(task))

    def undo(self, task: Task, *, itself: bool) -> None:
        """Take a task's followers back, and the task itself if asked."""
        for each in (*([task] if itself else []), *self.behind(task)):
            self.done.pop(each.id, None)
            self.held.pop(each.id, None)

    def hold(self, task: Task, why: str) -> None:
        """Let a task be held by what was logged for it."""
        self.undo(task, itself=True)
        self.held[task.id] = why

    def do(self, task: Task, number: int) -> None:
        """Count an entry for a task if it is not too early."""
        if not all(each.id in self.done for each in self.ahead(task)):
            self.hold(task, "too-early")
            return
        self.undo(task, itself=True)
        self.done[task.id] = number
        self.first.setdefault(task.id, number)

    def take(self, number: int, check: Check) -> None:
        """Take an entry of work in."""
        fits = [task for task in self.chain if STEP[task.do] == check.step]
        cuts = [task for task in self.chain if task.do in CUTS]
        if check.step == "guide-coated":
            left = [task for task in fits if task.id not in self.done]
            turn = [task for task in left if self.due(task)]
            if left:
                self.do((turn or left)[0], number)
            elif cuts:
                self.undo(cuts[-1], itself=True)
        elif not fits:
            if cuts:
                self.hold(cuts[-1], "not-asked")
        else:
            self._cut(number, check, fits)

    def _cut(self, number: int, check: Check, fits: Sequence[Task]) -> None:
        grade = str(check.grade) if check.grade else None
        task = self._meant(grade, fits)
        if task is None:
            for each in fits:
                if grade and coarser(grade, each):
                    self.undo(each, itself=True)
        elif check.tool is None or grade is None:
            self.hold(task, "not-recorded")
        elif not tool_fits(str(check.tool), task):
            self.hold(task, "wrong-tool")
        elif coarser(grade, task):
            near = self.rough and GRAIN[grade] >= self.ratio * GRAIN[self.rough] - 1e-9
            if self.rough is None or not finer(grade, self.rough) or near:
                self.rough = grade
            for each in fits:
                if each is not task:
                    self.undo(each, itself=True)
            self.hold(task, "cut-too-coarse")
        elif task.range and finer(grade, task.range[1]):
            self.hold(task, "cut-too-fine")
        elif self.rough and GRAIN[grade] < self.ratio * GRAIN[self.rough] - 1e-9:
            self.hold(task, "still-coarse")
        else:
            self.rough = None
            self.do(task, number)

    def _meant(self, grade: str | None, fits: Sequence[Task]) -> Task | None:
        """Return the task an entry is for: its turn, then not done, then done; its own grade first."""
        if grade is None:
            return next((task for task in fits if task.id not in self.done), fits[-1])
        taking = [task for task in fits if takes(task, grade)]
        if taking:

            def order(task: Task) -> tuple[int, bool, int]:
                at = fits.index(task)
                sort = 0 if self.due(task) else 1 if task.id not in self.done else 2
                return sort, task.grade != grade, -at if sort == 2 else at

            return min(taking, key=order)
        too_coarse = [coarser(grade, task) for task in fits]
        return fits[0] if all(too_coarse) else fits[-1] if not any(too_coarse) else None


def coarser(grade: str, task: Task) -> bool:
    """Say whether a grade is coarser than all that a task takes."""
    return task.range is not None and finer(task.range[0], grade)


def takes(task: Task, grade: str) -> bool:
    """Say whether a grade lies in the range of a task."""
    return not coarser(grade, task) and not (task.range and finer(grade, task.range[1]))


def tool_fits(tool: str, task: Task) -> bool:
    """Say whether a tool may do a task: the block its own, the hand by hand, a sander with a soft pad."""
    if task.tool is None or tool == task.tool:
        return True
    if task.do == "sand" and task.tool == "block":
        return False
    return tool in HAND if task.do == "scuff" or task.tool in HAND else tool in SOFT


class Standing(NamedTuple):
    """How a task stands, and the kinds of what holds it."""

    state: str
    holds: tuple[str, ...] = ()


DONE: Final = Standing("done")


def standings(
    advice: Advice, log: Sequence[Check], hours: float, shop: tuple[float, float]
) -> dict[str, Standing]:
    """Return how each task of the stage that is worked stands.

    Args:
        advice: the plan.
        log: the entries, in the order they were written by one person.
        hours: since the last of them; between two lies a minute.
        shop: hours that a wipe and a look count.
    """
    stage = advice.work.stages[0].id
    tasks = [task for task in advice.work.tasks if task.stage == stage]
    by_id = {task.id: task for task in tasks}
    entries = list(enumerate(log, 1))
    places: dict[str, PlainPlace] = {}
    for name in dict.fromkeys(task.place for task in tasks if "/" in task.place):
        chain = [task for task in tasks if task.place == name and task.do in (*CUTS, "powder")]
        place = places[name] = PlainPlace(chain, max(ruled(advice, name, "step_ratio_min"), default=0.6))
        for number, check in at(entries, name, WORK):
            place.take(number, check)
    first = {task: number for place in places.values() for task, number in place.first.items()}
    for task in tasks:
        own = at(entries, task.place, (STEP[task.do],)) if task.do in ("clean", "wipe", "look") else []
        if own:
            first[task.id] = own[0][0]

    def early(task: Task, number: int) -> bool:
        others = [by_id[each] for each in task.after if each in by_id and by_id[each].place != task.place]
        return any(first.get(other.id, number) >= number for other in others if other.owed)

    found: dict[str, Standing] = {}
    for task in tasks:
        if task.do in (*CUTS, "powder"):
            place = places[task.place]
            entry = place.done.get(task.id)
            why = place.held.get(task.id) or ("too-early" if entry and early(task, entry) else "")
            if why:
                found[task.id] = Standing("held", (why,))
            else:
                found[task.id] = DONE if entry else Standing("open", ("not-done",))
        elif task.do == "clean":
            found[task.id] = DONE if task.id in first else Standing("open", ("not-done",))
        elif task.do == "wipe":
            found[task.id] = wiped(task, entries, hours, shop[0])
        elif task.do == "look":
            beside = {(by_id[each].place, STEP[by_id[each].do]) for each in task.after if each in by_id}
            beside = {(place, step) for place, step in beside if "/" in place and step != "inspected"}
            look, found[task.id] = looked(task, entries, beside, hours, shop[1])
            if found[task.id] == DONE and early(task, look):
                found[task.id] = Standing("held", ("too-early",))
    return found


def ruled(advice: Advice, place: str, output: str) -> list[float]:
    """Return the numbers that the rules say of an output at the spots of a place."""
    own = {name for each in advice.places if each.id == place for name in each.spots}
    because = [reason for spot in advice.spots if spot.id in own for reason in spot.because]
    return [float(reason.value) for reason in because if reason.output == output]


def spent(advice: Advice, log: Sequence[Check], place: str, depths: Mapping[str, float]) -> bool:
    """Say whether passes beyond the plan cut more film at a place than may come off.

    Each takes off the scratches of the pass before it.
    """
    stage = advice.work.stages[0].id
    chain = [task for task in advice.work.tasks if (task.place, task.stage) == (place, stage)]
    most = min(ruled(advice, place, "film_off_max_um"), default=None)
    if most is None or all(task.film_off_um is None for task in chain):
        return False
    left = max(ruled(advice, place, "film_left_min_um"), default=None)
    panel = next(panel for panel in advice.panels if panel.id == place.partition("/")[0])
    if left is not None and panel.film.reading_um is not None:
        most = min(most, panel.film.reading_um - left)
    total, before = sum(task.film_off_um or 0.0 for task in chain), 0.0
    free, extra, any_before = list(chain), False, False
    for _, check in at(list(enumerate(log)), place, ("scuffed", "sanded")):
        grade = str(check.grade) if check.grade else ""
        own = [task for task in free if STEP[task.do] == check.step and grade and takes(task, grade)]
        if own:
            free.remove(own[0])
        elif any_before:
            total, extra = total + before, True
            if total > most + 1e-9:
                return True
        any_before = True
        before = depths[str(check.tool)] * GRAIN[grade] if check.tool and grade else 0.0
    return extra and total > most + 1e-9


def at(entries: Iterable[Entry], place: str, steps: Sequence[str]) -> list[Entry]:
    """Return the entries of some steps at a place or panel."""
    panel, _, feature = place.partition("/")
    return [
        (number, check) for number, check in entries
        if (check.panel, check.feature) == (panel, feature or "panel") and check.step in steps
    ]  # fmt: skip


def wiped(task: Task, entries: Sequence[Entry], hours: float, most: float) -> Standing:
    """Say how the wipe stands: nothing may be done, cleaned or looked at after it, and it may not be old."""
    wipes = [number for number, check in entries if (check.panel, check.step) == (task.place, "wiped")]
    touched = [
        number for number, check in entries
        if check.panel == task.place and check.step in (*WORK, "cleaned", "inspected", "primed")
    ]  # fmt: skip
    if not wipes:
        return Standing("open", ("not-done",))
    if wipes[-1] < max(touched, default=0):
        return Standing("open", ("wiped-before",))
    return Standing("held", ("wipe-old",)) if hours + (len(entries) - wipes[-1]) / 60 > most else DONE


def looked(
    task: Task, entries: Sequence[Entry], beside: set[tuple[str, str]], hours: float, most: float
) -> tuple[int, Standing]:
    """Return the look that counts and how it stands: clear, after all work, nothing found left."""
    looks = at(entries, task.place, ("inspected",))
    work = [number for number, _ in at(entries, task.place, WORK)]
    around = [number for place, step in beside for number, _ in at(entries, place, (step,))]
    clear = [number for number, check in looks if check.result == "clear"]
    kinds = []
    for number, check in looks:
        mended = [each for each in work if each > number]
        again = [each for each in clear if mended and each > mended[0]]
        if check.result == "cut-through":
            kinds.append("rubbed-through")
        elif check.result != "clear" and not again:
            kinds.append("saw-something")
    if kinds:
        return 0, Standing("held", tuple(kinds))
    if not looks:
        return 0, Standing("open", ("not-looked",))
    if clear[-1] < max((*work, *around), default=0):
        return 0, Standing("open", ("looked-before",))
    old = hours + (len(entries) - clear[-1]) / 60 > most
    return clear[-1], Standing("held", ("look-old",)) if old else DONE
