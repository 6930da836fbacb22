"""One open job with everything the screens show of it: advice, selection, undo, and whether it is on disk."""

import datetime as dt
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from prepadvisor.records import Advice, BadInputError, Check, Job, NamedTuple, Panel, Place, Problem, Spot
from prepadvisor.records import Outcome as OutcomeEntry
from prepadvisor.standards import House
from prepadvisor.tui.model.line_edits import PanelPart, part_of
from prepadvisor.tui.model.open_job import History, OpenJob, OpenLog, RefusedError, bare, can_rebase, rebased

if TYPE_CHECKING:
    from prepadvisor.tui.model.gate_kept import KeptGate

Advise = Callable[[Job, House], Advice]
Judge = Callable[[Job, House], list[Problem]]


LONG_PLACES = 300
"""More places than this are worked out only after the key is answered."""


def no_problems(job: Job, house: House) -> list[Problem]:  # noqa: ARG001 - the shape of a judge
    """Find nothing; for jobs that were judged already."""
    return []


class Settled(NamedTuple):
    """What came of taking the file over.

    Attributes:
        entries: the log entries of others that are new.
        job_changed: whether the job itself changed here.
        clash: whether others changed the same of it as was changed here.
    """

    entries: tuple[Check, ...]
    job_changed: bool = False
    clash: bool = False


class Session:
    """The open job. Each change is judged, named, can be undone, and is advised on at once.

    Args:
        job: the job as it was opened.
        house: the shop's standards.
        advise: what turns job and house into advice.
        judge: what finds problems in a job that a record cannot see, such as a fade without room.
        path: where it is saved; None for a job not named yet.
        read_only: a demo: edits stay in memory.
        clock: gives the present time.
        folder: where the shop's jobs are.
    """

    def __init__(
        self,
        job: OpenJob,
        house: House,
        advise: Advise,
        judge: Judge = no_problems,
        path: Path | None = None,
        read_only: bool = False,
        clock: Callable[[], dt.datetime] = lambda: dt.datetime.now(dt.UTC),
        folder: Path = Path(),
    ) -> None:
        """Open the job and advise on it."""
        self._house = house
        self.path = path
        self.read_only = read_only
        self.folder = folder
        self.view = "colour"
        self.initials = ""
        self.to_strike: tuple[Check, ...] = ()
        self._advise = advise
        self._judge = judge
        self.now = clock
        self.log = OpenLog(job.check)
        self._outcomes = job.outcome
        self._history = History(bare(job))
        self._saved = self._history.job
        self._whole: tuple[OpenJob, tuple[OpenJob, tuple[Check, ...], tuple[OutcomeEntry, ...]]] = (
            job,
            (self._history.job, self.log.whole, job.outcome),
        )
        self.advice: Advice | None = None
        self.trouble: tuple[str, ...] = ()
        self.kept_gate: KeptGate | None = None
        self.panel_id = job.panel[0].id if job.panel else ""
        self.part_id = "face"
        self._look_again()

    @property
    def job(self) -> OpenJob:
        """The job as it stands: with the log as the file has it, and after it what is still on its way."""
        plain, log, outcomes = self._history.job, self.log.whole, self._outcomes
        whole, of = self._whole
        if any(one is not other for one, other in zip(of, (plain, log, outcomes), strict=True)):
            whole = plain.model_copy(update={"check": log, "outcome": outcomes})
            self._whole = whole, (plain, log, outcomes)
        return whole

    @property
    def is_demo(self) -> bool:
        """Whether a job is only looked at: nothing that is done beside it is written either."""
        return self.read_only and self.path is not None

    @property
    def revision(self) -> int:
        """Counts up with every change; what is drawn for one revision stays right until the next."""
        return self._history.revision

    @property
    def is_dirty(self) -> bool:
        """Whether the job differs from what the job file has."""
        plain = self._history.job
        return bool(self.log.pending) or (plain is not self._saved and plain != self._saved)

    @property
    def is_long(self) -> bool:
        """Whether the job has so many places that working all of them out keeps one waiting."""
        return self.advice is not None and len(self.advice.places) > LONG_PLACES

    @property
    def undo_name(self) -> str:
        """What undo would take back, empty for nothing."""
        return self._history.undo_name

    @property
    def redo_name(self) -> str:
        """What redo would bring back, empty for nothing."""
        return self._history.redo_name

    @property
    def panel(self) -> Panel | None:
        """The selected panel."""
        return self.job.panel_at(self.panel_id)

    @property
    def part(self) -> PanelPart | None:
        """The selected line or patch; None for the face."""
        return part_of(self.panel, self.part_id) if self.panel else None

    @property
    def place_id(self) -> str:
        """The id of the selected place, as advice and check-off name it."""
        return f"{self.panel_id}/{self.part_id}"

    @property
    def place(self) -> Place | None:
        """The selected place of the advice."""
        return place_of(self.advice, self.place_id)

    def spots(self, place: Place) -> list[Spot]:
        """Return the spots of a place, in the advice's order."""
        return spots_of(self.advice, place)

    def do(self, name: str, job: OpenJob, merge: str = "") -> None:
        """Make a change under a name for the undo key.

        Raises:
            RefusedError: for a job with a problem; the job stays as it was.
        """
        now = self.job
        if job == now:
            return
        if job.check[: len(now.check)] != now.check:
            raise RefusedError("what stands in the log is never changed; strike an entry that was a slip")
        self._refuse_problems(job)
        entries = self.log.add(job.check[len(now.check) :])
        self._history.do(name, bare(job), merge, entries)
        self._look_again()

    def put_panel(self, name: str, panel: Panel, was: str | None = None, merge: str = "") -> None:
        """Put a changed panel in the place of the one with the id `was`, as one named change."""
        from prepadvisor.tui.model.panel_edits import put_panel

        self.do(name, put_panel(self.job, panel, was), merge)
        if was and was == self.panel_id:
            self.panel_id = panel.id

    def undo(self) -> str:
        """Take the last change back; its name, or empty.

        An entry of the log is taken back with the step that made it as long as it is not in the file; one
        that is there stays, and `to_strike` has it until the next step.

        Raises:
            RefusedError: others changed the same of the job meanwhile.
        """
        self.to_strike = ()
        change = self._history.undo(rebased)
        if change is None:
            return ""
        stays = self.log.take_back(change.entries)
        self.to_strike = tuple(check for check in self.log.on_disk if check.id in stays)
        self._look_again()
        if stays:
            return f"{change.name}; but what is saved in the log is never taken back: strike it there"
        return change.name

    def redo(self) -> str:
        """Bring back what was undone last; its name, or empty. Raises RefusedError as `undo`."""
        change = self._history.redo(rebased)
        if change is None:
            return ""
        self.log.bring_again(change.entries)
        self._look_again()
        return change.name

    def settle(self, job: OpenJob) -> Settled:
        """Take over the job as the file has it now; what is not saved here stays on top of it.

        Where others changed the same of the job as was changed here, the job stays as it is here, and only
        the log is taken over: saving then keeps both.
        """
        mine, was, theirs = self._history.job, self._saved, bare(job)
        clash = mine != was and not can_rebase(was, mine, theirs)
        stands = mine if clash else theirs if mine == was else rebased(was, mine, theirs)
        if stands != mine:
            self._history.settle(stands)
        if not clash:
            self._saved = theirs
        new = self.log.settle(job.check)
        if stands != mine or new or job.outcome != self._outcomes:
            self._outcomes = job.outcome
            self._history.revision += 1
            self._look_again()
        return Settled(new, stands != mine, clash)

    def recover(self, job: OpenJob, was: OpenJob | None, entries: Sequence[Check]) -> bool:
        """Bring back what an earlier run left unsaved; returns whether its changes of the job were joined.

        Args:
            job: the job as that run had it.
            was: the job as its file stood then; None where that is not known.
            entries: its log entries on their way.
        """
        self.log.recover(entries)
        self._history.revision += 1
        mine, theirs = bare(job), self._history.job
        joined = was is not None and can_rebase(bare(was), mine, theirs)
        if joined and was is not None and bare(was) != mine:
            self._history.do("recovered edits", rebased(bare(was), mine, theirs))
        self._look_again()
        return joined or mine == theirs

    def mark_saved(self, job: OpenJob | None = None) -> None:
        """Remember that the job is on disk; `job` is what was read back, with what others had saved."""
        job = self.job if job is None else job
        self._saved = bare(job)
        if self._saved != self._history.job:
            self._history.settle(self._saved)
        self.settle(job)
        self._look_again()

    def select(self, panel_id: str, part_id: str = "face") -> None:
        """Select a panel and one of its lines or patches."""
        self.panel_id, self.part_id = panel_id, part_id
        self._clamp()

    def select_place(self, place_id: str) -> None:
        """Select by a place id such as `left-front-door/E1`."""
        panel_id, _, part_id = place_id.partition("/")
        self.select(panel_id, part_id or "face")

    @property
    def house(self) -> House:
        """The standards as they stand on the job's day and for its customer."""
        return self._house.on(self.job)

    def use_house(self, house: House) -> None:
        """Go on with other standards, as after a rule file changed."""
        self._house = house
        self._look_again()

    def advise_on(self, job: OpenJob, house: House) -> Advice:
        """Advise on another job or by other standards, without changing anything here."""
        return self._advise(job, house)

    def _refuse_problems(self, job: OpenJob) -> None:
        """Refuse what is wrong with a job and was not before; panels that stay as they are are not judged."""
        now, house = self.job, self._house.on(job)
        alike = job.colour == now.colour and house is self.house
        stays = {id(panel) for panel in now.panel} & {id(panel) for panel in job.panel} if alike else set()
        old, new = (tuple(panel for panel in one.panel if id(panel) not in stays) for one in (now, job))
        if not new:
            return
        was = self._judge(now.model_copy(update={"panel": old}), self.house) if old else []
        before = {problem.says for problem in was}
        for problem in self._judge(job.model_copy(update={"panel": new}), house):
            if problem.says not in before:
                raise RefusedError(f"{problem.says}; {problem.mend}" if problem.mend else problem.says)

    def _look_again(self) -> None:
        self._clamp()
        self.advice, self.trouble = None, ()
        if not self.job.panel:
            return
        try:
            self.advice = self._advise(self.job, self.house)
        except BadInputError as error:
            self.trouble = tuple(str(fault) for fault in error.faults)

    def _clamp(self) -> None:
        panels = self.job.panel
        if self.panel is None:
            self.panel_id = panels[-1].id if panels else ""
            self.part_id = "face"
        if self.panel is None or part_of(self.panel, self.part_id) is None:
            self.part_id = "face"


class _ById(NamedTuple):
    """An advice with its places and spots by id."""

    advice: Advice
    places: dict[str, Place]
    spots: dict[str, Spot]


_looked_up: list[_ById] = []
"""Of the advice lately asked about, such as that before and after a change, so that a list stays linear."""

_LOOKED_UP_MOST = 3


def _by_id(advice: Advice) -> _ById:
    known = next((one for one in _looked_up if one.advice is advice), None)
    if known is None:
        places = {place.id: place for place in advice.places}
        known = _ById(advice, places, {spot.id: spot for spot in advice.spots})
        _looked_up.insert(0, known)
        del _looked_up[_LOOKED_UP_MOST:]
    return known


def place_of(advice: Advice | None, place_id: str) -> Place | None:
    """Return the place of an id, or None."""
    return None if advice is None else _by_id(advice).places.get(place_id)


def spots_of(advice: Advice | None, place: Place) -> list[Spot]:
    """Return the spots of a place, in the advice's order."""
    if advice is None:
        return []
    spots = _by_id(advice).spots
    return [spots[ident] for ident in place.spots if ident in spots]
