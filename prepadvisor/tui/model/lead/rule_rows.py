"""The standards as the lead reads them: rules by family, one rule in full, findings, what a draft changes."""

from collections.abc import Mapping
from math import inf
from pathlib import PurePath
from typing import TYPE_CHECKING, Final, NamedTuple

from prepadvisor.cases import FACT, NUMBER, NUMBERS, Category, Value
from prepadvisor.standards import BASE, Box, Interval, Rule, Setting
from prepadvisor.tui.model.answers import SaidLine
from prepadvisor.tui.model.what_if import POWDER
from prepadvisor.wording import KIND, NEXT, OUTLINE, OUTPUT, SPECIAL, SURFACE, TONE, ZONE

if TYPE_CHECKING:
    from prepadvisor.standards import House

# What a rule asks and sets, fact by fact and answer by answer, in the words of the trade.

ANSWER_LABEL: Final = {
    "finish_coarsest": "DA at the coarsest", "finish_target": "DA, the usual grade",
    "finish_finest": "DA at the finest", "hand_coarsest": "by hand, then DA",
    "hand_last_coarsest": "by hand, last touch", "risk_limit": "risk allowed",
    "bed_coats_max": "bed coats at most", "bed_coats_min": "bed coats at least",
    "film_off_max_um": "film off, um at most", "film_left_min_um": "film left, um",
    "step_ratio_min": "next grain, share", "wet_bed": "wet bed", "guide_coat": "powder",
    "machine": "sander", "holds": "STOP", "cautions": "caution", "notes": "note",
}  # fmt: skip
"""Answers as labels; one without an entry goes by its longer words."""

_VALUES: Final[Mapping[str, Mapping[str, str]]] = {
    "tone": TONE, "zone": ZONE, "surface": SURFACE,
    "next": NEXT, "feature": KIND, "panel": OUTLINE, "special": SPECIAL,
    "role": {"repair": "repair panel", "blend": "blend panel", "clear-only": "clear only"},
}  # fmt: skip
_ANSWERS: Final[Mapping[str, Mapping[str, str]]] = {
    "wet_bed": {"no": "no", "advised": "advised", "required": "NEEDED"},
    "guide_coat": dict(POWDER.items()),
    "machine": {"any": "any sander", "interface-pad": "interface pad only", "never": "no sander"},
}


def fact_label(fact: str) -> str:
    """Return a fact as a label."""
    return FACT[fact].label


def value_words(fact: str, value: Value) -> str:
    """Return one value of a fact in words."""
    about = FACT[fact]
    if isinstance(about, Category) and value in about.said:
        return about.said[value]
    return _VALUES.get(fact, {}).get(str(value), str(value).replace("-", " "))


def condition_words(box: Box, fact: str) -> str:
    """Return what a box asks of one fact, in words."""
    if fact in NUMBER:
        return range_words(fact, box.range_of(fact))
    about = FACT[fact]
    assert isinstance(about, Category)  # noqa: S101 - what is no number is one
    if left_out := box.left_out(fact):
        return about.but.format(" or ".join(value_words(fact, value) for value in left_out))
    values = box.values(fact)
    names = [value_words(fact, value) for value in values]
    if about.ordered and 1 < len(values) < len(about.values):
        if values == tuple(about.values[-len(values) :]):
            return f"{names[0]} or {'finer' if fact == 'flake' else 'stricter'}"
        if values == tuple(about.values[: len(values)]):
            return f"{names[-1]} or {'coarser' if fact == 'flake' else 'less strict'}"
    left = [value for value in about.stated if value not in values]
    if left and len(left) * 2 < len(values) and not about.is_open:
        return "any but " + " or ".join(value_words(fact, value) for value in left)
    return " or ".join(names)


def range_words(fact: str, range_: Interval | None) -> str:
    """Return the range of a number in words, such as "film under 90 µm"."""
    unit = NUMBERS[NUMBER[fact]].unit
    if range_ is None:
        return f"any {fact}"
    if range_.numberless:
        return "no reading"
    name = fact.rpartition("_")[0]
    low = (
        ""
        if range_.low == 0 and range_.low_closed
        else f" {'from' if range_.low_closed else 'over'} {range_.low:g}"
    )
    high = "" if range_.high == inf else f" {'up to' if range_.high_closed else 'under'} {range_.high:g}"
    told = f"{name}{low}{high} {unit}" if low or high else f"{name} known"
    return f"{told}, or no reading" if range_.unknown else told


def setting_words(output: str, value: Setting) -> str:
    """Return the value of an answer in words."""
    if isinstance(value, tuple):
        return "; ".join(value)
    if isinstance(value, float):
        return f"{value:g}"
    return _ANSWERS.get(output, {}).get(str(value), str(value))


def answer_label(output: str) -> str:
    """Return what an answer is about, as a label of a few words."""
    return ANSWER_LABEL.get(output, OUTPUT.get(output, output.replace("_", " ")))


_EXAMPLES_MAX: Final = 8


class RuleRow(NamedTuple):
    """A rule's id and words, or a family's heading, which has no id."""

    id: str
    says: str
    mark: str


def rule_rows(house: "House", wanted: str = "", live: "House | None" = None) -> list[RuleRow]:
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


def rule_words(house: "House", rule_id: str) -> list[SaidLine]:
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


def deviations(house: "House") -> list[SaidLine]:
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


def example_words(house: "House", rule_id: str) -> list[SaidLine]:
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
