"""The log sorted by place, so that replaying a place costs only its own entries."""

from collections.abc import Iterable

from prepadvisor.checkoff.entries import Entry, covers
from prepadvisor.records.advice import Place
from prepadvisor.records.words import HAND_TOOLS


class LogIndex:
    """Entries by panel and feature, in the order of entry."""

    def __init__(self, log: Iterable[Entry]) -> None:
        """Sort the log once."""
        self._by_feature: dict[tuple[str, str], list[Entry]] = {}
        self._by_panel: dict[str, list[Entry]] = {}
        for entry in log:
            self._by_feature.setdefault((entry.check.panel, entry.check.feature), []).append(entry)
            self._by_panel.setdefault(entry.check.panel, []).append(entry)

    def at(self, place: Place) -> list[Entry]:
        """Return the entries that speak for a place, in the order of entry."""
        own = self._by_feature.get((place.panel, place.feature), [])
        shared = self._by_feature.get((place.panel, "all"), [])
        return sorted(entry for entry in (*own, *shared) if covers(entry, place))

    def on_panel(self, panel: str, step: str) -> list[Entry]:
        """Return the entries of a step that is done to the whole panel."""
        whole = (*self._by_feature.get((panel, "panel"), ()), *self._by_feature.get((panel, "all"), ()))
        return sorted(entry for entry in whole if entry.check.step == step)

    def of_panel(self, panel: str) -> list[Entry]:
        """Return every entry that names a panel."""
        return self._by_panel.get(panel, [])

    def hand_work(self, panel: str, features: Iterable[str] | None) -> list[Entry]:
        """Return work by hand at some features of a panel, at all of its places for None."""
        named = None if features is None else {*features, "all"}
        return [
            entry
            for entry in self.of_panel(panel)
            if (named is None or entry.check.feature in named)
            and (entry.check.step == "scuffed"
                 or (entry.check.step == "sanded" and entry.check.tool in HAND_TOOLS))
        ]  # fmt: skip
