"""`prepadvisor outcomes`: how often lines came back, by flake, tool, grade, coats and reach."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.house_option import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.checkoff.redo import Finished, Rate

_EXAMPLES: Final = """\
examples:
  prepadvisor outcomes archive/            every job file in a folder and the folders in it
  prepadvisor outcomes 1042.toml 1043.toml
  prepadvisor outcomes archive/ --json     for a program

The interval is for 95 %: places of one job go together, so with few jobs it is wide, however many places they
have. Places out of sight (flanges, cut-outs) are told apart. Unreadable files are listed and counted.
exit status: 0 no lines were seen, 1 lines were seen somewhere, 2 a file could not be read.
"""
_TITLES: Final = {
    "flake": "BY FLAKE",
    "zone": "BY STRICTEST ZONE",
    "tool": "BY LAST TOOL",
    "grade": "BY LAST GRADE",
    "coats": "BY COATS OF WET BED SPRAYED",
    "reach": "BY REACH",
}


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor outcomes",
        description="Tell how often lines were seen weeks later, and what those places were prepared with.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("jobs", metavar="JOBS", nargs="+", help="job files or folders of them")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print the rates and return the exit status.

    Raises:
        BadInputError: for a house folder with faults.
    """
    from prepadvisor.checkoff.ever import ever_clear
    from prepadvisor.checkoff.redo import FACTORS, finished, in_sight, rate, rates, with_risks
    from prepadvisor.files import load_job
    from prepadvisor.planning import advise
    from prepadvisor.records.fault import BadInputError

    house = house_of(args)
    places: list[Finished] = []
    silent = 0
    unreadable: list[tuple[str, str]] = []
    files = [file for name in args.jobs for file in _files(name)]
    for number, file in enumerate(files, 1):
        try:
            job = load_job(file, house)
        except BadInputError as error:
            unreadable.append((file, str(error.faults[0])))
            continue
        if job.outcome:
            advice = advise(job, house)
            done = finished(job, advice, cleared=ever_clear(job, advice, house))
            places.extend(with_risks(done, house.judged(job.colour), house))
        else:
            silent += 1
        if number % 500 == 0:
            print(f"{number} of {len(files)} files read", file=sys.stderr)
    visible = in_sight(places)
    whole = [rate("all", "all places in sight", visible)] if visible else []
    tables = [*whole, *(each for factor in FACTORS for each in rates(visible, factor))]
    hidden = [place for place in places if not place.in_sight]
    never = [place for place in places if not place.cleared]
    failed = [place for place in places if place.seen]
    if args.json:
        print(_as_json(len(files), silent, tables, hidden, never, failed, unreadable))
    else:
        print(_as_text(len(files), silent, tables, hidden, never, failed, unreadable))
    return 2 if unreadable else 1 if failed else 0


def _files(name: str) -> list[str]:
    path = Path(name)
    return [str(file) for file in sorted(path.rglob("*.toml")) if file.is_file()] if path.is_dir() else [name]


def _as_json(
    files: int,
    silent: int,
    tables: "list[Rate]",
    hidden: "list[Finished]",
    never: "list[Finished]",
    failed: "list[Finished]",
    unreadable: list[tuple[str, str]],
) -> str:
    return json.dumps(
        {
            "files": files,
            "without_report": silent,
            "rates": [each._asdict() for each in tables],
            "hidden": {"places": len(hidden), "seen": sum(place.seen for place in hidden)},
            "never_cleared": {"places": len(never), "seen": sum(place.seen for place in never)},
            "failed": [place._asdict() for place in failed],
            "unreadable": [{"file": file, "why": why} for file, why in unreadable],
        },
        ensure_ascii=False,
    )


def _predicted(each: "Rate") -> str:
    """Return the mean risk the line model has for the places it has something to say of."""
    if each.predicted is None:
        return "        -"
    of = "" if each.judged == each.places else f" of {each.judged}"
    return f"{each.predicted:>9.0%}{of}"


def _as_text(
    files: int,
    silent: int,
    tables: "list[Rate]",
    hidden: "list[Finished]",
    never: "list[Finished]",
    failed: "list[Finished]",
    unreadable: list[tuple[str, str]],
) -> str:
    reported = (tables[0].places if tables else 0) + len(hidden)
    lines = [f"{files} job file(s), {reported} place(s) reported on"]
    last = ""
    for each in tables:
        if each.factor != last:
            heads = "seen of places  jobs   share   95 % interval  predicted"
            lines += ["", f"{_TITLES.get(each.factor, 'LINES SEEN'):<30} {heads}"]
            last = each.factor
        lines.append(
            f"  {each.value:<28} {each.seen:>4} of {each.places:<6} {each.jobs:>5}  {each.share:>6.0%}   "
            f"{each.low:>4.0%} to {each.high:>4.0%}  {_predicted(each)}"
        )
    if silent:
        lines += [
            "",
            f"NOT KNOWN: {silent} job(s) have no report: nobody came back, or nobody wrote it down.",
            "  They count nowhere above; a customer who says nothing is not a place without lines.",
        ]
    if never:
        seen = sum(place.seen for place in never)
        lines += [
            "",
            f"MARKED: {len(never)} of these places are of jobs that by their log never were clear to mask,",
            f"  lines seen at {seen} of them",
        ]
    if hidden:
        seen = sum(place.seen for place in hidden)
        lines += ["", f"OUT OF SIGHT, NOT COUNTED ABOVE: lines seen at {seen} of {len(hidden)} place(s)"]
    if failed:
        lines += ["", "WHERE LINES WERE SEEN, AND WHAT HAD BEEN DECIDED"]
        for place in failed:
            ahead = f"{place.hand}, then " if place.hand else ""
            how = f"{place.flake}, {place.reach}, {ahead}{place.tool} {place.grade}, {place.coats} coats"
            lines.append(f"  {place.job} {place.place}: {how}{f'; {place.note}' if place.note else ''}")
            lines.append(f"    decided by {', '.join(place.rules) or 'no rule'}")
    if unreadable:
        lines += ["", f"NOT READ: {len(unreadable)} file(s)", *(f"  {why}" for _, why in unreadable)]
    return "\n".join(lines)
