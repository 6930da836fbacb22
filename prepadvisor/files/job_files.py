"""Which files of folders are jobs."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from prepadvisor.records import BadInputError, Fault

_NO_JOBS: Final = frozenset(
    {"shop.toml", "constants.toml", "panels.toml", "sources.toml", "colours.toml", "in-force.toml"}
)
"""Files of a house that may stand in a folder beside jobs."""


def job_files(names: Iterable[str]) -> list[str]:
    """Return the job files that are meant, those of folders sorted by path.

    Raises:
        BadInputError: if there is none.
    """
    files: list[str] = []
    given = list(names)
    for name in given:
        path = Path(name)
        inside = sorted(path.rglob("*.toml")) if path.is_dir() else [path]
        files += [str(each) for each in inside if each == path or each.name not in _NO_JOBS]
    if not files:
        raise BadInputError([Fault(given[0] if given else ".", 0, 0, "there is no job file (*.toml) in it")])
    return files
