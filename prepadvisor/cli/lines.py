"""`prepadvisor lines`: the table to pin to the wall. Will this tool and grade show in this flake?"""

import argparse
import json
from collections.abc import Sequence
from textwrap import wrap
from typing import Final

from prepadvisor.cli.lines_sheet import SHOWN_GRADES, Bedded, LineRow, LinesSheet
from prepadvisor.cli.shared import add_house, house_of
from prepadvisor.records import DA_TOOLS, HAND_TOOLS, RANK, TOOLS, Grade
from prepadvisor.wording import TOOL, ZONE, coats, estimate_word, flake_short

_EXAMPLES: Final = """\
examples:
  prepadvisor lines                                 very fine flake, fade, no wet bed
  prepadvisor lines --flake fine --coats 2
  prepadvisor lines --flake vapour --zone colour
  prepadvisor lines --flake-um 7.5 --tilt 6.5 --log-sd 0.45     a measured flake
  prepadvisor lines --json
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor lines",
        description="Line strength and the risk that lines show, by tool and grade: an estimate.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("--flake", metavar="CLASS", default="very-fine", help="solid to vapour (very-fine)")
    options.add_argument("--flake-um", metavar="X", help="measured: median diameter by area, in µm")
    options.add_argument("--tilt", metavar="X", help="measured: standard deviation of tilt, in degrees")
    options.add_argument("--log-sd", metavar="X", help="measured: standard deviation of ln diameter")
    options.add_argument("--coats", metavar="N", default="0", help="coats of wet bed over the lines (0)")
    options.add_argument("--zone", metavar="ZONE", default="fade", help="fade or colour (fade)")
    options.add_argument("--numbers", action="store_true", help="line strengths, and what it rests on")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Print the table and return the exit status.

    Raises:
        BadInputError: for options without meaning and for a house folder with faults.
    """
    from prepadvisor.cli.lines_sheet import asked, sheet_of

    wanted = asked(args)
    sheet = sheet_of(wanted, house_of(args))
    print(
        json.dumps(_as_data(sheet), ensure_ascii=False)
        if args.json
        else sheet_text(sheet, numbers=args.numbers)
    )
    return 0


def _as_data(sheet: "LinesSheet") -> dict[str, object]:
    flake = {"class": sheet.asked.flake} | (sheet.flake._asdict() if sheet.flake else {})
    return {
        "flake": flake,
        "zone": sheet.asked.zone,
        "set_solids": sheet.set_solids,
        "risk_limit": sheet.risk_limit if sheet.limit_rules else None,
        "rows": [row._asdict() for row in sheet.rows],
    }


def _limit_from(sheet: "LinesSheet") -> str:
    if sheet.limit_rules:
        return f"rule {', '.join(sheet.limit_rules)}"
    return "no rule sets one: cards take any, this table half"


# The wall table as text: at most 80 columns, the three words with their numbers, and what is assumption.

_WIDTH: Final = 80
_LABEL: Final = 10
_CELL: Final = 12
_SHORT: Final = {"safe": "safe", "borderline": "border", "will show": "shows"}

_TOOL: Final[dict[str, str]] = {
    "hand-paper": "paper",
    "hand-pad": "pad",
    "hand-foam": "foam pad",
    "block": "block",
    "da-hard": "hard pad",
    "da": "DA",
    "da-soft": "soft pad",
}
"""Tools as heads of columns."""

_TITLE: Final = "WILL A SCRATCH SHOW?  "
_SOLID: Final = (
    "A solid colour has no flake that a scratch could turn: the line model says nothing here and the house "
    "standards alone decide."
)


def sheet_text(sheet: LinesSheet, *, numbers: bool = False) -> str:
    """Return the table, without a newline at its end.

    Args:
        sheet: the table.
        numbers: with line strengths and what it rests on.
    """
    if sheet.flake is None:
        return "\n".join(wrap(_SOLID, _WIDTH))
    lines = [*_head(sheet), ""]
    lines += ["COARSEST SAFE GRADE", *_coarsest_safe(sheet), ""]
    lines += ["BY HAND: straight lines", *_words(sheet, HAND_TOOLS), ""]
    lines += ["SANDER: short arcs", *_words(sheet, DA_TOOLS)]
    if sheet.keys_to is not None:
        lines += ["", f"Nothing finer than {sheet.keys_to} keys on clear: finer grades are not shown."]
    if numbers:
        lines += ["", *_strengths(sheet), "", *_foot(sheet)]
    return "\n".join(line.rstrip() for line in lines)


def _head(sheet: LinesSheet) -> list[str]:
    asked, flake = sheet.asked, sheet.flake
    if flake is None:
        return []
    coats = {0: "no wet bed", 1: "1 coat of wet bed"}.get(asked.coats, f"{asked.coats} coats of wet bed")
    unknown = asked.flake == "unknown"
    name = "unknown flake, judged as very fine" if unknown else f"{flake_short(asked.flake)} flake"
    if asked.is_measured:
        name += " with measured values"
    numbers = f"median {flake.d50_um:g} µm, log-sd {flake.log_sd:g}, tilt {flake.tilt_deg:g}°"
    lines = [
        *wrap(f"{_TITLE}{name}, {ZONE[asked.zone]}, {coats}", _WIDTH, subsequent_indent=" " * len(_TITLE)),
        "",
        *wrap(_sure(sheet), _WIDTH),
        "It says only whether lines show. Which grade keys, and what is allowed, is on",
        "the card; a wet bed never buys a coarser grade.",
        "",
        f"Flake: {numbers}. Seen from {sheet.viewing_distance_mm:g} mm.",
        f"safe        risk up to {sheet.risk_limit:g} ({_limit_from(sheet)})",
    ]
    if sheet.risk_limit < sheet.borderline_risk:
        lines.append(f"borderline  up to {sheet.borderline_risk:g}: spray a test panel or ask the lead")
    return [*lines, "will show   above"]


def _sure(sheet: LinesSheet) -> str:
    if sheet.measured is None:
        return "A model's estimate: test panels and the paint maker's sheet come first."
    word = estimate_word(sheet.measured)
    on = sheet.measured.on.isoformat()
    return f"By a model {word}, {on}; the paint maker's sheet comes first."


def _coarsest_safe(sheet: LinesSheet) -> list[str]:
    """Return, per tool, the coarsest grade from which on every grade is safe, and that still keys.

    Danger: what is fine enough to be safe may be too fine to key.
    """
    answers = []
    for tool in TOOLS:
        found = "none"
        for row in reversed([row for row in sheet.rows if row.tool == tool]):
            if sheet.verdict(row.risk) != "safe":
                break
            found = row.grade
        if sheet.keys_to is not None and found != "none" and RANK[Grade(found)] > RANK[sheet.keys_to]:
            found = "none that keys"
        answers.append(f"{TOOL[tool]}: {found}")
    joined = "   ".join(answer.replace(" ", "\u00a0") for answer in answers)
    return wrap(joined, _WIDTH, break_on_hyphens=False)


def _words(sheet: LinesSheet, tools: Sequence[str]) -> list[str]:
    """Return risks by grade and tool, and in the last column what a wet bed does for the shop's own tool."""
    cells = {(row.tool, row.grade): row for row in sheet.rows}
    bedded = {one.grade: one for one in sheet.bedded if one.tool in tools}
    tool = next((one.tool for one in sheet.bedded if one.tool in tools), "")
    lines = [f"{'grade':<{_LABEL}}" + "".join(f"{_TOOL[one]:<{_CELL}}" for one in tools)]
    lines[0] += f"bed for {_TOOL[tool]}" if tool else ""
    grades = [grade for grade in SHOWN_GRADES if sheet.keys_to is None or RANK[grade] <= RANK[sheet.keys_to]]
    shown = _run(sheet, [[cells[one, grade] for one in tools] for grade in grades], "will show")
    while shown and bedded[grades[shown - 1]].allowed:
        shown -= 1  # what the rules let be done is worth a line
    shown = shown if shown > 1 else 0
    lines += _folded(sheet, [cells[one, grade] for grade in grades[:shown] for one in tools])
    for grade in grades[shown:]:
        row = "".join(_cell(sheet, cells[one, grade]) for one in tools)
        lines.append(f"{grade:<{_LABEL}}{row}{_bed(bedded[grade])}")
    return lines


def _bed(one: Bedded) -> str:
    if not one.allowed:
        return "too coarse by rule"
    if one.coats is None:
        return "none is enough"
    return "not needed" if one.coats == 0 else f"{coats(one.coats)} {one.risk:.2f}"


def _run(sheet: LinesSheet, by_grade: list[list[LineRow]], word: str) -> int:
    """Return how many grades from the start have this word with every tool; one alone is not folded."""
    count = 0
    for rows in by_grade:
        if any(sheet.verdict(row.risk) != word for row in rows):
            break
        count += 1
    return count if count > 1 else 0


def _folded(sheet: LinesSheet, rows: list[LineRow]) -> list[str]:
    risks = [row.risk for row in rows]
    if not risks:
        return []
    word = sheet.verdict(risks[0])
    bound = f"{max(risks):.2f} or less" if word == "safe" else f"{min(risks):.2f} or more"
    label = f"{rows[0].grade}-{rows[-1].grade}"
    return [f"{label:<{_LABEL}}{word} with all of these (risk {bound})"]


def _cell(sheet: LinesSheet, row: LineRow) -> str:
    risk = row.risk or 0.0
    return f"{_SHORT[sheet.verdict(risk)]} {risk:.2f}".ljust(_CELL)


def _strengths(sheet: LinesSheet) -> list[str]:
    cells = {(row.tool, row.grade): row.arcsec or 0.0 for row in sheet.rows}
    title = f"LINE STRENGTH in arcseconds ({sheet.thinnest_line_arcsec:g} = the thinnest line seen)"
    lines = [title, f"{'grade':<7}" + "".join(f"{_TOOL[tool]:>10}" for tool in TOOLS)]
    lines += [
        f"{grade:<7}" + "".join(f"{cells[tool, grade]:>10.2f}" for tool in TOOLS) for grade in SHOWN_GRADES
    ]
    return lines


def _foot(sheet: LinesSheet) -> list[str]:
    lines = ["WHAT IT RESTS ON"]
    for kind, names in sheet.known.items():
        word = "the shop's own" if kind == "house" else kind
        lines += wrap(f"{word}: {', '.join(names)}", _WIDTH, subsequent_indent="  ")
    if sheet.house:
        lines += wrap(f"House standards: {sheet.house}", _WIDTH, subsequent_indent="  ")
    return lines
