"""`prepadvisor standards tighten`: a rule for the house that is some grades finer than another rule."""

import argparse
from pathlib import Path
from typing import Final

from prepadvisor.cli.shared import add_house, house_of

DESCRIPTION: Final = (
    "Prints a rule for the same cases as another, each of its grade limits so many shelf grades finer. "
    "It stands on its own: a change of the other does not move it. --out adds it to a file of the house."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards tighten hand-very-fine 1
  prepadvisor standards tighten hand-very-fine 1 --house our-standards --out our-standards/hand.toml

exit status: 0 written, 2 no such rule, or no finer grade
"""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("rule", metavar="RULE", help="the id of a rule")
    options.add_argument(
        "steps", metavar="N", type=int, nargs="?", default=1, help="how many grades finer (1)"
    )
    options.add_argument("--out", metavar="FILE", help="add the rule to the end of this file")
    add_house(options)


def run(args: argparse.Namespace) -> int:
    """Print or add the rule.

    Raises:
        BadInputError: no such rule, no finer grade, or a file that cannot be written to.
    """
    from prepadvisor.files import FileSystem, put, refuse_no_file
    from prepadvisor.records import BadInputError, Fault, did_you_mean
    from prepadvisor.standards import NoGradeError, rule_text, tightened

    house = house_of(args)
    rules = {rule.id: rule for rule in house.engine.rules}
    rule = rules.get(args.rule)
    if rule is None:
        says = f'no rule in force is called "{args.rule}"'
        raise BadInputError([Fault("RULE", 0, 0, says, did_you_mean(args.rule, tuple(rules)))])
    if args.steps < 1:
        raise BadInputError([Fault("N", 0, 0, "a rule is tightened by one grade or more", "write 1")])
    try:
        made = tightened(rule, args.steps, house.shop.shelf)
    except NoGradeError as error:
        raise BadInputError([Fault(args.rule, 0, 0, str(error))]) from None
    source = f"{args.steps} grade{'s' if args.steps > 1 else ''} finer than {rule.id}"
    taken = {*rules, *(each.id for each in house.engine.set_aside)}
    name = next(name for name in _names(made.id) if name not in taken)
    text = rule_text(name, made.says, rule.when, made.set, source)
    if args.out is None:
        print(text, end="")
        return 0
    path = Path(args.out)
    try:
        before = path.read_text(encoding="utf-8") if path.exists() else ""
        refuse_no_file(path)
        put(path, (f"{before.rstrip()}\n\n{text}" if before.strip() else text).encode(), FileSystem())
    except (OSError, UnicodeDecodeError) as error:
        raise BadInputError([Fault(args.out, 0, 0, f"cannot be written to ({error})")]) from None
    print(f"{name} added to {path}: " + ", ".join(f"{o} {a} → {b}" for o, (a, b) in made.steps.items()))
    return 0


def _names(first: str) -> "list[str]":
    return [first, *(f"{first}-{number}" for number in range(2, 100))]
