"""Reads a job file: every fault at once with its place, or the job."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from prepadvisor.cases import with_usual_lines
from prepadvisor.files.disk.beside import Beside, entries_beside
from prepadvisor.files.job_checks import (
    fit_problems,
    id_problems,
    impossible_places,
    layout_problems,
    log_problems,
    source_problems,
    unknown_kinds,
)
from prepadvisor.files.reading import Told, TomlText, parse, read_toml
from prepadvisor.records import FORMAT, BadInputError, Check, Fault, Job, Problem, cleaned, nearest

if TYPE_CHECKING:
    from prepadvisor.files.salvage import Salvaged
    from prepadvisor.standards import House

FAULTS_MAX: Final = 200
"""More faults than this are counted, not listed."""

_KEY: Final = re.compile(r"""["']?([\w\-]+)["']?\s*=""")

_ENTRIES_MAX: Final = {"panel": 200, "feature": 500, "patch": 200, "check": 20_000, "outcome": 20_000}


def load_job(path: Path | str, house: "House") -> Job:
    """Read a job file.

    Args:
        path: the file; "-" is standard input.
        house: the standards it is checked against: outlines and what cannot be.

    Raises:
        BadInputError: with every fault of the file, by line.
    """
    beside = (
        () if str(path) == "-" else entries_beside(Path(path))
    )  # first: who takes them in removes them last
    return _job(_with_beside(read_toml(path), beside), house)


def job_of_text(raw: bytes, name: str, house: "House") -> Job:
    """Read a job from the bytes of a job file; see `load_job`. `name` is what faults call it."""
    return _job(parse(raw, name), house)


def _with_beside(text: TomlText, beside: Sequence[Beside]) -> TomlText:
    """Return a job file as read with the log entries that stand in files of their own beside it."""
    if not beside:
        return text
    from prepadvisor.files.disk.merge import missing

    for table in {entry.table for entry in beside}:
        own = [entry.values for entry in beside if entry.table == table]
        listed = text.data.get(table)
        if listed is None or isinstance(listed, list):
            text.data[table] = [*(listed or []), *missing(own, listed)]
    return text


def set_newer_aside(data: Mapping[str, Any]) -> None:
    """Set aside, in the data, the keys of log entries that a newer version wrote; the file keeps them.

    Only the program gives an entry an id: an unknown key without it is a slip of a hand, and stays a fault.
    """
    entries = data.get("check")
    for entry in entries if isinstance(entries, list) else ():
        if not isinstance(entry, dict) or entry.keys() <= _CHECK_KEYS or not str(entry.get("id", "")).strip():
            continue
        newer = [key for key in entry if key not in _CHECK_KEYS]
        for key in newer:
            del entry[key]
        entry["newer"] = tuple(cleaned(key, 60) for key in newer)


_CHECK_KEYS: Final = frozenset(Check.model_fields) - {"newer"}
"""Keys of a log entry in a file."""


def check_shape(raw: bytes, name: str) -> Job:
    """Read the bytes of a job file without standards: what no house could read is refused.

    Raises:
        BadInputError: with every fault of the file.
    """
    text = parse(raw, name)
    crowded = list(_crowded(text.data))
    set_newer_aside(text.data)
    try:
        job = Job.model_validate(text.data)
    except ValidationError as error:
        from prepadvisor.files.reading import told_faults  # only where there are faults

        told = told_faults(error, Job, text.data)
        raise BadInputError(_limited(text, told)) from None
    problems = [*crowded, *log_problems(job), *id_problems(text.data)]
    if problems or text.broken or text.twice:
        raise BadInputError(_limited(text, [Told(problem) for problem in problems]))
    return job


def job_reader(house: "House") -> Callable[[bytes, str], Job]:
    """Return what reads the bytes of a job file by a shop's standards, under the name that faults call it."""
    return lambda raw, name: job_of_text(raw, name, house)


def _job(text: TomlText, house: "House") -> Job:
    crowded = list(_crowded(text.data))
    set_newer_aside(text.data)
    if crowded:
        raise BadInputError([*text.broken, *text.twice, *(text.fault(problem) for problem in crowded)])
    try:
        job = Job.model_validate(text.data)
    except ValidationError as error:
        from prepadvisor.files.reading import told_faults  # only where there are faults
        from prepadvisor.files.salvage import salvage

        told = told_faults(error, Job, text.data)
        left = salvage(text.data) if error.error_count() <= FAULTS_MAX else None
    else:
        house = house.on(job)  # also the outlines that the job's day has
        problems = _problems(job, text.data, house)
        if not problems and not text.broken and not text.twice:
            return with_usual_lines(job, house.outlines)
        told, left = [Told(problem) for problem in problems], None
    if left is not None:
        told.extend(_told_of_rest(left, text.data, house))
    if text.broken:
        told = [each for each in told if not (each.lacking and _may_be_broken(text, each.problem.path[-1]))]
    raise BadInputError(_limited(text, told))


def _may_be_broken(text: TomlText, key: str | int) -> bool:
    """Say whether a missing key may stand in a line that is no TOML: there by name, or nobody can read it."""
    lines = text.text.split("\n")
    for fault in text.broken:
        line = lines[fault.line - 1].strip() if 0 < fault.line <= len(lines) else "#"
        named = _KEY.match(line)
        if line[:1] != "#" and (named is None or nearest(str(key), [named[1]])):
            return True
    return False


def _problems(job: Job, data: Mapping[str, Any], house: "House") -> list[Problem]:
    return [
        *log_problems(job),
        *id_problems(data),
        *layout_problems(job),
        *unknown_kinds(job, house),
        *impossible_places(job, house),
    ]


def _told_of_rest(left: "Salvaged", data: Mapping[str, Any], house: "House") -> Iterable[Told]:
    """Check what is sound of a faulty file, leaving alone what rests on a value that was refused."""
    yield from map(Told, id_problems(data))
    for problems, rests_on in (
        (log_problems(left.job), frozenset[str]()),
        (unknown_kinds(left.job, house), frozenset[str]()),
        (source_problems(left.job), frozenset({"colour_from", "patch"})),
        (fit_problems(left.job), _LAYOUT_KEYS),
        (impossible_places(left.job, house), _CASE_KEYS),
    ):
        yield from (Told(problem) for problem in problems if not left.lost(problem.path, rests_on))


_LAYOUT_KEYS: Final = frozenset(
    {
        "colour_from",
        "colour_mm",
        "fade_mm",
        "length_mm",
        "height_mm",
        "role",
        "at",
        "size_mm",
        "path",
        "patch",
    }
)
_CASE_KEYS: Final = frozenset(
    {
        "flake",
        "stages",
        "tone",
        "colour",
        "kind",
        "role",
        "surface",
        "next",
        "special",
        "reach",
        "seen",
        "colour_mm",
    }
)


def _crowded(data: Mapping[str, Any]) -> Iterable[Problem]:
    """Tell lists with more entries than any job has, before time is spent on each entry."""
    for key in ("panel", "check", "outcome"):
        entries = data.get(key)
        if isinstance(entries, list):
            yield from _too_many((key,), entries)
            for number, entry in enumerate(entries[: _ENTRIES_MAX["panel"]] if key == "panel" else ()):
                for inner in ("feature", "patch"):
                    if isinstance(entry, dict) and isinstance(entry.get(inner), list):
                        yield from _too_many((key, number, inner), entry[inner])


def _too_many(path: tuple[str | int, ...], entries: list[Any]) -> Iterable[Problem]:
    most = _ENTRIES_MAX[str(path[-1])]
    if len(entries) > most:
        says = f"{len(entries):,} {path[-1]} entries are more than the {most:,} that are read"
        yield Problem(path, says, "check that it is the right file, or split the job")


def _limited(text: TomlText, told: list[Told]) -> list[Fault]:
    head = text.data.get("job")
    stated = head.get("format") if isinstance(head, dict) else None
    if isinstance(stated, int) and stated > FORMAT:
        says = f"this file has the form {stated} of a newer version; this program reads up to {FORMAT}"
        told = [*told, Told(Problem(("job", "format"), says, "update this program"))]
    faults = [*text.broken, *text.twice, *(text.fault(each.problem, at_key=each.at_key) for each in told)]
    faults = sorted(dict.fromkeys(faults))
    if len(faults) <= FAULTS_MAX:
        return faults
    rest = f"{len(faults) - FAULTS_MAX:,} more faults follow"
    return [*faults[:FAULTS_MAX], faults[FAULTS_MAX]._replace(says=rest, mend="mend these first")]
