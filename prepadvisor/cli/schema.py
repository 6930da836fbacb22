"""The command `schema`: the JSON Schema of a file, or of what a command prints as JSON."""

import argparse
import json
import sys
from collections.abc import Sequence
from typing import Any, Final

from prepadvisor.cli.shared import add_house, house_folders, house_of, print_faults

_FILES: Final[dict[str, str]] = {
    "job": "a job file",
    "rules": "a rule file of the house standards",
    "shop": "a shop file; a house's own holds only what differs",
    "constants": "the numbers of the line model; a house's own file holds only what differs",
    "panels": "outlines of panels; a house's own file holds only what differs",
    "sources": "the register of sources",
    "colours": "a house's colour book",
    "in-force": "the record of what was in force, which the program writes",
    "advice": "what `card --to json` writes",
}
_OUTPUTS: Final = (
    "check", "compare", "replay", "verify", "table", "spots", "gate", "lines", "why", "day", "times",
    "fit", "flakes", "outcomes", "colour-records",
)  # fmt: skip
_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_PARTIAL: Final = frozenset({"shop", "constants", "panels"})
"""Files of which a house's own holds only what differs from the shipped one, so that no key is required."""


def parser() -> argparse.ArgumentParser:
    """Return the parser of this command."""
    files = "; ".join(f"{name}: {says}" for name, says in _FILES.items())
    made = argparse.ArgumentParser(
        prog="prepadvisor schema",
        description="Print the JSON Schema of a file, or of what a command prints with --json.",
        epilog="examples: prepadvisor schema job > job.schema.json · prepadvisor schema check",
    )
    add_house(made)
    made.add_argument(
        "file",
        choices=(*_FILES, *_OUTPUTS),
        metavar="NAME",
        help=f"{files}; and what these print as JSON: {', '.join(_OUTPUTS)}",
    )
    return made


def run(args: argparse.Namespace) -> int:
    """Print the schema and return 0; 2 where a house folder cannot be used."""
    kinds: tuple[str, ...] = ()
    if house_folders(args):  # a house may have panel kinds of its own
        from prepadvisor.records import BadInputError

        try:
            kinds = tuple(house_of(args).kinds)
        except BadInputError as error:
            print_faults(error)
            return 2
    json.dump(schema_of(args.file, kinds), sys.stdout, ensure_ascii=False, indent=2)
    sys.stdout.write("\n")
    return 0


def schema_of(file: str, kinds: Sequence[str] = ()) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a file, of the advice, or of what a command prints.

    `kinds` are the panel kinds of a house, which its jobs and rules may name.
    """
    if file == "advice":
        from prepadvisor.wording import advice_schema

        schema = advice_schema()
    elif file in _OUTPUTS:
        from prepadvisor.cli.schemas.outputs import FORMS, output_schema

        return {"$schema": _DIALECT, **output_schema(file), "title": f"prepadvisor: {FORMS[file][0]}"}
    else:
        from prepadvisor.cli.schemas.sentences import add_kinds

        schema = _of_a_file(file)
        add_kinds(schema, kinds)
    return {"$schema": _DIALECT, **schema, "title": f"prepadvisor: {_FILES[file]}"}


def _of_a_file(file: str) -> dict[str, Any]:
    from prepadvisor.cli.schemas.sentences import add_other_words, add_sentences
    from prepadvisor.files import Book, InForceFile, Outlines, Register
    from prepadvisor.records import Constants, Job, Record, Shop
    from prepadvisor.standards import RuleFile

    records: dict[str, type[Record]] = {
        "job": Job,
        "rules": RuleFile,
        "shop": Shop,
        "constants": Constants,
        "panels": Outlines,
        "sources": Register,
        "colours": Book,
        "in-force": InForceFile,
    }
    schema = records[file].model_json_schema()
    if file in _PARTIAL:
        for part in (schema, *schema.get("$defs", {}).values()):
            if not (file == "panels" and part.get("title") == "Feature"):
                part.pop("required", None)
                part.pop("minProperties", None)
    add_other_words(schema)
    add_sentences(schema)
    return schema
