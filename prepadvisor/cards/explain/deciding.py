"""Which places decide a panel: the ones worth showing where it is told why."""

from typing import TYPE_CHECKING, Final

from prepadvisor.records import AREA_KINDS, RANK, NamedTuple, Place, Spot

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers

MOST: Final = 4
"""Places shown for one panel; their rulers fill half a page."""


class PanelVerdict(NamedTuple):
    """What decides a panel.

    Attributes:
        spots: the spots worth showing, each of another place, the most pressing first.
        governs: the spot whose scratch shows most against what is allowed, None without an estimate.
    """

    spots: tuple[Spot, ...]
    governs: Spot | None


def decides(papers: "Papers", panel: str) -> PanelVerdict:
    """Return what decides a panel."""
    return PanelVerdict(deciding_spots(papers, panel), governing_spot(papers, panel))


def deciding_spots(papers: "Papers", panel: str) -> tuple[Spot, ...]:
    """Return the spots that decide a panel, each of another place, the most pressing first.

    First what is on hold and what was scuffed wrong, then by hand and by machine the spot whose risk comes
    nearest to what is allowed, and the face.
    """
    found: dict[str, Spot] = {}
    places = papers.places_of[panel]
    for place in places:
        if place.id in papers.held or place.done.verdict in {"too-coarse", "too-fine"}:
            _add(papers, found, place)
    by_hand = [place for place in places if place.id in papers.hand_only]
    by_machine = [place for place in places if place.id not in papers.hand_only and place.kind != "patch"]
    for group in (by_hand, by_machine):
        ranked = sorted(group, key=lambda place: _press(_worst(papers, place)), reverse=True)
        if ranked and _press(_worst(papers, ranked[0]))[0] > 0:
            _add(papers, found, ranked[0])
    for place in places:
        if place.kind in AREA_KINDS and len(found) < MOST:
            _add(papers, found, place)
    return tuple(list(found.values())[:MOST])


def governing_spot(papers: "Papers", panel: str) -> Spot | None:
    """Return the spot whose scratch shows most against what is allowed; None without an estimate."""
    spots = [spot for spot in papers.advice.spots if spot.panel == panel and spot.line and spot.finish]
    needed = [spot for spot in spots if spot.wet_bed.need == "required"]
    return max(needed or spots, key=_press, default=None)


def _add(papers: "Papers", found: dict[str, Spot], place: Place) -> None:
    worst = _worst(papers, place)
    if worst is not None:
        found.setdefault(place.id, worst)


def _worst(papers: "Papers", place: Place) -> Spot | None:
    held = set(papers.held.get(place.id, ()))
    spots = papers.spots_at[place.id]
    return max([spot for spot in spots if spot.id in held] or spots, key=_press, default=None)


def _press(spot: Spot | None) -> tuple[float, int]:
    if spot is None:
        return (-1.0, -1)
    risk = spot.line.risk / spot.risk_limit if spot.line and spot.risk_limit else 0.0
    bed = 10.0 if spot.wet_bed.need == "required" else 0.0
    return (risk + bed, RANK[spot.finish.chosen] if spot.finish else 99)
