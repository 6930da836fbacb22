"""What was open last and where it was left, kept in the state folder; a list that is lost costs nothing."""

import json
from pathlib import Path
from typing import Any, Final

from prepadvisor.files.atomic import put
from prepadvisor.files.file_system import FileSystem
from prepadvisor.files.paths import state_dir
from prepadvisor.named import NamedTuple

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
