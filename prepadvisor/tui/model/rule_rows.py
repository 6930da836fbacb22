"""The standards as the lead reads them: rules by family, one rule in full, findings, what a draft changes."""

from math import inf
from pathlib import PurePath
from typing import Final, NamedTuple

from prepadvisor.cases.facts import NUMBER, NUMBERS
from prepadvisor.records.advice import Advice, Place
from prepadvisor.standards.case_words import in_words
from prepadvisor.standards.conditions import Box, Interval
from prepadvisor.standards.findings import KINDS, Audit
from prepadvisor.standards.house import House
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.tui.model.answer import SaidLine
from prepadvisor.tui.model.what_if import changes
from prepadvisor.wording.holds import hold_why
from prepadvisor.wording.names import Words
from prepadvisor.wording.trade import OUTPUT

_EXAMPLES_MAX: Final = 8


class RuleRow(NamedTuple):
    """A rule's id and words, or a family's heading, which has no id."""

    id: str
    says: str
    mark: str


def rule_rows(house: House, wanted: str = "") -> list[RuleRow]:
    """Return the rules by family (a family is a file), those that have all words of `wanted` somewhere.

    Rules of the house's own layer are marked ■.
    """
    words = wanted.lower().split()
    families: dict[str, list[Rule]] = {}
    for rule in sorted(house.engine.rules, key=lambda rule: (rule.layer == BASE, rule.file, rule.line)):
        family = PurePath(rule.file).stem.replace("-", " ")
        text = f"{rule.id} {rule.says} {family} {rule.layer}".lower()
        if all(word in text for word in words):
            families.setdefault(f"{family} ({rule.layer})", []).append(rule)
    rows = []
    for family, rules in families.items():
        rows.append(RuleRow("", f"{family.upper()}, {len(rules)}", ""))
        rows += [RuleRow(rule.id, rule.id, "■" if rule.layer != BASE else "·") for rule in rules]
    return rows


def rule_words(house: House, rule_id: str) -> list[SaidLine]:
    """Return one rule in full: what it says, when, what it sets, layer, file, source, examples."""
    rule = next((rule for rule in house.engine.rules if rule.id == rule_id), None)
    if rule is None:
        return [SaidLine("no rule fits the filter")]
    said = [
        SaidLine(rule.id, "bold"),
        SaidLine(rule.says),
        SaidLine(""),
        SaidLine(f"WHEN  {when_words(rule.when)}"),
    ]
    for output, value in rule.set.items():
        shown = "; ".join(value) if isinstance(value, tuple) else str(value)
        said.append(SaidLine(f"THEN  {OUTPUT.get(output, output)}: {shown}", "bold"))
    source = house.sources.get(rule.source)
    said += [
        SaidLine(""),
        SaidLine(f"layer {rule.layer}, {rule.file}:{rule.line}"),
        SaidLine(f"source {rule.source}{f': {source.title}' if source else ''}"),
    ]
    if rule.replaces:
        said.append(SaidLine(f"replaces {rule.replaces}", "warn"))
    return [*said, SaidLine(""), *_examples(house, rule)]


def when_words(box: Box) -> str:
    """Return the cases of a rule in words."""
    limits = {fact: box.values(fact) for fact in box.asked if fact not in NUMBER}
    words = [in_words(limits)] if limits else []
    words += [range_words(fact, box.range_of(fact)) for fact in box.asked if fact in NUMBER]
    return "; ".join(words) or "every case"


def range_words(fact: str, range_: Interval | None) -> str:
    """Return the range of a number in words."""
    unit = NUMBERS[NUMBER[fact]].unit
    if range_ is None:
        return f"any {fact}"
    name = fact.rpartition("_")[0]
    low = (
        ""
        if range_.low == 0 and range_.low_closed
        else f" {'from' if range_.low_closed else 'over'} {range_.low:g}"
    )
    high = "" if range_.high == inf else f" {'up to' if range_.high_closed else 'under'} {range_.high:g}"
    return f"{name}{low}{high} {unit}" if low or high else f"{name} known"


def deviations(house: House) -> list[SaidLine]:
    """Return what the house does otherwise than the base."""
    said = [
        SaidLine(f"{deviation.kind}: {deviation.rule}, by {deviation.by}: {deviation.says}", "warn")
        for deviation in house.engine.deviations
    ]
    own = [rule for rule in house.engine.rules if rule.layer != BASE]
    said += [SaidLine(f"added: {rule.id}: {rule.says}") for rule in own if not rule.replaces]
    return [
        SaidLine("OTHERWISE THAN THE BASE", "bold"),
        *(said or [SaidLine("nothing: the base as it is shipped")]),
    ]


def finding_words(found: Audit) -> list[SaidLine]:
    """Return the findings of an audit, gravest first, each with its mend."""
    if not found.findings:
        return [
            SaidLine("√ no hole and no contradiction", "go"),
            SaidLine(f"{found.cells} possible cases looked at"),
        ]
    said = [SaidLine(f"{len(found.findings)} findings in {found.cells} possible cases", "bold")]
    for finding in found.findings:
        said.append(SaidLine(f"{'×' if finding.is_error else '·'} {KINDS[finding.kind]}: {finding.says}",
                         "stop" if finding.is_error else "plain"))  # fmt: skip
        said.append(SaidLine(f"mend: {finding.mend}", "plain", 2))
        if finding.file:
            said.append(SaidLine(f"{finding.file}:{finding.line}", "hush", 2))
    return said


def draft_words(now: Advice | None, then: Advice | None, folder: str) -> list[SaidLine]:
    """Return what a draft of standards would change on the open job, place by place."""
    if now is None or then is None:
        return [SaidLine("open a job with a panel first: a draft is tried on it", "warn")]
    said = [SaidLine(f"DRAFT {folder} on this job", "bold")]
    count = 0
    for place in now.places:
        changed = changes(now, then, place.id)
        if changed:
            count += 1
            words = Words(now)
            said.append(SaidLine(f"▲ {words.label(place)}: {'; '.join(changed)}", "warn"))
            said += [SaidLine(f"by {cause}", "hush", 2) for cause in _causes(now, then, place)]
    held = {hold.spot for hold in now.holds}
    said += [
        SaidLine(f"× new hold at {hold.spot}: {hold_why(hold, Words(then))}", "stop")
        for hold in then.holds
        if hold.spot not in held
    ]
    return [*said, SaidLine(f"{count} of {len(now.places)} places change", "bold")]


def _causes(now: Advice, then: Advice, place: Place) -> list[str]:
    """Return the rules that decide in a draft at a place and did not before, with their file and line."""
    before = {spot.id: set(spot.because) for spot in now.spots if spot.id in place.spots}
    new = (
        reason
        for spot in then.spots
        if spot.id in before
        for reason in spot.because
        if reason not in before[spot.id] and reason.file
    )
    return list(
        dict.fromkeys(f"{reason.rule} ({reason.layer}, {reason.file}:{reason.line})" for reason in new)
    )


def _examples(house: House, rule: Rule) -> list[SaidLine]:
    """Return the worked cases that this rule decides."""
    said = []
    for example in house.engine.examples:
        decided = {
            reason.output for reason in house.engine.decide(example.facts).because if reason.rule == rule.id
        }
        outputs = [output for output in example.expect if output in decided]
        if outputs:
            given = ", ".join(f"{fact} {_shown(value)}" for fact, value in example.given.items())
            expect = ", ".join(
                f"{OUTPUT.get(name, name)} {_shown(example.expect[name])}" for name in sorted(outputs)
            )
            said.append(SaidLine(f"given {given or 'the usual case'}: {expect}", "hush", 2))
    return [SaidLine("EXAMPLES", "bold"), *(said[:_EXAMPLES_MAX] or [SaidLine("none of its own", "hush", 2)])]


def _shown(value: object) -> str:
    if isinstance(value, list | tuple):
        return "; ".join(map(str, value))
    if isinstance(value, dict):
        return "; ".join(f"{key} {_shown(each)}" for key, each in value.items())
    return "not set" if value is None else str(value)
