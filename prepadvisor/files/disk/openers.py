"""Who else has a job open: each opener leaves a small hidden file beside the job and takes it away again."""

import json
import os
import secrets
import time
from contextlib import suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.disk.atomic import is_alive, this_host
from prepadvisor.files.disk.lock import Owner

FORGOTTEN_AFTER_SECONDS: Final = 12 * 3600.0
"""An opener on another machine that gave no sign for this long is taken as gone."""


class Opener:
    """One opening of a job file, seen by others until it is closed or its process dies."""

    def __init__(self, path: Path, by: str = "") -> None:
        """Leave the sign; where the folder may not be written to, nobody is told and nothing is lost."""
        real = path.resolve()
        self._stem = f".{real.name[:80]}.open-"
        self._folder = real.parent
        self._sign = real.with_name(f"{self._stem}{os.getpid()}-{secrets.token_hex(4)}")
        self._by = by
        self.refresh()

    def refresh(self) -> None:
        """Renew the sign; call it now and then while the job is open."""
        owner = Owner(self._by, this_host(), os.getpid(), time.time())
        with suppress(OSError):
            self._sign.write_text(json.dumps(owner._asdict()), encoding="utf-8")

    def others(self) -> tuple[Owner, ...]:
        """Return who else has the job open, the earliest first; signs of the dead are taken away."""
        found = []
        with suppress(OSError):
            for sign in sorted(self._folder.iterdir()):
                if sign.name.startswith(self._stem) and sign != self._sign:
                    owner = _read(sign)
                    if owner is not None and _is_there(owner):
                        found.append(owner)
                    elif owner is not None:
                        with suppress(OSError):
                            sign.unlink()
        return tuple(sorted(found, key=lambda owner: owner.since))

    def close(self) -> None:
        """Take the sign away."""
        with suppress(OSError):
            self._sign.unlink()


def _read(sign: Path) -> Owner | None:
    try:
        found = json.loads(sign.read_text(encoding="utf-8"))
        return Owner(str(found["by"]), str(found["host"]), int(found["pid"]), float(found["since"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _is_there(owner: Owner) -> bool:
    if owner.host == this_host():
        return is_alive(owner.pid)
    return abs(time.time() - owner.since) < FORGOTTEN_AFTER_SECONDS
