"""Loads what one shop works by: the shipped rules and data with the shop's own folder laid over them."""

import hashlib
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path
from typing import Final, TypeVar

from pydantic import ValidationError

from prepadvisor.files.house_data import (
    Outlines,
    Register,
    mark_own_numbers,
    outlines_by_kind,
    sources_by_id,
    stated_ids,
    unknown_sources,
    without_passport,
)
from prepadvisor.files.overlay import Overlaid
from prepadvisor.files.paths import rules_dir
from prepadvisor.files.rule_lines import rule_lines
from prepadvisor.files.toml_in import TomlText, parse, read_bytes
from prepadvisor.files.words_for_faults import Told, told_faults
from prepadvisor.records.advice import RuleFileUsed, StandardsUsed
from prepadvisor.records.base import Record
from prepadvisor.records.constants import Constants
from prepadvisor.records.fault import BadInputError, Fault
from prepadvisor.records.shop import Shop
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.house import House
from prepadvisor.standards.layers import BadRulesError, RuleSource, build
from prepadvisor.standards.rules import BASE

DATA_FILES: Final = ("shop.toml", "constants.toml", "panels.toml", "sources.toml")
"""Files of a house folder that lie over the shipped ones; every other TOML file of it is a rule file."""

_KEYED: Final = {"panels.toml": ("outline", "kind"), "sources.toml": ("source", "id")}

_Model = TypeVar("_Model", bound=Record)


def load_house(folder: Path | str | None = None) -> House:
    """Load the standards a shop works by.

    Args:
        folder: the shop's own folder; None for the shipped standards alone.

    Raises:
        BadInputError: with every fault of every file, by file and line.
    """
    given = "" if folder is None else str(folder)
    return _loaded(given, tuple(_stamps(given)))


def load_standards(folder: Path | str | None = None) -> House:
    """Load the standards a shop works by; the same as `load_house`."""
    return load_house(folder)


def _stamps(folder: str) -> Iterator[tuple[str, int, int]]:
    """Yield name, time and size of every file, so that an edited file is read anew and others are not."""
    for path in (*_shipped_files(), *_folder_files(folder)):
        try:
            status = path.stat()
        except OSError:  # reading it will say what is wrong
            yield str(path), 0, 0
        else:
            yield str(path), status.st_mtime_ns, status.st_size


def _shipped_files() -> list[Path]:
    rules = rules_dir()
    base = sorted(path for path in (rules / "base").iterdir() if path.suffix == ".toml")
    return [*(rules / name for name in DATA_FILES), *base]


def _folder_files(folder: str) -> list[Path]:
    if not folder:
        return []
    mend = "check --house or PREPADVISOR_HOUSE"
    try:
        if not Path(folder).is_dir():
            is_file = Path(folder).exists()
            says = "this is a file, not a house folder" if is_file else "there is no such house folder"
            raise BadInputError([Fault(folder, 0, 0, says, mend)])
        entries = sorted(Path(folder).iterdir())
    except (OSError, ValueError) as error:
        says = f"this house folder cannot be read ({getattr(error, 'strerror', None) or error})"
        raise BadInputError([Fault(folder.replace("\0", "?"), 0, 0, says, mend)]) from None
    files = [path for path in entries if path.suffix.lower() == ".toml" and not path.name.startswith(".")]
    if not files:
        raise BadInputError([Fault(folder, 0, 0, "there is no .toml file in this house folder", mend)])
    return files


@lru_cache(maxsize=8)
def _loaded(folder: str, stamps: tuple[tuple[str, int, int], ...]) -> House:
    return _Loading(folder, [Path(name) for name, _, _ in stamps]).house()


class _Loading:
    """One load: reads all files and collects the faults of all of them before it gives up."""

    def __init__(self, folder: str, paths: list[Path]) -> None:
        self._folder = folder
        self._faults: list[Fault] = []
        shipped = rules_dir()
        self._shipped: dict[str, TomlText] = {}
        self._own: dict[str, TomlText] = {}
        for path in paths:
            is_shipped = path.is_relative_to(shipped)
            name = f"rules/{path.relative_to(shipped).as_posix()}" if is_shipped else str(path)
            text = self._read(path, name)
            if text is not None:
                (self._shipped if is_shipped else self._own)[name] = text

    def house(self) -> House:
        """Return the house, or raise every fault found."""
        laid = {name: self._laid(name) for name in DATA_FILES}
        sources, told = sources_by_id(self._record(Register, laid["sources.toml"]) or Register())
        self._tell(laid["sources.toml"], told)
        known = stated_ids(laid["sources.toml"].data)
        mark_own_numbers(laid["shop.toml"])
        shop = self._record(Shop, laid["shop.toml"])
        self._tell(laid["shop.toml"], without_passport(laid["shop.toml"].data))
        constants = self._record(Constants, laid["constants.toml"])
        outlines, told = outlines_by_kind(self._record(Outlines, laid["panels.toml"]) or Outlines())
        self._tell(laid["panels.toml"], told)
        for each in (laid["shop.toml"], laid["constants.toml"]):
            self._tell(each, unknown_sources(each.data, known))
        engine = self._engine(known)
        if self._faults or shop is None or constants is None or engine is None:
            raise BadInputError(list(dict.fromkeys(self._faults)))
        used = self._used(engine)
        digest = hashlib.sha256("".join(file.sha256 for file in used.files).encode()).hexdigest()
        return House(engine, shop, constants, outlines, sources, used, self._folder, digest)

    def _read(self, path: Path, name: str) -> TomlText | None:
        try:
            text = parse(read_bytes(path), name)
        except BadInputError as error:
            self._faults.extend(fault._replace(file=name) for fault in error.faults)
            return None
        self._faults.extend((*text.broken, *text.twice))
        return text

    def _laid(self, name: str) -> Overlaid:
        own = self._own.get(str(Path(self._folder) / name)) if self._folder else None
        shipped = self._shipped.get(f"rules/{name}") or TomlText(f"rules/{name}", "", {}, "")
        return Overlaid(shipped, own, _KEYED.get(name))

    def _record(self, model: type[_Model], laid: Overlaid) -> _Model | None:
        if not laid.shipped.sha256:  # not readable, which is said already
            return None
        try:
            return model.model_validate(laid.data)
        except ValidationError as error:
            self._tell(laid, told_faults(error, model, laid.data))
            return None

    def _tell(self, laid: Overlaid, told: Iterable[Told]) -> None:
        self._faults.extend(laid.fault(each) for each in told)

    def _engine(self, known: frozenset[str]) -> Engine | None:
        layers = [
            *((BASE, text) for name, text in self._shipped.items() if name.startswith("rules/base/")),
            *((self._layer(), text) for text in self._rule_files()),
        ]
        for layer, text in layers:
            if layer == BASE:  # a lead may say in his own words where a rule comes from
                self._faults.extend(text.fault(each.problem) for each in unknown_sources(text.data, known))
        try:
            return build([_rule_source(layer, text) for layer, text in layers])
        except BadRulesError as error:
            texts = {text.name: text for _, text in layers}
            self._faults.extend(texts[name].fault(problem) for name, problem in error.problems)
            return None

    def _layer(self) -> str:
        return Path(self._folder).resolve().name or "house"

    def _rule_files(self) -> list[TomlText]:
        return [text for name, text in self._own.items() if Path(name).name not in DATA_FILES]

    def _used(self, engine: Engine) -> StandardsUsed:
        texts = [*self._shipped.values(), *self._own.values()]
        files = tuple(RuleFileUsed(path=text.name, sha256=text.sha256) for text in texts)
        return engine.used.model_copy(update={"files": files})


def _rule_source(layer: str, text: TomlText) -> RuleSource:
    return RuleSource(text.name, layer, text.data, text.sha256, rule_lines(text))
