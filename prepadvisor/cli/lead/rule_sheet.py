"""One rule in full: what it says, asks and sets, its source, its examples and where it decides."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from prepadvisor.standards import Audited, Axes, Decides, in_words, where_decides
from prepadvisor.wording import paragraph

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards import Engine, Rule


def rule_sheet(engine: "Engine", rule: "Rule") -> list[str]:
    """Return the lines that tell a rule, in force or not."""
    axes = Axes([rule.when])
    asked = in_words(axes.limits(axes.masks(rule.when)))
    lines = [
        f"{rule.id}   {rule.file}:{rule.line}",
        *paragraph(rule.says, "  "),
        "",
        *paragraph(f"when    {asked}", "  ", "          "),
    ]
    for output, value in rule.set.items():
        lines += paragraph(f"sets    {output}: {_value(value)}", "  ", "          ")
    lines += [f"  source  {rule.source}", *_standing(engine, rule)]
    if rule in engine.rules:
        lines += ["", "  WHERE IT DECIDES"]
        for found in where_decides(Audited(engine), rule):
            lines += paragraph(_decides(found), "    ", "      ")
    examples = [example for example in engine.examples if rule.when.holds(example.facts)]
    lines += ["", "  EXAMPLES THAT MEET IT" if examples else "  No example meets it."]
    for example in examples:
        lines += paragraph(
            f"{_pairs(example.given)} → {_pairs(example.expect)}  ({example.file}:{example.line})",
            "    ",
            "      ",
        )
    return lines


def _standing(engine: "Engine", rule: "Rule") -> list[str]:
    lines = []
    if rule.replaces:
        lines.append(f"  It replaces {rule.replaces}.")
    for deviation in engine.deviations:
        if deviation.rule == rule.id:
            place = f"{deviation.file}:{deviation.line}"
            lines += paragraph(f"NOT IN FORCE: {deviation.kind} ({place}): {deviation.says}", "  ", "    ")
    return lines


def _decides(found: Decides) -> str:
    if found.of == 0:
        return f"{found.output}: no possible case meets it"
    if found.limits is None:
        return f"{found.output}: nowhere; other rules ask more in all its cases"
    if found.everywhere:
        return f"{found.output}: in every case it meets"
    return (
        f"{found.output}: in {found.cases / found.of:.0%} of its cases, most of all {in_words(found.limits)}"
    )


def _value(value: object) -> str:
    if isinstance(value, tuple | list):
        return "; ".join(map(str, value))
    return f"{value:g}" if isinstance(value, float) else str(value)


def _pairs(pairs: Mapping["OutputName", object] | Mapping[str, object]) -> str:
    return ", ".join(f"{key} {_expected(value)}" for key, value in pairs.items())


def _expected(value: object) -> str:
    if value is None or value == ():
        return "none"
    if isinstance(value, Mapping):
        return f'not "{_value(value["not"])}"'
    if isinstance(value, tuple):
        return f'"{_value(value)}"'
    return str(value).lower() if isinstance(value, bool) else _value(value)
