"""A machine of screens and commands on one real job file, with crashes at every step and within a save.

Whatever comes after whatever: no entry that was acknowledged or kept is lost, doubled or moved, and no screen
that has looked shows a clear that the file does not hold.
"""

import itertools
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest import mock

from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    consumes,
    invariant,
    multiple,
    precondition,
    rule,
)

from prepadvisor.checkoff import Wanted, gate, log_entries
from prepadvisor.files import (
    FileSystem,
    append_entries,
    demo_jobs_dir,
    job_reader,
    load_house,
    load_job,
    values_of,
)
from prepadvisor.files.disk import journal as journal_module
from prepadvisor.files.disk import store as store_module
from prepadvisor.logbook import Writer
from prepadvisor.planning import advise
from prepadvisor.records import Job
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import RefusedError, Session, check_off, gate_view, with_colour

HOUSE = load_house()
PANEL = "left-rear-door"
_CALLS = ("read", "create", "write", "sync", "link", "replace", "remove", "sync_folder", "open_to_append")
FLAKES = ("solid", "coarse", "medium", "fine")


class KilledError(BaseException):
    """The process is gone, here and now."""


@contextmanager
def killed_at(call: int) -> Iterator[None]:
    """Kill whoever makes this many calls of the system: every second time before the call, else after it."""
    counter = itertools.count()

    def fatal(name: str) -> Any:
        real = getattr(FileSystem, name)

        def made(*args: Any, **named: Any) -> object:
            number = next(counter)
            if number == call and call % 2:
                raise KilledError
            result = real(*args, **named)
            if number >= call:
                raise KilledError
            return result

        return made

    deadly: dict[str, Any] = {name: fatal(name) for name in _CALLS}
    with mock.patch.multiple(FileSystem, **deadly):
        yield


class Shop(RuleBasedStateMachine):
    """Screens and commands of one shop on one job."""

    desks = Bundle("desks")

    def __init__(self) -> None:
        """Put a job into a folder of its own."""
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        root = Path(self._folder.name)
        self._patches: list[Any] = [
            mock.patch.dict("os.environ", {"PREPADVISOR_STATE": str(root / "state")}),
            mock.patch.object(store_module, "_READ_AGAIN_SECONDS", (0.0,)),
        ]
        for patch in self._patches:
            patch.start()
        self.job = root / "1031.toml"
        self.job.write_bytes((demo_jobs_dir() / "solid.toml").read_bytes())
        self.log: list[str] = []
        self.kept: set[str] = set()
        self.alive: list[Desk] = []

    def teardown(self) -> None:
        """Let all screens end as they do, and see that everything kept is in the file."""
        for desk in list(self.alive):
            desk.close()
        last = self._opened()
        last.close()
        self._compare()
        assert self.kept <= set(self.log), "kept entries are not in the file at the end"
        for patch in self._patches:
            patch.stop()
        self._folder.cleanup()

    @rule(target=desks)
    @precondition(lambda self: len(self.alive) < 3)
    def open(self) -> object:
        """Open the job on one more screen; what a crash left is joined."""
        return self._opened()

    def _opened(self) -> Desk:
        desk = Desk(HOUSE, self.job.parent)
        desk.open(self.job)
        self.alive.append(desk)
        return desk

    @rule(desk=desks, step=st.sampled_from(("cleaned", "wiped")))
    def log_at_a_screen(self, desk: Desk, step: str) -> None:
        """Log a step, which is kept before the next key."""
        self._log(desk, [Wanted(f"{PANEL}/panel", step, "KM")])

    @rule(desk=desks)
    def work_all(self, desk: Desk) -> None:
        """Log everything that is owed, in the order of the plan."""
        advice = self._session(desk).advice
        assert advice is not None
        for planned in advice.work.steps:
            for where, step, *more in planned.log:
                named = dict(zip(more[::2], more[1::2], strict=True))
                wanted = Wanted(
                    where, step, "KM", named.get("--tool", ""), named.get("--grade", ""), "",
                    named.get("--result", "clear" if step == "inspected" else ""),
                )  # fmt: skip
                self._log(desk, [wanted])

    def _log(self, desk: Desk, wanted: list[Wanted]) -> None:
        session = self._session(desk)
        try:
            session.do("log", check_off.logging(session, wanted)(session.job))
        except RefusedError:
            return
        assert desk.keep() == ""
        self.kept |= {check.id for check in session.log.pending}

    @rule(desk=desks, flake=st.sampled_from(FLAKES))
    def edit(self, desk: Desk, flake: str) -> None:
        """Change the job."""
        session = self._session(desk)
        session.do(f"flake {flake}", with_colour(session.job, flake=flake))
        desk.keep()

    @rule(desk=desks)
    def undo(self, desk: Desk) -> None:
        """Take the last change back, an entry on its way with it."""
        self._step(desk, self._session(desk).undo)

    @rule(desk=desks)
    def redo(self, desk: Desk) -> None:
        """Bring it again."""
        self._step(desk, self._session(desk).redo)

    def _step(self, desk: Desk, step: Callable[[], str]) -> None:
        session = self._session(desk)
        before = {check.id for check in session.log.pending}
        try:
            step()
        except RefusedError:
            return
        desk.keep()
        after = {check.id for check in session.log.pending}
        self.kept = self.kept - (before - after) | after

    @rule(desk=desks)
    def save(self, desk: Desk) -> None:
        """Save; what was on its way is acknowledged."""
        told = desk.save()
        assert "not saved" not in told, told
        assert not self._session(desk).log.pending

    @rule(desk=desks)
    def look(self, desk: Desk) -> None:
        """Look at the file; then the screen shows it, and no clear that it does not hold."""
        desk.look()
        session = self._session(desk)
        on_file = load_job(self.job, HOUSE)
        assert [check.id for check in session.log.on_disk] == [check.id for check in on_file.check]
        verdict = gate_view.gate_of(session)
        if verdict is not None and verdict.clear and not session.is_dirty:
            assert gate(on_file, advise(on_file, HOUSE), HOUSE, session.now()).clear

    @rule(result=st.sampled_from(("clear", "lines", "cut-through")))
    def command_look(self, result: str) -> None:
        """A command logs a look at the face."""
        self._command(Wanted(f"{PANEL}/face", "inspected", "JB", result=result))

    @rule(step=st.sampled_from(("cleaned", "wiped")))
    def command(self, step: str) -> None:
        """A command logs a step."""
        self._command(Wanted(f"{PANEL}/panel", step, "JB"))

    def _command(self, wanted: Wanted) -> None:
        job: Job = load_job(self.job, HOUSE)
        from datetime import UTC, datetime

        checks = log_entries(job, advise(job, HOUSE), wanted, datetime.now(UTC), HOUSE)
        writer = Writer()
        stamped = [writer.stamp(check, job.check) for check in checks]
        append_entries(
            self.job, [("check", values_of(each)) for each in stamped], "JB", reads=job_reader(HOUSE)
        )
        self.kept |= {check.id for check in stamped}

    @rule()
    def a_person_writes_a_remark(self) -> None:
        """By hand, at the end of the file; it stays."""
        with self.job.open("a", encoding="utf-8") as file:
            file.write("# seen by daylight\n")

    @rule(target=desks, desk=consumes(desks))
    def crash(self, desk: Desk) -> object:
        """A screen is killed between two keys; the job is taken over at once, joined by the program."""
        self._gone(desk)
        return self._opened()

    @rule(target=desks, desk=consumes(desks), call=st.integers(0, 14))
    def crash_in_a_save(self, desk: Desk, call: int) -> object:
        """A screen is killed somewhere in a save."""
        try:
            with killed_at(call):
                desk.save()
        except KilledError:
            self._gone(desk)
            return self._opened()
        return multiple(desk)

    def _gone(self, desk: Desk) -> None:
        self.alive.remove(desk)
        keeper = desk._keeper
        assert keeper is not None
        journal_module._OPEN.discard(keeper._journal.path)
        if keeper._opener is not None:
            keeper._opener.close()
        desk.session = desk._keeper = None

    def _session(self, desk: Desk) -> Session:
        assert desk.session is not None
        return desk.session

    @invariant()
    def the_file_is_a_job_that_only_grew(self) -> None:
        """Every entry that was there is there, at its place, once."""
        self._compare()

    @invariant()
    def every_screen_has_each_entry_once(self) -> None:
        """What it shows of the disk is a beginning of what the disk has."""
        self._compare()
        for desk in self.alive:
            log = self._session(desk).log
            ids = [check.id for check in log.whole]
            assert len(ids) == len(set(ids))
            assert self.log[: len(log.on_disk)] == [check.id for check in log.on_disk]

    def _compare(self) -> None:
        now = [check.id for check in load_job(self.job, HOUSE).check]
        assert now[: len(self.log)] == self.log, (self.log, now)
        assert len(now) == len(set(now))
        self.log = now
