"""What one can start with: what a crash left, jobs lately open and where they were left, demo jobs."""

import json
from itertools import takewhile
from pathlib import Path
from typing import Any, Final, Literal

from prepadvisor.files import FileSystem, Recovery, demo_jobs_dir, put, recoverable, state_dir
from prepadvisor.records import NamedTuple

# What was open last and where it was left, kept in the state folder; a list that is lost costs nothing.

_KEPT: Final = 12


class Recent(NamedTuple):
    """One job that was open: its file, its head line, and the view it was left in."""

    path: str
    title: str
    view: str


def recent_jobs() -> list[Recent]:
    """Return the jobs that were open, newest first, without those whose file is gone."""
    try:
        entries = json.loads(_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return []
    found = [_recent(entry) for entry in entries] if isinstance(entries, list) else []
    return [entry for entry in found if entry is not None and Path(entry.path).is_file()]


def remember(job: Recent) -> None:
    """Put a job on top of the list. Never raises: a list that cannot be written is not kept."""
    entries = [job, *(entry for entry in recent_jobs() if entry.path != job.path)][:_KEPT]
    text = json.dumps([entry._asdict() for entry in entries], ensure_ascii=False, indent=1)
    target = _file()
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        put(target, text.encode(), FileSystem(), keep_previous=False)
    except OSError:
        return


def _recent(entry: Any) -> Recent | None:
    if not isinstance(entry, dict):
        return None
    values = [entry.get(name) for name in Recent._fields]
    if not all(isinstance(value, str) for value in values):
        return None
    return Recent(*(str(value) for value in values))


def _file() -> Path:
    return state_dir() / "recent.json"


_LISTED: Final = 2000
_VIEWS: Final = {
    "check-off": "left at the check-off",
    "card": "left at the card",
    "answer": "left at the answer",
}


class Start(NamedTuple):
    """One thing to start with; `ident` is what the desk knows it by."""

    kind: Literal["recovery", "recent", "demo"]
    ident: str
    says: str
    more: str
    opened: bool = False
    """Whether it is a job that was lately open."""


def starts_of(folder: Path) -> list[Start]:
    """Return everything one can start with, what a crash left first."""
    starts = [_left(left) for left in recoverable()]
    starts += [
        Start(
            "recent", job.path, job.title, f"{_VIEWS.get(job.view, 'lately open')}: {job.path}", opened=True
        )
        for job in recent_jobs()
    ]
    known = {start.ident for start in starts}
    starts += [
        Start("recent", str(path), path.stem, str(path))
        for path in sorted(folder.resolve().glob("*.toml"))[:_LISTED]
        if str(path) not in known
    ]
    starts += [
        Start("demo", str(path), f"Demo: {path.stem.replace('-', ' ')}", _shows(path))
        for path in sorted(demo_jobs_dir().glob("*.toml"))
    ]
    return starts


def _left(left: Recovery) -> Start:
    kept = f"kept {left.at:%Y-%m-%d %H:%M}"
    return Start("recovery", str(left.journal), f"{left.path.stem}: changes not saved", kept)


def _shows(path: Path) -> str:
    """Return what a demo shows: the first sentence about it in the comment on top of its file."""
    try:
        with path.open(encoding="utf-8-sig") as lines:
            head = list(takewhile(lambda line: line.startswith("#"), lines))
    except OSError:
        head = []
    said = " ".join(line.lstrip("# ").strip() for line in head)
    about = said.partition(". ")[2] or said.capitalize()
    shown = about.partition(". ")[0].rstrip(".")
    return f"{shown}." if shown else "To look at; nothing is written."
