"""Starts a house folder from the commented files that ship with the program."""

from pathlib import Path

from prepadvisor.files.paths import rules_dir
from prepadvisor.records import BadInputError, Fault


def start_house(folder: Path) -> list[Path]:
    """Make a house folder and return the files put into it.

    Raises:
        BadInputError: for a place that is a file or has files in it, or that cannot be written to.
    """
    try:
        if folder.exists() and not folder.is_dir():
            raise _refused(folder, "this is a file", "name a folder that is empty or not there yet")
        if folder.is_dir() and any(folder.iterdir()):
            says = "this folder has files in it and is left alone"
            raise _refused(folder, says, "name a folder that is empty or not there yet")
        folder.mkdir(parents=True, exist_ok=True)
        made = []
        for start in sorted((rules_dir() / "start").glob("*.toml")):
            path = folder / start.name
            with path.open("xb") as file:
                file.write(start.read_bytes())
            made.append(path)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise _refused(folder, f"cannot be written to ({reason})", "name another place") from None
    return made


def _refused(folder: Path, says: str, mend: str) -> BadInputError:
    return BadInputError([Fault(str(folder).replace("\0", "?"), 0, 0, says, mend)])
