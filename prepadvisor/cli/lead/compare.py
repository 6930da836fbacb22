"""`prepadvisor standards compare`: what changes between two standards, in few groups of cases."""

import argparse
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from prepadvisor.planning import JobDifferences
    from prepadvisor.standards import House


DESCRIPTION: Final = (
    "Tells every case that two standards decide otherwise: what holds now or no more, then what gets laxer, "
    "then the rest, one paragraph for each rule behind it. A and B are house folders, each laid over the "
    'shipped standards (and over the layers under both); "base" is nothing over them. Shop files, constants '
    "and outlines are compared too."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards compare base our-standards            what the shop's own change
  prepadvisor standards compare our-standards draft           before a draft goes live
  prepadvisor standards compare our-standards draft --jobs archive/    counted over own jobs too
  prepadvisor standards compare base site --under group       both over the layer "group"

exit status: 0 nothing differs, 1 something differs, 2 a file cannot be used
"""
_BASE: Final = "base"


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("a", metavar="A", help='house folder before, or "base"')
    options.add_argument("b", metavar="B", help='house folder after, or "base"')
    options.add_argument(
        "--under", metavar="DIR", action="append", default=[], help="a layer under both (may be several)"
    )
    options.add_argument(
        "--jobs", metavar="JOBS", nargs="+", help="count over these jobs too, files or folders"
    )
    options.add_argument("--all", action="store_true", help="tell every group of cases")
    options.add_argument(
        "--to", choices=("text", "csv", "json"), default="text", help="how to write it (text)"
    )
    options.add_argument(
        "--json", action="store_const", dest="to", const="json", help="the same as --to json"
    )


def run(args: argparse.Namespace) -> int:
    """Print what changes; 1 if anything does.

    Raises:
        BadInputError: with the faults of both folders, and of jobs that cannot be read.
    """
    from prepadvisor.cli.lead.compare_text import as_csv, as_json, as_text
    from prepadvisor.standards import compare, data_changes

    before, after = _both(args.under, args.a, args.b)
    found = compare(before.engine, after.engine)
    data = data_changes(before, after)
    jobs = _jobs(args.jobs, before, after) if args.jobs else None
    warnings = _one_version(before, after)
    if args.to == "json":
        print(as_json(found, data, jobs, warnings))
    elif args.to == "csv":
        print(as_csv(found, data, warnings))
    else:
        print(as_text(found, data, jobs, show_all=args.all))
        print("".join(f"\n{says}\n" for says in warnings), end="")
    return 1 if found.cases or data else 0


def _both(under: list[str], *folders: str) -> "list[House]":
    from prepadvisor.files import load_house
    from prepadvisor.records import BadInputError, Fault

    houses: list[House] = []
    faults: list[Fault] = []
    for folder in folders:
        try:
            houses.append(load_house(*under, *([] if folder == _BASE else [folder])))
        except BadInputError as error:
            faults.extend(error.faults)
    if faults:
        raise BadInputError(list(dict.fromkeys(faults)))
    return houses


def _jobs(names: list[str], before: "House", after: "House") -> "JobDifferences":
    from prepadvisor.files import job_files, load_job
    from prepadvisor.planning import job_differences

    return job_differences((load_job(name, before) for name in job_files(names)), before, after)


def _one_version(before: "House", after: "House") -> tuple[str, ...]:
    """Return a warning where both go by one name and version and say something else."""
    old, new = before.used.layers[-1], after.used.layers[-1]
    same = old.version and (old.name, old.version) == (new.name, new.version)
    if not same or old.digest == new.digest:
        return ()
    name = f'"{old.name}", version {old.version}'
    return (f"Both call themselves {name}, with other content: give B a new version.",)
