"""What a replacement or withdrawal does, judged by one case of each kind, however many of them there are.

Comparing the standards with and without an entry costs a whole comparison for each. But only two rules change
hands: the one that went and the one that came. Something got laxer where the rule that went would be the
strictest again, stricter where the one that came is, held against that one too. Where the one that went kept
the sander off, what the new one asks by machine counts as stricter; a whole comparison leaves that out.
"""

from collections import Counter
from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.standards.engine import OUTPUTS, Engine, Rule, Withdraw, lets_go, target_of
from prepadvisor.standards.proof.audited import Ranking, unset_strength
from prepadvisor.standards.proof.outside import Outside, beside
from prepadvisor.standards.proof.space import Space
from prepadvisor.standards.proof.told import typical
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.cases import Facts
    from prepadvisor.records import OutputName
    from prepadvisor.standards.proof.covers import Covers
    from prepadvisor.standards.proof.diagram import Masks


class Exchange(NamedTuple):
    """A case that an entry makes laxer, one that it makes stricter, one where only words change; or None."""

    went: Rule | None
    came: Rule | None
    laxer: "Facts | None"
    stricter: "Facts | None"
    words: "Facts | None"


class Exchanges:
    """Standards in force, over a space that also the rules set aside cut."""

    def __init__(self, engine: Engine) -> None:
        """Cut the space by all rules, in force or not."""
        self._engine: Final = engine
        boxes = [*engine.boxes, *(rule.when for rule in engine.set_aside)]
        self._space: Final = Space(boxes, [entry.when for entry in engine.impossibles])
        self._rankings: dict[str, Ranking] = {}
        self._texts: dict[tuple[str, str], tuple[Covers, dict[str, int]]] = {}
        self._aside: Final = {rule.id: rule for rule in engine.set_aside}
        entries: list[Rule | Withdraw] = [*engine.rules, *engine.set_aside, *engine.withdrawals]
        aimed = Counter(
            rule.id
            for entry in entries
            if (rule := self._aside.get(target_of(entry) or "")) is not None and lets_go(entry, rule)
        )
        self._once: Final = {rule for rule, number in aimed.items() if number == 1}

    @cached_property
    def _world(self) -> World:
        return World(self._space, self._engine.rules)

    def of(self, entry: Rule | Withdraw) -> Exchange:
        """Return what an entry that is in force does."""
        came = entry if isinstance(entry, Rule) else None
        went = self._aside.get(target_of(entry) or "")
        if went is not None and (went.id not in self._once or not lets_go(entry, went)):
            went = None
        return Exchange(
            went,
            came,
            next(self._laxer(went), None),
            next(self._stricter(went, came), None),
            next(self._words(went, came), None),
        )

    def _laxer(self, went: Rule | None) -> Iterator["Facts"]:
        """Yield cases in which nothing in force asks as much as the rule that went, or holds as it did."""
        if went is None:
            return
        yield from self._texts_alone(went, None, "holds")
        for output, setting in went.set.items():
            if OUTPUTS[output].is_union:
                continue
            ranking, strength = self._ranking(output), float(OUTPUTS[output].strength(setting))
            if strength > unset_strength(output):
                yield from self._cases(ranking, self._space.masks(went.when), ranking.at_least(strength))

    def _stricter(self, went: Rule | None, came: Rule | None) -> Iterator["Facts"]:
        """Yield cases in which nothing else asks as much as the rule that came, nor did the one that went."""
        if came is None:
            return
        yield from self._texts_alone(came, went, "holds")
        for output, setting in came.set.items():
            if OUTPUTS[output].is_union:
                continue
            ranking, strength = self._ranking(output), float(OUTPUTS[output].strength(setting))
            rivals = ranking.at_least(strength) & ~(1 << ranking.rules.index(came))
            if strength > unset_strength(output):
                for part in self._beside(came, went, output, strength):
                    yield from self._cases(ranking, part, rivals)

    def _words(self, went: Rule | None, came: Rule | None) -> Iterator["Facts"]:
        """Yield cases in which a caution or note went or came."""
        outputs: tuple[OutputName, ...] = ("cautions", "notes")
        for output in outputs:
            for rule, other in ((went, None), (came, went)):
                if rule is not None:
                    yield from self._texts_alone(rule, other, output)

    def _beside(
        self, came: Rule, went: Rule | None, output: "OutputName", strength: float
    ) -> Iterator["Masks"]:
        """Yield boxes of the cases where the rule that came counts: the other held none, asked for less."""
        own = self._space.masks(came.when)
        if went is None:
            yield own
            return
        setting = went.set.get(output)
        as_much = setting is not None and float(OUTPUTS[output].strength(setting)) >= strength
        if not as_much and "holds" not in went.set:
            yield own
            return
        yield from beside(own, self._space.masks(went.when))

    def _cases(self, ranking: Ranking, box: "Masks", rivals: int) -> Iterator["Facts"]:
        found = Outside(ranking.covers, box, rivals | ranking.cannot_be).case()
        if found is not None:
            yield from self._told(found)

    def _texts_alone(self, rule: Rule, other: Rule | None, output: "OutputName") -> Iterator["Facts"]:
        """Yield cases in which no other rule in force has a text of this one, nor had the one that went."""
        had = self._said(other, output)
        for text in self._said(rule, output):
            covers, places = self._with_text(output, text)
            others = covers.everyone & ~(1 << places[rule.id] if rule.id in places else 0)
            own = self._space.masks(rule.when)
            boxes = [own]
            if other is not None and text in had:
                boxes = list(beside(own, self._space.masks(other.when)))
            for part in boxes:
                found = Outside(covers, part, others).case()
                if found is not None:
                    yield from self._told(found)

    def _said(self, rule: Rule | None, output: "OutputName") -> tuple[str, ...]:
        setting = rule.set.get(output) if rule is not None else None
        return setting if isinstance(setting, tuple) else ()

    def _with_text(self, output: "OutputName", text: str) -> tuple["Covers", dict[str, int]]:
        """Return the boxes of the rules in force with a text, and of what no card is asked, with places."""
        known = self._texts.get((output, text))
        if known is None:
            rules = [rule for rule in self._engine.rules if text in self._said(rule, output)]
            boxes = [self._space.masks(rule.when) for rule in rules]
            covers = self._space.covers(boxes, self._world.unseen, self._world.supports)
            known = self._texts[output, text] = covers, {rule.id: at for at, rule in enumerate(rules)}
        return known

    def _ranking(self, output: "OutputName") -> Ranking:
        known = self._rankings.get(output)
        if known is None:
            world = self._world
            known = self._rankings[output] = Ranking(
                self._space,
                output,
                self._engine.rules,
                outside=world.outside(output),
                held=world.held,
                supports=world.supports,
            )
        return known

    def _told(self, case: tuple[int, ...]) -> Iterator["Facts"]:
        yield typical(self._space, self._space.diagrams.box(tuple(1 << value for value in case)))
