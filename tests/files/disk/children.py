"""Children of one process with one thread that tell through a pipe what they did, until they are killed."""

import os
from collections.abc import Callable


def forked(work: Callable[[int], None]) -> tuple[int, int]:
    """Start a child that works and tells through a pipe; return its process id and the pipe's end to read."""
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(out)
        try:
            work(into)
        except BaseException as error:  # a fault inside the child must not look like a kill
            os.write(2, f"child: {error!r}\n".encode())
            os._exit(3)
        os._exit(0)
    os.close(into)
    return child, out


def ended(child: int, pipe: int) -> tuple[bool, list[str]]:
    """Wait for a child's end; return whether it was killed, and the lines it told whole."""
    told = b""
    while part := os.read(pipe, 65_536):
        told += part
    os.close(pipe)
    _, status = os.waitpid(child, 0)
    if os.WIFEXITED(status) and os.WEXITSTATUS(status):
        raise SystemExit("a child failed instead of being killed")
    return os.WIFSIGNALED(status), [line for line in told.decode().split("\n")[:-1] if line]
