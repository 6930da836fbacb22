"""Works each job of many by itself: a bad one is told and never stops the others."""

from collections.abc import Callable
from typing import TypeVar

from prepadvisor.cli.streams import tell
from prepadvisor.files import shown_name, write_crash_log
from prepadvisor.records import BadInputError

T = TypeVar("T")


def apart(name: str, work: Callable[[], T]) -> T | None:
    """Return what comes of one job; None where it is bad, which is said on standard error.

    A fault of the program itself counts as a bad job here, with a log of its own: the other jobs are not to
    blame. What the system refuses, such as a full disk under the output, stops everything as before.
    """
    try:
        return work()
    except BadInputError as error:
        tell("\n".join(error.lines))
    except (OSError, KeyboardInterrupt):
        raise
    except Exception as error:
        says = "this job cannot be worked out; something went wrong inside the program"
        tell(f"{shown_name(name)}: {says}. Details: {write_crash_log(error)}")
    return None
