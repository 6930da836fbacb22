"""Laws of the advice as functions: each takes a drawn job as words of its file and names what breaks it."""

import random
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import replace
from itertools import pairwise
from typing import Any, Final

from prepadvisor.files import impossible_places, layout_problems
from prepadvisor.planning import advise
from prepadvisor.records import (
    DS50_UM,
    FLAKES,
    GUIDE_COAT,
    RANK,
    WET_BED,
    Advice,
    BookColour,
    Grade,
    Job,
    LadderStep,
    Spot,
    key_of,
)
from prepadvisor.standards import House
from tests.recompute.houses import BOOK as TEXT
from tests.recompute.jobs import drawn

Words = dict[str, Any]
Law = Callable[[Words, House, random.Random], Iterator[str]]

BOOK: Final = {
    key_of(entry["book"]): BookColour.model_validate(entry) for entry in tomllib.loads(TEXT)["colour"]
}
"""The colours of the book by the word that jobs call them by."""

CLASSES: Final = {"flake_um": 28.0, "tilt_deg": 9.0}
"""Size and tilt of the largest class: one that is no less says nothing stricter than a class does."""

THIN_UM: Final = 90
"""A lower reading is thin film; without the reading nobody can know that."""


def advised(words: Words, house: House) -> Advice | None:
    """Return the advice on a job, None for one that the program refuses."""
    try:
        job = Job.model_validate(words)
    except ValueError:
        return None
    if layout_problems(job) or impossible_places(job, house):
        return None
    return advise(job, house, seek_offers=False)


def broken(law: Law, seeds: Sequence[int], house: House) -> tuple[int, list[str]]:
    """Return how many jobs a law was held against, and every breach with its seed; the house has a book."""
    found, tried, house = [], 0, replace(house, book=BOOK)
    for seed in seeds:
        rng = random.Random(seed)
        words = drawn(rng)
        if advised(words, house) is None:
            continue
        tried += 1
        found += [f"seed {seed}: {each}" for each in law(words, house, rng)]
    return tried, found


def _strictness(spot: Spot) -> tuple[float, ...]:
    """Return coarsest grade, bed, coats and hand limit as ranks; no finish is strictest of all."""
    if spot.finish is None:
        return (float("inf"),) * 4
    hand = RANK[spot.hand_coarsest] if spot.hand_coarsest else float("inf")
    return (RANK[spot.finish.coarsest], WET_BED.index(spot.wet_bed.need), spot.wet_bed.coats, hand)


def looser(before: Advice, after: Advice, *, held: bool = True) -> Iterator[str]:
    """Name spots that ask for less in the second advice; one that is in one of them only is passed over.

    A weaker bed under a finer grade that is safe with it is no less: the grade does what the bed did.

    Args:
        before: the one advice.
        after: the other.
        held: count spots that are held before and not after as well.
    """
    others = {spot.id: spot for spot in after.spots}
    for spot in before.spots:
        other = others.get(spot.id)
        if other is None or (spot.finish is None and not held):
            continue
        was, now = _strictness(spot), _strictness(other)
        if now[0] > was[0] and other.finish and other.finish.verdict == "safe":
            was, now = (was[0], was[3]), (now[0], now[3])
        if any(later < earlier for earlier, later in zip(was, now, strict=True)):
            yield f"{spot.id}: {was} -> {now}"


def compared(words: Words, changed: Words, house: House, what: str, *, held: bool = True) -> Iterator[str]:
    """Name spots that ask for less after a change, if the changed job loads."""
    before, after = advised(words, house), advised(changed, house)
    if before is not None and after is not None:
        yield from (f"{what}: {each}" for each in looser(before, after, held=held))


def finer_flake(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """A finer flake never asks for less; a measured one belongs to one class, so none is stated or booked."""
    colour = {key: words["colour"][key] for key in words["colour"] if key in ("stages", "tone", "book")}
    if _said(colour).keys() & {"flake_um", "tilt_deg", "log_sd"}:
        del colour["book"]
    jobs = [{**words, "colour": {**colour, "flake": flake}} for flake in FLAKES]
    for coarser, finer in pairwise(jobs):
        yield from compared(coarser, finer, house, finer["colour"]["flake"])


def leaving_out(words: Words, house: House, rng: random.Random) -> Iterator[str]:
    """What is not stated is judged by the strict side: leaving facts out, one kind or several, never loosens.

    A few statements say more than any start value can: vapour flake, a measurement below its class, thin
    film, that a flange is seen, what job and book state differently, and a next coat that alone makes a
    hold. Left out, they never ask for less than the start value stated in their stead, whatever else goes.
    """
    kinds = list(_LEFT_OUT)
    for names in [[kind] for kind in kinds] + [rng.sample(kinds, rng.randint(2, len(kinds)))]:
        stated, changed = deepcopy(words), deepcopy(words)
        for name in names:
            _AS_STARTED.get(name, _as_it_is)(stated)
            _LEFT_OUT[name](changed)
        if changed != words:
            yield from compared(stated, changed, house, "+".join(names))
    bare = deepcopy(words)
    _next(bare)
    yield from compared(words, bare, house, "next alone", held=False)


def _as_it_is(_words: Words) -> None:
    """Let all stand as it is stated."""


def _dropped(key: str) -> Callable[[Words], None]:
    return lambda words: words["colour"].pop(key, None)


def _at_least(key: str, smallest: float) -> Callable[[Words], None]:
    """State what the colour book measured, else a measurement that no class is above: all count before it."""

    def state(words: Words) -> None:
        if key in words["colour"]:
            words["colour"][key] = _said(words["colour"]).get(key, max(words["colour"][key], smallest))

    return state


def _said(colour: Words) -> Words:
    """Return what the colour book says of a colour."""
    entry = BOOK.get(key_of(colour.get("book", "")))
    return entry.model_dump(exclude_none=True) if entry else {}


def _as_said(key: str, start: str | int | None = None) -> Callable[[Words], None]:
    """State what the colour book says of a colour where it says it, and no more than the start value can."""

    def state(words: Words) -> None:
        colour = words["colour"]
        if key in colour:
            colour[key] = _said(colour).get(key, colour[key])
            if start is not None and colour[key] == "vapour" and key not in _said(colour):
                colour[key] = start

    return state


def _book(words: Words) -> None:
    """Drop the word of the colour book, but where its entry says what the job's words do not."""
    colour = words["colour"]
    said = _said(colour)
    both = (said.keys() & colour.keys()) - {"book"}
    if any(said[key] != colour[key] for key in both) or said.get("flake") == "vapour":
        return
    if all(said.get(key, size) >= size for key, size in CLASSES.items()):
        colour.pop("book", None)


def _thick(words: Words) -> None:
    for panel in words["panel"]:
        if "film_um" in panel:
            panel["film_um"] = [max(THIN_UM, each) for each in panel["film_um"]]


def _film(words: Words) -> None:
    for panel in words["panel"]:
        panel.pop("film_um", None)


def _next(words: Words) -> None:
    """Drop the next coat, but where primer is on by the log: that says what is there."""
    on = {check["panel"] for check in words.get("check", [])}
    for panel in words["panel"]:
        for each in (panel, *panel.get("patch", [])) if panel["id"] not in on else ():
            each.pop("next", None)


def _reach(words: Words) -> None:
    for panel in words["panel"]:
        for line in panel.get("feature", []):
            line.pop("reach", None)


def _unseen(words: Words) -> None:
    for panel in words["panel"]:
        for line in panel.get("feature", []):
            if line["kind"] in ("flange", "cut-out"):
                line["seen"] = False


def _seen(words: Words) -> None:
    for panel in words["panel"]:
        for line in panel.get("feature", []):
            line.pop("seen", None)


_LEFT_OUT: Final[Mapping[str, Callable[[Words], None]]] = {
    "flake": _dropped("flake"),
    **{key: _dropped(key) for key in CLASSES},
    "stages": _dropped("stages"),
    "tone": _dropped("tone"),
    "reach": _reach,
    "seen": _seen,
    "film_um": _film,
    "next": _next,
    "book": _book,
}
"""How each kind of fact is left out of a job."""

_AS_STARTED: Final[Mapping[str, Callable[[Words], None]]] = {
    "flake": _as_said("flake", "very-fine"),
    **{key: _at_least(key, size) for key, size in CLASSES.items()},
    "stages": _as_said("stages"),
    "tone": _as_said("tone"),
    "seen": _unseen,
    "film_um": _thick,
    "next": _next,
}
"""What stands in the stead of a fact that says more than its start value can; the rest stand as they do."""


def reading(words: Words, house: House, rng: random.Random) -> Iterator[str]:
    """A gauge reading never loosens."""
    bare, read = deepcopy(words), deepcopy(words)
    for panel in bare["panel"]:
        panel.pop("film_um", None)
    for panel in read["panel"]:
        panel["film_um"] = [rng.choice((60, 89, 90, 120, 300, 301, 500))]
    yield from compared(bare, read, house, "a reading")


def smaller_measure(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """A smaller or flatter flake never asks for less."""
    for key, large, small in (("flake_um", 20.0, 6.0), ("tilt_deg", 12.0, 3.0)):
        jobs = [{**words, "colour": {**words["colour"], key: value}} for value in (large, small)]
        yield from compared(jobs[0], jobs[1], house, key)


def full_colour(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """The fade is at least as strict as full colour: there single flakes lie straight on the scratch."""
    advice = advised(words, house)
    spots = {spot.id: spot for spot in advice.spots} if advice else {}
    for name, spot in spots.items():
        fade = spots.get(name.removesuffix("colour") + "fade")
        both = spot.finish, fade.finish if fade and spot.zone == "colour" else None
        if both[0] and both[1] and RANK[both[1].coarsest] < RANK[both[0].coarsest]:
            yield name


def hand_last(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """Hand as last touch is never coarser than hand ahead of a DA, the same line once so and once so.

    A block is no hand: what it finishes, filler and fresh primer, has a range of its own.
    """
    advices = []
    for reach in ("machine", "hand"):
        changed = deepcopy(words)
        for panel in changed["panel"]:
            for line in panel.get("feature", []):
                line["reach"] = reach
        advices.append(advised(changed, house))
    if advices[0] is None or advices[1] is None:
        return
    ahead = {spot.id: spot.hand_coarsest for spot in advices[0].spots}
    for spot in advices[1].spots:
        limit = ahead.get(spot.id)
        by_hand = spot.finish and spot.finish.tool != "block" and spot.feature != "face"
        if spot.finish and by_hand and limit and RANK[spot.finish.coarsest] < RANK[limit]:
            yield f"{spot.id}: {spot.finish.coarsest} after {limit} ahead"


def none_left_out(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """Every spot stands in one place, every place on its panel; one without a finish stands in holds."""
    advice = advised(words, house)
    if advice is None:
        return
    held = {hold.spot for hold in advice.holds}
    spots = [spot.id for spot in advice.spots]
    if sorted(spot for place in advice.places for spot in place.spots) != sorted(set(spots)):
        yield "spots and places differ"
    if [spot.id for spot in advice.spots if spot.finish is None and spot.id not in held]:
        yield "a spot without a finish is not held"
    ringed = {place.id for place in advice.places if place.ring_of}
    if not held <= {*spots, *ringed}:
        yield f"held and no spot: {held - set(spots)}"
    named = {
        (panel["id"], each["id"])
        for panel in words["panel"]
        for key in ("feature", "patch")
        for each in panel.get(key, [])
    }
    if not named <= {(place.panel, place.feature) for place in advice.places}:
        yield "a line or patch of the job is no place"


def grit_steps(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """Grit steps go ever finer from what is there to the finish, within the film that may come off."""
    advice = advised(words, house)
    if advice is None:
        return
    stated = {panel["id"]: panel for panel in words["panel"]}
    for panel in advice.panels:
        primed = {check["feature"] for check in words.get("check", []) if check["panel"] == panel.id}
        now = None if "panel" in primed else stated[panel.id].get("now", {}).get("grade")
        face = next((place for place in advice.places if place.id == f"{panel.id}/face"), None)
        if face and face.finish and panel.ladder:
            yield from _steps(face.id, panel.ladder, now, face.finish)
        if panel.film.off_max_um is not None and panel.film.off_um > panel.film.off_max_um + 1e-9:
            yield f"{panel.id}: {panel.film}"
        for patch in stated[panel.id].get("patch", []):
            if primed & {patch["id"], "panel"}:
                continue
            place = next(place for place in advice.places if place.id == f"{panel.id}/{patch['id']}")
            if place.ladder and place.finish:
                yield from _steps(place.id, place.ladder, patch.get("now", {}).get("grade"), place.finish)


def _steps(where: str, steps: Sequence[LadderStep], now: Grade | None, finish: Grade) -> Iterator[str]:
    grades: list[Grade] = [*([now] if now else []), *(step.grade for step in steps)]
    sizes = [DS50_UM[grade] for grade in grades]
    again = now and RANK[now] >= RANK[finish] and len(steps) == 1
    if steps[-1].grade != finish or not (again or all(one > other for one, other in pairwise(sizes))):
        yield f"{where}: {grades} to {finish}"
    if not all(step.minutes > 0 and step.film_off_um > 0 for step in steps):
        yield f"{where}: a step without minutes or film"


def wet_bed(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """A wet bed lies over old clear only, in colour and fade, within two coats, and never under primer."""
    advice = advised(words, house)
    surfaces = {panel["id"]: panel["surface"] for panel in words["panel"]}
    surfaces |= {
        f"{panel['id']}/{patch['id']}": patch["surface"]
        for panel in words["panel"]
        for patch in panel.get("patch", [])
    }
    for spot in advice.spots if advice else ():
        if spot.wet_bed.need == "no":
            continue
        surface = surfaces.get(f"{spot.panel}/{spot.feature}", surfaces[spot.panel])
        if (
            surface not in ("aged-clear", "cured-clear")
            or spot.zone == "clear"
            or not 1 <= spot.wet_bed.coats <= 2
        ):
            yield f"{spot.id}: {spot.wet_bed} over {surface}"


def powder(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """A finer flake never asks for less powder.

    And powder is never asked for where hand is the last touch.
    """
    colour = {key: words["colour"][key] for key in words["colour"] if key in ("stages", "tone")}
    advices = [advised({**words, "colour": {**colour, "flake": flake}}, house) for flake in FLAKES]
    for coarser, finer in pairwise(advices):
        if coarser is None or finer is None:
            continue
        others = {spot.id: spot for spot in finer.spots}
        for spot in coarser.spots:
            if GUIDE_COAT.index(others[spot.id].guide_coat) < GUIDE_COAT.index(spot.guide_coat):
                yield f"{spot.id}: {spot.guide_coat} -> {others[spot.id].guide_coat}"
    for advice in advices:
        hands = {place.id for place in advice.places if place.reach == "hand"} if advice else set()
        for task in advice.work.tasks if advice else ():
            if task.do == "powder" and task.place in hands:
                yield task.id


def offers(words: Words, house: House, _rng: random.Random) -> Iterator[str]:
    """An offer comes true: with that trim reached by a DA the job is as the offer says; none is kept back.

    None is kept back: where recesses and cut-outs alone need the panel's bed, taking their trim off weakens
    it and nothing is held that was not, there is an offer.
    """
    words = deepcopy(words)
    for stated in words["panel"]:
        usual = house.outlines[stated["kind"]].feature
        stated.setdefault("feature", [line.model_dump(exclude_none=True) for line in usual])
    job = Job.model_validate(words)
    if layout_problems(job) or impossible_places(job, house):
        return
    advice = advise(job, house)
    offered = {
        offer.places[0].split("/")[0]: offer for offer in advice.offers if offer.fact.kind == "trim-off"
    }
    for number, panel in enumerate(advice.panels):
        lines = words["panel"][number].get("feature", [])
        mine = {place.id: place for place in advice.places if place.panel == panel.id}
        offer = offered.get(panel.id)
        if offer is None:
            bed = panel.wet_bed
            trim = [
                f"{panel.id}/{line['id']}"
                for line in lines
                if line["kind"] in ("recess", "cut-out") and line.get("reach", "hand") == "hand"
            ]
            trim = [name for name in trim if mine[name].wet_bed[:2] == bed[:2] and bed.need == "required"]
            after = _reached(words, number, trim, house) if trim else None
            if after and _weaker(after, advice, panel.id) and not _held(after) - _held(advice):
                yield f"{panel.id}: no offer, though {trim} decide its bed"
            continue
        after = _reached(words, number, list(offer.places), house)
        if after is None:
            yield f"{offer.places}: the job offered does not load"
            continue
        becomes = next(one for one in after.panels if one.id == panel.id).wet_bed
        if offer.wet_bed != becomes[:2]:
            yield f"{offer.places}: {offer.wet_bed} and not {becomes}"
        lifted = _held(advice) - _held(after)
        saved = (0.0, 0) if lifted else (
            max(0.0, advice.minutes - after.minutes), max(0, advice.mix_ml - after.mix_ml)
        )  # fmt: skip
        if abs(offer.saves_minutes - saved[0]) > 1e-9 or offer.saves_ml != saved[1]:
            yield f"{offer.places}: saves {offer.saves_minutes}, {offer.saves_ml} and not {saved}"
        if _held(after) - _held(advice):
            yield f"{offer.places}: holds what was not held"
        fact = offer.fact
        if fact.kind == "trim-off" and fact.stops != len(lifted):
            yield f"{offer.places}: lifts {fact.stops} and not {len(lifted)}"


def _reached(words: Words, number: int, places: Sequence[str], house: House) -> Advice | None:
    changed = deepcopy(words)
    for line in changed["panel"][number].get("feature", []):
        if f"{changed['panel'][number]['id']}/{line['id']}" in places:
            line["reach"] = "machine"
    return advised(changed, house)


def _held(advice: Advice) -> set[str]:
    return {hold.spot.rpartition("/")[0] for hold in advice.holds}


def _weaker(after: Advice, before: Advice, panel: str) -> bool:
    beds = [next(one for one in each.panels if one.id == panel).wet_bed for each in (before, after)]
    ranks = [(WET_BED.index(bed.need), bed.coats) for bed in beds]
    return ranks[1] != ranks[0] and all(now <= was for was, now in zip(*ranks, strict=True))


LAWS: Final[tuple[Law, ...]] = (
    finer_flake, leaving_out, reading, smaller_measure, full_colour, hand_last, none_left_out, grit_steps,
    wet_bed, powder, offers,
)  # fmt: skip
"""All of them."""

KEPT: Final[Mapping[str, tuple[int, ...]]] = {
    **{law.__name__: () for law in LAWS},
    "leaving_out": (90094,),
    "grit_steps": (90103,),
}
"""Seeds that broke a law once; they stay among its quick ones."""
