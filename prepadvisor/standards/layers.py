"""Rule files laid over one another: the shipped base, then the house's own, compiled into one engine."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain

from prepadvisor.records.advice import Deviation, RuleFileUsed, StandardsUsed
from prepadvisor.records.fault import Problem
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.read_when import did_you_mean
from prepadvisor.standards.rule_file import CompiledFile, RuleSource, compile_file
from prepadvisor.standards.rules import BASE, Rule

__all__ = ["BadRulesError", "RuleSource", "build"]

_HINTS_MAX = 30
"""Hints looked for at most in one load, because each compares a word with every rule id."""


class BadRulesError(Exception):
    """Rule files that cannot be used: every problem with the path of its file, sorted."""

    def __init__(self, problems: Iterable[tuple[str, Problem]]) -> None:
        """Keep the problems, each with the path of its file as given in its `RuleSource`."""
        self.problems = tuple(
            sorted(problems, key=lambda pair: (pair[0], [str(key) for key in pair[1].path]))
        )
        super().__init__("\n".join(f"{path}: {problem.says}" for path, problem in self.problems))


def build(sources: Sequence[RuleSource]) -> Engine:
    """Compile rule files into one engine; their order, and the order inside them, does not matter.

    Args:
        sources: the files of the base (layer "base") and of at most one house.

    Raises:
        BadRulesError: with every problem of every file.
    """
    files = [
        compile_file(source) for source in sorted(sources, key=lambda each: (each.layer != BASE, each.path))
    ]
    rules = {rule.id: rule for file in reversed(files) for rule in file.rules}
    problems = [(file.source.path, problem) for file in files for problem in file.problems]
    problems += chain(_ids_twice(files), _replacing(files, rules), _withdrawing(files))
    if problems:
        raise BadRulesError(problems)
    return _engine(files, rules)


def _engine(files: Sequence[CompiledFile], rules: Mapping[str, Rule]) -> Engine:
    withdrawals = [entry for file in files for _, entry in file.withdrawals]
    aside = {rule.replaces for rule in rules.values()} | {entry.rule for entry in withdrawals}
    deviations = [
        Deviation(
            rule=entry.rule,
            kind="withdrawn",
            by=entry.layer,
            says=entry.because,
            file=entry.file,
            line=entry.line,
        )
        for entry in withdrawals
    ]
    deviations += [
        Deviation(rule=rule.id, kind="replaced", by=by.id, says=by.says, file=by.file, line=by.line)
        for rule, by in _stand_ins(rules)
    ]
    named = [file.standards for file in files if file.standards is not None]
    names = list({(entry.name, entry.version): entry for entry in named}.values())
    used = StandardsUsed(
        name=" + ".join(entry.name for entry in names),
        version=" + ".join(entry.version for entry in names),
        files=tuple(RuleFileUsed(path=file.source.path, sha256=file.source.sha256) for file in files),
        deviations=tuple(sorted(deviations, key=lambda each: (each.rule, each.kind, each.by))),
    )
    return Engine(
        [rule for rule in rules.values() if rule.id not in aside],
        [entry for file in files for entry in file.impossibles],
        examples=[entry for file in files for entry in file.examples],
        promises=[entry for file in files for entry in file.promises],
        withdrawals=withdrawals,
        set_aside=[rule for rule in rules.values() if rule.id in aside],
        used=used,
    )


def _stand_ins(rules: Mapping[str, Rule]) -> Iterator[tuple[Rule, Rule]]:
    """Yield each replaced base rule with every rule in force that stands in for it, through any chain."""
    replacing: dict[str, list[Rule]] = {}
    for rule in rules.values():
        if rule.replaces is not None:
            replacing.setdefault(rule.replaces, []).append(rule)
    for target in replacing:
        if rules[target].layer != BASE:
            continue
        waiting = list(replacing[target])
        while waiting:
            rule = waiting.pop()
            if rule.id in replacing:
                waiting += replacing[rule.id]
            else:
                yield rules[target], rule


def _ids_twice(files: Sequence[CompiledFile]) -> Iterator[tuple[str, Problem]]:
    taken: dict[str, CompiledFile] = {}
    for file in files:
        for rule_id, place in file.places.items():
            first = taken.setdefault(rule_id, file)
            if first is file:
                continue
            source = first.source
            line = source.line_of(("rule", first.places[rule_id]))
            where = f"{source.path}:{line}" if line else source.path
            mend = f'to change that rule, take a new id and write replaces = "{rule_id}"'
            if source.layer == file.source.layer:
                mend = "give each rule an id of its own"
            says = f'the id "{rule_id}" is already taken in {where}'
            yield file.source.path, Problem(("rule", place, "id"), says, mend)


class _Hints:
    """Did-you-mean hints for rule ids, only so many of them."""

    def __init__(self, ids: Iterable[str]) -> None:
        self._ids = tuple(ids)
        self._left = _HINTS_MAX

    def __call__(self, word: str) -> str:
        self._left -= 1
        return did_you_mean(word, self._ids) if self._left >= 0 else ""


def _known(files: Sequence[CompiledFile]) -> dict[str, str]:
    """Return the layer of every rule id, also of rules that have a problem of their own."""
    return {rule_id: file.source.layer for file in reversed(files) for rule_id in file.ids}


def _replacing(files: Sequence[CompiledFile], rules: Mapping[str, Rule]) -> Iterator[tuple[str, Problem]]:
    known = _known(files)
    hints = _Hints(known)
    for file in files:
        for rule in file.rules:
            if rule.replaces is None:
                continue
            path = ("rule", file.places[rule.id], "replaces")
            if rule.layer == BASE:
                yield (
                    file.source.path,
                    Problem(path, f'rule "{rule.id}": the base replaces nothing', "delete one"),
                )
            elif rule.replaces not in known:
                says = f'rule "{rule.id}" replaces "{rule.replaces}", which no rule is called'
                yield file.source.path, Problem(path, says, hints(rule.replaces))
            elif ring := _ring(rule, rules):
                says = f"these rules replace one another in a circle: {' → '.join(ring)}"
                yield file.source.path, Problem(path, says, "take one of the replaces away")


def _ring(start: Rule, rules: Mapping[str, Rule]) -> list[str]:
    """Return the ids along a circle of replacements through a rule, empty if it is in none."""
    path, at = [start.id], start.replaces
    seen = {start.id}
    while at is not None and at in rules and at not in seen:
        path.append(at)
        seen.add(at)
        at = rules[at].replaces
    return [*path, start.id] if at == start.id else []


def _withdrawing(files: Sequence[CompiledFile]) -> Iterator[tuple[str, Problem]]:
    known = _known(files)
    hints = _Hints(rule_id for rule_id, layer in known.items() if layer == BASE)
    first: set[str] = set()
    for file in files:
        for place, entry in file.withdrawals:
            path = ("withdraw", place, "rule")
            if entry.rule not in known:
                says = f'no rule is called "{entry.rule}", so it cannot be withdrawn'
                yield file.source.path, Problem(path, says, hints(entry.rule))
            elif known[entry.rule] != BASE:
                says = f'"{entry.rule}" is a rule of this house'
                yield file.source.path, Problem(path, says, "delete it instead of withdrawing it")
            elif entry.rule in first:
                yield (
                    file.source.path,
                    Problem(path, f'"{entry.rule}" is withdrawn twice', "keep one of them"),
                )
            first.add(entry.rule)
