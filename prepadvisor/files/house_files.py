"""Loads what one shop works by: the shipped rules and data with a house's layers laid over them."""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, lru_cache, partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.files.house_data import unknown_sources
from prepadvisor.files.laid_data import BOOK_FILE, DATA_FILES, DataReading, LayerTexts, laid_over
from prepadvisor.files.paths import rules_dir
from prepadvisor.files.reading import TomlText, parse, read_bytes, rule_lines
from prepadvisor.files.shipped_text import read_shipped, whole
from prepadvisor.records import BadInputError, Fault, LayerUsed, RuleFileUsed, StandardsUsed, cleaned
from prepadvisor.standards import BASE, BadRulesError, Engine, House, Layers, RuleSource

if TYPE_CHECKING:
    from prepadvisor.files.dated_data import DatedData

_NAME_MAX: Final = 60
_PATH_MAX: Final = 1_000

RECORD_FILE: Final = "in-force.toml"
"""The file of a house folder in which it is kept which version was in force from when on."""

_NOT_RULED: Final = frozenset({BOOK_FILE, RECORD_FILE})
"""Files that no version of the standards rests on: sealing a colour makes no new one."""

Folder = Path | str | None


def load_house(folder: Folder = None, *above: Folder) -> House:
    """Load the standards a shop works by.

    Args:
        folder: the shop's own folder; None for the shipped standards alone.
        above: folders of further layers over it (group, site, customer), the lowest first.

    Raises:
        BadInputError: with every fault of every file, by file and line.
    """
    given = tuple(str(each) for each in (folder, *above) if each is not None and str(each))
    return _loaded(given, tuple(_stamps(given)))


def load_standards(folder: Folder = None, *above: Folder) -> House:
    """Load the standards a shop works by; the same as `load_house`."""
    return load_house(folder, *above)


def _stamps(folders: Sequence[str]) -> Iterator[tuple[str, int, int]]:
    """Yield name, time and size of every file, so that an edited file is read anew and others are not."""
    for path in (*_shipped_files(), *chain.from_iterable(map(_folder_files, folders))):
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
    mend = "check --house or PREPADVISOR_HOUSE; prepadvisor standards new begins a house"
    try:
        if not Path(folder).is_dir():
            is_file = Path(folder).exists()
            says = "this is a file, not a house folder" if is_file else "there is no such house folder"
            raise BadInputError([Fault(folder, 0, 0, says, mend)])
        if Path(folder).resolve() == rules_dir() / "base":
            says, mend = (
                "these are the shipped standards, which lie under every house",
                "leave the folder out",
            )
            raise BadInputError([Fault(folder, 0, 0, says, f'{mend}; compare calls them "base"')])
        entries = sorted(Path(folder).iterdir())
    except (OSError, ValueError) as error:
        says = f"this house folder cannot be read ({getattr(error, 'strerror', None) or error})"
        raise BadInputError([Fault(folder.replace("\0", "?"), 0, 0, says, mend)]) from None
    files = [path for path in entries if path.suffix.lower() == ".toml" and not path.name.startswith(".")]
    if not files:
        raise BadInputError([Fault(folder, 0, 0, "there is no .toml file in this house folder", mend)])
    return files


@lru_cache(maxsize=8)
def _loaded(folders: tuple[str, ...], stamps: tuple[tuple[str, int, int], ...]) -> House:
    return _Loading(folders, [Path(name) for name, _, _ in stamps]).house()


class _Loading:
    """One load: reads all files and collects the faults of all of them before it gives up."""

    def __init__(self, folders: tuple[str, ...], paths: list[Path]) -> None:
        self._folders = folders
        self._faults: list[Fault] = []
        shipped = rules_dir()
        self._shipped: dict[str, TomlText] = {}
        self._own: dict[str, dict[str, TomlText]] = {folder: {} for folder in folders}
        for twice in (folder for folder in self._own if folders.count(folder) > 1):
            self._faults.append(
                Fault(twice, 0, 0, "this house folder is given twice", "give each layer once")
            )
        for path in paths:
            is_shipped = path.is_relative_to(shipped)
            name = f"rules/{path.relative_to(shipped).as_posix()}" if is_shipped else str(path)
            text = self._read(path, name, foreign=not is_shipped)
            if text is not None:
                (self._shipped if is_shipped else self._own[self._folder_of(path)])[name] = text

    def _folder_of(self, path: Path) -> str:
        return next(folder for folder in self._folders if Path(folder) == path.parent)

    def house(self) -> House:
        """Return the house, or raise every fault found."""
        shipped = {name: text for name in DATA_FILES if (text := self._shipped.get(f"rules/{name}"))}
        own = [LayerTexts(self._names[folder], self._data_texts(folder)) for folder in self._folders]
        books = [each.texts[BOOK_FILE] for each in own if BOOK_FILE in each.texts]
        reading = DataReading(laid_over(shipped, [each.texts for each in own]), books)
        self._faults += reading.faults
        layers, data = self._layers(reading.known, reading.kinds), reading.data()
        if self._faults or data is None or layers is None:
            raise BadInputError(list(dict.fromkeys(self._faults)))
        dated = self._dated(shipped, own, layers)
        engine = layers.engine()
        used = self._used(engine)._replace(changes=data.changes)
        digest = hashlib.sha256("".join(file.sha256 for file in used.files).encode()).hexdigest()
        return House(
            engine=engine,
            shop=data.shop,
            constants=data.constants,
            outlines=data.outlines,
            sources=data.sources,
            used=used,
            folders=self._folders,
            digest=digest,
            layers=layers,
            book=data.book,
            dated=dated,
        )

    def _read(self, path: Path, name: str, *, foreign: bool) -> TomlText | None:
        try:
            raw = read_bytes(path)
            text = parse(raw, name, foreign=True) if foreign else read_shipped(raw, name)
        except BadInputError as error:
            self._faults.extend(fault._replace(file=name) for fault in error.faults)
            return None
        self._faults.extend((*text.broken, *text.twice))
        return text

    def _data_texts(self, folder: str) -> dict[str, TomlText]:
        """Return the data files of a house folder by their names."""
        texts = {Path(name).name: text for name, text in self._own[folder].items()}
        return {name: text for name, text in texts.items() if name in (*DATA_FILES, BOOK_FILE)}

    def _dated(
        self, shipped: Mapping[str, TomlText], own: Sequence[LayerTexts], layers: Layers
    ) -> "DatedData | None":
        """Return the data by day and customer, where a layer with data counts on some only."""
        with_data = {each.layer for each in own if each.texts}
        dated = [each.layer for each in layers.layers if each.is_dated and each.layer in with_data]
        if not dated:
            return None
        from prepadvisor.files.dated_data import DatedData

        found = DatedData(shipped, own)
        faults = found.faults(dated)
        if faults:
            raise BadInputError(faults)
        return found

    def _layers(self, known: frozenset[str], kinds: Mapping[str, str]) -> Layers | None:
        layers = [
            *((BASE, 0, text) for name, text in self._shipped.items() if name.startswith("rules/base/")),
            *(
                (self._names[folder], rank, text)
                for rank, folder in enumerate(self._folders, 1)
                for text in self._rule_files(folder)
            ),
        ]
        for layer, _, text in layers:
            if layer == BASE:  # a lead may say in his own words where a rule comes from
                self._faults.extend(text.fault(each.problem) for each in unknown_sources(text.data, known))
        try:
            return Layers(
                [
                    _source(layer, rank, text)._replace(
                        whole=partial(_whole_source, layer, rank, text) if layer == BASE else None
                    )
                    for layer, rank, text in layers
                ],
                kinds,
            )
        except BadRulesError as error:
            texts = {cleaned(text.name, _PATH_MAX): text for _, _, text in layers}
            self._faults.extend(texts[name].fault(problem) for name, problem in error.problems)
            return None

    @cached_property
    def _names(self) -> dict[str, str]:
        """The layers' names by folder: the folder's own name, with its parent's where two are alike."""
        paths = [Path(folder).resolve() for folder in self._folders]
        plain = [cleaned(path.name, _NAME_MAX).strip() or "house" for path in paths]
        names: dict[str, str] = {}
        for folder, path, name in zip(self._folders, paths, plain, strict=True):
            own = (
                name
                if plain.count(name) == 1 and name != BASE
                else f"{cleaned(path.parent.name, _NAME_MAX)}/{name}"
            )
            while own in names.values():
                own += "'"
            names[folder] = own
        return names

    def _rule_files(self, folder: str) -> list[TomlText]:
        own = self._own[folder]
        return [
            text for name, text in own.items() if Path(name).name not in (*DATA_FILES, BOOK_FILE, RECORD_FILE)
        ]

    def _used(self, engine: Engine) -> StandardsUsed:
        texts = [*self._shipped.values(), *chain.from_iterable(own.values() for own in self._own.values())]
        files = tuple(
            RuleFileUsed(path=cleaned(text.name, _PATH_MAX), sha256=text.sha256)
            for text in texts
            if Path(text.name).name not in _NOT_RULED
        )
        by_name = {self._names[folder]: own for folder, own in self._own.items()} | {BASE: self._shipped}
        layers = [layer._replace(digest=_digest(by_name[layer.layer])) for layer in engine.used.layers]
        told = {layer.layer for layer in layers}
        order = [BASE, *self._names.values()]
        layers += [  # a layer of a shop file or constants alone has no rule file
            LayerUsed(layer=name, digest=_digest(own)) for name, own in by_name.items() if name not in told
        ]
        return engine.used._replace(
            files=files, layers=tuple(sorted(layers, key=lambda layer: order.index(layer.layer)))
        )


def _source(layer: str, rank: int, text: TomlText) -> RuleSource:
    return RuleSource(
        path=cleaned(text.name, _PATH_MAX),
        layer=layer,
        data=text.data,
        sha256=text.sha256,
        line_of=rule_lines(text),
        height=rank,
    )


def _whole_source(layer: str, rank: int, text: TomlText) -> RuleSource:
    return _source(layer, rank, whole(text))


def _digest(texts: Mapping[str, TomlText]) -> str:
    """Return the SHA-256 of what a layer's files say; of the shipped ones, whose bytes are ours, of those."""
    whole = hashlib.sha256()
    for name, text in sorted(texts.items()):
        if Path(name).name in _NOT_RULED:
            continue
        said = text.sha256 if name.startswith("rules/") else _said(text.data)
        whole.update(f"{Path(name).name}\0{said}\0".encode())
    return whole.hexdigest()


def _said(data: Mapping[str, object]) -> str:
    return json.dumps(data, sort_keys=True, ensure_ascii=True, default=str)
