"""Rule files laid over one another: the shipped base, then a house's layers, compiled into one engine."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import chain
from typing import Final

from prepadvisor.cases import NO_KINDS, Kinds
from prepadvisor.records import Problem, RuleFileUsed, StandardsUsed, did_you_mean
from prepadvisor.standards.engine import BASE, OUT, Engine, Example, Rule, State, standing
from prepadvisor.standards.language.layers_used import deviations_of, layers_used, state_of
from prepadvisor.standards.language.rule_file import CompiledFile, RuleSource, compile_file

__all__ = ["BadRulesError", "Layers", "RuleSource", "build"]

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


def build(sources: Sequence[RuleSource], kinds: Kinds = NO_KINDS) -> Engine:
    """Compile rule files into one engine; their order, and the order inside them, does not matter.

    Args:
        sources: the files of the base (layer "base") and of any house layers over it.
        kinds: panel kinds that the house states itself, each with the one it is like.

    Raises:
        BadRulesError: with every problem of every file.
    """
    return Layers(sources, kinds).engine()


class Layers:
    """The compiled files of all layers, of which those make an engine that count on a job's day."""

    def __init__(self, sources: Sequence[RuleSource], kinds: Kinds = NO_KINDS) -> None:
        """Compile the files; `kinds` are the panel kinds of the house, each with the one it is like.

        Raises:
            BadRulesError: with every problem of every file.
        """
        ordered = sorted(sources, key=lambda each: (each.rank, each.path))
        files = [compile_file(source, kinds) for source in ordered]
        rules = {rule.id: rule for file in reversed(files) for rule in file.rules}
        problems = [(file.source.path, problem) for file in files for problem in file.problems]
        problems += chain(
            _ids_twice(files), _named_twice(files), _replacing(files, rules), _withdrawing(files, rules)
        )
        if problems:
            raise BadRulesError(problems)
        self._files: Final = files
        self._kinds: Final = tuple(kinds)
        self._rules: Final = tuple(rules.values())
        self._engines: Final[dict[tuple[State, ...], Engine]] = {}
        self.layers: Final = tuple(layers_used(files))

    @property
    def is_dated(self) -> bool:
        """Whether some layer counts only on some days or for one customer."""
        return any(layer.is_dated for layer in self.layers)

    def states(self, date: dt.date | None, customer: str) -> tuple[State, ...]:
        """Return how each layer, lowest first, stands to a job of this day and customer ("" for not said)."""
        return tuple(state_of(layer, date, customer) for layer in self.layers)

    def engine(self, states: Sequence[State] = ()) -> Engine:
        """Return the engine of those layers that count; without states all of them do."""
        key = tuple(states) or tuple[State, ...](["in force"] * len(self.layers))
        known = self._engines.get(key)
        if known is None:
            known = self._engines[key] = self._made(key)
        return known

    def _made(self, states: Sequence[State]) -> Engine:
        state_of = {layer.layer: state for layer, state in zip(self.layers, states, strict=True)}
        counts = [file for file in self._files if state_of[file.source.layer] not in OUT]
        unsure = {layer for layer, state in state_of.items() if state == "unsure"}
        withdrawals = [entry for file in counts for _, entry in file.withdrawals]
        rules = [rule for rule in self._rules if state_of[rule.layer] not in OUT]
        found = standing(rules, withdrawals, unsure)
        named = [file.standards for file in counts if file.standards is not None]
        names = list({(entry.name, entry.version): entry for entry in named}.values())
        used = StandardsUsed(
            name=" + ".join(entry.name for entry in names),
            version=" + ".join(entry.version for entry in names),
            files=tuple(
                RuleFileUsed(path=file.source.path, sha256=file.source.sha256) for file in self._files
            ),
            deviations=deviations_of(found, withdrawals, unsure),
            layers=tuple(layer._replace(state=state_of[layer.layer]) for layer in self.layers),
        )
        return Engine(
            found.rules,
            [entry for file in counts for entry in file.impossibles],
            examples=partial(_examples, counts),
            promises=[entry for file in counts for entry in file.promises],
            withdrawals=withdrawals,
            set_aside=found.aside,
            kept=found.kept,
            used=used,
            kinds=self._kinds,
        )


def _examples(files: Iterable[CompiledFile]) -> list[Example]:
    """Return the examples of some files; those that were left out when a file was read are read now.

    Raises:
        BadRulesError: with every problem of those.
    """
    found: list[Example] = []
    problems: list[tuple[str, Problem]] = []
    for file in files:
        read = file if file.source.whole is None else compile_file(file.source.whole(), file.kinds)
        found += read.examples
        problems += [(file.source.path, problem) for problem in read.problems]
    if problems:
        raise BadRulesError(problems)
    return found


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


def _known(files: Sequence[CompiledFile]) -> dict[str, RuleSource]:
    """Return the file of every rule id, also of rules that have a problem of their own."""
    return {rule_id: file.source for file in reversed(files) for rule_id in file.ids}


def _named_twice(files: Sequence[CompiledFile]) -> Iterator[tuple[str, Problem]]:
    """Yield a problem for a layer that is named in two files in two ways: one of them would be lost."""
    first: dict[str, CompiledFile] = {}
    for file in files:
        if file.standards is None:
            continue
        known = first.setdefault(file.source.layer, file)
        if known.standards != file.standards and file.source.layer != BASE:
            where = f"{known.source.path}:{known.source.line_of(('standards',))}"
            says = f"this folder has another [standards] in {where}"
            yield file.source.path, Problem(("standards",), says, "a folder has one: keep one of them")


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
            elif known[rule.replaces].rank > rule.rank:
                layer = known[rule.replaces].layer
                says = f'rule "{rule.id}" replaces "{rule.replaces}" of the layer "{layer}", which lies above'
                yield file.source.path, Problem(path, says, "a layer replaces only what lies below it")
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


def _withdrawing(files: Sequence[CompiledFile], rules: Mapping[str, Rule]) -> Iterator[tuple[str, Problem]]:
    known = _known(files)
    replaced = {rule.replaces: rule for rule in rules.values() if rule.replaces}
    first: dict[str, str] = {}
    for file in files:
        if not file.withdrawals:
            continue
        source = file.source
        hints = _Hints(rule_id for rule_id, owner in known.items() if owner.rank < source.rank)
        for place, entry in file.withdrawals:
            path = ("withdraw", place, "rule")
            by = replaced.get(entry.rule)
            if entry.rule not in known:
                says, mend = f'no rule is called "{entry.rule}", so it cannot be withdrawn', hints(entry.rule)
            elif known[entry.rule].layer == source.layer:
                says, mend = f'"{entry.rule}" is a rule of this house', "delete it instead of withdrawing it"
            elif known[entry.rule].rank > source.rank:
                says = f'"{entry.rule}" is a rule of the layer "{known[entry.rule].layer}", which lies above'
                mend = "a layer withdraws only what lies below it"
            elif entry.rule in first:
                says, mend = (
                    f'"{entry.rule}" is withdrawn twice (also {first[entry.rule]})',
                    "keep one of them",
                )
            elif by is not None:
                says = f'"{entry.rule}" is replaced by "{by.id}" ({by.file}:{by.line}) and withdrawn as well'
                mend = f'keep one of them; to be without "{by.id}" too, withdraw that one from a layer above'
            else:
                first[entry.rule] = f"{entry.file}:{entry.line}"
                continue
            first.setdefault(entry.rule, f"{entry.file}:{entry.line}")
            yield source.path, Problem(path, says, mend)
