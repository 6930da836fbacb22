"""What is sprayed after the last gate, in words: one sentence for each turn of the booth."""

from collections.abc import Sequence
from typing import assert_never

from prepadvisor.records.advice import Advice
from prepadvisor.records.work import BoothDo, BoothEntry
from prepadvisor.wording.names import Words
from prepadvisor.wording.trade import coats, listed

LOOK_WET = "lines show in the wet gloss now? STOP, dry, sand, start again"


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
    drop = "" if solid else "; drop coat to even the flakes"
    match do:
        case "seal":
            return f"sealer over {over}: under full colour only; colour inside its window"
        case "ground":
            return f"ground coat by the maker's sheet over {over}; flash"
        case "colour":
            return f"colour over {over} until it hides; flash"
        case "bed":
            most = max(entry.coats for entry in turn)
            how = "coat, flash, next coat, LEAVE IT WET" if most > 1 else "LEAVE IT WET"
            return f"wet bed, uncoloured base, never a pigmented sealer: {over}; {how}"
        case "look":
            return f"LOOK at {over}: {LOOK_WET}"
        case "blend":
            stage = "translucent coats" if stages == 3 else "colour"
            return f"blend the {stage} out over {over}, each coat a hand further{drop}"
        case "clear":
            return f"clear {over} edge to edge; flash between coats"
        case _:
            assert_never(do)


def _stretch(entry: BoothEntry, words: Words) -> str:
    where = f"{entry.panel}/{entry.patch}" if entry.patch else entry.panel
    place = words.places.get(where)
    name = words.number(place) if place else words.letter_of.get(entry.panel, entry.panel)
    parts = [name]
    if entry.from_mm is not None and entry.to_mm is not None and entry.do != "clear":
        parts.append(words.units.span(entry.from_mm, entry.to_mm))
    if entry.do == "bed":
        parts.append(coats(entry.coats))
    return " ".join(parts)
