"""The head of the screens, painted at once: what is opened stands there while the rest is being read."""

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from prepadvisor.tui.model import plain
from prepadvisor.tui.wishes import kept_theme

_ENTER = "\x1b[?1049h\x1b[?25l"
_LEAVE = "\x1b[?25h\x1b[?1049l"
_PAPER = {"daylight": "\x1b[38;2;0;0;0;48;2;255;255;255m", "night": "\x1b[38;2;244;244;244;48;2;14;14;14m"}
_BAR = {"daylight": "\x1b[1;38;2;255;255;255;48;2;0;0;0m", "night": "\x1b[1;38;2;14;14;14;48;2;244;244;244m"}


@contextmanager
def first_head(path: Path | None) -> Iterator[None]:
    """Paint the head of a job before anything large is imported; an error leaves the terminal as it was.

    Args:
        path: the job file, None where the list of jobs comes first.
    """
    theme = "" if "NO_COLOR" in os.environ else kept_theme() or "daylight"
    width = shutil.get_terminal_size().columns
    title = f" {_title(path) if path else 'prepadvisor'}"[:width]
    paper, bar = _PAPER.get(theme, "\x1b[0m"), _BAR.get(theme, "\x1b[0;1;7m")
    sys.stdout.write(f"{_ENTER}{paper}\x1b[2J\x1b[H{bar}{title:<{width}}{paper}\r\n opening ...\x1b[0m")
    sys.stdout.flush()
    try:
        yield
    except BaseException:
        sys.stdout.write(_LEAVE)
        sys.stdout.flush()
        raise


def _title(path: Path) -> str:
    """Return number and colour of a job file as far as they can be read at a glance, else its name."""
    import tomli

    try:
        with path.open("rb") as file:
            stated = tomli.loads(file.read(65536).decode("utf-8-sig").partition("[[panel")[0])
        parts = (stated["job"]["number"], stated["colour"]["name"])
    except (OSError, ValueError, KeyError, TypeError):
        return plain(path.stem)
    return "  ".join(plain(str(part)) for part in parts)
