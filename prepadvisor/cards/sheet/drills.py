"""Drills at their panel: what to do where a look finds something, by machine, by hand and on fill."""

from collections.abc import Sequence

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import DrillText
from prepadvisor.planning.work.drills import DrillGround, drill
from prepadvisor.records import drill as d
from prepadvisor.records.advice import PanelAdvice, Place
from prepadvisor.records.words import Look

FILL = frozenset({"filler", "feather-edge"})
"""Surfaces on which a look also finds low spots and pinholes."""


def drills(papers: Papers, panel: PanelAdvice) -> tuple[DrillText, ...]:
    """Return what to do where a look finds lines on this panel, and on fill low spots and pinholes."""
    lines = {place.id: _of(papers, place, "lines") for place in papers.of_panel(panel.id)}
    known = {place: one for place, one in lines.items() if one is not None}
    found = [DrillText("LINES LEFT?", _lines(papers, known))] if known else []
    for place in papers.of_panel(panel.id):
        if place.surface in FILL and (low := _of(papers, place, "low")):
            back = _asks(low.first)
            says = f"{papers.number(place)}: fill it, cure, then {back}."
            found.append(DrillText("LOW SPOT or PINHOLE?", says))
    return tuple(found)


def _of(papers: Papers, place: Place, result: Look) -> d.Drill | None:
    """Return the drill of a place; None where nothing is cut there."""
    chain = [task for task in papers.at.get(place.id, ()) if task.do != "look"]
    if not any(task.do in {"sand", "scuff"} for task in chain):
        return None
    zones = tuple(spot.zone for spot in papers.spots_of(place))
    ground = DrillGround(chain, place.surface, zones, papers.advice.job.flake, papers.house.shop.shelf)
    made = drill(result, ground)
    return made if isinstance(made, d.Drill) else None


def _lines(papers: Papers, known: dict[str, d.Drill]) -> str:
    """Join the drills of all places: the same pass again, then the passes back, by hand apart.

    Where something that is sanded in one go must ask the lead, all of it does: nobody drills a line apart.
    """
    machine: dict[str, None] = {}
    back: dict[str, list[Place]] = {}
    by_hand: dict[str, None] = {}
    for name, one in known.items():
        place = papers.places[name]
        if all(ask.do != "sand" for ask in one.first):
            by_hand[" or ".join(ask.grade or "" for ask in one.first)] = None
            continue
        machine[_asks(one.first)] = None
        back.setdefault(_asks(one.then), []).append(place)
    says = [f"{' or '.join(machine)} again"] if machine else []
    worked = sum(map(len, back.values()))
    if back.pop("", []):
        back = {chain: patches for chain, some in back.items() if (patches := _patches(some))}
    for chain, places in back.items():
        everywhere = len(places) == worked
        says.append(f"then {chain}" if everywhere else f"{papers.words.numbers(places)} then {chain}")
    if by_hand:
        says.append(f"by hand {' or '.join(by_hand)} again")
    return f"{'; '.join(says)}; then the lead."


def _patches(places: Sequence[Place]) -> list[Place]:
    return [place for place in places if place.kind == "patch"]


def _asks(asks: Sequence[d.Ask]) -> str:
    return ", ".join("powder" if ask.do == "powder" else ask.grade or ask.do for ask in asks)
