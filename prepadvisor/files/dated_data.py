"""Shop, constants, outlines, colour book on a job's day: of layers that may not count what is stricter."""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.files.house_data import mark_own_numbers, with_likeness
from prepadvisor.files.laid_data import BOOK_FILE, DataReading, LayerTexts, laid_over
from prepadvisor.records import OUTLINES, RANK, BadInputError, Fault, is_grade
from prepadvisor.standards import OUT, State

if TYPE_CHECKING:
    from prepadvisor.files.reading import Overlaid, TomlText
    from prepadvisor.standards import HouseData

_CHECKED_MOST: Final = 4
"""So many dated layers with data are checked in every way of counting; of more each one alone, and all."""

_Take = Callable[[Any, Any], Any]


def _common(below: Any, above: Any) -> Any:
    """Return the shelf of grades that both have; where there is none the lower layer's."""
    both = [grade for grade in below if grade in above]
    return both or below


def _coarser(below: Any, above: Any) -> Any:
    return min(below, above, key=lambda grade: RANK[grade] if is_grade(grade) else 0)


_STRICTER: Final[Mapping[str, Mapping[str, _Take]]] = {
    "shop.toml": {
        "shelf": _common,
        "mist_mm": max,
        "fade_least_mm": max,
        "lap_mm": max,
        "ring_mm": max,
        "clearing_minutes_per_dm2_max": min,
        "gate_hours": min,
        "look_hours": min,
        "wet_bed.set_solids": min,
        "wet_bed.overlap_mm": max,
        "pads.*": _coarser,
    },
    "constants.toml": {
        "groove.depth_per_grain.*": max,
        "film.colour_set_solids": min,
        "film.earlier_colour_coats_colour": min,
        "film.earlier_colour_coats_fade": min,
        "flake.*.d50_um": min,
        "flake.*.tilt_deg": min,
        "sight.viewing_distance_mm": min,
        "sight.thinnest_line_arcsec": min,
        "sight.straight_line_factor": max,
        "sight.short_arc_factor": max,
        "uncertainty.borderline_risk": min,
        "removal.rate_um_dm2_per_minute": min,
    },
}
"""What has a strict side, by file and key: the laws of the line model (a deeper scratch, a smaller flake, a
nearer eye show more), shorter validity, wider laps. All else of a layer that may not count is left."""

_ADDED: Final = {"pads.*"}
"""Keys that a layer which may not count may add: a pad of a known grain loosens nothing."""


class DatedData:
    """The data of a house by how its layers stand to a job."""

    def __init__(self, shipped: Mapping[str, "TomlText"], layers: Sequence[LayerTexts]) -> None:
        """Keep the texts, the lowest layer first."""
        self._shipped: Final = shipped
        self._layers: Final = tuple(layers)
        self._of: Final = lru_cache(maxsize=64)(self._worked_out)

    def __call__(self, states: Mapping[str, State]) -> "HouseData":
        """Return the data where the layers so stand; a layer that is not named counts.

        Raises:
            BadInputError: what is left cannot be used without the layers that do not count.
        """
        counts = tuple(each.layer for each in self._layers if states.get(each.layer, "in force") not in OUT)
        unsure = tuple(layer for layer in counts if states.get(layer) == "unsure")
        return self._of(counts, unsure)

    def faults(self, dated: Sequence[str]) -> list[Fault]:
        """Return what cannot be used on days on which some of the dated layers do not count."""
        several = range(1, len(dated) + 1) if len(dated) <= _CHECKED_MOST else (1, len(dated))
        found: list[Fault] = []
        for out in (some for count in several for some in combinations(dated, count)):
            counts = tuple(each.layer for each in self._layers if each.layer not in out)
            reading = DataReading(self._laid(counts), ())
            says = f"on days when {' and '.join(out)} does not count: "
            found += [fault._replace(says=says + fault.says) for fault in reading.faults]
        return list({(fault.file, fault.line, fault.column): fault for fault in reversed(found)}.values())

    def _laid(self, counts: Sequence[str]) -> dict[str, "Overlaid"]:
        own = [each.texts for each in self._layers if each.layer in counts]
        return laid_over(self._shipped, own)

    def _books(self, counts: Sequence[str]) -> list["TomlText"]:
        return [
            each.texts[BOOK_FILE] for each in self._layers if each.layer in counts and BOOK_FILE in each.texts
        ]

    def _worked_out(self, counts: tuple[str, ...], unsure: tuple[str, ...]) -> "HouseData":
        sure = [layer for layer in counts if layer not in unsure]
        laid = self._laid(sure)
        if unsure:
            above = self._laid(counts)
            mark_own_numbers(above["shop.toml"])
            with_likeness(above["panels.toml"].data, above["panels.toml"].shipped.data)
            for name, rules in _STRICTER.items():
                mine, other = laid[name].data, above[name].data
                found = _stricter(mine, other, "", rules)
                passports = _passports(mine, other, found)
                mine.update(found | ({"passport": passports} if passports else {}))
            laid["panels.toml"].data["outline"] = _with_kinds(laid["panels.toml"], above["panels.toml"])
        reading = DataReading(laid, self._books(sure))
        data = reading.data()
        if data is None or reading.faults:
            raise BadInputError(reading.faults)
        if not unsure:
            return data
        entries = DataReading(self._laid(()), self._books(unsure)).data()
        unsealed = {
            word: entry.model_copy(update={"sealed_by": "", "sealed_on": None})
            for word, entry in (entries.book if entries else {}).items()
        }
        return data._replace(book={**unsealed, **data.book})


def _passports(mine: Mapping[str, Any], other: Mapping[str, Any], found: Mapping[str, Any]) -> dict[str, Any]:
    """Return the passports of a shop file, each of the layer whose number was taken."""
    before, of_other = _numbers(mine), other.get("passport", {})
    taken = {name for name, value in _numbers(found).items() if before.get(name) != value}
    return dict(mine.get("passport", {})) | {name: of_other[name] for name in taken if name in of_other}


def _numbers(data: Mapping[str, Any], under: str = "") -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in data.items():
        if isinstance(value, Mapping) and key != "passport":
            found |= _numbers(value, f"{under}{key}.")
        elif isinstance(value, int | float):
            found[f"{under}{key}"] = value
    return found


def _with_kinds(sure: "Overlaid", above: "Overlaid") -> list[Any]:
    """Return the outlines that count, and panel kinds of layers that may: knowing one loosens nothing."""
    outlines = list(sure.data.get("outline", ()))
    known = {entry.get("kind") for entry in outlines} | set(OUTLINES)
    return outlines + [entry for entry in above.data.get("outline", ()) if entry.get("kind") not in known]


def _stricter(
    below: Mapping[str, Any], above: Mapping[str, Any], under: str, rules: Mapping[str, _Take]
) -> dict[str, Any]:
    """Return a table with the stricter of two values wherever one is; the lower layer's everywhere else."""
    result = deepcopy(dict(below))
    for key, other in above.items():
        path = f"{under}{key}"
        mine = below.get(key)
        take = _rule(path, rules)
        if mine is None:
            if any(_alike(path, added) for added in _ADDED):
                result[key] = other
        elif take is not None:
            result[key] = _taken(mine, other, take)
        elif isinstance(mine, Mapping) and isinstance(other, Mapping):
            result[key] = _stricter(mine, other, f"{path}.", rules)
    return result


def _taken(mine: Any, other: Any, take: _Take) -> Any:
    if isinstance(mine, Mapping) and isinstance(other, Mapping):
        return other if take(mine["value"], other["value"]) != mine["value"] else mine
    return take(mine, other)


def _rule(path: str, rules: Mapping[str, _Take]) -> _Take | None:
    return next((take for pattern, take in rules.items() if _alike(path, pattern)), None)


def _alike(path: str, pattern: str) -> bool:
    parts, wanted = path.split("."), pattern.split(".")
    return len(parts) == len(wanted) and all(
        one in {"*", part} for part, one in zip(parts, wanted, strict=True)
    )
