"""Which entries speak for which place."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Step

WORK_STEPS: Final[frozenset["Step"]] = frozenset({"scuffed", "guide-coated", "sanded"})
"""Steps that change the surface: a look before one of them does not count."""

PANEL_STEPS: Final[frozenset["Step"]] = frozenset({"cleaned", "wiped"})
"""Steps that are done to a whole panel."""

BOOTH_STEPS: Final[frozenset["Step"]] = frozenset({"sealed", "bedded", "coloured", "cleared", "seen-wet"})
"""What is sprayed and seen after the gate; none of it is owed."""

COATS: Final[frozenset["Step"]] = BOOTH_STEPS - {"seen-wet"}
"""What is sprayed."""

WHOLE: Final = frozenset({"panel", "all"})
"""Features that mean a whole panel."""


class SpokenPlace(NamedTuple):
    """A place as the log names it, with the steps that its tasks are logged as."""

    id: str
    panel: str
    feature: str
    steps: frozenset["Step"]


class Spoken:
    """Entries that stand, by panel and feature, in the order of the file.

    Args:
        log: the entries that are read, struck ones left out.
        places: all places there are, by id.
    """

    def __init__(self, log: Iterable["Entry"], places: Mapping[str, SpokenPlace]) -> None:
        """Sort the log once."""
        self.places = places
        self._own: dict[tuple[str, str], list[Entry]] = {}
        self._shared: dict[str, list[Entry]] = {}
        self._panel: dict[str, list[Entry]] = {}
        self._at: dict[str, list[Entry]] = {}
        self.nowhere: list[Entry] = []
        self.strange: dict[str, list[Entry]] = {}
        features = {(place.panel, place.feature) for place in places.values()}
        panels = {place.panel for place in places.values()}
        for entry in log:
            check = entry.check
            self._panel.setdefault(check.panel, []).append(entry)
            if check.panel in panels and check.feature in WHOLE:
                odd = check.step in PANEL_STEPS and entry.is_adverse
                if odd or check.step == "accepted" or (check.feature == "panel" and check.step in WORK_STEPS):
                    self.nowhere.append(entry)
                self._shared.setdefault(check.panel, []).append(entry)
            elif check.panel in panels and check.step in PANEL_STEPS:
                self.nowhere.append(entry)
            elif (check.panel, check.feature) in features:
                self._own.setdefault((check.panel, check.feature), []).append(entry)
            else:
                self.strange.setdefault(f"{check.panel}/{check.feature}", []).append(entry)

    def at(self, place: SpokenPlace) -> list["Entry"]:
        """Return the entries that speak for a place, in the order of the file.

        An entry for "all" speaks for every place of its panel that has a task of its step; it never accepts.
        """
        if place.id not in self._at:
            self._at[place.id] = self._found(place)
        return self._at[place.id]

    def _found(self, place: SpokenPlace) -> list["Entry"]:
        own = self._own.get((place.panel, place.feature), [])
        shared = [
            entry
            for entry in self._shared.get(place.panel, ())
            if entry.check.feature == "all"
            and (entry.check.step in place.steps or (entry.check.step == "inspected"))
        ]
        if not shared:
            return own
        return sorted((*own, *shared), key=lambda entry: entry.number)

    def of_whole(self, panel: str, step: "Step") -> list["Entry"]:
        """Return the entries of a step that is done to the whole panel."""
        return [entry for entry in self._shared.get(panel, ()) if entry.check.step == step]

    def on_panel(self, panel: str) -> list["Entry"]:
        """Return every entry that names a panel, in the order of the file."""
        return self._panel.get(panel, [])
