"""Why something could not be saved, with what to do about it; what was typed stays where it is."""

import errno
from pathlib import Path
from typing import Final

from prepadvisor.records import BadInputError, Fault

_GONE: Final = frozenset(
    getattr(errno, name)
    for name in [
        "ENOENT",
        "ENOTDIR",
        "ESTALE",
        "ENOTCONN",
        "EHOSTDOWN",
        "EHOSTUNREACH",
        "ENETDOWN",
        "ENETUNREACH",
        "ETIMEDOUT",
        "ENODEV",
        "ENXIO",
        "ECONNRESET",
        "EREMOTEIO",
    ]
    if hasattr(errno, name)
)


class NotSavedError(BadInputError):
    """The file is as it was; the fault says why and what to do."""

    begins = "not saved"

    def __init__(self, path: Path, says: str, mend: str) -> None:
        """Keep the path and the words."""
        self.path = path
        self.says = says
        self.mend = mend
        super().__init__([Fault(str(path), 0, 0, f"{self.begins}: {says}", mend)])


class BusyError(NotSavedError):
    """Somebody else is saving this file and does not come to an end."""


class ChangedUnderneathError(NotSavedError):
    """Another job stands where a new one was to go; `kept` is where the new one was put."""

    def __init__(self, path: Path, kept: Path) -> None:
        """Keep where both are."""
        self.kept = kept
        super().__init__(
            path,
            "somebody else made a file of this name meanwhile",
            f"theirs stands in it, yours is kept as {kept.name}: open both and join them",
        )


class UnknownResultError(NotSavedError):
    """Whether it was saved cannot be known yet: the drive said neither yes nor no."""

    begins = "it is not known whether this was saved"

    def __init__(self, path: Path, says: str) -> None:
        """Say so, and how it is found out."""
        super().__init__(path, says, "look at the job again before doing it again: it may be there")


def not_saved(path: Path, error: OSError) -> NotSavedError:
    """Return an error of the system in words: what is in the way, and what to do about it."""
    return NotSavedError(path, *_words(path, error))


def not_logged(path: Path, error: OSError) -> NotSavedError:
    """Return the same for an entry: it is in no file and no program, so it is logged once more."""
    return NotSavedError(path, *_words(path, error, again="log it again", until_then=""))


def _words(
    path: Path,
    error: OSError,
    again: str = "save again",
    until_then: str = "; until then leave the program open",
) -> tuple[str, str]:
    code = error.errno
    if code in {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}:
        return "the disk is full", f"free some room, then {again}{until_then}"
    if code in {errno.EROFS, errno.EACCES, errno.EPERM}:
        return (
            f"the folder {path.parent} may not be written to",
            "save to another folder, or ask for the right to write here",
        )
    if code in _GONE:
        return (
            f"the folder {path.parent} is gone",
            f"plug the drive in or log on to the network share, then {again}; or save to another folder",
        )
    if code == errno.EIO:
        return "the drive reports an error", "save to another drive now, and have this one looked at"
    if code == errno.EFBIG:
        return "the drive takes no file of this size", "save to another drive"
    if code == errno.ENAMETOOLONG:
        return "the name is too long", "take a shorter name"
    return f"the system refuses ({error.strerror or error})", "save again, or save to another folder"
