"""Holds that something sets aside without a word on what now guards: they stay in force, and it is told."""

from prepadvisor.standards.audited import Audited, named
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import BASE, Rule
from prepadvisor.standards.world import World


def holds_not_let_go(audited: Audited) -> list[Finding]:
    """Return a finding for each rule or withdrawal that would end a hold and does not say what guards now."""
    found = []
    for rule, by in audited.engine.kept:
        masks = audited.masks(rule)
        how = f'"{by.id}" replaces' if isinstance(by, Rule) else f'The withdrawal in "{by.layer}" takes away'
        hold = " ".join(str(text) for text in rule.set["holds"])  # type: ignore[union-attr]
        found.append(
            Finding(
                "hold-gone",
                f"{how} {named([rule])}, which holds: {hold} Nothing says what guards instead: it holds on.",
                'Add lets_go = "what now guards it", or keep the hold.',
                rules=(rule.id, *((by.id,) if isinstance(by, Rule) else ())),
                limits=audited.space.axes.limits(masks),
                file=by.file,
                line=by.line,
                cases=audited.diagrams.count(audited.space.region(masks)),
            )
        )
    return found


def holds_over_most(audited: Audited) -> list[Finding]:
    """Return a finding for each house rule that holds more than half of what the base answers."""
    house = [rule for rule in audited.engine.rules if rule.layer != BASE and "holds" in rule.set]
    if not house:
        return []
    base = World(audited.space, [rule for rule in audited.engine.rules if rule.layer == BASE])
    diagrams = audited.diagrams
    answered = diagrams.count(base.living)
    found = []
    for rule in house:
        masks = audited.masks(rule)
        held = diagrams.count(diagrams.both(base.living, diagrams.box(masks)))
        if 2 * held > answered:
            found.append(
                Finding(
                    "gap",
                    f"{named([rule])} holds {100 * held // answered} % of the cases that the base answers.",
                    "Name the cases that it is meant for.",
                    rules=(rule.id,),
                    limits=audited.space.axes.limits(masks),
                    file=rule.file,
                    line=rule.line,
                    cases=held,
                )
            )
    return found
