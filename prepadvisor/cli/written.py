"""Where the answer of a command goes: the form by --to or the ending of --out; a file or stdout."""

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final, TypeVar

from prepadvisor.records.fault import BadInputError, Fault

F = TypeVar("F", bound=str)
STDOUT: Final = "-"
_OTHER_ENDINGS: Final = {"txt": "text", "htm": "html"}


def form_of(asked: F | None, out: str | None, forms: Sequence[F]) -> F:
    """Return the form asked for, else the one the ending of the file says, else the first there is.

    Args:
        asked: the option --to.
        out: the option --out.
        forms: the forms the command has.
    """
    ending = Path(out).suffix.lower().removeprefix(".") if out and out != STDOUT else ""
    named = _OTHER_ENDINGS.get(ending, ending)
    return asked or next((form for form in forms if form == named), forms[0])


def write_out(out: str | None, answer: str | bytes, inputs: Iterable[Path | str] = ()) -> None:
    """Write an answer to a file, or to standard output where none is named.

    Args:
        out: the option --out.
        answer: text, or the bytes of a PDF.
        inputs: files that were read, which are never written over.

    Raises:
        BadInputError: the file cannot be written, or bytes would go to a terminal.
    """
    if out and out != STDOUT:
        from prepadvisor.files.out_file import put_out

        put_out(Path(out), answer.encode() if isinstance(answer, str) else answer, inputs)
        print(out, file=sys.stderr)
    elif isinstance(answer, str):
        print(answer, end="" if answer.endswith("\n") else "\n")
    elif sys.stdout.isatty():
        raise BadInputError([Fault("--to pdf", 0, 0, "a terminal cannot show a PDF", "name a file: --out")])
    else:
        sys.stdout.buffer.write(answer)
