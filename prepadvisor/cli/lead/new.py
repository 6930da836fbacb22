"""`prepadvisor standards new`: a commented folder to begin a shop's own standards in."""

import argparse
from pathlib import Path
from typing import Final

DESCRIPTION: Final = (
    "Makes a folder with a first rule, its examples and a shop file, all commented, and the schemas that an "
    "editor checks them by while you type. A folder that has files in it is left alone."
)
EXAMPLES: Final = """\
examples:
  prepadvisor standards new our-standards
  prepadvisor standards check our-standards
  prepadvisor card JOB.toml --house our-standards

exit status: 0 made, 2 not made
"""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("dir", metavar="DIR", help="the folder to make")


def run(args: argparse.Namespace) -> int:
    """Make the folder and say what comes next.

    Raises:
        BadInputError: for a place that is a file or has files in it, or that cannot be written to.
    """
    from prepadvisor.files import start_house

    made = start_house(Path(args.dir))
    made += _schemas(Path(args.dir))
    for path in made:
        print(path)
    print("\nRead rules.toml there, change one thing, then:")
    print(f"  prepadvisor standards check {args.dir}")
    print(f"  prepadvisor standards compare base {args.dir}")
    return 0


def _schemas(folder: Path) -> list[Path]:
    """Write the schemas that the first line of each file names."""
    import json

    from prepadvisor.cli.schema import schema_of
    from prepadvisor.files import FileSystem, put
    from prepadvisor.records import BadInputError, Fault

    made = []
    try:
        (folder / ".schemas").mkdir(exist_ok=True)
        for name in ("rules", "shop", "panels", "constants"):
            path = folder / ".schemas" / f"{name}.json"
            text = json.dumps(schema_of(name), ensure_ascii=False, indent=1) + "\n"
            put(path, text.encode(), FileSystem(), keep_previous=False)
            made.append(path)
    except OSError as error:
        raise BadInputError([Fault(str(folder), 0, 0, f"cannot be written to ({error.strerror})")]) from None
    return made
