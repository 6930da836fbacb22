"""`prepadvisor times`: planned minutes against those the logs show, and the shop's own rates from them."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.wording import counted

if TYPE_CHECKING:
    from prepadvisor.checkoff import NewRate, Pace, WorkKind

_EXAMPLES: Final = """\
examples:
  prepadvisor times archive/                      planned against real, by kind of work
  prepadvisor times archive/ --out our-house      write the shop's own rates into its shop.toml

What one person logs within 45 seconds is one bout; it took the time since his bout before, if that was no
more than an hour and a half. Log each step when it is done, or these times say nothing. A rate is
written where five bouts or more bear on it.
exit status: 0 fine, 2 a file cannot be read: the others are shown, and nothing is written.
"""
_WORK: Final = {
    "clean": "clean and degrease",
    "scuff": "scuff by hand",
    "powder": "powder",
    "sand": "sand",
    "look": "look",
    "wipe": "wipe",
    "mask": "mask",
}


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor times",
        description="Hold planned minutes against the times in the logs, by kind of work.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOBS", nargs="+", help="job files or folders of them")
    options.add_argument("--out", metavar="HOUSE", help="house folder to write the shop's rates into")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print planned against real, write the rates where asked, and return the exit status.

    Raises:
        BadInputError: for a house with faults, and where there is no job.
    """
    from prepadvisor.checkoff import Bout, bouts, new_rates, paces
    from prepadvisor.files import job_files, load_job
    from prepadvisor.planning import advise
    from prepadvisor.records import BadInputError, Fault

    house = house_of(args)
    found: list[Bout] = []
    faults: list[Fault] = []
    files = job_files(args.jobs)
    for file in files:
        try:
            job = load_job(file, house)
        except BadInputError as error:
            faults.extend(error.faults)
            continue
        if job.check:
            found.extend(bouts(job, advise(job, house, seek_offers=False)))
    went = paces(found)
    rates = new_rates(went, house.shop)
    written: list[Path] = []
    if args.out is not None and rates and not faults:
        from prepadvisor.files import write_rates

        written = write_rates(Path(args.out), {rate.name: (rate.after, rate.bouts) for rate in rates}, now())
    print(
        _as_json(went, rates, written) if args.json else _as_text(len(files), went, rates, written, args.out)
    )
    for fault in faults:
        print(fault, file=sys.stderr)
    return 2 if faults else 0


def _as_json(went: "tuple[Pace, ...]", rates: "tuple[NewRate, ...]", written: list[Path]) -> str:
    kinds = [
        {
            "do": pace.kind.do,
            "on": pace.kind.on,
            "bouts": pace.bouts,
            "planned": round(pace.planned, 3),
            "real": round(pace.real, 3),
            "ratio": round(pace.ratio, 3),
            "low": round(pace.low, 3),
            "high": round(pace.high, 3),
        }
        for pace in went
    ]
    numbers = [
        {"name": rate.name, "before": rate.before, "after": rate.after, "bouts": rate.bouts} for rate in rates
    ]
    return json.dumps({"kinds": kinds, "rates": numbers, "written": [str(path) for path in written]})


def _as_text(
    files: int,
    went: "tuple[Pace, ...]",
    rates: "tuple[NewRate, ...]",
    written: list[Path],
    house: str | None,
) -> str:
    if not went:
        return (
            f"{counted(files, 'job file')}: no bout of work whose time is known.\n"
            "Log each step when it is done; the first of each person has no beginning."
        )
    lines = [counted(files, "job file"), f"{'':<32}bouts  planned     real  real/planned, middle half"]
    for pace in went:
        span = f"{pace.low:.2f} to {pace.high:.2f}"
        lines.append(
            f"{_words(pace.kind):<32}{pace.bouts:>5}{pace.planned:>9.1f}{pace.real:>9.1f}"
            f"{pace.ratio:>7.2f}  {span}"
        )
    lines.append("")
    if not rates:
        lines.append("No kind of work has five bouts or more: no rate follows yet.")
    lines += [f"{rate.name}: {rate.before:g} -> {rate.after:g}   ({rate.bouts} bouts)" for rate in rates]
    if written:
        lines += ["", *(f"written: {path}" for path in written)]
    elif rates and house is None:
        lines += ["", "--out HOUSE writes these rates into that house's shop.toml."]
    return "\n".join(lines)


def _words(kind: "WorkKind") -> str:
    return f"{_WORK[kind.do]}, {kind.on}" if kind.on else _WORK[kind.do]
