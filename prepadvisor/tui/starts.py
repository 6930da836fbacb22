"""What one can start with: what a crash left, jobs lately open, jobs of the folder, demo jobs."""

from pathlib import Path
from typing import Final, Literal

from prepadvisor.files.journal import Recovery, recoverable
from prepadvisor.files.paths import demo_jobs_dir
from prepadvisor.named import NamedTuple
from prepadvisor.tui.recent import recent_jobs

_LISTED: Final = 50
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


def starts_of(folder: Path) -> list[Start]:
    """Return everything one can start with, what a crash left first."""
    starts = [_left(left) for left in recoverable()]
    starts += [
        Start("recent", job.path, job.title, f"{_VIEWS.get(job.view, 'lately open')}: {job.path}")
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
    """Return what a demo shows: the first comment of its file."""
    try:
        with path.open(encoding="utf-8-sig") as lines:
            first = next((line for line in lines if line.startswith("#")), "")
    except OSError:
        first = ""
    shown = first.lstrip("# ").strip().partition(". ")[2]
    return shown or "to look at; nothing is written"
