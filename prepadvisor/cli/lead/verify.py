"""`prepadvisor standards verify`: were the standards of a card in force, and do they still say the same?"""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple, assert_never

from prepadvisor.cli.shared import add_house, house_folders
from prepadvisor.wording import paragraph

if TYPE_CHECKING:
    from prepadvisor.files import InForceVersion
    from prepadvisor.records import LayerUsed


DESCRIPTION: Final = (
    "Holds the digests in a card's JSON against the standards as they are now and against the record of "
    "what was in force (in-force.toml, written by `standards approve`), also a year later."
)
EXAMPLES: Final = """\
examples:
  prepadvisor card JOB.toml --to json --house our-standards --out card.json
  prepadvisor standards verify card.json --house our-standards

exit status: 0 every layer is unchanged or was in force on the card's date, 1 some layer is not,
2 a file cannot be used
"""

Was = Literal[
    "unchanged", "on record", "not in force then", "changed under one version", "changed", "missing"
]
GOOD: Final[frozenset[Was]] = frozenset({"unchanged", "on record"})


class Verified(NamedTuple):
    """One layer of a card: version and digest there, what became of it, from when until when it counted."""

    layer: str
    version: str
    digest: str
    was: Was
    version_now: str | None = None
    since: str | None = None
    until: str | None = None
    approved_by: str = ""


def add_options(options: argparse.ArgumentParser) -> None:
    """Add the options of this tool."""
    options.add_argument("card", metavar="CARD.json", help="what `card --to json` wrote; - is standard input")
    options.add_argument("--json", action="store_true", help="for a program to read")
    add_house(options)


def run(args: argparse.Namespace) -> int:
    """Print what became of each layer of each card; 1 if some layer was not in force.

    Raises:
        BadInputError: for a file that is no card's JSON, and for house folders with faults.
    """
    from prepadvisor.files import load_house, versions

    folders = house_folders(args)
    house = load_house(*folders)
    ours = [layer for layer in house.used.layers if layer.layer != "base"]
    by_rank = {layer.layer: folder for layer, folder in zip(ours, folders, strict=False)}
    now = {
        layer.layer: (layer, versions(by_rank[layer.layer]) if layer.layer in by_rank else ())
        for layer in house.used.layers
    }
    status = 0
    for number, date, layers in _cards(args.card):
        found = [verified(layer, date, now) for layer in layers]
        good = all(each.was in GOOD for each in found)
        status = max(status, int(not good))
        if args.json:
            data = {
                "job": number,
                "date": date,
                "in_force": good,
                "layers": [each._asdict() for each in found],
            }
            print(json.dumps(data, ensure_ascii=False))
        else:
            print(as_text(number, date, found))
    return status


def _cards(name: str) -> "list[tuple[str, str | None, list[LayerUsed]]]":
    from pydantic import TypeAdapter, ValidationError

    from prepadvisor.records import BadInputError, Fault, LayerUsed

    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError, ValueError) as error:
        raise BadInputError([Fault(name, 0, 0, f"cannot be read ({error})")]) from None
    found = []
    read = TypeAdapter(LayerUsed)
    for line, card in _documents(name, text):
        try:
            layers = [read.validate_python(each) for each in card["standards"]["layers"]]
            found.append((str(card["job"]["number"]), card["job"]["date"], layers))
        except (KeyError, TypeError, ValidationError):
            says = "this is no card's JSON with the digests of its standards"
            raise BadInputError(
                [Fault(name, line, 0, says, "write it with: prepadvisor card JOB --to json")]
            ) from None
    return found


def _documents(name: str, text: str) -> list[tuple[int, Any]]:
    """Return the documents of a file, one in all or one a line, each with its line."""
    from prepadvisor.records import BadInputError, Fault

    try:
        return [(1, json.loads(text))]
    except ValueError:
        pass
    try:
        return [
            (number, json.loads(line)) for number, line in enumerate(text.splitlines(), 1) if line.strip()
        ]
    except ValueError as error:
        raise BadInputError([Fault(name, 0, 0, f"this is no JSON ({error})")]) from None


def verified(
    card: "LayerUsed", date: str | None, now: "dict[str, tuple[LayerUsed, tuple[InForceVersion, ...]]]"
) -> Verified:
    """Hold one layer of a card against the layers as they are now, each with its record.

    Args:
        card: the layer as the card has it.
        date: the job's date, None where it has none.
        now: layer name to the layer now and its record, oldest first.
    """
    known = now.get(card.layer) or next(
        (each for each in now.values() if each[0].digest == card.digest), None
    )
    told = Verified(card.layer, card.version, card.digest, "missing")
    if known is None:
        return told
    layer, record = known
    told = told._replace(version_now=layer.version)
    place = next((at for at, entry in enumerate(record) if entry.digest == card.digest), None)
    if place is not None:
        entry = record[place]
        since = entry.since.isoformat()
        until = record[place + 1].since.isoformat() if place + 1 < len(record) else None
        told = told._replace(since=since, until=until, approved_by=entry.approved_by)
        in_force = date is None or (since <= date and (until is None or date <= until))
        return told._replace(
            was="unchanged"
            if layer.digest == card.digest and in_force
            else "on record"
            if in_force
            else "not in force then"
        )
    if layer.digest == card.digest:
        return told._replace(was="unchanged")
    if layer.version == card.version or any(entry.version == card.version for entry in record):
        return told._replace(was="changed under one version")
    return told._replace(was="changed")


def as_text(number: str, date: str | None, found: list[Verified]) -> str:
    """Return what became of a card's standards for a person."""
    day = f" of {date}" if date else ""
    lines = [f"Job {number}{day}"]
    for each in found:
        lines += paragraph(f"{each.layer} {each.version}: {_says(each)}", "  ", "    ")
    good = all(each.was in GOOD for each in found)
    lines.append("In force then, all of it." if good else "Not all of it can be shown to have been in force.")
    return "\n".join(lines)


def _says(each: Verified) -> str:
    by = f", approved by {each.approved_by}" if each.approved_by else ""
    span = f"in force from {each.since}" + (f" to {each.until}" if each.until else " on") + by
    match each.was:
        case "unchanged":
            return "unchanged since" + (f"; {span}." if each.since else ".")
        case "on record":
            return f"{span}; now it is version {each.version_now}."
        case "not in force then":
            return f"on record, but {span}: not on the job's date."
        case "changed under one version":
            return "its content was changed under the same version; what the card rests on is not on record."
        case "changed":
            return f"changed since, now version {each.version_now}; what the card rests on is not on record."
        case "missing":
            return "no such layer is given now: name its folder with --house."
        case _:
            assert_never(each.was)
