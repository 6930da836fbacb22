"""Whether a process of this machine still runs."""

import os
import socket
import sys
from functools import lru_cache


@lru_cache(maxsize=1)
def this_host() -> str:
    """Return this machine's name."""
    return socket.gethostname()


def is_alive(pid: int) -> bool:
    """Say whether a process of this machine still runs; in doubt it does."""
    if pid <= 0:
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
