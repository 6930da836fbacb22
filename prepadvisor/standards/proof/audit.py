"""The exact audit of standards, every possible case covered, and the lines to paste that mend a finding.

Rules are boxes, so the outputs over all cases are decision diagrams of moderate size; each kind of flaw is
then a region of cases, empty when the standards are sound.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import CATEGORY, FACT, NUMBER, Category
from prepadvisor.records import FLAKES, RANK, Grade, OutputName, is_grade
from prepadvisor.standards.engine import BASE, OUTPUTS, Box, Engine, Rule, Setting, box_of
from prepadvisor.standards.language.as_words import set_line, when_line
from prepadvisor.standards.proof.audited import Audited
from prepadvisor.standards.proof.collisions import beds_nowhere, beds_too_thin, collisions, forbidden_beds
from prepadvisor.standards.proof.dead import dead_rules, unreachable
from prepadvisor.standards.proof.findings import Audit, Finding, FindingKind
from prepadvisor.standards.proof.gaps import gaps
from prepadvisor.standards.proof.promises import broken_promises
from prepadvisor.standards.proof.sane import wrong_units
from prepadvisor.standards.proof.shelf import shelf_lacks
from prepadvisor.standards.proof.shop import shop_slips
from prepadvisor.standards.proof.signed import slips_between
from prepadvisor.standards.proof.slips import (
    colours_not_in_book,
    failing_examples,
    holds_not_let_go,
    holds_over_most,
    saying_otherwise,
    saying_the_same,
)

if TYPE_CHECKING:
    from prepadvisor.standards.house import House

# Lines to paste: a house rule that breaks something in cases it did not mean, written so that it does not.
#
# Nothing is guessed: narrower conditions, in the order in which leads forget them, are tried one after
# another, and the first with which the audit finds nothing at this rule any more is told.

_MENDED: Final[frozenset[FindingKind]] = frozenset({"gap", "collision", "bed", "promise"})
_RULES_MOST: Final = 300
"""With more rules than this each trial costs too much."""
_TOLD_MOST: Final = 4

_CLEAR: Final = box_of({"surface": ("aged-clear", "cured-clear"), "next": ("base",)})
_NEXT: Final = box_of({"next": ("base",)})
_SHINY: Final = box_of({"surface": ("aged-clear", "cured-clear")})
_MACHINE: Final = box_of({"reach": ("machine",)})
_HAND: Final = box_of({"reach": ("hand",)})
_COLOURED: Final = box_of({"zone": ("colour", "fade")})
_RUNS: Final = [box_of({"flake": FLAKES[first:]}) for first in (2, 3, 4)]
_RUNS_DOWN: Final = [box_of({"flake": FLAKES[:end]}) for end in (5, 3)]
_NARROWER: Final[tuple[tuple[Box, ...], ...]] = (
    (),
    (_CLEAR,),
    (_CLEAR, _MACHINE),
    (_CLEAR, _HAND),
    (_CLEAR, _COLOURED),
    (_CLEAR, _COLOURED, _MACHINE),
    (_SHINY,),
    (_NEXT,),
    (_NEXT, _MACHINE),
    (_NEXT, _COLOURED),
    (_MACHINE,),
    (_HAND,),
    (_COLOURED,),
    *((_CLEAR, run) for run in _RUNS),
    *((_CLEAR, _HAND, run) for run in _RUNS),
    *((run,) for run in _RUNS_DOWN),
    *((_CLEAR, run) for run in _RUNS_DOWN),
)
_WIDER: Final = (
    "# in more cases than yours: what is stricter (finer flake, fade, thinner film) is never laxer"
)
_FEWER: Final = "# fewer coats than yours: no more may be laid there"
_IDLE: Final = "# in the cases it is meant for, other rules ask as much already"
_BY_HAND: Final = tuple(map(Grade, ("P1500", "P1200", "P1000", "P800")))
"""Grades for the last touch by hand where a rule keeps the sander off, the finest first."""


class _Trial(NamedTuple):
    """A rule written otherwise."""

    rule: Rule
    when_changed: bool
    set_changed: bool
    wider: bool
    fewer: bool

    @property
    def lines(self) -> str:
        """The lines that change."""
        lines = []
        if self.wider:
            lines.append(_WIDER)
        if self.fewer:
            lines.append(_FEWER)
        if self.when_changed:
            lines.append(f"when = {when_line(self.rule.when)}")
        if self.set_changed:
            lines.append(f"set = {set_line(self.rule.set)}")
        return "\n".join(lines)


def with_lines_to_paste(engine: Engine, findings: Sequence[Finding]) -> list[Finding]:
    """Return the findings, those of a house rule with the lines that mend it where some do."""
    if len(engine.rules) > _RULES_MOST:
        return list(findings)
    own = {rule.id: rule for rule in engine.rules if rule.layer != BASE}
    at_fault = dict.fromkeys(
        rule for finding in findings if finding.kind in _MENDED for rule in finding.rules if rule in own
    )
    pastes = {rule: _mended(engine, own[rule], findings) for rule in list(at_fault)[:_TOLD_MOST]}
    return [
        replace(finding, paste=next((pastes[rule] for rule in finding.rules if pastes.get(rule)), ""))
        if finding.kind in _MENDED
        else finding
        for finding in findings
    ]


def _mended(engine: Engine, rule: Rule, findings: Sequence[Finding]) -> str:
    does = _decides(Audited(engine), rule)
    others = sum(finding.kind in _MENDED and rule.id not in finding.rules for finding in findings)
    meant, idle = rule.when.overlap(_CLEAR), ""
    for trial in _trials(rule):
        rules = [trial.rule if each is rule else each for each in engine.rules]
        audited = Audited(Engine(rules, engine.impossibles, promises=engine.promises, kinds=engine.kinds))
        found: list[Finding] = []
        for part in (collisions, gaps, forbidden_beds, beds_too_thin, broken_promises):
            found += part(audited)
            if len(found) > others or any(rule.id in finding.rules for finding in found):
                break
        else:
            if _decides(audited, trial.rule) >= does:
                return trial.lines
            if not idle and trial.rule.when == meant and not trial.set_changed:
                idle = f"{_IDLE}\n{trial.lines}"
    return idle


def _decides(audited: Audited, rule: Rule) -> set[OutputName]:
    """Return the outputs that a rule decides alone in some case where they are read; texts always stand."""
    rankings = {output: audited.ranking(output) for output in rule.set if not OUTPUTS[output].is_union}
    return {
        output
        for output, ranking in rankings.items()
        if ranking.case_alone(ranking.rules.index(rule)) is not None
    }


def _trials(rule: Rule) -> Iterator[_Trial]:
    """Yield the rule written otherwise: narrower, with its usual grade, wider along an order; each once."""
    tried = {(rule.when, tuple(rule.set.items()))}
    for wider in (False, True):
        for more in _NARROWER:
            for settings in _settings(rule):
                when = _widened(rule.when) if wider else rule.when
                for box in more:
                    narrowed = when.overlap(box)
                    if narrowed is None:
                        break
                    when = narrowed
                else:
                    key = (when, tuple(settings.items()))
                    if key not in tried:
                        tried.add(key)
                        made = rule._replace(when=when, set=settings)
                        fewer = settings.get("bed_coats_min") != rule.set.get("bed_coats_min")
                        is_wider = not rule.when.covers(when)
                        yield _Trial(made, when != rule.when, settings != rule.set, is_wider, fewer)


def _settings(rule: Rule) -> Iterator[dict[OutputName, Setting]]:
    """Yield what a rule may set: what it does, its usual grade too, a grade by hand where no sander goes."""
    yield dict(rule.set)
    yield _with_usual(rule)
    if rule.set.get("machine") == "never" and "hand_last_coarsest" not in rule.set:
        for grade in _BY_HAND:
            yield {**rule.set, "hand_last_coarsest": grade}
    coats = rule.set.get("bed_coats_min")
    for fewer in range(coats - 1 if isinstance(coats, int) else 0, 0, -1):
        yield {**rule.set, "bed_coats_min": fewer}


def _with_usual(rule: Rule) -> dict[OutputName, Setting]:
    """Return what a rule sets, with the usual grade at least as fine as the coarsest one."""
    if "finish_coarsest" not in rule.set:
        return dict(rule.set)
    stated = rule.set["finish_coarsest"], rule.set.get("finish_target")
    finest = max((each for each in stated if is_grade(each)), key=RANK.__getitem__)
    return {**rule.set, "finish_target": finest}


def _widened(when: Box) -> Box:
    """Return a box that goes on to the strict end: of flake and zone, and of the film's readings."""
    masks = list(when.masks)
    for name in ("flake", "zone"):
        fact = FACT[name]
        assert isinstance(fact, Category)  # noqa: S101 - both are
        lowest = masks[CATEGORY[name]] & -masks[CATEGORY[name]]
        masks[CATEGORY[name]] = fact.full & ~(lowest - 1)
    ranges = list(when.ranges)
    film = ranges[NUMBER["film_um"]]
    if film is not None and not film.numberless:
        ranges[NUMBER["film_um"]] = film._replace(low=0.0, low_closed=True)
    return when._replace(masks=tuple(masks), ranges=tuple(ranges))


def audit_house(house: "House", audited: Audited | None = None) -> Audit:
    """Return every flaw of a house: of its standards, and of its shelf, tools, pads, numbers and outlines.

    Args:
        house: the house.
        audited: its standards as an audit sees them, where they are at hand already.
    """
    audited = audited or Audited(house.engine)
    more = [
        *shelf_lacks(audited, house.shop),
        *shop_slips(house),
        *slips_between(house),
        *colours_not_in_book(house),
    ]
    return _audit(audited).with_more(more)


def audit(engine: Engine) -> Audit:
    """Return every flaw of compiled standards, gravest first, and the number of possible cases.

    The cases are those of all categories, with each number cut into the ranges that some rule tells apart,
    and "not known" as one more.
    """
    return _audit(Audited(engine))


def _audit(audited: Audited) -> Audit:
    engine = audited.engine
    findings = [
        *holds_not_let_go(audited),
        *gaps(audited),
        *holds_over_most(audited),
        *collisions(audited),
        *forbidden_beds(audited),
        *beds_too_thin(audited),
        *beds_nowhere(audited),
        *broken_promises(audited),
        *failing_examples(audited),
        *unreachable(audited),
        *wrong_units(engine),
        *saying_otherwise(audited),
        *saying_the_same(audited),
        *dead_rules(audited),
    ]
    count = audited.diagrams.count
    findings = with_lines_to_paste(engine, findings)
    possible, living = count(audited.space.possible), count(audited.world.living)
    not_judged = tuple(sorted(audited.not_judged))
    return Audit(tuple(findings), possible, living, audited.world.is_whole, not_judged)
