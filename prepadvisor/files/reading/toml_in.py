"""Reads TOML from a file or from standard input, bounded in size and depth; a fault has its line and column.

One parser on every Python: tomli, because its syntax errors carry line and column and its strictness does not
change with the Python that runs it.
"""

import errno
import hashlib
import os
import re
import stat
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import tomli

from prepadvisor.files.reading.first_words import LINES_MAX, VALUES_MAX, beyond_bounds, in_first_words
from prepadvisor.records import BadInputError, Fault, KeyPath, Problem, cleaned, nearest

if TYPE_CHECKING:
    from prepadvisor.files.reading.locator import Locator


JOB_BYTES_MAX: Final = 5_000_000
"""The largest file that is read; a real job file has a few thousand bytes."""
_LINE_MAX: Final = 2_000
_FOREIGN_MAX: Final = 2_000
"""Longer texts of a foreign file are cut before any record refuses them for their length."""
_OPEN_PIPES: Final = (Path("/dev/fd"), Path("/proc/self/fd"))
"""Where a shell hands over a pipe that has a writer; any other pipe might wait for one for ever."""
_LONG_NUMBER: Final = r"[0-9_]{4300,}+|0x[0-9a-fA-F_]{3500,}+|0o[0-7_]{4700,}+|0b[01_]{14000,}+"


@dataclass(frozen=True, eq=False)
class TomlText:
    """A parsed file: its name as shown to people, text, data and the SHA-256 of its bytes.

    `data` is in the program's own words; `written` maps the path of a key that the text spells in another way
    to that spelling. `broken` holds the faults of lines that are no TOML, which count as blank in `data`, and
    `twice` those of keys that stand there in two spellings.
    """

    name: str
    text: str
    data: dict[str, Any]
    sha256: str
    broken: tuple[Fault, ...] = ()
    written: Mapping[KeyPath, str] = field(default_factory=dict)
    twice: tuple[Fault, ...] = ()

    @cached_property
    def locator(self) -> "Locator":
        """Where each key and value stands; worked out on the first fault only."""
        from prepadvisor.files.reading.locator import Locator  # most files have no fault to find

        return Locator(self.text, self.written)

    def fault(self, problem: Problem, *, at_key: bool = False) -> Fault:
        """Return a problem with its place in this file: at its value, or at its key."""
        line, column = self.locator.key(problem.path) if at_key else self.locator.value(problem.path)
        return Fault(self.name, line, column, one_line(problem.says), one_line(problem.mend))


def read_toml(path: Path | str, bytes_max: int = JOB_BYTES_MAX) -> TomlText:
    """Read and parse a TOML file; "-" is standard input.

    Raises:
        BadInputError: the file cannot be read, is too large, is no text, or cannot be parsed as TOML at all.
    """
    return parse(read_bytes(path, bytes_max), shown_name(path))


def shown_name(path: Path | str) -> str:
    """Return a file's name as faults show it: in one line, with "-" as standard input."""
    return "standard input" if str(path) == "-" else one_line(str(path))


def one_line(text: str) -> str:
    """Return a text with a question mark for every sign that could break or turn a line, cut to a length."""
    if len(text) > _LINE_MAX:
        text = f"{text[: _LINE_MAX // 2]}…{text[-_LINE_MAX // 2 :]}"
    return text if text.isprintable() else "".join(char if char.isprintable() else "?" for char in text)


def read_bytes(path: Path | str, bytes_max: int = JOB_BYTES_MAX) -> bytes:
    """Read a file of at most `bytes_max` bytes; "-" is standard input.

    Raises:
        BadInputError: with one sentence on what is in the way.
    """
    if str(path) == "-":
        if sys.stdin is None:
            raise _unreadable(shown_name(path), "it is closed", "name a file")
        return _bounded(sys.stdin.buffer.read(bytes_max + 1), shown_name(path), bytes_max)
    name = shown_name(path)
    try:
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            mode = os.fstat(handle).st_mode
            if stat.S_ISDIR(mode):
                raise _unreadable(name, "this is a folder", "name the file in it")
            if stat.S_ISFIFO(mode) and Path(path).parent in _OPEN_PIPES:
                os.set_blocking(handle, True)
            elif not stat.S_ISREG(mode):
                what = "a pipe" if stat.S_ISFIFO(mode) else "a device"
                raise _unreadable(name, f"this is no file but {what}", "name a file, or - for standard input")
            data = file.read(bytes_max + 1)
    except IsADirectoryError:
        raise _unreadable(name, "this is a folder", "name the file in it") from None
    except OSError as error:
        raise _unreadable(name, *_os_words(error, Path(path))) from None
    except ValueError:  # a NUL in the name
        raise _unreadable(name, "no file can have this name", "check the name") from None
    return _bounded(data, name, bytes_max)


def parse(raw: bytes, name: str, *, foreign: bool = False) -> TomlText:
    """Parse the bytes of a TOML file (UTF-8, with or without byte-order mark, any line ends).

    Texts of a `foreign` file, such as another shop's rules, are cleaned here: none of them can steer a
    terminal, break a line or turn the reading wherever it is shown.

    Lines that are no TOML are set aside as faults where the rest can still be read, so that all faults are
    told at once.

    Raises:
        BadInputError: nothing of it can be used.
    """
    sha256 = hashlib.sha256(raw).hexdigest()
    text, wrong = _decoded(_bounded(raw, name, JOB_BYTES_MAX), name)
    if not text.strip():
        raise _unreadable(name, "the file is empty", "start from a demo job")
    try:
        data, broken = _sound(text, name)
        return _text_of(name, text, data, sha256, (*wrong, *broken), foreign=foreign)
    except BadInputError as error:
        raise BadInputError(list(dict.fromkeys((*wrong, *error.faults)))) from None


def _sound(text: str, name: str) -> tuple[dict[str, Any], tuple[Fault, ...]]:
    """Return what is sound of a text, and the faults of its lines that are no TOML."""
    try:
        return _loaded(text, name), ()
    except tomli.TOMLDecodeError as error:
        from prepadvisor.files.reading.broken_lines import without_broken_lines  # few files have any

        lines, data = without_broken_lines(text, lambda rest: _loaded(rest, name), error)
        broken = tuple(
            Fault(name, line, column, one_line(says), one_line(mend)) for line, column, says, mend in lines
        )
        if data is None:
            raise BadInputError(list(broken)) from None
        return data, broken
    except RecursionError:
        raise _unreadable(name, "brackets or dotted keys are nested too deeply to be a job or rule file",
                          "rebuild it from a demo job") from None  # fmt: skip


def _loaded(text: str, name: str) -> dict[str, Any]:
    """Parse; a number too long for Python itself is told like any other fault.

    What would only fill the memory is refused unparsed.
    """
    if text.count("\n") > LINES_MAX or text.count(",") > VALUES_MAX or text.count(".") > VALUES_MAX:
        says = f"the file has more than {LINES_MAX:,} lines or {VALUES_MAX:,} values"
        raise BadInputError([Fault(name, 1, 1, says, "check that it is the right file")])
    try:
        return tomli.loads(text)
    except tomli.TOMLDecodeError:
        raise
    except ValueError as error:
        found = re.search(_LONG_NUMBER, text)
        at = found.start() if found else 0
        line, column = text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)
        says = "this number has thousands of digits" if found else f"this cannot be read ({error})"
        raise BadInputError([Fault(name, line, column, one_line(says), "check the number")]) from None


def _text_of(
    name: str, text: str, data: dict[str, Any], sha256: str, broken: tuple[Fault, ...], *, foreign: bool
) -> TomlText:
    if beyond := beyond_bounds(data):
        from prepadvisor.files.reading.locator import Locator

        places = Locator(text, wanted=[problem.path for problem in beyond if problem.path])
        at = [places.key(problem.path) for problem in beyond]
        told = [
            Fault(name, *place, one_line(each.says), each.mend)
            for place, each in zip(at, beyond, strict=True)
        ]
        raise BadInputError([*broken, *told])
    if foreign:
        data = _cleaned(data)
    found = in_first_words(data, text)
    if not found.twice:
        return TomlText(
            name=name, text=text, data=found.data, sha256=sha256, broken=broken, written=found.written
        )
    as_written = TomlText(name, text, data, sha256)
    twice = tuple(as_written.fault(problem, at_key=True) for problem in found.twice)
    return TomlText(
        name=name,
        text=text,
        data=found.data,
        sha256=sha256,
        broken=broken,
        written=found.written,
        twice=twice,
    )


def _cleaned(value: Any) -> Any:
    """Return data with every text in one line and without signs that steer; its depth is bounded already."""
    if isinstance(value, dict):
        return {key: _cleaned(each) for key, each in value.items()}
    if isinstance(value, list):
        return [_cleaned(each) for each in value]
    return cleaned(value, _FOREIGN_MAX) if isinstance(value, str) else value


def _decoded(raw: bytes, name: str) -> tuple[str, tuple[Fault, ...]]:
    """Return the text of a file, with a fault where it is saved in another code page than UTF-8.

    Such a text is read all the same, so that its other faults are told too; it is refused with them.
    """
    wrong: tuple[Fault, ...] = ()
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        wrong = (Fault(name, 0, 0, "the file is saved as UTF-16", "save it again as UTF-8"),)
        text = raw.decode("utf-16", "replace")
    else:
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            line = raw.count(b"\n", 0, error.start) + 1
            column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
            is_text = b"\0" not in raw[:8000]
            says = "this letter is not saved as UTF-8" if is_text else "this is not text"
            wrong = (Fault(name, line, column, says, "save the file again as UTF-8 text"),)
            if not is_text:
                raise BadInputError(list(wrong)) from None
            text = raw.decode("cp1252", "replace")
    if "\0" in text[:8000]:
        raise _unreadable(name, "this is not a text file", "name a file that ends in .toml")
    return text.replace("\r\n", "\n"), wrong


def _bounded(data: bytes, name: str, bytes_max: int) -> bytes:
    if len(data) > bytes_max:
        raise _unreadable(name, f"the file is over {bytes_max // 1_000_000} MB, which no job or rule file is",
                          "check that it is the right file")  # fmt: skip
    return data


def _unreadable(name: str, says: str, mend: str) -> BadInputError:
    return BadInputError([Fault(name, 0, 0, says, mend)])


def _os_words(error: OSError, path: Path) -> tuple[str, str]:
    if error.errno == errno.ENOENT:
        return "there is no such file", _near_file(path) or "check the name and the folder"
    if error.errno in (errno.EACCES, errno.EPERM):
        return "this file may not be read by you", "ask who owns it for the right to read it"
    if error.errno == errno.ENOTDIR:
        return "part of this name is a file, not a folder", "check the name"
    if error.errno == errno.ENAMETOOLONG:
        return "the name is too long", "check the name"
    return f"the file cannot be read ({error.strerror or error})", "check the drive or the network share"


def _near_file(path: Path) -> str:
    try:
        names = [entry.name for entry in path.parent.iterdir()]
    except OSError:
        return ""
    near = nearest(path.name, names)
    return f'did you mean "{near}"?' if near else ""
