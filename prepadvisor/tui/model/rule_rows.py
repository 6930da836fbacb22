"""The standards as the lead reads them: rules by family, one rule in full, findings, what a draft changes."""

from collections.abc import Mapping
from pathlib import PurePath
from typing import Final

from prepadvisor.named import NamedTuple
from prepadvisor.standards.house import House
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.tui.model.answer import SaidLine
from prepadvisor.tui.model.rule_words import (
    answer_label,
    condition_words,
    fact_label,
    setting_words,
    value_words,
)

_EXAMPLES_MAX: Final = 8


class RuleRow(NamedTuple):
    """A rule's id and words, or a family's heading, which has no id."""

    id: str
    says: str
    mark: str


def rule_rows(house: House, wanted: str = "", live: House | None = None) -> list[RuleRow]:
    """Return the rules by family (a family is a file), those that have all words of `wanted` somewhere.

    Rules of the house's own layer stand first and are marked ■; beside the house in force, `live`, a rule
    that is new in a draft is marked + and one that is changed there *.
    """
    words = wanted.lower().split()
    before = {rule.id: rule for rule in live.engine.rules} if live is not None else {}
    families: dict[str, list[Rule]] = {}
    for rule in sorted(house.engine.rules, key=lambda rule: (rule.layer == BASE, rule.file, rule.line)):
        family = PurePath(rule.file).stem.replace("-", " ")
        text = f"{rule.id} {rule.says} {family} {rule.layer}".lower()
        if all(word in text for word in words):
            families.setdefault(f"{family} ({rule.layer})", []).append(rule)
    rows = []
    for family, rules in families.items():
        rows.append(RuleRow("", f"{family.upper()}, {len(rules)}", ""))
        rows += [RuleRow(rule.id, rule.id, _mark(rule, before, live is not None)) for rule in rules]
    return rows


def _mark(rule: Rule, before: Mapping[str, Rule], is_draft: bool) -> str:
    if rule.layer == BASE:
        return "·"
    if is_draft and rule.id not in before:
        return "+"
    return "*" if is_draft and not same_rule(rule, before[rule.id]) else "■"


def same_rule(one: Rule, other: Rule) -> bool:
    """Say whether two rules ask and set the same in the same words, wherever they stand."""
    return (one.says, one.when, one.set, one.source, one.replaces) == (
        other.says, other.when, other.set, other.source, other.replaces
    )  # fmt: skip


def rule_words(house: House, rule_id: str) -> list[SaidLine]:
    """Return one rule in full: what it says, when, what it sets, layer, file, source, examples."""
    rule = next((rule for rule in house.engine.rules if rule.id == rule_id), None)
    if rule is None:
        return [SaidLine("no rule fits the filter")]
    said = [SaidLine(rule.id, "bold"), SaidLine(rule.says), SaidLine(""), *asks_words(rule)]
    source = house.sources.get(rule.source)
    said += [
        SaidLine(""),
        SaidLine(f"layer {rule.layer}, {PurePath(rule.file).name}:{rule.line}"),
        SaidLine(f"source: {source.title if source else rule.source}"),
    ]
    if rule.replaces:
        said.append(SaidLine(f"replaces {rule.replaces}", "warn"))
    return [*said, SaidLine("")]


def asks_words(rule: Rule) -> list[SaidLine]:
    """Return when a rule counts and what it then asks, in words."""
    said = [
        SaidLine(f"WHEN  {fact_label(fact).lower()}: {condition_words(rule.when, fact)}")
        for fact in rule.when.asked
    ] or [SaidLine("WHEN  in every case")]
    return said + [
        SaidLine(f"THEN  {answer_label(output)}: {setting_words(output, value)}", "bold")
        for output, value in rule.set.items()
    ]


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


def example_words(house: House, rule_id: str) -> list[SaidLine]:
    """Return the worked cases that a rule decides."""
    said = []
    for example in house.engine.examples:
        decided = {
            reason.output for reason in house.engine.decide(example.facts).because if reason.rule == rule_id
        }
        outputs = [output for output in example.expect if output in decided]
        if outputs:
            given = ", ".join(_given(fact, value) for fact, value in example.given.items())
            expect = ", ".join(
                f"{answer_label(name)} {_shown(example.expect[name])}" for name in sorted(outputs)
            )
            said.append(SaidLine(f"given {given or 'the usual case'}: {expect}", "hush", 2))
    return [SaidLine("EXAMPLES", "bold"), *(said[:_EXAMPLES_MAX] or [SaidLine("none of its own", "hush", 2)])]


def _given(fact: str, value: object) -> str:
    words = value_words(fact, value) if isinstance(value, str | int) else _shown(value)
    return f"{fact_label(fact).lower()} {words}"


def _shown(value: object) -> str:
    if isinstance(value, list | tuple):
        return "; ".join(map(str, value))
    if isinstance(value, dict):
        return "; ".join(f"{key} {_shown(each)}" for key, each in value.items())
    return "not set" if value is None else str(value)
