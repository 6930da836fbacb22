"""`prepadvisor fit`: the shop's own numbers from its test panels, and which panels to spray next."""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cli.shared import add_house, house_folders, now
from prepadvisor.wording import fixed_says, next_panel_says, told_says

if TYPE_CHECKING:
    from prepadvisor.cards import FitReport
    from prepadvisor.cards.page.pages import Pages
    from prepadvisor.records import Calibration, FittedNumber


_EXAMPLES: Final = """\
examples:
  prepadvisor fit panels.csv                          what the panels say, nothing written
  prepadvisor fit panels.csv archive/ --out our-house put the numbers in force in a house
  prepadvisor fit panels.csv archive/ --next 5        which panels to spray next, and why
  prepadvisor fit panels.csv archive/ --check         do outcomes agree with the numbers in force?
  prepadvisor fit panels.csv --report report.html     all of it with drawings, and the spray plan
  prepadvisor fit panels.csv archive/ --next 8 --plan plan.pdf    strips to scale, to print
  prepadvisor fit --guide                             how to make and read test panels

The table's columns: flake, flake_um, tilt_deg, log_sd, colour, tool, pad, grade, coats, zone, distance_mm,
light (a word or lux), film_um, shows, by, blind, date, photo, note. Needed in each row: flake, flake_um or
colour; tool or pad; grade; shows (yes, no or barely). Outcomes and wet looks of the jobs count as rows of
their own kind.
exit status: 0 fine, 2 a row, job or house cannot be used; then nothing is written.
"""
_NEXT_MOST: Final = 50


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor fit",
        description="Fit threshold, depth by tool, wet bed and flake sizes to the shop's own test panels.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument(
        "panels",
        metavar="CSV",
        nargs="?",
        help="table of test panels (panels.csv of the house); - is standard input",
    )
    options.add_argument("jobs", metavar="JOBS", nargs="*", help="job files or folders of them")
    options.add_argument("--out", metavar="HOUSE", help="house folder to write the measured numbers into")
    options.add_argument("--next", metavar="N", help="how many panels to propose next")
    options.add_argument("--check", action="store_true", help="say whether rows agree with numbers in force")
    options.add_argument("--report", metavar="FILE", help="write the report as .html or .pdf; - prints HTML")
    options.add_argument("--plan", metavar="FILE", help="write the spray plan alone as .html or .pdf")
    options.add_argument("--json", action="store_true", help="for a program to read")
    options.add_argument("--guide", action="store_true", help="print how to make and read test panels")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Fit, write what was asked for, print the report.

    Raises:
        BadInputError: for rows, jobs, options or house folders with faults; nothing is written then.
    """
    from prepadvisor.records import BadInputError, Fault

    if args.guide:
        from prepadvisor.wording import GUIDE

        print(GUIDE, end="")
        return 0
    houses = house_folders(args) or _own(args.out)
    if args.panels is not None and (Path(args.panels).is_dir() or args.panels.lower().endswith(".toml")):
        args.panels, args.jobs = None, [args.panels, *args.jobs]  # jobs alone: the house's own table
    args.panels = args.panels or _own_panels(houses)
    if args.panels is None and not houses:
        says, mend = (
            "name the table of test panels",
            "prepadvisor fit panels.csv (--guide: how to make them)",
        )
        raise BadInputError([Fault("fit", 0, 0, says, mend)])
    from prepadvisor.cards import fit_text, fitted_report

    count = _count(args.next)
    _refuse(args, count)
    report = fitted_report(args.panels, args.jobs, houses, count, now(), check=args.check)
    written: list[Path] = []
    if args.out is not None:
        from prepadvisor.files import write_measured

        after = report.in_force
        written = write_measured(Path(args.out), after.constants, after.shop, after.changed, now())
    if args.report is not None:
        _write_page(report, args.report, _inputs(args))
        if args.report == "-":
            return 0
    if args.plan is not None:
        _write_plan(report, args.plan, _inputs(args))
    if args.json:
        print(json.dumps(fit_json(report, written), ensure_ascii=False))
    else:
        print(fit_text(report, written, args.out), end="")
    if args.check and report.check is not None and not report.check.agrees:
        print("prepadvisor: what was seen disagrees with the numbers in force", file=sys.stderr)
    return 0


def _inputs(args: argparse.Namespace) -> tuple[str, ...]:
    """Return the files and folders that are read, none of which is written over."""
    return tuple(each for each in (args.panels, *args.jobs) if each)


def _refuse(args: argparse.Namespace, count: int) -> None:
    """Refuse places that cannot be written to before anything is written."""
    from prepadvisor.files import refuse_out
    from prepadvisor.records import BadInputError, Fault

    if args.plan is not None and not count:
        raise BadInputError([Fault("--plan", 0, 0, "there is no panel to plan", "say how many: --next 8")])
    for target in (args.report, args.plan):
        if target not in {None, "-"}:
            refuse_out(Path(target), _inputs(args))


def _own_panels(houses: tuple[str, ...]) -> str | None:
    """Return the table of panels that the topmost house with one keeps, None without any."""
    tables = [Path(house) / "panels.csv" for house in reversed(houses)]
    return next((str(table) for table in tables if table.is_file()), None)


def _count(given: str | None) -> int:
    if given is None:
        return 0
    from prepadvisor.records import BadInputError, Fault

    if not (given.isdecimal() and 1 <= int(given) <= _NEXT_MOST):
        says = f'"{given}" is no number of panels'
        raise BadInputError([Fault("--next", 0, 0, says, f"a whole number from 1 to {_NEXT_MOST}")])
    return int(given)


def _own(out: str | None) -> tuple[str, ...]:
    """Return the house that is written into as the one in force, if it is one already."""
    if out is None or not Path(out).is_dir():
        return ()
    return (out,) if any(path.suffix == ".toml" for path in Path(out).iterdir()) else ()


def _write_page(report: "FitReport", target: str, inputs: tuple[str, ...]) -> None:
    from prepadvisor.cards import fit_facts, fit_pages, html_card

    pages = fit_pages(fit_facts(report))
    if target == "-":
        sys.stdout.write(html_card(pages))
    else:
        _put(pages, target, inputs)


def _write_plan(report: "FitReport", target: str, inputs: tuple[str, ...]) -> None:
    from prepadvisor.cards import plan_pages

    _put(plan_pages(report.chosen), target, inputs)


def _put(pages: "Pages", target: str, inputs: tuple[str, ...]) -> None:
    """Write pages as the name's ending says: .pdf, else HTML."""
    from prepadvisor.files import put_out

    if target.lower().endswith(".pdf"):
        from prepadvisor.cards import pdf_card

        put_out(Path(target), pdf_card([pages]), inputs)
    else:
        from prepadvisor.cards import html_card

        put_out(Path(target), html_card(pages).encode(), inputs)


# A fit as `--json` prints it: keys are added, never renamed.


def fit_json(report: "FitReport", written: Sequence[Path]) -> dict[str, Any]:
    """Return the data of a report."""
    fit = report.fit
    return {
        "numbers": [_number(each) for each in fit.numbers],
        "rows": fit.rows,
        "next": [
            {
                "flake": each.flake,
                "tool": each.tool,
                "grade": each.grade,
                "coats": each.coats,
                "gain": each.gain,
                "says": next_panel_says(each),
                "because": each.because._asdict(),
            }
            for each in report.chosen
        ],
        "scatter": _number(fit.scatter),
        "kinds": dict(fit.by_kind),
        "panels": fit.panels,
        "judges": fit.judges,
        "fixed": [{**each._asdict(), "says": fixed_says(each)} for each in fit.fixed],
        "told": [{**each._asdict(), "says": told_says(each)} for each in fit.told],
        "calibration": {"before": _calibration(fit.before), "after": _calibration(fit.after)},
        "check": None
        if report.check is None
        else {
            "agrees": report.check.agrees,
            "whole": report.check.whole._asdict(),
            "odd": [each._asdict() for each in report.check.odd],
        },
        "jobs": None
        if report.replay is None
        else {
            "read": report.replay.tally.jobs,
            "changed": report.replay.tally.jobs_changed,
            "places": report.replay.tally.places,
            "places_changed": report.replay.tally.places_changed,
            "which": [
                {**each._asdict(), "changes": [change._asdict() for change in each.changes]}
                for each in report.replay.changed
            ],
        },
        "written": [str(path) for path in written],
    }


def _number(number: "FittedNumber") -> dict[str, Any]:
    return {
        "name": number.name,
        "value": number.value,
        "low": number.low,
        "high": number.high,
        "before": number.before,
        "rows": number.rows,
        "before_low": number.before_low,
        "before_high": number.before_high,
    }


def _calibration(calibration: "Calibration | None") -> dict[str, Any] | None:
    if calibration is None:
        return None
    return {
        "brier": calibration.brier,
        "chance_brier": calibration.chance_brier,
        "bins": [each._asdict() for each in calibration.bins],
    }
