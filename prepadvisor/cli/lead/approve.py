"""`prepadvisor standards approve`: puts on record that a folder's standards are in force from a day on."""

import argparse
import datetime as dt
from typing import Final

DESCRIPTION: Final = (
    "Writes version, digest, day and initials of a folder into its in-force.toml, if the check "
    "finds nothing to mend. A card printed later can be verified against it for years."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards approve our-standards --by "K. M."
  prepadvisor standards approve site --under group --by "K. M." --from 2026-04-01

exit status: 0 on record, 1 the check finds something to mend, 2 a file cannot be used
"""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("dir", metavar="DIR", help="the house folder to approve")
    options.add_argument(
        "--under", metavar="DIR", action="append", default=[], help="layers below it, lowest first"
    )
    options.add_argument("--by", metavar="INITIALS", required=True, help="who approves")
    options.add_argument(
        "--from", dest="since", metavar="DAY", type=dt.date.fromisoformat, help="the day (today)"
    )


def run(args: argparse.Namespace) -> int:
    """Write the record; 1 if the standards are not sound.

    Raises:
        BadInputError: for files that cannot be read, and a version that is on record with another content.
    """
    from prepadvisor.cli.shared import now
    from prepadvisor.files import approve, load_house
    from prepadvisor.records import BadInputError, Fault
    from prepadvisor.standards import audit

    house = load_house(*args.under, args.dir)
    if not audit(house.engine).is_clean:
        print(f"Not on record: the check finds something to mend.\n  prepadvisor standards check {args.dir}")
        return 1
    layer = house.used.layers[-1]
    try:
        entry = approve(args.dir, layer, args.by.strip(), args.since or now().date())
    except OSError as error:
        raise BadInputError([Fault(args.dir, 0, 0, f"cannot be written to ({error.strerror})")]) from None
    if entry is None:
        print(f'Version "{layer.version}" is on record already, with just this content.')
    else:
        by = entry.approved_by.rstrip(".")
        print(f'Version "{entry.version}" is in force from {entry.since}, approved by {by}.')
    return 0
