"""Whether a process of this machine still runs."""

import os
import socket
import sys
from functools import lru_cache


@lru_cache(maxsize=1)
def this_host() -> str:
    """Return this machine's name."""
    return socket.gethostname()


def started(pid: int) -> str:
    """Return when a process of this machine started, as a sign of its own; empty where that cannot be known.

    A process number is given again to others; with its start it names one process, also over a restart.
    """
    try:
        with open(f"/proc/{pid}/stat", "rb") as file:  # noqa: PTH123 - a plain open is the fastest here
            ticks = file.read().rpartition(b")")[2].split()[19].decode()
    except (OSError, IndexError):
        return ""
    return f"{_this_boot()}:{ticks}"


@lru_cache(maxsize=1)
def _this_boot() -> str:
    try:
        with open("/proc/sys/kernel/random/boot_id", "rb") as file:  # noqa: PTH123 - likewise
            return file.read().strip().decode()[:8]
    except OSError:
        return ""


def is_alive(pid: int, start: str = "") -> bool:
    """Say whether a process of this machine still runs; in doubt it does.

    Args:
        pid: its number.
        start: what `started` said of it; another process that was given its number meanwhile does not count.
    """
    if pid <= 0:
        return False
    if start and (now := started(pid)) and now != start:
        return False
    if sys.platform == "win32":
        return _is_alive_on_windows(pid)
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return not _is_zombie(pid)


def _is_zombie(pid: int) -> bool:
    try:
        with open(f"/proc/{pid}/stat", "rb") as file:  # noqa: PTH123 - a plain open is the fastest here
            return file.read().rpartition(b")")[2].split()[0] in {b"Z", b"X"}
    except (OSError, IndexError):
        return False


if sys.platform == "win32":
    import ctypes

    def _is_alive_on_windows(pid: int) -> bool:
        kernel = ctypes.windll.kernel32
        handle = kernel.OpenProcess(0x1000, False, pid)  # PROCESS_QUERY_LIMITED_INFORMATION
        if not handle:
            return bool(kernel.GetLastError() == 5)  # access denied: it runs, but as somebody else
        code = ctypes.c_ulong()
        kernel.GetExitCodeProcess(handle, ctypes.byref(code))
        kernel.CloseHandle(handle)
        return code.value == 259  # STILL_ACTIVE
else:

    def _is_alive_on_windows(pid: int) -> bool:
        raise NotImplementedError(pid)
