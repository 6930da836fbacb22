"""The record of a house folder: which version was in force from when on, with its digest."""

import datetime as dt
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Annotated, Final

from pydantic import Field, Strict, ValidationError

from prepadvisor.files.disk.atomic import FileSystem, put
from prepadvisor.files.house_files import RECORD_FILE
from prepadvisor.files.reading import read_toml
from prepadvisor.records import BadInputError, BookColour, Fault, LayerUsed, Record, Text, own_words
from prepadvisor.standards import Finding

_HEAD: Final = """\
# Written by `prepadvisor standards approve`: which version of this folder was in force from when on.
# A card carries the digest of what it rested on; `prepadvisor standards verify CARD.json` looks it up here.
"""


class InForceVersion(Record):
    """One version that was in force.

    Attributes:
        version: its version, as the standards state it.
        since: the day it came into force.
        digest: SHA-256 of what its files say, in hex.
        approved_by: who approved it.
    """

    version: Annotated[Text, Field(min_length=1, max_length=40)]
    since: Annotated[dt.date, Strict()]
    digest: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    approved_by: Text = ""


class InForceFile(Record):
    """The whole record, oldest first.

    Attributes:
        in_force: the versions that were in force, one a table; the program writes them.
    """

    in_force: tuple[InForceVersion, ...] = ()


def versions(folder: Path | str) -> tuple[InForceVersion, ...]:
    """Return what a folder's record holds, oldest first; nothing where there is none.

    Raises:
        BadInputError: for a record that cannot be read.
    """
    path = Path(folder) / RECORD_FILE
    if not path.is_file():
        return ()
    text = read_toml(path)
    if text.broken:
        raise BadInputError(list(text.broken))
    try:
        return InForceFile.model_validate(text.data).in_force
    except ValidationError as error:
        says = f"this record cannot be read ({own_words(error.errors()[0])})"
        raise BadInputError([Fault(str(path), 0, 0, says, "bring back the version before")]) from None


def approve(folder: Path | str, layer: LayerUsed, by: str, day: dt.date) -> InForceVersion | None:
    """Add a layer's content to its folder's record; None where its newest entry says the same already.

    Raises:
        BadInputError: the version is there with another content, or the layer has no version.
        OSError: the folder cannot be written to.
    """
    path = Path(folder) / RECORD_FILE
    known = versions(folder)
    if not layer.version:
        mend = 'add [standards] with name and version = "1"'
        raise BadInputError([Fault(str(folder), 0, 0, "these standards have no version", mend)])
    if known and known[-1].digest == layer.digest:
        return None
    if any(entry.version == layer.version and entry.digest != layer.digest for entry in known):
        says = f'version "{layer.version}" is on record with another content'
        raise BadInputError([Fault(str(folder), 0, 0, says, "give what you changed a new version")])
    entry = InForceVersion(version=layer.version, since=day, digest=layer.digest, approved_by=by)
    before = path.read_text(encoding="utf-8") if path.is_file() else _HEAD
    put(path, f"{before.rstrip()}\n\n{_as_toml(entry)}".encode(), FileSystem())
    return entry


def _as_toml(entry: InForceVersion) -> str:
    import tomli_w

    return tomli_w.dumps({"in_force": [entry.model_dump()]})


def out_of_date(layer: LayerUsed, today: dt.date, file: str) -> Iterator[Finding]:
    """Yield a finding where no card of today or later counts a layer."""
    if layer.valid_to and layer.valid_to < today.isoformat():
        says = f'"{layer.name or layer.layer}" was in force until {layer.valid_to}: it counts on no card now.'
        yield Finding("file", says, "Give it another valid_to, or leave its folder out.", file=file)


def sealed_ahead(book: Iterable[BookColour], today: dt.date) -> Iterator[Finding]:
    """Yield a finding for each colour that is sealed on a day still to come."""
    for entry in book:
        if entry.sealed_on is not None and entry.sealed_on > today:
            says = f'The colour "{entry.book}" is sealed on {entry.sealed_on}, a day still to come.'
            yield Finding("shop", says, "Correct sealed_on.", key=("colours.toml",))


def changed_unsaid(folder: Path | str, layer: LayerUsed) -> Iterator[Finding]:
    """Yield a finding where a layer's content is not what its record has under the same version."""
    same = [entry for entry in versions(folder) if entry.version == layer.version]
    if same and all(entry.digest != layer.digest for entry in same):
        says = (
            f'The content of "{layer.layer}" changed under one version: "{layer.version}" was approved '
            f"on {same[-1].since} with other rules."
        )
        mend = f"Give it a new version in [standards], then: prepadvisor standards approve {folder}"
        yield Finding("file", says, mend, file=str(Path(folder) / RECORD_FILE))
