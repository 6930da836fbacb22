"""What is sprayed after the last gate, in words: one sentence for each turn of the booth."""

from collections.abc import Sequence
from typing import assert_never

from prepadvisor.records.advice import Advice
from prepadvisor.records.work import BoothDo, BoothEntry
from prepadvisor.wording.names import Words
from prepadvisor.wording.trade import coats, listed

WET = "in the wet gloss: lines? STOP, dry, sand, start again"
DRY = "once more, lamp, before the first coat"


def turns(booth: Sequence[BoothEntry]) -> list[list[BoothEntry]]:
    """Return what is sprayed together, in order: entries of one number and doing."""
    groups: dict[tuple[int, BoothDo], list[BoothEntry]] = {}
    for entry in booth:
        groups.setdefault((entry.n, entry.do), []).append(entry)
    return list(groups.values())


def entry_says(entry: BoothEntry, words: Words, advice: Advice) -> str:
    """Return what one entry alone asks for, as JSON carries it."""
    return turn_says([entry], words, advice)


def turn_says(turn: Sequence[BoothEntry], words: Words, advice: Advice) -> str:
    """Return what one turn asks for on all its panels and patches.

    Args:
        turn: entries that are sprayed together, one at least.
        words: names and units.
        advice: the advice, for its colour.
    """
    do = turn[0].do
    over = listed([_stretch(entry, words) for entry in turn])
    solid, stages = advice.job.flake == "solid", advice.job.stages
    drop = "" if solid else ", then drop coat"
    match do:
        case "seal":
            return f"sealer over {over}: under full colour only; colour inside its window"
        case "ground":
            return f"ground coat by the maker's sheet over {over}; flash"
        case "colour":
            return f"colour over {over} until it hides; flash"
        case "bed":
            most = max(entry.coats for entry in turn)
            flash = "flash between, " if most > 1 else ""
            return f"wet bed, uncoloured base only, never sealer: {over}; {flash}LEAVE IT WET"
        case "look":
            wet = any(entry.do == "bed" and entry.n < turn[0].n for entry in advice.work.booth)
            names = listed(list(dict.fromkeys(_name(entry, words) for entry in turn)))
            return f"LOOK at {names} {WET if wet else DRY}"
        case "blend":
            stage = "translucent coats" if stages == 3 else "colour"
            return f"blend the {stage} out: {over}{_mist(turn, words)}, each coat a hand further{drop}"
        case "clear":
            return f"clear {over} edge to edge, past all mist and wet bed{_ends(turn, words)}"
        case _:
            assert_never(do)


def _mist(turn: Sequence[BoothEntry], words: Words) -> str:
    past = {entry.past_mm for entry in turn if entry.past_mm}
    return f" (mist {listed([words.units.length(mm) for mm in sorted(past)])} past it)" if past else ""


def _ends(turn: Sequence[BoothEntry], words: Words) -> str:
    """Return where the clear ends, where that is not at all edges of the panel."""
    ends: list[str] = []
    for entry in turn:
        edges = {
            place.id for place in words.places.values() if (place.panel, place.kind) == (entry.panel, "edge")
        }
        ends += entry.ends_at if set(entry.ends_at) != edges else ()
    return f"; it ends at {words.numbers_of(ends)}" if ends else ""


def _name(entry: BoothEntry, words: Words) -> str:
    place = words.places.get(f"{entry.panel}/{entry.patch}") if entry.patch else None
    return words.number(place) if place else words.letter_of.get(entry.panel, entry.panel)


def _stretch(entry: BoothEntry, words: Words) -> str:
    parts = [_name(entry, words)]
    if entry.from_mm is not None and entry.to_mm is not None and entry.do != "clear":
        parts.append(words.units.span(entry.from_mm, entry.to_mm))
    if entry.do == "bed":
        parts.append(coats(entry.coats))
    return " ".join(parts)
