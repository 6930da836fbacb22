"""Which tests run which blocks of a package, and how long each takes: so a fault needs few of them."""

import ast
import importlib.abc
import importlib.machinery
import importlib.util
import json
import signal
import sys
import time
from collections.abc import Generator, Iterator, Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import Any, Final, NamedTuple

import hypothesis
import pytest

LEAST_S: Final = 5.0
TIMES: Final = 10.0
SEEN: Final = "_blocks_seen"
BODIES: Final = ("body", "orelse", "finalbody")


class Reach(NamedTuple):
    """What a run without a fault showed: CPU seconds of each test, and the tests of each block."""

    seconds: dict[str, float]
    tests: dict[str, list[str]]

    def chosen(self, path: str, line: int, text: str) -> tuple[set[str], set[str]]:
        """Return the tests that run the block of a fault, and others worth running for it.

        The others are those that run anything of the file: what a test remembers from one before it is run
        there only. A fault outside every function runs at import, and data is read by all: all tests, then.

        Args:
            path: the file.
            line: the line of the fault, from 1.
            text: the file.
        """
        if not path.endswith(".py"):
            return set(), set(self.seconds)
        inside = [block for block in blocks(ast.parse(text)) if block.first <= line <= block.last]
        within = min(inside, key=lambda block: block.last - block.first, default=None)
        near = set(self.tests.get(f"{path}:{within.first}", ())) if within else set()
        same = {test for key, tests in self.tests.items() if key.startswith(f"{path}:") for test in tests}
        return near, (same if within else set(self.seconds)) - near


class Block(NamedTuple):
    """Statements that run one after another, named by the line of the first."""

    first: int
    last: int
    statements: list[ast.stmt]


def blocks(tree: ast.AST, *, live: bool = False) -> Iterator[Block]:
    """Yield the blocks within functions: bodies of functions, branches and loops."""
    for child in ast.iter_child_nodes(tree):
        inner = live or isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef)
        if inner and not isinstance(child, ast.ClassDef):
            for name in BODIES:
                body = getattr(child, name, None)
                if isinstance(body, list) and body:
                    last = body[-1].end_lineno
                    assert last is not None
                    yield Block(body[0].lineno, last, body)
        yield from blocks(child, live=inner)


class _Watched(importlib.machinery.SourceFileLoader):
    """Loads a module with a note at the head of each block."""

    def __init__(self, name: str, path: str, key: str, seen: set[str]) -> None:
        super().__init__(name, path)
        self._key, self._seen = key, seen

    def get_code(self, fullname: str) -> Any:  # noqa: ARG002
        tree = ast.parse(Path(self.path).read_bytes())
        for block in list(blocks(tree)):
            first = block.statements[0]
            told = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
            note = ast.parse(f"{SEEN}({f'{self._key}:{block.first}'!r})").body[0]
            block.statements.insert(1 if told else 0, ast.copy_location(note, first))
        return compile(ast.fix_missing_locations(tree), self.path, "exec")

    def exec_module(self, module: ModuleType) -> None:
        setattr(module, SEEN, self._seen.add)
        super().exec_module(module)


class _Finder(importlib.abc.MetaPathFinder):
    def __init__(self, root: Path, package: str, seen: set[str]) -> None:
        self._root, self._package, self._seen = root, package, seen

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if f"{name}.".startswith(f"{self._package}."):
            spec = importlib.machinery.PathFinder.find_spec(name, path, target)
            if spec and spec.origin and spec.origin.endswith(".py"):
                key = Path(spec.origin).resolve().relative_to(self._root).as_posix()
                spec.loader = _Watched(name, spec.origin, key, self._seen)
            return spec
        return None


class Recorder:
    """A pytest plugin that writes a `Reach`; what a shared fixture runs counts for all tests that use it."""

    def __init__(self, root: Path, package: str | None, out: Path) -> None:
        """Watch a package, or none: then only seconds are written."""
        self._out, self._seen = out, set[str]()
        self._seconds: dict[str, float] = {}
        self._tests: dict[str, set[str]] = {}
        self._shared: dict[int, set[str]] = {}
        if package:
            sys.meta_path.insert(0, _Finder(root.resolve(), package, self._seen))

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Generator[None, Any, Any]:
        """Keep what a fixture ran."""
        before = set(self._seen)
        self._seen.clear()
        try:
            return (yield)
        finally:
            self._shared.setdefault(id(fixturedef), set()).update(self._seen)
            self._seen.update(before)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, Any, Any]:
        """Keep what a test ran, and how long it took."""
        self._seen.clear()
        begun = time.process_time()
        try:
            return (yield)
        finally:
            self._seconds[item.nodeid] = time.process_time() - begun
            ran = set(self._seen)
            fixtures = getattr(item, "_fixtureinfo", None)
            for each in fixtures.name2fixturedefs.values() if fixtures else ():
                ran |= self._shared.get(id(each[-1]), set())
            for key in ran:
                self._tests.setdefault(key, set()).add(item.nodeid)

    def pytest_sessionfinish(self) -> None:
        """Write it all down."""
        tests = {key: sorted(names) for key, names in self._tests.items()}
        self._out.write_text(json.dumps({"seconds": self._seconds, "tests": tests}), encoding="utf-8")


class Chosen:
    """A pytest plugin that keeps the named tests, in the order named, and gives each its time only."""

    def __init__(self, seconds: Mapping[str, float], killer: Path) -> None:
        """Keep these, each with its usual CPU seconds; write the name of one that fails to a file."""
        self._order = {name: place for place, name in enumerate(seconds)}
        self._seconds, self._killer = seconds, killer

    def pytest_sessionstart(self) -> None:
        """Let hypothesis stop at the first example that fails: nobody reads the shortest one here."""
        draws = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        hypothesis.settings.register_profile("first failure", hypothesis.settings(), phases=draws)
        hypothesis.settings.load_profile("first failure")

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Drop the others."""
        kept = [item for item in items if item.nodeid in self._order]
        items[:] = sorted(kept, key=lambda item: self._order[item.nodeid])

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        """Let the clock kill what runs ten times as long as it should."""
        self._killer.write_text(f"{item.nodeid} (too long)", encoding="utf-8")
        signal.setitimer(signal.ITIMER_PROF, LEAST_S + TIMES * self._seconds[item.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note the test that noticed."""
        if report.failed:
            self._killer.write_text(report.nodeid, encoding="utf-8")
            signal.setitimer(signal.ITIMER_PROF, 0)
