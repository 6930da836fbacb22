"""What the lead's desk tells in lines: what a rule does, what a check found, what a draft changes on jobs."""

from collections.abc import Iterable, Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING

from prepadvisor.cards import doing_says, told_difference
from prepadvisor.planning import WAYS, ChangedBy, PlaceChange
from prepadvisor.records import card_numbers
from prepadvisor.standards import KINDS, Finding, in_words
from prepadvisor.tui.model.answers import SaidLine
from prepadvisor.tui.model.lead.rule_rows import asks_words, same_rule
from prepadvisor.tui.model.what_if import changes
from prepadvisor.wording import OUTPUT, thousands

if TYPE_CHECKING:
    from prepadvisor.standards import Rule
    from prepadvisor.tui.model.lead.desk import Checked, Effect, Preview


def desk_words(checked: "Checked", rule: "Rule", live: "Rule | None", is_draft: bool) -> list[SaidLine]:
    """Return what a rule really does, what the check says of it, and how it stands in force now."""
    said: list[SaidLine] = []
    doing = checked.doing(rule.id)
    if doing is not None:
        said += [SaidLine("WHAT IT DOES", "bold"), SaidLine(doing_says(doing, OUTPUT)), SaidLine("")]
    here = [finding for finding in checked.audit.findings if rule.id in finding.rules]
    if here:
        said += [*finding_words(here), SaidLine("")]
    if is_draft and live is not None and not same_rule(rule, live):
        said += [
            SaidLine("IN FORCE NOW, before this draft", "bold"),
            SaidLine(live.says),
            *asks_words(live),
            SaidLine(""),
        ]
    return said


def finding_words(findings: Iterable[Finding]) -> list[SaidLine]:
    """Return findings, gravest first, each with its mend and the lines that mend it."""
    said = []
    for finding in findings:
        words = f"{KINDS[finding.kind]}: {finding.says}"
        said.append(SaidLine(f"× {words}", "stop") if finding.is_error else SaidLine(f"· {words}"))
        said.append(SaidLine(f"Mend: {finding.mend}", "plain", 2))
        said += [SaidLine(f"write: {line}", "bold", 2) for line in finding.paste.splitlines()]
        if finding.file:
            said.append(SaidLine(finding.where(PurePath(finding.file).name), "hush", 2))
    return said


def check_words(checked: "Checked", is_draft: bool) -> list[SaidLine]:
    """Return a whole check: what got laxer, the findings, and what each house rule does."""
    found, engine = checked.audit.findings, checked.house.engine
    errors = sum(finding.is_error for finding in found)
    what = "DRAFT" if is_draft else "STANDARDS IN FORCE"
    cells = thousands(checked.audit.cells)
    head = f"CHECK of the {what.lower()}: {errors} to mend, {len(found) - errors} notes"
    said = [SaidLine(head, "stop" if errors else "bold")]
    said += [] if found else [SaidLine("√ no hole and no contradiction", "go")]
    said.append(SaidLine(f"all {cells} possible cases were looked at", "hush"))
    for _, change in checked.laxer:
        told = "; ".join(told_difference(each, OUTPUT) for each in change.differences)
        said.append(SaidLine(f"▲ LAXER without {change.causes[0].rule}: {told}", "warn"))
        said.append(SaidLine(f"in {in_words(change.limits)}", "plain", 2))
    said += finding_words(found)
    if checked.doings:
        said += [SaidLine(""), SaidLine("WHAT EACH HOUSE RULE DOES", "bold")]
        said += [SaidLine(f"■ {doing_says(doing, OUTPUT)}") for doing in checked.doings]
    said += [
        SaidLine(f"otherwise than the base: {each.rule}, {each.kind} by {each.by}: {each.says}", "warn")
        for each in engine.deviations
    ]
    return said


def preview_words(preview: "Preview") -> list[SaidLine]:
    """Return what a rule being written would do."""
    if preview.faults:
        return [
            SaidLine("not a rule yet", "bold"),
            *(SaidLine(f"▲ {fault}", "warn") for fault in preview.faults),
        ]
    said: list[SaidLine] = []
    said.append(
        SaidLine(doing_says(preview.doing, OUTPUT) if preview.doing else "nothing that a check can see")
    )
    errors = [finding for finding in preview.findings if finding.is_error]
    said.append(SaidLine(""))
    if not errors:
        said.append(SaidLine("√ the check finds nothing new to mend", "go"))
    return said + finding_words(preview.findings)


def effect_words(effects: Sequence["Effect"], of: int, which: str) -> list[SaidLine]:
    """Return what a draft changes on the jobs looked at so far: the sum, then each job that changes.

    Args:
        effects: the jobs looked at.
        of: how many there are.
        which: what jobs they are, such as "jobs of the shop".
    """
    known = [each for each in effects if each.found is not None]
    changed = [each for each in known if each.found is not None and each.found.is_change]
    places = sum(len(each.found.changes) for each in changed if each.found)
    every = sum(each.found.places for each in known if each.found)
    minutes = sum(each.found.minutes[1] - each.found.minutes[0] for each in changed if each.found)
    so_far = f"{len(effects)} of {of} {which} looked at" if len(effects) < of else f"all {of} {which}"
    said = [
        SaidLine(f"DRAFT beside what is in force, {so_far}", "bold"),
        SaidLine(f"{len(changed)} jobs change; {places} of {every} places; {minutes:+.1f} min", "bold"),
    ]
    for each in changed:
        said += _job_words(each)
    said += [SaidLine(f"× {each.name}: {each.fault}", "stop") for each in effects if each.fault]
    same = [each.name for each in known if each not in changed]
    if same:
        said.append(SaidLine(f"as before: {', '.join(same)}", "hush"))
    return said


def draft_words(effect: "Effect") -> list[SaidLine]:
    """Return what a draft changes on the open job, place by place, with the rule behind each change."""
    if effect.fault or effect.found is None:
        return [SaidLine(f"× {effect.fault}", "stop")]
    said = [SaidLine(f"DRAFT beside what is in force, on {effect.name}", "bold")]
    if not effect.found.changes:
        return [*said, SaidLine("nothing changes on this job")]
    return said + _job_words(effect)[1:]


def _job_words(effect: "Effect") -> list[SaidLine]:
    found, after = effect.found, effect.after
    if found is None or after is None:
        return []
    numbers = card_numbers((panel.id for panel in after.panels), after.places)
    minutes = found.minutes[1] - found.minutes[0]
    said = [
        SaidLine(
            f"▲ {effect.name}: {len(found.changes)} of {found.places} places, {minutes:+.1f} min", "warn"
        )
    ]
    groups: dict[tuple[tuple[str, ...], tuple[ChangedBy, ...]], list[str]] = {}
    for change in found.changes:
        told = changes(effect.before, after, change.place) or _ways(change)
        groups.setdefault((told, change.causes), []).append(numbers.get(change.place, change.place))
    for (told, causes), names in groups.items():
        said.append(SaidLine(f"{', '.join(names)}: {'; '.join(told)}", "plain", 2))
        said.append(SaidLine(f"by {', '.join(map(_cause, causes)) or 'shop file or numbers'}", "hush", 4))
    return said


def _ways(change: PlaceChange) -> tuple[str, ...]:
    return tuple(WAYS[way] for way in change.ways)


def _cause(cause: ChangedBy) -> str:
    gone = "" if cause.how == "new" else " no longer"
    return f"{cause.rule}{gone} ({PurePath(cause.file).name}:{cause.line})"
