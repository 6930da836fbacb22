"""Shop, constants, outlines and colour book of the layers that count: laid over the shipped ones and read."""

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final, TypeVar

from pydantic import ValidationError

from prepadvisor.files.house_data import (
    Outlines,
    Register,
    mark_own_numbers,
    outlines_by_kind,
    own_kinds,
    sources_by_id,
    stated_ids,
    stated_twice,
    unknown_sources,
    with_gone,
    with_likeness,
    without_passport,
)
from prepadvisor.files.reading import Overlaid, TomlText
from prepadvisor.records import BookColour, Constants, Fault, HouseChange, NamedTuple, Outline, Record, Shop
from prepadvisor.standards import HouseData

if TYPE_CHECKING:
    from prepadvisor.files.reading import Told

DATA_FILES: Final = ("shop.toml", "constants.toml", "panels.toml", "sources.toml")
"""Files of a house folder that lie over the shipped ones; every other TOML file of it is a rule file."""

BOOK_FILE: Final = "colours.toml"
"""The colour book: no version of the standards rests on it, so that sealing a colour makes no new one."""

_KEYED: Final = {"panels.toml": ("outline", "kind"), "sources.toml": ("source", "id")}

_Model = TypeVar("_Model", bound=Record)


class LayerTexts(NamedTuple):
    """The data files of one layer by file name."""

    layer: str
    texts: Mapping[str, TomlText]


def laid_over(shipped: Mapping[str, TomlText], own: Sequence[Mapping[str, TomlText]]) -> dict[str, Overlaid]:
    """Return each data file with those of some layers over it, the lowest first; texts go by file name."""
    return {
        name: Overlaid(
            shipped.get(name) or TomlText(f"rules/{name}", "", {}, ""),
            [text for layer in own if (text := layer.get(name)) is not None],
            _KEYED.get(name),
        )
        for name in DATA_FILES
    }


class DataReading:
    """One reading of laid data: all that is wrong with it, and the data where nothing is."""

    def __init__(self, laid: dict[str, Overlaid], books: Iterable[TomlText]) -> None:
        """Read everything; `faults` has what is wrong, `known` the ids of sources, `kinds` the own kinds."""
        self.faults: Final[list[Fault]] = []
        shop, constants, panels, register = (laid[name] for name in DATA_FILES)
        self._sources, told = sources_by_id(self._record(Register, register) or Register())
        self._tell(register, told)
        self.known: Final = stated_ids(register.data)
        mark_own_numbers(shop)
        self._shop = self._record(Shop, shop)
        self._tell(shop, without_passport(shop.data))
        self._constants = self._record(Constants, constants)
        self.kinds: Final = own_kinds(panels.data)
        self._outlines = self._read_outlines(panels)
        for each in (shop, constants):
            self._tell(each, unknown_sources(each.data, self.known))
        self._book = self._read_book(books)
        self._changes = _changes(shop, constants)

    def data(self) -> HouseData | None:
        """Return the data; None where something of it cannot be read, which `faults` says."""
        if self._shop is None or self._constants is None:
            return None
        return HouseData(
            shop=self._shop,
            constants=self._constants,
            outlines=self._outlines,
            sources=self._sources,
            book=self._book,
            changes=self._changes,
        )

    def _tell(self, laid: Overlaid, told: Iterable["Told"]) -> None:
        self.faults.extend(laid.fault(each) for each in told)

    def _record(self, model: type[_Model], laid: Overlaid) -> _Model | None:
        if not laid.shipped.sha256:  # not readable, which is said already
            return None
        try:
            return model.model_validate(laid.data)
        except ValidationError as error:
            from prepadvisor.files.reading import told_faults  # only where there are faults

            self._tell(laid, told_faults(error, model, laid.data))
            return None

    def _read_outlines(self, laid: Overlaid) -> dict[str, Outline]:
        """Return the outlines by kind, those of own kinds among them."""
        for text in (laid.shipped, *laid.houses):
            self.faults.extend(map(text.fault, stated_twice(text.data)))
        if laid.houses:
            self._tell(laid, with_likeness(laid.data, laid.shipped.data))
        outlines, told = outlines_by_kind(self._record(Outlines, laid) or Outlines())
        self._tell(laid, told)
        return with_gone(outlines, laid.shipped.data) if laid.houses else outlines

    def _read_book(self, books: Iterable[TomlText]) -> dict[str, BookColour]:
        """Return the colour book of all layers, by the word jobs call an entry by."""
        book: dict[str, BookColour] = {}
        for text in books:
            from prepadvisor.files.colour_book import book_of

            entries, told = book_of(text.data)
            self.faults.extend(text.fault(each.problem, at_key=each.at_key) for each in told)
            book.update(entries)
        return book


def _changes(*laid: Overlaid) -> tuple[HouseChange, ...]:
    """Return every number and word in which the house differs from what ships."""
    if all(each.data == each.shipped.data for each in laid):
        return ()
    from prepadvisor.files.house_data import house_changes

    return tuple(change for each in laid for change in house_changes(each.shipped.data, each.data))
