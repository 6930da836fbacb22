"""Where cards go: the jobs asked for, the form, and a file, a folder or standard output for each."""

import argparse
import os
import re
from pathlib import Path
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.records.forms import BY_ENDING, FORMS, Form

_RESERVED: Final = frozenset(
    {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10))}
)
_NAME_MAX: Final = 80
STDIN: Final = "-"


class Target(NamedTuple):
    """Where the cards of one call go.

    `folder` has one card a job; `file` has all of them; neither is standard output. `beside` puts each card
    next to its job. `from_folder` says that a folder of jobs was asked for: progress is told.
    """

    jobs: tuple[str, ...]
    form: Form
    folder: Path | None = None
    file: Path | None = None
    beside: bool = False
    from_folder: bool = False


def target_of(args: argparse.Namespace) -> Target:
    """Work out jobs, form and place from the options.

    Raises:
        BadInputError: a folder without job files, or a form that cannot go where it was asked to go.
    """
    from_folder = any(name != STDIN and Path(name).is_dir() for name in args.jobs)
    jobs = tuple(name for asked in args.jobs for name in _jobs_in(asked))
    out = args.out
    form: Form = args.to or BY_ENDING.get(Path(out).suffix.lower() if out and out != STDIN else "", "text")
    if out is None or out == STDIN:
        beside = out is None and from_folder and FORMS[form].is_page
        if not beside and form == "html" and len(jobs) > 1:
            raise _fault("--out", "several pages do not go into one stream", "name a folder: --out cards/")
        return Target(jobs, form, beside=beside, from_folder=from_folder)
    place = Path(out)
    if place.is_dir() or out.endswith(("/", os.sep)) or (from_folder and not place.suffix):
        return Target(jobs, form, folder=place, from_folder=from_folder)
    if form == "html" and len(jobs) > 1:
        raise _fault("--out", "several pages do not go into one file", "name a folder: --out cards/")
    return Target(jobs, form, file=place, from_folder=from_folder)


def _jobs_in(asked: str) -> tuple[str, ...]:
    if asked == STDIN or not Path(asked).is_dir():
        return (asked,)
    found = tuple(str(path) for path in sorted(Path(asked).glob("*.toml")) if path.is_file())
    if not found:
        raise _fault(asked, "the folder holds no job file (*.toml)", "name a job file")
    return found


def _fault(place: str, says: str, mend: str) -> BadInputError:
    return BadInputError([Fault(place, 0, 0, says, mend)])


def card_name(job: str, number: str, form: Form, taken: set[str]) -> str:
    """Return a file name for a job's card that every system takes, different from those already taken.

    Args:
        job: path of the job file, or "-" for standard input, whose card is named by the job's number.
        number: the job's number.
        form: decides how the name ends.
        taken: lower-case names used so far in this call; the new one is added.
    """
    stem = number if job == STDIN else Path(job).stem
    safe = re.sub(r"[^\w.-]+", "-", stem).strip("-. ")[:_NAME_MAX].rstrip("-. ") or "card"
    if safe.split(".")[0].lower() in _RESERVED:
        safe = f"card-{safe}"
    name, count = f"{safe}{FORMS[form].ending}", 1
    while name.lower() in taken:
        count += 1
        name = f"{safe}-{count}{FORMS[form].ending}"
    taken.add(name.lower())
    return name
