"""`prepadvisor card`: the prep card of a job, as text, page, PDF or JSON."""

import argparse
import contextlib
import os
import re
import sys
from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.apart import apart
from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.cli.streams import note_done
from prepadvisor.files import put_out, refuse_out
from prepadvisor.records import BY_ENDING, FORMS, Advice, BadInputError, Fault, Form, Job, NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import Gate
    from prepadvisor.standards import House


_EXAMPLES: Final = """\
examples:
  prepadvisor card 1042.toml                        the card as text, 80 columns
  prepadvisor card 1042.toml --to html --out 1042.html
  prepadvisor card 1042.toml --to pdf --out 1042.pdf --paper letter
  prepadvisor card monday/ --to pdf --out cards/    a day's jobs, one card each
  prepadvisor card 1042.toml --to json              the whole advice, for a program
  prepadvisor card - < 1042.toml                    the job from standard input

exit status: 0 fine, 1 something blocks the job (it stands on top of the card), 2 bad input, no card.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor card",
        description="Write the prep card of one or more jobs.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOB", nargs="+", help="a job file, a folder of them, or -")
    options.add_argument("--to", choices=tuple(FORMS), help="form (text, or as the name of --out ends)")
    options.add_argument("--out", metavar="PATH", help="a file, a folder for one card a job, or - for stdout")
    options.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper of html and pdf (a4)")
    options.add_argument(
        "--sheets",
        choices=("first", "all"),
        default="first",
        help="all: with the training sheet",
    )
    options.add_argument("--force", action="store_true", help="replace older cards in a folder")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Write the cards and return the exit status, the worst of all jobs.

    Raises:
        BadInputError: for a house folder with faults and for paths that cannot be used.
    """
    return write_cards(args)


# Where cards go: the jobs asked for, the form, and a file, a folder or standard output for each.

_RESERVED: Final = frozenset(
    {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10))}
)
_NAME_MAX: Final = 80
STDIN: Final = "-"


class Target(NamedTuple):
    """Where the cards of one call go.

    `folder` has one card a job; `file` has all of them; neither is standard output. `beside` puts each card
    next to its job. `from_folder` says that a folder of jobs was asked for: progress is told.
    """

    jobs: tuple[str, ...]
    form: Form
    folder: Path | None = None
    file: Path | None = None
    beside: bool = False
    from_folder: bool = False


def target_of(args: argparse.Namespace) -> Target:
    """Work out jobs, form and place from the options.

    Raises:
        BadInputError: a folder without job files, or a form that cannot go where it was asked to go.
    """
    from_folder = any(name != STDIN and Path(name).is_dir() for name in args.jobs)
    jobs = tuple(name for asked in args.jobs for name in _jobs_in(asked))
    out = args.out
    form: Form = args.to or BY_ENDING.get(Path(out).suffix.lower() if out and out != STDIN else "", "text")
    if out is None or out == STDIN:
        beside = out is None and from_folder and FORMS[form].is_page
        if not beside and form == "html" and len(jobs) > 1:
            raise _fault("--out", "several pages do not go into one stream", "name a folder: --out cards/")
        return Target(jobs, form, beside=beside, from_folder=from_folder)
    place = Path(out)
    if place.is_dir() or out.endswith(("/", os.sep)) or (from_folder and not place.suffix):
        return Target(jobs, form, folder=place, from_folder=from_folder)
    if form == "html" and len(jobs) > 1:
        raise _fault("--out", "several pages do not go into one file", "name a folder: --out cards/")
    return Target(jobs, form, file=place, from_folder=from_folder)


def _jobs_in(asked: str) -> tuple[str, ...]:
    if asked == STDIN or not Path(asked).is_dir():
        return (asked,)
    found = tuple(str(path) for path in sorted(Path(asked).glob("*.toml")) if path.is_file())
    if not found:
        raise _fault(asked, "the folder holds no job file (*.toml)", "name a job file")
    return found


def _fault(place: str, says: str, mend: str) -> BadInputError:
    return BadInputError([Fault(place, 0, 0, says, mend)])


def card_name(job: str, number: str, form: Form, taken: set[str]) -> str:
    """Return a file name for a job's card that every system takes, different from those already taken.

    Args:
        job: path of the job file, or "-" for standard input, whose card is named by the job's number.
        number: the job's number.
        form: decides how the name ends.
        taken: lower-case names used so far in this call; the new one is added.
    """
    stem = number if job == STDIN else Path(job).stem
    safe = re.sub(r"[^\w.-]+", "-", stem).strip("-. ")[:_NAME_MAX].rstrip("-. ") or "card"
    if safe.split(".")[0].lower() in _RESERVED:
        safe = f"card-{safe}"
    name, count = f"{safe}{FORMS[form].ending}", 1
    while name.lower() in taken:
        count += 1
        name = f"{safe}-{count}{FORMS[form].ending}"
    taken.add(name.lower())
    return name


# Puts a card on disk whole or not at all, and keeps an older card where one must not be lost.


def put_if_new(path: Path, card: bytes, inputs: Iterable[Path | str] = (), *, force: bool) -> bool:
    """Write a card unless an older one that differs is there; return whether the card now stands on disk.

    Raises:
        BadInputError: the system refuses, or the place is an input or no card's; see `put_out`.
    """
    refuse_out(path, inputs)
    if not force and path.exists():
        with contextlib.suppress(OSError):
            if path.read_bytes() == card:
                return True
        print(f"{path}: an OLDER card is there and was kept; --force replaces it", file=sys.stderr)
        return False
    put_out(path, card, inputs)
    return True


# Loads, advises and writes cards job by job; one bad job does not keep the others from their cards.

Made = tuple[Job, Advice]


def write_cards(args: argparse.Namespace) -> int:
    """Write every card asked for and return the worst exit status.

    A single file gets all cards or, if one job is bad, none; a folder and standard output get the good ones.

    Raises:
        BadInputError: for a house folder with faults, and for places that cannot be written to.
    """
    target = target_of(args)
    in_one = target.folder is None and not target.beside
    if in_one and target.file is None and target.form == "pdf" and sys.stdout.isatty():
        raise BadInputError(
            [Fault("--to pdf", 0, 0, "a PDF is no text for a terminal", "add --out card.pdf")]
        )
    if target.form == "pdf":
        _need_fpdf2()
    if target.file is not None:
        from prepadvisor.files import refuse_out

        refuse_out(target.file, target.jobs)
    house = house_of(args)
    press = _Press(args, target, house)
    gather = in_one and (target.file is not None or target.form == "pdf")
    gathered: list[Made] = []
    worst = 0
    for place, name in enumerate(target.jobs, start=1):
        made = apart(name, partial(_made, name, house))
        worst = max(worst, 2 if made is None else 1 if made[1].holds else 0)
        if target.from_folder:
            print(f"[{place}/{len(target.jobs)}] {name}{'' if made else ': no card'}", file=sys.stderr)
        if made and gather:
            gathered.append(made)
        elif made and apart(name, partial(press.one, name, *made)) is None:
            worst = 2
    if gather and worst < 2:
        press.all(gathered)
    return worst


def _need_fpdf2() -> None:
    try:
        import fpdf  # noqa: F401 - only whether it is there
    except ImportError:
        raise BadInputError(
            [Fault("--to pdf", 0, 0, "a PDF needs the package fpdf2", 'pip install "prepadvisor[pdf]"')]
        ) from None


def _made(name: str, house: "House") -> Made:
    from prepadvisor.files import load_job
    from prepadvisor.planning import advise

    job = load_job(name, house)
    return job, advise(job, house)


class _Press:
    """Prints cards in one form to one target."""

    def __init__(self, args: argparse.Namespace, target: Target, house: "House") -> None:
        self.args = args
        self.target = target
        self.house = house
        self.names: dict[Path, set[str]] = {}

    def one(self, name: str, job: Job, advice: Advice) -> bool:
        """Print one card to standard output, beside its job, or into the folder; True when that is done."""
        card = self._card(job, advice)
        folder = self.target.folder
        if self.target.beside:
            folder = Path() if name == STDIN else Path(name).parent
        if folder is None:
            _show(card, self.target.form)
            return True

        taken = self.names.setdefault(folder, set())
        path = folder / card_name(name, job.job.number, self.target.form, taken)
        if put_if_new(path, _bytes(card), self._inputs(), force=self.args.force):
            note_done(f"written: {path}")
            print(path, file=sys.stderr)
        return True

    def all(self, made: list[Made]) -> None:
        """Print all cards into one file, or one PDF to standard output."""
        if self.target.form == "pdf":
            from prepadvisor.cards import Papers, write_pdf

            jobs = [Papers(*one, self.house, _gate(*one, self.house)) for one in made]
            whole = write_pdf(jobs, paper=self.args.paper, sheets=self.args.sheets)
        else:
            gap = "" if self.target.form == "json" else "\n"
            whole = gap.join(str(self._card(job, advice)) for job, advice in made).encode()
        if self.target.file is None:
            _show(whole, self.target.form)
        else:
            from prepadvisor.files import put_out

            put_out(self.target.file, whole, self._inputs())
            note_done(f"written: {self.target.file}")

    def _inputs(self) -> list[str]:
        """Return the files that were read, which no card is ever written over."""
        return [*self.target.jobs, *(file.path for file in self.house.used.files)]

    def _card(self, job: Job, advice: Advice) -> str | bytes:
        from prepadvisor.cards import write_card

        args = self.args
        found = _gate(job, advice, self.house)
        return write_card(
            job, advice, self.house, to=self.target.form, paper=args.paper, sheets=args.sheets, gate=found
        )


def _gate(job: Job, advice: Advice, house: "House") -> "Gate | None":
    """Return where the log leaves the work: boxes print ticked, findings on top; None without a log."""
    if not job.check:
        return None
    from prepadvisor.checkoff import gate_now

    return gate_now(job, advice, house, now())


def _bytes(card: str | bytes) -> bytes:
    return card.encode() if isinstance(card, str) else card


def _show(card: str | bytes, form: str) -> None:
    """Put a card on standard output: text as its code page has it, all else as the bytes it is."""
    if form == "text":
        sys.stdout.write(card if isinstance(card, str) else card.decode())
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(_bytes(card))
    sys.stdout.buffer.flush()
