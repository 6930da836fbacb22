"""Runs tests in children of this process, which holds the slow libraries and nothing of the program."""

import importlib
import os
import resource
import signal
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

import pytest

for _name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

LIBRARIES: Final = (
    "numpy", "pydantic", "hypothesis", "hypothesis.strategies", "hypothesis.extra.numpy", "jinja2", "tomli",
    "tomli_w", "tomlkit", "scipy.integrate", "scipy.stats", "scipy.optimize", "shapely", "networkx",
    "jsonschema", "duckdb", "z3",
)  # fmt: skip
QUIET: Final = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:randomly", "--assert=plain")
MEMORY: Final = 6 << 30
DEAD_S: Final = 900.0
NO_TESTS: Final = 5
"""What pytest exits with where it ran none."""


def warm() -> None:
    """Import the slow libraries once, for all children."""
    for name in LIBRARIES:
        try:
            importlib.import_module(name)
        except ImportError:  # pragma: no cover - a test that needs it says so itself
            continue


def start(
    folder: Path, arguments: Sequence[str], plugins: Callable[[], list[Any]], patience_s: int = 0
) -> int:
    """Fork a child that runs pytest in a copy of the project; return its process id.

    Args:
        folder: the copy.
        arguments: of pytest.
        plugins: makes the plugins, in the child.
        patience_s: CPU seconds after which the child gives up; 0 for none.
    """
    sys.stdout.flush()
    sys.stderr.flush()
    child = os.fork()
    if child:
        return child
    status = 70
    try:
        os.setpgid(0, 0)
        if patience_s:
            resource.setrlimit(resource.RLIMIT_CPU, (patience_s, patience_s + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        quiet = os.open(os.devnull if "-s" not in arguments else "/dev/stderr", os.O_RDWR)
        for number in (0, 1, 2):
            os.dup2(quiet, number)
        os.chdir(folder)
        here = str(Path(__file__).parents[2])
        sys.path[:] = [str(folder), *(each for each in sys.path if each not in ("", here))]
        os.environ["PYTHONPATH"] = str(folder)
        for name in [name for name in sys.modules if name.split(".")[0] in ("tests", "prepadvisor")]:
            del sys.modules[name]
        importlib.invalidate_caches()
        status = int(pytest.main([*QUIET, *arguments], plugins=plugins()))
    except BaseException:  # whatever it is, the child ends here
        traceback.print_exc()
    finally:
        os._exit(status)


def poll(child: int, begun: float) -> int | None:
    """Return the exit status of a child, negative for the signal that ended it; None while it runs.

    Args:
        child: its process id.
        begun: when it was started; one that sleeps for ever is killed.
    """
    done, status = os.waitpid(child, os.WNOHANG)
    if done:
        return os.waitstatus_to_exitcode(status)
    if time.monotonic() - begun > DEAD_S:
        os.killpg(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return -signal.SIGKILL
    return None


def ended(child: int) -> int:
    """Wait for a child and return its exit status."""
    begun = time.monotonic()
    while (status := poll(child, begun)) is None:
        time.sleep(0.02)
    return status
