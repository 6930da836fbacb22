"""Loads, advises and writes cards job by job; one bad job does not keep the others from their cards."""

import argparse
import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from prepadvisor.cli.apart import apart
from prepadvisor.cli.card_target import STDIN, Target, card_name, target_of
from prepadvisor.cli.house_option import house_of, now
from prepadvisor.cli.streams import note_done
from prepadvisor.records.advice import Advice
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House

if TYPE_CHECKING:
    from prepadvisor.records.gate import Gate

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
        from prepadvisor.files.out_file import refuse_out

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


def _made(name: str, house: House) -> Made:
    from prepadvisor.files import load_job
    from prepadvisor.planning import advise

    job = load_job(name, house)
    return job, advise(job, house)


class _Press:
    """Prints cards in one form to one target."""

    def __init__(self, args: argparse.Namespace, target: Target, house: House) -> None:
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
        from prepadvisor.cli.card_file import put_if_new

        taken = self.names.setdefault(folder, set())
        path = folder / card_name(name, job.job.number, self.target.form, taken)
        if put_if_new(path, _bytes(card), self._inputs(), force=self.args.force):
            note_done(f"written: {path}")
            print(path, file=sys.stderr)
        return True

    def all(self, made: list[Made]) -> None:
        """Print all cards into one file, or one PDF to standard output."""
        if self.target.form == "pdf":
            from prepadvisor.cards.page.pdf import write_pdf

            whole = write_pdf(
                made, self.house, paper=self.args.paper, sheets=self.args.sheets, gates=self._gates(made)
            )
        else:
            gap = "" if self.target.form == "json" else "\n"
            whole = gap.join(str(self._card(job, advice)) for job, advice in made).encode()
        if self.target.file is None:
            _show(whole, self.target.form)
        else:
            from prepadvisor.files.out_file import put_out

            put_out(self.target.file, whole, self._inputs())
            note_done(f"written: {self.target.file}")

    def _inputs(self) -> list[str]:
        """Return the files that were read, which no card is ever written over."""
        return [*self.target.jobs, *(file.path for file in self.house.used.files)]

    def _gates(self, made: list[Made]) -> "list[Gate | None]":
        return [_gate(job, advice, self.house) for job, advice in made]

    def _card(self, job: Job, advice: Advice) -> str | bytes:
        from prepadvisor.cards import write_card

        args = self.args
        found = _gate(job, advice, self.house)
        return write_card(
            job, advice, self.house, to=self.target.form, paper=args.paper, sheets=args.sheets, gate=found
        )


def _gate(job: Job, advice: Advice, house: House) -> "Gate | None":
    """Return where the log leaves the work: boxes print ticked, findings on top; None without a log."""
    if not job.check:
        return None
    from prepadvisor.checkoff import gate

    return gate(job, advice, house, now())


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
