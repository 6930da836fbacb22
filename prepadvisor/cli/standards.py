"""`prepadvisor standards`: the lead's tools for house standards, one module a tool."""

import argparse
from importlib import import_module
from typing import Final

_TOOLS: Final = {
    "check": "prove that the standards have no hole, no contradiction and no broken promise",
    "compare": "what changes between two standards",
    "table": "every decision as rows for a spreadsheet or a database",
    "replay": "what an archive of jobs would look like under a draft",
    "show": "the rules, by family or by word, with their examples",
    "approve": "put on record that these standards are in force from a day on",
    "verify": "were the standards of a printed card in force, and do they still say the same?",
    "tighten": "a house rule some grades finer than another rule",
    "new": "start a folder for the shop's own standards",
}
_EXAMPLES: Final = """\
examples:
  prepadvisor standards new our-standards           start a folder
  prepadvisor standards check our-standards         before anybody preps by it
  prepadvisor standards compare base our-standards  what it changes
  prepadvisor standards replay jobs --against our-standards
  prepadvisor standards show very-fine              rules that speak of it

`prepadvisor standards check --help` and so on tell more.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command and of its tools."""
    options = argparse.ArgumentParser(
        prog="prepadvisor standards",
        description="House standards: rules a lead writes as data, and the proof that they hold.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    tools = options.add_subparsers(dest="standards_tool", metavar="TOOL", required=True)
    for name, says in _TOOLS.items():
        module = import_module(f"prepadvisor.cli.lead.{name}")
        tool = tools.add_parser(
            name,
            help=says,
            description=module.DESCRIPTION,
            epilog=module.EXAMPLES,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        module.add_options(tool)
    return options


def run(args: argparse.Namespace) -> int:
    """Run one tool and return its exit status.

    Raises:
        BadInputError: for files that cannot be read.
    """
    return int(import_module(f"prepadvisor.cli.lead.{args.standards_tool}").run(args))
