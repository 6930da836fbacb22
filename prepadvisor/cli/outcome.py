"""`prepadvisor outcome`: records, weeks later, whether lines were seen at a place."""

import argparse
import sys
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of, now
from prepadvisor.cli.streams import note_done

if TYPE_CHECKING:
    from prepadvisor.records import Advice

_EXAMPLES: Final = """\
examples:
  prepadvisor outcome 1042.toml left-front-door/E4 seen --by KM --note "straight lines in the handle recess"
  prepadvisor outcome 1042.toml left-front-door/all clear --by KM      all that has no report of its own

exit status: 0 recorded, 2 refused or bad input: the file is as it was.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor outcome",
        description="Record what was seen at a place weeks after delivery.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("job", metavar="JOB", help="a job file")
    options.add_argument(
        "where", metavar="PANEL/PLACE", help="where, or its card number; PANEL/all if all clear"
    )
    options.add_argument("seen", metavar="seen|clear", help="seen: lines can be seen; clear: none can")
    options.add_argument("--by", help="your initials (or PREPADVISOR_BY, else your name on this computer)")
    options.add_argument("--note", default="", help="what it looks like")
    options.add_argument("--at", help="when, if not now, such as 2026-04-20T09:40:00Z")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Add the outcome and return the exit status.

    Raises:
        BadInputError: for a job or house with faults, and where the job cannot be saved.
    """
    from pathlib import Path

    from pydantic import ValidationError

    from prepadvisor.checkoff import ever_clear
    from prepadvisor.cli.log import signed_by
    from prepadvisor.cli.shared import time_of
    from prepadvisor.files import append_outcome, job_reader, load_job
    from prepadvisor.logbook import person
    from prepadvisor.planning import advise
    from prepadvisor.records import Outcome, card_numbers, cleaned, own_words, place_named

    house, present = house_of(args), now()
    stated, faults = time_of(args.at)
    at = stated or present.replace(microsecond=0)
    if args.job == "-":
        faults.append("standard input cannot be added to; name the job file")
    if args.seen not in {"seen", "clear"}:
        faults.append(f'"{args.seen}" is neither seen nor clear')
    if at > present:
        faults.append(f"the time {at.isoformat()} lies ahead of now")
    where = args.where
    panel, _, feature = where.partition("/")
    if args.job != "-":
        advice = advise(load_job(args.job, house), house)
        where = place_named(where, card_numbers([each.id for each in advice.panels], advice.places))
        panel, _, feature = where.partition("/")
        faults += _unknown(advice, panel, feature)
    if feature == "all" and args.seen == "seen":
        faults.append("say where the lines are seen; only clear can be said of all places")
    by = signed_by(args.by, "")
    if not person(by):
        faults.append("whose report is it? give initials that can be read with --by")
    if not faults:
        seen = args.seen == "seen"
        try:
            outcome = Outcome(at=at, by=by, panel=panel, feature=feature, seen=seen, note=args.note)
        except ValidationError as error:
            faults = [f"{'.'.join(map(str, each['loc']))}: {own_words(each)}" for each in error.errors()]
    if faults:
        for fault in faults:
            print(cleaned(f"not recorded: {fault}", 1_000), file=sys.stderr)
        return 2
    append_outcome(Path(args.job), outcome, reads=job_reader(house))
    note_done(f"recorded: {where} {args.seen}")
    print(f"recorded: {where} {args.seen}")
    job = load_job(args.job, house)
    if not ever_clear(job, advise(job, house), house):
        print("know: by its log this job never was clear to mask; `outcomes` marks it")
    return 0


def _unknown(advice: "Advice", panel: str, feature: str) -> list[str]:
    from prepadvisor.records import did_you_mean

    panels = [each.id for each in advice.panels]
    if panel not in panels:
        return [f'this job has no panel "{panel}"; {did_you_mean(panel, panels)}']
    features = [place.feature for place in advice.places if place.panel == panel]
    if feature not in {*features, "all"}:
        return [f'{panel} has no place "{feature}"; {did_you_mean(feature, features)}']
    return []
