"""`prepadvisor standards check`: the exact audit of the base and a house folder, in words or as JSON."""

import argparse
import json
import sys
from collections import Counter
from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import house_folders, now
from prepadvisor.wording import paragraph, thousands

if TYPE_CHECKING:
    from prepadvisor.records import LayerUsed
    from prepadvisor.standards import Audit, Doing, Finding, House


DESCRIPTION: Final = (
    "Goes through every possible case, not a sample, and tells gaps, collisions, broken promises, failing "
    "examples, conditions that no case meets, and rules that change nothing (a note). Cases that a house "
    "makes laxer stand on top; it ends with what each house rule really does, with one case to picture."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards check                  the shipped standards
  prepadvisor standards check our-standards    with the shop's own over them
  prepadvisor standards check our-standards --json
  prepadvisor standards check our-standards --as-job our-rule > case.toml
  prepadvisor standards check site --house group    "site" over the layer "group"

exit status: 0 nothing to mend, 1 something to mend, 2 a file cannot be used
"""
_NOT_COUNTED: Final = (
    " Rules that hold, or keep the machine off, cut the cases too finely to count those that a card answers: "
    "every flaw was looked for all the same, the numbers of cases are upper ends."
)
_SHOWN_MOST: Final = 20
_HOUSE_MOST: Final = 200
_RULES_MANY: Final = 3000
"""From so many rules on somebody who waits is told so."""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("dir", metavar="DIR", nargs="?", help="house folder (or PREPADVISOR_HOUSE)")
    options.add_argument(
        "--house", metavar="DIR", action="append", help="layers below DIR, the lowest first (may be several)"
    )
    options.add_argument("--all", action="store_true", help=f"tell more than {_SHOWN_MOST} of each kind")
    options.add_argument("--as-job", metavar="RULE", help="print a job in which this rule shows, instead")
    options.add_argument("--json", action="store_true", help="for a program to read")


def run(args: argparse.Namespace) -> int:
    """Print what the audit finds; 1 if there is something to mend.

    Raises:
        BadInputError: for files that cannot be read.
    """
    from prepadvisor.cli.lead.doing_text import house_data, house_lines, loosened_data, loosened_lines
    from prepadvisor.files import (
        changed_unsaid,
        load_house,
        out_of_date,
        placed,
        sealed_ahead,
        stale_schemas,
        strays,
    )
    from prepadvisor.standards import Audited, audit_house, doings, loosenings

    folders = (*(args.house or ()), args.dir) if args.dir else house_folders(args)
    house = load_house(*folders)
    engine = house.engine
    if len(engine.rules) >= _RULES_MANY:
        print(f"{len(engine.rules)} rules: this can take some minutes", file=sys.stderr)
    audited = Audited(engine)
    found = audit_house(house, audited).with_more(
        [
            *strays(house.folders),
            *stale_schemas(house.folders, house.kinds),
            *sealed_ahead(house.book.values(), now().date()),
            *chain.from_iterable(map(changed_unsaid, *_layers_of(house))),
            *(
                found
                for folder, layer in zip(*_layers_of(house), strict=True)
                for found in out_of_date(layer, now().date(), folder)
            ),
        ]
    )
    found = replace(found, findings=placed(found.findings, house.folders))
    done, laxer = doings(audited, house.shop.shelf), loosenings(engine)
    if args.as_job:
        return _write_job(args.as_job, done, house)
    if args.json:
        data = as_data(found) | {"house": house_data(done), "loosened": loosened_data(laxer)}
        print(json.dumps(data, ensure_ascii=False, default=str))
    else:
        lines = loosened_lines(laxer)
        lines.append(as_text(found, shown_most=None if args.all else _SHOWN_MOST))
        told = house_lines(done, None if args.all else _HOUSE_MOST)
        print("\n".join([*lines, "", *told] if told else lines))
    return 0 if found.is_clean else 1


def _write_job(rule: str, done: "list[Doing]", house: "House") -> int:
    """Print the case in which a rule shows as a job file; 1 if there is none."""
    from prepadvisor.files import job_text
    from prepadvisor.records import BadInputError, Fault, did_you_mean

    found = next((each for each in done if each.rule == rule), None)
    if found is None:
        says = f'no rule of the house is called "{rule}"'
        raise BadInputError([Fault("--as-job", 0, 0, says, did_you_mean(rule, [each.rule for each in done]))])
    if found.case is None:
        print(f"{rule} does nothing, so there is no case to show.", file=sys.stderr)
        return 1
    print(job_text(found.case, house, rule), end="")
    return 0


def _layers_of(house: "House") -> "tuple[tuple[str, ...], list[LayerUsed]]":
    """Return the house's folders and their layers, in the same order."""
    return house.folders, [layer for layer in house.used.layers if layer.layer != "base"]


def as_data(found: "Audit") -> dict[str, object]:
    """Return an audit as `--json` prints it."""
    return {
        "findings": [
            {
                "kind": finding.kind,
                "rules": list(finding.rules),
                "facts": finding.facts(),
                "says": finding.says,
                "file": finding.file,
                "line": finding.line,
                "mend": finding.mend,
                "shadows": list(finding.shadows),
                "cases": finding.cases,
                "paste": finding.paste,
            }
            for finding in found.findings
        ],
        "cells": found.cells,
        "living": found.living,
        "living_is_exact": found.living_is_exact,
        "not_judged": list(found.not_judged),
    }


def as_text(found: "Audit", shown_most: int | None) -> str:
    """Return an audit for a person, gravest first, at most so many of each kind (None: all)."""
    from prepadvisor.standards import KINDS, NOTES

    number = Counter(finding.kind for finding in found.findings)
    lines: list[str] = []
    pasted: set[tuple[str, int, str]] = set()
    for kind, says in KINDS.items():
        if not number[kind]:
            continue
        note = " (a note, not an error)" if kind in NOTES else ""
        lines += [f"{kind.upper()}: {says}{note}", ""]
        of_kind = [finding for finding in found.findings if finding.kind == kind]
        for finding in of_kind[:shown_most]:
            lines += [*_told(finding, pasted), ""]
        if shown_most is not None and len(of_kind) > shown_most:
            lines += [f"  … and {len(of_kind) - shown_most} more of these (--all tells them).", ""]
    errors = sum(finding.is_error for finding in found.findings)
    summary = _summary(errors, len(found.findings) - errors, found.cells)
    if not found.living_is_exact:
        summary += _NOT_COUNTED
    summary = " ".join((summary, *found.not_judged))
    return "\n".join([*lines, *paragraph(summary)])


def _told(finding: "Finding", pasted: set[tuple[str, int, str]]) -> list[str]:
    """Return a finding; lines to paste that mend several are told once, at the first."""
    key = (finding.file, finding.line, finding.paste)
    if finding.paste and key in pasted:
        return [f"  {finding.where()}", *paragraph(finding.says, "    "), "    Mend: as above."]
    pasted.add(key)
    place = finding.where()
    return [
        *([f"  {place}"] if place else []),
        *paragraph(finding.says, "    "),
        *paragraph(f"Mend: {finding.mend}", "    "),
        *(["    Paste into the rule, in place of its own line:"] if finding.paste else []),
        *(f"      {line}" for line in finding.paste.splitlines()),
    ]


def _summary(errors: int, notes: int, cells: int) -> str:
    looked_at = f"All {thousands(cells)} possible cases were looked at."
    if not errors and not notes:
        return f"Nothing to mend: no gap, no collision, every promise and example holds. {looked_at}"
    to_mend = f"{errors} to mend" if errors else "Nothing to mend"
    also = f", {notes} note{'s' if notes > 1 else ''}" if notes else ""
    return f"{to_mend}{also}. {looked_at}"
