"""The command `schema`: the JSON Schema of a file, for an editor that checks while one types."""

import argparse
import json
import sys
from typing import Any, Final

_FILES: Final[dict[str, str]] = {
    "job": "a job file",
    "rules": "a rule file of the house standards",
    "shop": "a shop file; a house's own holds only what differs",
    "advice": "what `card --to json` writes",
}
_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def parser() -> argparse.ArgumentParser:
    """Return the parser of this command."""
    made = argparse.ArgumentParser(
        prog="prepadvisor schema",
        description="Print the JSON Schema of a file.",
        epilog="example: prepadvisor schema job > job.schema.json",
    )
    made.add_argument(
        "file", choices=tuple(_FILES), help="; ".join(f"{name}: {says}" for name, says in _FILES.items())
    )
    return made


def run(args: argparse.Namespace) -> int:
    """Print the schema and return 0."""
    json.dump(schema_of(args.file), sys.stdout, ensure_ascii=False, indent=2)
    sys.stdout.write("\n")
    return 0


def schema_of(file: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of "job", "rules", "shop" or "advice"."""
    from prepadvisor.cli.schema_words import add_other_words
    from prepadvisor.records.base import Record
    from prepadvisor.records.job import Job
    from prepadvisor.records.shop import Shop
    from prepadvisor.standards.schema import RuleFile

    if file == "advice":
        from prepadvisor.wording.json_schema import advice_schema

        schema = advice_schema()
    else:
        records: dict[str, type[Record]] = {"job": Job, "rules": RuleFile, "shop": Shop}
        schema = records[file].model_json_schema()
        if file == "shop":  # what a house's file leaves out comes from the shipped one
            schema.pop("required")
            schema["$defs"]["WetBed"].pop("required")
        add_other_words(schema)
    return {"$schema": _DIALECT, **schema, "title": f"prepadvisor: {_FILES[file]}"}
