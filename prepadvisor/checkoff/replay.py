"""Replays the work at one place, entry by entry, against the tasks that the plan has there.

Each entry does the task of its step whose range takes its grade, if what that task must follow is done
and was known. What is done again undoes what comes after it. A cut coarser than the plan starts with
stays until passes that are each near enough to the one before have taken it out.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from prepadvisor.checkoff.bench import JudgedBy, wrong
from prepadvisor.records import DS50_UM, STEP_OF, Task, admits, is_finer, too_coarse
from prepadvisor.records.gate import (
    CutTooCoarse,
    CutTooFine,
    DatedAhead,
    HoldFact,
    NotAsked,
    NotDone,
    Said,
    StillCoarse,
    TooEarly,
    Unordered,
)

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Grade


def said(entry: "Entry") -> Said:
    """Return an entry as facts name it."""
    return Said(entry.number, entry.check)


class Replay:
    """The work at a place as the log leaves it.

    Attributes:
        chain: its tasks but the look, in order.
        done: the entry that does each task that is done, by task id.
        first: the first entry that ever did it, whether undone since or not.
        wrong: why an entry for a task does not count, by task id.
        undone: the entry that undid a task.
    """

    def __init__(self, chain: Sequence[Task], ground: JudgedBy, accepted: Iterable[int] = ()) -> None:
        """Begin with nothing done.

        Args:
            chain: the tasks of the place but its look, in order.
            ground: what its grades are judged by.
            accepted: numbers of entries that the lead accepted as they are.
        """
        self.chain = tuple(chain)
        self.ground = ground
        self.done: dict[str, Entry] = {}
        self.first: dict[str, Entry] = {}
        self.wrong: dict[str, tuple[Entry, HoldFact]] = {}
        self.undone: dict[str, Entry] = {}
        self._accepted = frozenset(accepted)
        self._after = _descendants(self.chain)
        own = {task.id for task in self.chain}
        self._before = {task.id: [each for each in task.after if each in own] for task in self.chain}
        self._last = {
            name
            for name, later in self._after.items()
            if not any(each.do in {"scuff", "sand"} for each in later)
        }
        self._coarse: Entry | None = None
        self._coarse_grade: Grade | None = None

    def enter(self, entries: Iterable["Entry"]) -> None:
        """Take entries in, in the order of the file."""
        for entry in entries:
            step = entry.check.step
            fits = [task for task in self.chain if STEP_OF.get(task.do) == step]
            if entry.ahead:
                self._ahead(entry, fits)
            elif step == "guide-coated":
                self._powder(entry, fits)
            elif not fits:
                self._foreign(entry)
            else:
                self._cut(entry, fits)

    def fact(self, task: Task) -> HoldFact | None:
        """Return why a task is not done, None where it is."""
        if task.id in self.wrong:
            return self.wrong[task.id][1]
        if task.id in self.done:
            return None
        undone = self.undone.get(task.id)
        return NotDone(task.do, task.tool, task.grade, said(undone) if undone else None)

    def is_last_touch(self, task: Task) -> bool:
        """Say whether no other cut follows a task at its place."""
        return task.id in self._last

    def entry(self, task: Task) -> "Entry | None":
        """Return the entry that speaks for a task, whether it counts or not."""
        if task.id in self.wrong:
            return self.wrong[task.id][0]
        return self.done.get(task.id)

    def _ahead(self, entry: "Entry", fits: Sequence[Task]) -> None:
        open_ones = [task for task in fits if task.id not in self.done]
        for task in open_ones[:1] or fits[-1:]:
            self._refuse(task, entry, DatedAhead(said(entry)))

    def _powder(self, entry: "Entry", fits: Sequence[Task]) -> None:
        for task in fits:
            if task.id not in self.done and all(each in self.done for each in self._before[task.id]):
                self._try(task, entry)
                return
        early = [task for task in fits if task.id not in self.done]
        if early:
            self._try(early[0], entry)
            return
        cuts = [task for task in self.chain if task.do in {"sand", "scuff"}]
        if cuts:  # powder over finished work is sanded out once more
            self._undo([cuts[-1]], entry)

    def _foreign(self, entry: "Entry") -> None:
        """Take work in that this place has no task for: its last cut is owed again."""
        cuts = [task for task in self.chain if task.do in {"sand", "scuff"}]
        if cuts:
            self._refuse(cuts[-1], entry, NotAsked(said(entry)))

    def _cut(self, entry: "Entry", fits: Sequence[Task]) -> None:
        task = self._choose(entry, fits)
        if task is None:
            self._between(entry, fits)
            return
        fact = wrong(said(entry), task, self.ground, last_touch=self.is_last_touch(task))
        if entry.number in self._accepted:
            fact = None  # as it is; what it ran over is accepted by its own entry
        if isinstance(fact, CutTooCoarse):
            self._rough(entry)
            self._undo([each for each in fits if each is not task], entry)
        elif fact is None:
            fact = self._cut_out(entry, task)
        if fact is not None:
            self._refuse(task, entry, fact)
            return
        self._try(task, entry)

    def _choose(self, entry: "Entry", fits: Sequence[Task]) -> Task | None:
        """Return the task that an entry is for; None for an extra pass between two of them.

        Of tasks that take its grade: one not done whose turn it is, one not done, the last. A split place has
        two tasks side by side; the grade as planned goes first.
        """
        grade = entry.check.grade
        taking = [task for task in fits if admits(task, grade)]
        for each in (
            [task for task in taking if self._due(task) and task.grade == grade],
            [task for task in taking if self._due(task)],
            [task for task in taking if task.id not in self.done and task.grade == grade],
            [task for task in taking if task.id not in self.done],
            [task for task in reversed(taking) if task.grade == grade],
            list(reversed(taking)),
        ):
            if each:
                return each[0]
        if grade is None:
            return next((task for task in fits if task.id not in self.done), fits[-1])
        if all(too_coarse(grade, task) for task in fits):
            return fits[0]
        if all(not too_coarse(grade, task) for task in fits):
            return fits[-1]
        return None

    def _due(self, task: Task) -> bool:
        return task.id not in self.done and all(each in self.done for each in self._before[task.id])

    def _between(self, entry: "Entry", fits: Sequence[Task]) -> None:
        """Take an extra pass in: what is finer than it has to follow it again."""
        finer = [task for task in fits if entry.check.grade and too_coarse(entry.check.grade, task)]
        self._undo(finer, entry)

    def _rough(self, entry: "Entry") -> None:
        grade, coarse = entry.check.grade, self._coarse_grade
        if grade is None:
            return
        is_coarser = coarse is None or not is_finer(grade, coarse)
        if is_coarser or (coarse and DS50_UM[grade] >= self.ground.ratio * DS50_UM[coarse] - 1e-9):
            self._coarse, self._coarse_grade = entry, grade

    def _cut_out(self, entry: "Entry", task: Task) -> HoldFact | None:
        """Take a coarse cut out by a pass near enough to it; return what is wrong with one too far."""
        if self._coarse is None or self._coarse_grade is None or entry.check.grade is None:
            return None
        grain, least = DS50_UM[entry.check.grade], self.ground.ratio * DS50_UM[self._coarse_grade]
        if grain < least - 1e-9:
            return StillCoarse(said(entry), said(self._coarse))
        self._coarse_grade = entry.check.grade
        if not too_coarse(self._coarse_grade, task):
            self._coarse = self._coarse_grade = None
        return None

    def _try(self, task: Task, entry: "Entry") -> None:
        """Count an entry for a task if what it must follow is done and was known."""
        lacking = [each for each in self._before[task.id] if each not in self.done]
        if lacking:
            first = next(each for each in self.chain if each.id == lacking[0])
            self._refuse(task, entry, TooEarly(said(entry), first.do, first.place, None))
            return
        for each in self._before[task.id]:
            if not entry.knew(self.done[each]):
                self._refuse(task, entry, Unordered(said(entry), said(self.done[each])))
                return
        self._undo(self._after[task.id], entry)
        self.wrong.pop(task.id, None)
        self.undone.pop(task.id, None)
        self.done[task.id] = entry
        self.first.setdefault(task.id, entry)

    def _refuse(self, task: Task, entry: "Entry", fact: HoldFact) -> None:
        self._undo(self._after[task.id], entry)
        self.done.pop(task.id, None)
        self.wrong[task.id] = (entry, fact)

    def _undo(self, tasks: Iterable[Task], by: "Entry") -> None:
        for task in tasks:
            for each in (task, *self._after[task.id]):
                self.wrong.pop(each.id, None)
                if self.done.pop(each.id, None) is not None:
                    self.undone[each.id] = by


def out_of_limits(
    entries: Iterable["Entry"], chain: Sequence[Task], ground: JudgedBy
) -> Mapping[int, HoldFact]:
    """Return what is wrong with the tool or grade of each cut by itself, whatever came before it."""
    found: dict[int, HoldFact] = {}
    judge = Replay(chain, ground)
    for entry in entries:
        fits = [task for task in chain if STEP_OF.get(task.do) == entry.check.step and task.do != "powder"]
        if not fits:
            continue
        facts = [wrong(said(entry), task, ground, last_touch=judge.is_last_touch(task)) for task in fits]
        if all(fact is not None for fact in facts):
            coarse = [fact for fact in facts if isinstance(fact, CutTooCoarse)]
            fine = [fact for fact in facts if isinstance(fact, CutTooFine)]
            if coarse and fine:
                continue  # an extra pass between two of the plan's
            chosen = (coarse or fine or [fact for fact in facts if fact is not None])[0]
            found[entry.number] = chosen
    return found


def _descendants(chain: Sequence[Task]) -> dict[str, tuple[Task, ...]]:
    """Return for each task those of the chain that must follow it, at once or later, in order."""
    found: dict[str, tuple[Task, ...]] = {}
    for task in chain:
        reached = {task.id}
        for other in chain:  # the chain's order respects `after`
            if reached.intersection(other.after):
                reached.add(other.id)
        found[task.id] = tuple(other for other in chain if other.id in reached and other.id != task.id)
    return found
