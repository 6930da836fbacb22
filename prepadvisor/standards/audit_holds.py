"""Holds that something sets aside without a word on what now guards: they stay in force, and it is told."""

from prepadvisor.standards.audited import Audited, named
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import Rule


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
