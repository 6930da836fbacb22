"""Where primer was put on, by the entries that stand: all that the plan of work takes from a log."""

from collections.abc import Sequence

from prepadvisor.logbook.logbook import Logbook
from prepadvisor.logbook.this_job import upto_other_job
from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Check


class Primed(NamedTuple):
    """Primer on a patch or a panel.

    Attributes:
        panel: the panel.
        feature: the patch; "panel" where the whole panel was primed.
        number: place of the last such entry in the file, from 1.
        name: its id.
    """

    panel: str
    feature: str
    number: int
    name: str


def primed(checks: Sequence[Check], number: str = "") -> tuple[Primed, ...]:
    """Return every patch and panel that stands primed, the last entry of each, in the order of the file.

    A struck entry counts nowhere, nor does one that nobody signed or that stands in the log of another job.
    Time plays no part, so that a plan is the same whenever it is made.

    Args:
        checks: the log.
        number: the number of its job; empty where entries of other jobs need not be told apart.
    """
    if not any(check.step == "primed" for check in checks):
        return ()
    last: dict[tuple[str, str], Primed] = {}
    standing = Logbook.read(checks).standing
    upto = upto_other_job(standing, number) if number else 0
    for entry in standing:
        check = entry.check
        if entry.number > upto and check.step == "primed" and entry.who:
            feature = "panel" if check.feature in {"panel", "face", "all"} else check.feature
            last.pop((check.panel, feature), None)
            last[check.panel, feature] = Primed(check.panel, feature, entry.number, entry.name)
    return tuple(last.values())
