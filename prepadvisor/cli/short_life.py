"""Sets a process of our own up for a short life, and ends it without taking everything apart first.

Only `entry` calls it: a program that imports the package is left alone. What the environment states stays.
"""

import gc
import os
import sys
from typing import Final, NoReturn

GARBAGE_LOOKED_FOR_EVERY: Final = 300_000
"""New objects between two looks for garbage: a card makes fewer; Python's own start value is 700."""


def start_light() -> None:
    """Set up.

    The line model's matrices are small: threads for them cost more than all the sums. Nobody plugs anything
    into these records, so pydantic need not look for it. Nearly all that loading makes stays to the end, so
    looking for garbage that often finds none.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    gc.set_threshold(GARBAGE_LOOKED_FOR_EVERY, 20, 20)


def leave(status: int) -> NoReturn:
    """End the process with an exit status.

    Once both streams are written nothing of a command is left to do: Python would only take apart, one by
    one, all the objects there are. It still does where somebody else may have something left to do: worker
    processes, a profiler or a debugger. The screens have saved and given the terminal back by now; where it
    vanished under them, their threads would be waited for without end.
    """
    gc.freeze()  # else Python looks through all that was loaded for garbage before it lets go of it
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except (OSError, ValueError, AttributeError):
        if "textual" not in sys.modules:
            sys.exit(status)
    if sys.getprofile() is None and sys.gettrace() is None and _OTHERS.isdisjoint(sys.modules):
        os._exit(status)
    sys.exit(status)


_OTHERS: Final = frozenset({"multiprocessing.util", "concurrent.futures", "coverage"})
"""Modules that have something to do at the end of a process."""
