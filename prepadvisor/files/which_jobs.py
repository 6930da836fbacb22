"""Which files of folders are jobs: what a house keeps beside them is not."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from prepadvisor.files.paths import EARLIER
from prepadvisor.records import BadInputError, Fault

_NO_JOBS: Final = frozenset(
    {"shop.toml", "constants.toml", "panels.toml", "sources.toml", "colours.toml", "in-force.toml"}
)
"""Files of a house that may stand in a folder beside jobs."""
_OF_RULES: Final = (b"[standards]", b"[[rule]]", b"[[withdraw]]")
_LOOKED_AT: Final = 65_536


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
        files += [str(each) for each in inside if each == path or _is_job(each)]
    if not files:
        raise BadInputError([Fault(given[0] if given else ".", 0, 0, "there is no job file (*.toml) in it")])
    return files


def _is_job(path: Path) -> bool:
    """Say whether a file found in a folder may be a job: data and rules of a house are none."""
    if path.name in _NO_JOBS or path.parent.name == EARLIER or not path.is_file():
        return False
    try:
        with path.open("rb") as file:
            lines = file.read(_LOOKED_AT).splitlines()
    except OSError:
        return True
    return not any(line.startswith(_OF_RULES) for line in lines)
