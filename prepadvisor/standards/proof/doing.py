"""What each rule and withdrawal of a house really does: what changes without it, and where."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple

from prepadvisor.standards.engine import BASE, OUTPUTS, Engine, Rule, Setting, Withdraw
from prepadvisor.standards.proof.compare import Change, compare, loosened
from prepadvisor.standards.proof.dead import shadows_of
from prepadvisor.standards.proof.differing import Difference
from prepadvisor.standards.proof.exchanged import Exchanges
from prepadvisor.standards.proof.outside import Outside
from prepadvisor.standards.proof.slips import grades_set
from prepadvisor.standards.proof.space import shared
from prepadvisor.standards.proof.told import typical

if TYPE_CHECKING:
    from prepadvisor.cases import Facts
    from prepadvisor.records import Grade, OutputName
    from prepadvisor.standards.proof.audited import Audited, Ranking
    from prepadvisor.standards.proof.covers import Covers

Does = Literal["tightens", "loosens", "both", "nothing", "words"]

_WHOLE_MOST: Final = 400
"""With more house rules than this, a case of each is looked for, not the whole region it decides."""


_COMPARED_MOST: Final = 200
_WORK_MOST: Final = 8000
"""So many replacements and withdrawals are compared one by one, among very many rules only as many as make
so many rules together; of more one case of each kind is looked for."""


class Doing(NamedTuple):
    """What one rule or withdrawal does.

    `differences` are those of `case`, one case that a lead can picture; it is None where nothing changes.
    `shadows` are the rules that ask as much wherever it does nothing; `cases` how many cases change, 0 where
    that was not counted. `unmet`: no card meets its cases; `unread`: none reads there what it sets; `held`:
    all of them are held; `aside`: another entry sets it aside; `holds_on`: it would end a hold and does not
    say what guards instead, so that the hold stays.
    """

    entry: Rule | Withdraw
    does: Does
    differences: tuple[Difference, ...] = ()
    case: "Facts | None" = None
    cases: int = 0
    shadows: tuple[Rule, ...] = ()
    unmet: bool = False
    unread: bool = False
    held: bool = False
    aside: bool = False
    holds_on: bool = False
    off_shelf: tuple[str, ...] = ()

    @property
    def rule(self) -> str:
        """The id of the rule, or of the one withdrawn."""
        return self.entry.id if isinstance(self.entry, Rule) else self.entry.rule


class Loosening(NamedTuple):
    """Cases that a layer makes laxer than those below it, by which replacement or withdrawal."""

    layer: str
    change: Change


def doings(audited: "Audited", shelf: Sequence["Grade"] = ()) -> list[Doing]:
    """Return what every rule and withdrawal above the base does, in the order of files and lines.

    Args:
        audited: the standards as audited.
        shelf: the grades of the shop; without them none is missed.
    """
    engine = audited.engine
    entries: list[Rule | Withdraw] = [rule for rule in engine.rules if rule.layer != BASE]
    entries += [rule for rule in engine.set_aside if rule.layer != BASE]
    entries += engine.withdrawals
    entries.sort(key=lambda entry: (entry.rank, entry.file, entry.line))
    whole = len(entries) <= _WHOLE_MOST
    deviating = [entry for entry in entries if isinstance(entry, Withdraw) or entry.replaces]
    most = compared_most(len(engine.rules) + len(engine.set_aside))
    searched = {id(entry) for entry in deviating[most:]}
    exchanges = Exchanges(engine)
    aside = {id(rule) for rule in engine.set_aside}
    return [
        Doing(entry, "nothing", aside=True)
        if isinstance(entry, Rule) and id(entry) in aside
        else _doing(
            audited, entry, shelf, whole=whole, exchanges=exchanges if id(entry) in searched else None
        )
        for entry in entries
    ]


def compared_most(rules: int) -> int:
    """Return how many replacements and withdrawals are compared one by one, among so many rules."""
    return _COMPARED_MOST if rules <= _WHOLE_MOST else max(3, _WORK_MOST // rules)


def _doing(
    audited: "Audited",
    entry: Rule | Withdraw,
    shelf: Sequence["Grade"],
    *,
    whole: bool,
    exchanges: Exchanges | None = None,
) -> Doing:
    engine = audited.engine

    def compared() -> Doing:
        found = _compared(engine, entry) if exchanges is None else _searched(engine, entry, exchanges)
        return found._replace(holds_on=any(by is entry for _, by in engine.kept))

    if isinstance(entry, Rule):
        lacks = tuple(sorted(grades_set(entry) - set(shelf))) if shelf else ()
        found = _by_itself(audited, entry, whole=whole) if entry.replaces is None else compared()
        found = found._replace(off_shelf=lacks)
        if found.does == "nothing" and not found.holds_on:
            unmet = audited.diagrams.both(audited.diagrams.box(audited.masks(entry)), audited.world.met)
            if unmet == audited.diagrams.no:
                return found._replace(unmet=True)
            if not any(_is_read(audited, entry, output) for output in entry.set):
                return found._replace(unread=True)
            if not whole:
                return found
            if _is_held(audited, entry):
                return found._replace(held=True)
            return found._replace(shadows=tuple(shadows_of(audited, entry, only_read=True)))
        return found
    return compared()


def _is_read(audited: "Audited", rule: Rule, output: "OutputName") -> bool:
    """Say whether a card can read an output of a rule in some case that it meets, held or not."""
    read = shared(audited.masks(rule), audited.space.masks(OUTPUTS[output].read))
    return audited.diagrams.both(audited.diagrams.box(read), audited.world.seen) != audited.diagrams.no


def _is_held(audited: "Audited", rule: Rule) -> bool:
    """Say whether every case in which a card would read an output of a rule is held."""
    own, diagrams = audited.diagrams.box(audited.masks(rule)), audited.diagrams
    return all(diagrams.both(own, audited.world.read(output)) == diagrams.no for output in rule.set)


def _compared(engine: Engine, entry: Rule | Withdraw) -> Doing:
    """Hold the standards with an entry against those without it."""
    without = engine.without(entry)
    found = compare(without, engine)
    directions = {change.direction for change in found.changes}
    if not directions:
        return Doing(entry, "nothing")
    does = _word(lax=directions & {"released", "laxer"}, strict=directions & {"held", "stricter"})
    case = found.changes[0].case
    before, after = (_answers(each.meeting(case)) for each in (without, engine))
    return Doing(entry, does, tuple(_between(before, after, case)), case, found.cases)


def _searched(engine: Engine, entry: Rule | Withdraw, exchanges: Exchanges) -> Doing:
    """Look for one case that an entry makes laxer, one that it makes stricter, one where words change."""
    went, came, lax, strict, words = exchanges.of(entry)
    case = lax or strict or words
    if case is None:
        return Doing(entry, "nothing")
    met = engine.meeting(case)
    before = [rule for rule in met if rule is not came]
    if went is not None and went.when.holds(case):
        before.append(went)
    differences = tuple(_between(_answers(before), _answers(met), case))
    return Doing(entry, _word(lax=lax, strict=strict), differences, case)


def _word(*, lax: object, strict: object) -> Does:
    """Say what an entry does by what it makes laxer and what stricter, if anything."""
    return "both" if lax and strict else "loosens" if lax else "tightens" if strict else "words"


def _by_itself(audited: "Audited", rule: Rule, *, whole: bool) -> Doing:
    """Look where a rule that sets nothing aside decides alone: there it tightens."""
    diagrams, space = audited.diagrams, audited.space
    regions: dict[str, int] = {}
    for output, setting in rule.set.items():
        region = (
            _of_texts(audited, rule, output, setting, whole=whole)
            if OUTPUTS[output].is_union
            else _of_answer(audited, rule, output, whole=whole)
        )
        if region != diagrams.no:
            regions[output] = region
    if not regions:
        return Doing(rule, "nothing")
    answers = {output: region for output, region in regions.items() if output not in {"cautions", "notes"}}
    does: Does = "tightens" if answers else "words"
    together = diagrams.yes
    for region in (answers or regions).values():
        both = diagrams.both(together, region)
        together = both if both != diagrams.no else together
    case = typical(space, together)
    every = diagrams.no
    for region in regions.values():
        every = diagrams.either(every, region)
    met = audited.engine.meeting(case)
    others = _answers([each for each in met if each is not rule])
    differences = tuple(_between(others, _answers(met), case))
    return Doing(rule, does, differences, case, diagrams.count(every) if whole else 0)


def _of_answer(audited: "Audited", rule: Rule, output: "OutputName", *, whole: bool) -> int:
    """Return the cases read in which no other rule asks as much of an output, or some of them."""
    ranking, diagrams = audited.ranking(output), audited.diagrams
    place = _places(ranking)[rule.id]
    strength = ranking.strengths[place]
    unset = OUTPUTS[output].unset
    if unset is not None and strength <= OUTPUTS[output].strength(unset):
        return diagrams.no
    if whole:
        rivals = ranking.at_least(strength) & ~(1 << place) | ranking.cannot_be
        return Outside(ranking.covers, ranking.boxes[place], rivals).region()
    case = ranking.case_alone(place)
    return diagrams.no if case is None else diagrams.box(tuple(1 << value for value in case))


@lru_cache(maxsize=32)
def _places(ranking: "Ranking") -> dict[str, int]:
    """Return the place of each rule by its id."""
    return {rule.id: place for place, rule in enumerate(ranking.rules)}


@lru_cache(maxsize=64)
def _with_text(audited: "Audited", output: "OutputName", text: str) -> tuple["Covers", dict[str, int]]:
    """Return the boxes of the rules with a text, and those of what no card is asked, with their places."""
    rules = audited.texts[output, text]
    boxes = [audited.masks(rule) for rule in rules]
    covers = audited.space.covers(boxes, audited.world.unseen, audited.world.supports)
    return covers, {rule.id: place for place, rule in enumerate(rules)}


def _of_texts(audited: "Audited", rule: Rule, output: "OutputName", setting: Setting, *, whole: bool) -> int:
    """Return the cases a card can meet in which a rule alone adds one of its texts, or one of them."""
    diagrams, own = audited.diagrams, audited.masks(rule)
    found = diagrams.no
    for text in setting if isinstance(setting, tuple) else ():
        covers, places = _with_text(audited, output, text)
        others = ((1 << len(covers.boxes)) - 1) ^ 1 << places[rule.id]
        if whole:
            region = Outside(covers, own, others).region()
            found = diagrams.either(found, diagrams.both(region, audited.world.seen))
        elif (case := Outside(covers, own, others).case()) is not None:
            found = diagrams.either(found, diagrams.box(tuple(1 << value for value in case)))
    return found


def _answers(rules: Sequence[Rule]) -> dict[str, Any]:
    """Return what some rules come to together, by output."""
    return {
        name: output.combine([rule.set[name] for rule in rules if name in rule.set])
        for name, output in OUTPUTS.items()
    }


def _between(old: dict[str, Any], new: dict[str, Any], case: "Facts") -> Iterator[Difference]:
    """Yield what differs between two answers to one case, those that nobody reads there left out."""
    for name, output in OUTPUTS.items():
        one, other = old[name], new[name]
        if one == other or not output.read.holds(case):
            continue
        if output.is_union:
            yield from (Difference(name, text, None) for text in one if text not in other)
            yield from (Difference(name, None, text) for text in other if text not in one)
        elif not (old["holds"] and new["holds"]):
            yield Difference(name, one, other)


def loosenings(engine: Engine) -> list[Loosening]:
    """Return every case that some layer makes laxer than those below it, lowest layer first."""
    layers = {rule.rank: rule.layer for rule in (*engine.rules, *engine.set_aside)}
    layers |= {entry.rank: entry.layer for entry in engine.withdrawals}
    deviating = {each.layer for each in engine.deviations}
    found = []
    for rank in sorted(layers):
        if rank == 0 or layers[rank] not in deviating:
            continue
        above = engine if rank == engine.height else engine.up_to(rank)
        found += [Loosening(layers[rank], each) for each in loosened(engine.up_to(rank - 1), above)]
    return found
