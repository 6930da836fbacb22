"""Where things are: shipped rules and demo jobs, installed or in a checkout, and the folder for state."""

import datetime as dt
import os
import sys
import tempfile
import traceback
from pathlib import Path
from typing import Final

_PACKAGE: Final = Path(__file__).resolve().parent.parent
_LOGS_KEPT: Final = 20

EARLIER: Final = "earlier"
"""Folder of a house in which the versions before stay; it is not read."""


def rules_dir() -> Path:
    """Return the folder of the shipped rules, shop file, constants, outlines and sources.

    Raises:
        FileNotFoundError: the installation is damaged.
    """
    return _shipped("rules", "_rules")


def demo_jobs_dir() -> Path:
    """Return the folder of the shipped demo jobs. Raises FileNotFoundError where it is missing."""
    return _shipped("demo_jobs", "_demo_jobs")


def _shipped(in_checkout: str, in_package: str) -> Path:
    for folder in (_PACKAGE / in_package, _PACKAGE.parent / in_checkout):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the program's folder {in_checkout} is missing: install it again")


def state_dir() -> Path:
    """Return the folder for journals and logs by the habit of the platform; it may not exist yet.

    `PREPADVISOR_STATE` overrides it. Otherwise it is `%LOCALAPPDATA%` on Windows, `Application Support` on a
    Mac, and `$XDG_STATE_HOME` or `~/.local/state` elsewhere.
    """
    if own := os.environ.get("PREPADVISOR_STATE", "").strip():
        return Path(own).expanduser()
    return _of_the_user("LOCALAPPDATA", "Local", "XDG_STATE_HOME", ".local/state") / "prepadvisor"


def screens_file() -> Path | None:
    """Return the file with a person's own keys and themes, None where there is none.

    `PREPADVISOR_SCREENS` names it; a file named there must exist. Otherwise it is `prepadvisor/screens.toml`
    in `%APPDATA%` on Windows, in `Application Support` on a Mac, in `$XDG_CONFIG_HOME` or `~/.config`
    elsewhere.
    """
    if own := os.environ.get("PREPADVISOR_SCREENS", "").strip():
        return Path(own).expanduser()
    path = _of_the_user("APPDATA", "Roaming", "XDG_CONFIG_HOME", ".config") / "prepadvisor" / "screens.toml"
    return path if path.is_file() else None


def _of_the_user(windows: str, roams: str, xdg: str, elsewhere: str) -> Path:
    """Return the folder in which a platform keeps such files: by its variable, else the usual one."""
    home = Path("~").expanduser()
    if sys.platform == "win32":
        return Path(os.environ.get(windows) or home / "AppData" / roams)
    if sys.platform == "darwin":
        return home / "Library" / "Application Support"
    stated = os.environ.get(xdg, "")
    return Path(stated) if stated.startswith("/") else home / elsewhere


def write_crash_log(error: BaseException) -> Path:
    """Write what went wrong inside the program to a log file and return its path; never raises OSError.

    Only the newest logs are kept. Where the state folder cannot be written the log goes to the folder for
    temporary files.
    """
    now = dt.datetime.now(dt.UTC)
    text = "".join(
        (
            f"{now.isoformat()} Python {sys.version}\n",
            f"arguments: {sys.argv[1:]!r}\n",
            *traceback.format_exception(error),
        )
    )
    name = f"crash-{now:%Y%m%d-%H%M%S}-{os.getpid()}.log"
    for folder in (state_dir() / "logs", Path(tempfile.gettempdir())):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            path = folder / name
            path.write_text(text, encoding="utf-8", errors="backslashreplace")
        except OSError:
            continue
        if folder.name == "logs":
            _forget_old_logs(folder)
        return path
    sys.stderr.write(text)
    return Path(name)


def _forget_old_logs(folder: Path) -> None:
    for old in sorted(folder.glob("crash-*.log"))[:-_LOGS_KEPT]:
        try:
            old.unlink()
        except OSError:
            return
