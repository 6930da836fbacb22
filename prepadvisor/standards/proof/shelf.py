"""The shelf against the standards: cases without a grade, usual grades nobody can take, steps too wide."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from prepadvisor.records import AREA_KINDS, DS50_UM, GRADES, RANK, Grade, OutputName, Shop, Surface, is_grade
from prepadvisor.standards.engine import BASE, OUTPUTS, box_of, grade_set
from prepadvisor.standards.language.as_words import in_words, when_line
from prepadvisor.standards.proof.audited import Audited, named, place_of, setting_of
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.pairs import Pair, deciding_pairs
from prepadvisor.standards.proof.space import cells

if TYPE_CHECKING:
    from prepadvisor.standards.proof.diagram import Masks

SHELF: Final = ("shop.toml", "shelf")
_MOST: Final = 12
_LIMITS: Final[tuple[OutputName, ...]] = ("finish_coarsest", "hand_last_coarsest")

_SOUND_CLEAR: Final[tuple[Surface, ...]] = ("aged-clear", "cured-clear")
_MET_ON_CLEAR: Final = Grade("P320")
"""The coarsest grade that sound clear is met with on a job; common practice."""

_HAIR: Final = 1e-9


def shelf_lacks(audited: Audited, shop: Shop) -> list[Finding]:
    """Return a finding for each kind of case that the shelf leaves without a grade or without a way to it."""
    shelf = sorted(set(shop.shelf), key=RANK.__getitem__)
    return [
        *_named_grades(shop),
        *_ranges(audited, shelf),
        *_targets(audited, shelf),
        *_hand(audited, shelf),
        *_steps(audited, shelf, {**dict.fromkeys(_SOUND_CLEAR, _MET_ON_CLEAR), **shop.first_grade}),
    ]


def _asked_by_name(shop: Shop) -> Iterator[tuple[tuple[str, ...], Grade]]:
    yield ("ring_grade",), shop.ring_grade
    for surface, grade in shop.first_grade.items():
        yield ("first_grade", surface), grade


def _named_grades(shop: Shop) -> Iterator[Finding]:
    """Yield the grades that the shop file itself asks for and the shelf lacks."""
    for key, grade in _asked_by_name(shop):
        if grade not in shop.shelf:
            says = f"{'.'.join(key)} is {grade}, which is not on the shelf."
            mend = f"Put {grade} on the shelf, or name a grade that is there."
            yield Finding("shelf", says, mend, key=SHELF)


def _grade(output: OutputName, strength: float) -> Grade:
    value = setting_of(output, strength)
    if not is_grade(value):
        raise ValueError(f"{output} has no grade of strength {strength}")
    return value


def _between(shelf: Sequence[Grade], coarsest: Grade, finest: Grade) -> list[Grade]:
    return [grade for grade in shelf if RANK[coarsest] <= RANK[grade] <= RANK[finest]]


def _span(coarsest: Grade, finest: Grade) -> str:
    return coarsest if coarsest == finest else f"{coarsest} to {finest}"


def _buy(grades: Sequence[Grade]) -> str:
    return f"Put {' or '.join(grades)} on the shelf"


def _ranges(audited: Audited, shelf: Sequence[Grade]) -> Iterator[Finding]:
    """Yield the grit ranges that hold no grade of the shelf, each once."""
    for output in _LIMITS:

        def empty(coarse: float, fine: float, output: OutputName = output) -> bool:
            low, high = _grade(output, coarse), _grade("finish_finest", fine)
            return RANK[low] <= RANK[high] and not _between(shelf, low, high)

        for pair in _pairs(audited, output, "finish_finest", empty):
            low, high = grade_set(pair.one, output), grade_set(pair.other, "finish_finest")
            says = f"{_span(low, high)} is asked for ({output}, finish_finest) and the shelf has none of it"
            yield _finding(audited, pair, says, f"{_buy(_between(GRADES, low, high))}.")


def _targets(audited: Audited, shelf: Sequence[Grade]) -> Iterator[Finding]:
    """Yield the usual grades that no case can have: nothing as fine is on the shelf and keys."""

    def coarser(target: float, fine: float) -> bool:
        low, high = _grade("finish_target", target), _grade("finish_finest", fine)
        return RANK[low] <= RANK[high] and not _between(shelf, low, high)

    coarse = audited.ranking("finish_coarsest")
    for pair in _pairs(audited, "finish_target", "finish_finest", coarser):
        low, high = grade_set(pair.one, "finish_target"), grade_set(pair.other, "finish_finest")
        place = coarse.decider(pair.case)
        if place is None or not _between(shelf, grade_set(coarse.rules[place], "finish_coarsest"), high):
            continue  # told already: no grade at all
        says = (
            f"{low} is the usual grade, yet nothing of {_span(low, high)} is on the shelf: a coarser is taken"
        )
        mend = f"{_buy(_between(GRADES, low, high))}, or name another finish_target."
        yield _finding(audited, pair, says, mend)


def _hand(audited: Audited, shelf: Sequence[Grade]) -> Iterator[Finding]:
    """Yield the strictest limit by hand ahead of a DA that no grade of the shelf is fine enough for."""
    ranking, finest = audited.ranking("hand_coarsest"), shelf[-1]
    for place, rule in enumerate(ranking.rules):
        limit = grade_set(rule, "hand_coarsest")
        if RANK[finest] >= RANK[limit]:
            return
        case = ranking.case_decided(place)
        if case is not None:
            pair = Pair(rule, rule, ranking.boxes[place], case)
            says = f"{limit} or finer is asked for by hand (hand_coarsest) and the shelf ends at {finest}"
            yield _finding(audited, pair, says, f"Put {limit} or finer on the shelf.")
            return


def _steps(audited: Audited, shelf: Sequence[Grade], starts: Mapping[Surface, Grade]) -> Iterator[Finding]:
    """Yield where no grit steps lead from what a surface is met with to a grade it may be finished with."""
    told: set[tuple[str, float]] = set()
    for surface, start in starts.items():
        where = audited.space.masks(box_of({"surface": (surface,), "feature": AREA_KINDS}))

        def no_way(ratio: float, coarse: float, start: Grade = start) -> bool:
            return _stuck_at(shelf, start, ratio, _grade("finish_coarsest", coarse)) is not None

        for pair in _pairs(audited, "step_ratio_min", "finish_coarsest", no_way, where):
            goal = grade_set(pair.other, "finish_coarsest")
            ratio = OUTPUTS["step_ratio_min"].strength(pair.one.set["step_ratio_min"])
            stuck = _stuck_at(shelf, start, ratio, goal)
            if stuck is None or (stuck, ratio) in told:
                continue
            told.add((stuck, ratio))
            least = DS50_UM[stuck] * ratio - _HAIR
            steps = [grade for grade in GRADES if RANK[grade] > RANK[stuck] and DS50_UM[grade] >= least]
            says = (
                f"{goal} or finer is asked for on {surface}, and from {stuck} the shelf has no step: "
                f"the next grain must be at least {ratio:g} of the last"
            )
            mend, paste = _buy(steps) if steps else "Lower step_ratio_min", ""
            sound = pair.one.when.overlap(box_of({"surface": _SOUND_CLEAR}))
            is_way = _stuck_at(shelf, _MET_ON_CLEAR, ratio, shelf[-1]) is None
            if pair.one.layer != BASE and sound is not None and sound != pair.one.when and is_way:
                mend += f', or say in "{pair.one.id}" that it is for sound clear'
                paste = f"when = {when_line(sound)}"
            yield replace(_finding(audited, pair, says, f"{mend}."), paste=paste)


def _stuck_at(shelf: Sequence[Grade], start: Grade, ratio: float, goal: Grade) -> Grade | None:
    """Return the grade after which no step is left, None if there is a way; a step more never hurts."""
    at = start
    for grade in shelf:
        if DS50_UM[grade] >= DS50_UM[at] * ratio - _HAIR:
            at = max(at, grade, key=RANK.__getitem__)
    return at if RANK[at] < RANK[goal] else None


def _pairs(
    audited: Audited,
    one: OutputName,
    other: OutputName,
    matters: Callable[[float, float], bool],
    where: "Masks | None" = None,
) -> list[Pair]:
    """Return the largest pair for each two settings that meet."""
    found: dict[tuple[object, object], Pair] = {}
    for pair in deciding_pairs(audited, audited.ranking(one), audited.ranking(other), matters, where):
        key = (pair.one.set[one], pair.other.set[other])
        known = found.get(key)
        if known is None or cells(pair.box) > cells(known.box):
            found[key] = pair
    return sorted(found.values(), key=lambda pair: -cells(pair.box))[:_MOST]


def _finding(audited: Audited, pair: Pair, says: str, mend: str) -> Finding:
    rules = list(dict.fromkeys((pair.one, pair.other)))
    file, line = place_of(rules)
    part = audited.part(audited.world.living, pair.box)
    return Finding(
        "shelf",
        f"{says}, by {named(rules)} for: {in_words(part.limits)}.",
        mend,
        rules=tuple(rule.id for rule in rules),
        limits=part.limits,
        file=file,
        line=line,
        cases=part.cases,
        key=SHELF,
    )
