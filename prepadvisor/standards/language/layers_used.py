"""What layers come to, which of them count today and for whom, and where they leave the base."""

import datetime as dt
from collections.abc import Container, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from prepadvisor.records import Deviation, LayerUsed
from prepadvisor.standards.engine import Rule, RulesStanding, State, Withdraw, lets_go

if TYPE_CHECKING:
    from prepadvisor.standards.language.rule_file import CompiledFile
    from prepadvisor.standards.language.schema import StandardsEntry


def layers_used(files: Sequence["CompiledFile"]) -> Iterator[LayerUsed]:
    """Return the layers by name and version, each with whether it counts."""
    names: dict[str, StandardsEntry | None] = {}
    for file in files:
        names[file.source.layer] = names.get(file.source.layer) or file.standards
    for layer, entry in names.items():
        if entry is None:
            yield LayerUsed(layer=layer)
        else:
            yield LayerUsed(
                layer=layer,
                name=entry.name,
                version=entry.version,
                valid_from=_iso(entry.valid_from),
                valid_to=_iso(entry.valid_to),
                approved_by=entry.approved_by,
                customer=entry.customer,
            )


def _iso(day: dt.date | None) -> str | None:
    return day.isoformat() if day else None


def state_of(layer: LayerUsed, date: dt.date | None, customer: str) -> State:
    """Return how a layer stands to a job; a job that does not say its day or customer is unsure, not out."""
    day = _iso(date)
    if day and layer.valid_from and day < layer.valid_from:
        return "not yet"
    if day and layer.valid_to and day > layer.valid_to:
        return "over"
    if layer.customer and customer.strip() and not _same_name(layer.customer, customer):
        return "other customer"
    dated = layer.valid_from or layer.valid_to
    if (dated and not day) or (layer.customer and not customer.strip()):
        return "unsure"
    return "in force"


def _same_name(one: str, other: str) -> bool:
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())


def deviations_of(
    found: RulesStanding, withdrawals: Iterable[Withdraw], unsure: Container[str]
) -> tuple[Deviation, ...]:
    """Return in what layers above the base leave it."""
    aside = {rule.id: rule for rule in found.aside}
    told = [
        Deviation(
            rule=entry.rule,
            kind="withdrawn",
            by=entry.layer,
            says=entry.because,
            file=entry.file,
            line=entry.line,
            layer=entry.layer,
            below=aside[entry.rule].layer,
            lets_go=entry.lets_go or "",
        )
        for entry in withdrawals
        if entry.rule in aside and entry.layer not in unsure
    ]
    told += [
        Deviation(
            rule=rule.id,
            kind="replaced",
            by=by.id,
            says=by.says,
            file=by.file,
            line=by.line,
            layer=by.layer,
            below=rule.layer,
            lets_go=by.lets_go or "",
        )
        for rule, by in _stand_ins([*found.aside, *found.rules], unsure)
    ]
    return tuple(sorted(told, key=lambda each: (each.rule, each.kind, each.by)))


def _stand_ins(rules: Sequence[Rule], unsure: Container[str]) -> Iterator[tuple[Rule, Rule]]:
    """Yield each replaced rule with every rule of a layer above that stands in for it, through any chain."""
    by_id = {rule.id: rule for rule in rules}
    replacing: dict[str, list[Rule]] = {}
    for rule in rules:
        target = by_id.get(rule.replaces or "")
        if target is not None and rule.layer not in unsure and lets_go(rule, target):
            replacing.setdefault(target.id, []).append(rule)
    for target_id in replacing:
        target = by_id[target_id]
        waiting = list(replacing[target_id])
        while waiting:
            rule = waiting.pop()
            if rule.id in replacing:
                waiting += replacing[rule.id]
            elif rule.rank > target.rank:
                yield target, rule
