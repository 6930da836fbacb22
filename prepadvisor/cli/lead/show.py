"""`prepadvisor standards show`: the rules by family, those that speak of a word, or one rule in full."""

import argparse
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of
from prepadvisor.wording import paragraph

if TYPE_CHECKING:
    from prepadvisor.standards import Engine, Rule


DESCRIPTION: Final = (
    "Without a word: all rules by family, which is the file they stand in. With a rule's id: all of it, its "
    "source, its examples and where it decides. With any other word: the rules that speak of it."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards show
  prepadvisor standards show bonnet
  prepadvisor standards show hand-very-fine
  prepadvisor standards show guide_coat --house our-standards

exit status: 0 shown, 1 nothing speaks of it, 2 a file cannot be used
"""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument(
        "word", metavar="RULE|WORD", nargs="?", help="a rule's id, a fact, a value, any word"
    )
    add_house(options)


def run(args: argparse.Namespace) -> int:
    """Print the rules; 1 if there is none.

    Raises:
        BadInputError: for a house folder with faults.
    """
    from prepadvisor.cli.lead.rule_sheet import rule_sheet

    engine = house_of(args).engine
    word = (args.word or "").strip()
    rules = {rule.id: rule for rule in (*engine.set_aside, *engine.rules)}
    if word in rules:
        print("\n".join(rule_sheet(engine, rules[word])))
        return 0
    found = [rule for rule in rules.values() if _speaks_of(rule, word.casefold())]
    if not found:
        print(_nothing(word, list(rules)))
        return 1
    print("\n".join(_by_family(engine, found)))
    return 0


def _speaks_of(rule: "Rule", word: str) -> bool:
    settings = " ".join(f"{output} {value}" for output, value in rule.set.items())
    asked = rule.when.asked
    values = " ".join(str(value) for fact in asked for value in _values(rule, fact))
    text = " ".join((rule.id, rule.says, rule.source, rule.file, settings, *asked, values))
    return word in text.casefold()


def _values(rule: "Rule", fact: str) -> tuple[object, ...]:
    from prepadvisor.cases import CATEGORY

    return rule.when.values(fact) if fact in CATEGORY else ()


def _by_family(engine: "Engine", rules: "list[Rule]") -> list[str]:
    aside = {rule.id for rule in engine.set_aside}
    lines: list[str] = []
    family = ""
    for rule in sorted(rules, key=lambda rule: (rule.file, rule.line)):
        if rule.file != family:
            family = rule.file
            lines += ["", family]
        mark = "  (not in force: replaced or withdrawn)" if rule.id in aside else ""
        lines += [f"  {rule.id}{mark}", *paragraph(rule.says, "      ")]
    number = f"{len(rules)} rules" if len(rules) > 1 else "1 rule"
    return [*lines[1:], "", f"{number}. prepadvisor standards show RULE tells all of one."]


def _nothing(word: str, ids: list[str]) -> str:
    from prepadvisor.records import near_words

    near = near_words(word, ids, 3)
    meant = f" Did you mean {' or '.join(near)}?" if near else ""
    return f'No rule speaks of "{word}".{meant}'
