"""One rule file compiled: its shape checked, its conditions made boxes, its values brought to one form."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from prepadvisor.cases import CATEGORIES, CATEGORY, NO_KINDS, NUMBER, Kinds
from prepadvisor.records import KeyPath, NamedTuple, Problem, did_you_mean
from prepadvisor.standards.engine import (
    BASE,
    OUTPUTS,
    Example,
    Impossible,
    Promise,
    Rule,
    Withdraw,
    output_named,
)
from prepadvisor.standards.language.read_set import read_expect, read_set, whole_case
from prepadvisor.standards.language.read_when import read_value, read_when
from prepadvisor.standards.language.schema import (
    ExampleEntry,
    ImpossibleEntry,
    PromiseEntry,
    RuleEntry,
    Shaped,
    StandardsEntry,
    WithdrawEntry,
    shape,
)


def _no_line(_path: KeyPath) -> int:
    return 0


class RuleSource(NamedTuple):
    """One rule file as it was read.

    `path` is how it is shown to people, `layer` is "base" or the house folder's name, `sha256` the digest of
    its bytes in hex, `line_of` a function from a key path such as ("rule", 0) to the line it stands on,
    `height` the place of the layer over the base, 1 for the lowest. Where `data` leaves out the
    file's examples, which only a check asks for, `whole` reads the file with them.
    """

    path: str
    layer: str
    data: Mapping[str, object]
    sha256: str = ""
    line_of: Callable[[KeyPath], int] = _no_line
    height: int | None = None
    whole: "Callable[[], RuleSource] | None" = None

    @property
    def rank(self) -> int:
        """The place of the layer: 0 for the base, 1 for the lowest house folder."""
        return self.height if self.height is not None else int(self.layer != BASE)


@dataclass(eq=False, repr=False)
class CompiledFile:
    """What one file holds, and what is wrong in it.

    `kinds` are the panel kinds of the house, `places` maps the id of every well-shaped rule to its place in
    the file, `ids` has those of all rules.
    """

    source: RuleSource
    kinds: Kinds = field(default_factory=dict)
    standards: StandardsEntry | None = None
    rules: list[Rule] = field(default_factory=list)
    withdrawals: list[tuple[int, Withdraw]] = field(default_factory=list)
    examples: list[Example] = field(default_factory=list)
    promises: list[Promise] = field(default_factory=list)
    impossibles: list[Impossible] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)
    ids: set[str] = field(default_factory=set)


def compile_file(source: RuleSource, kinds: Kinds = NO_KINDS) -> CompiledFile:
    """Compile one rule file. Entries with a problem are left out; `problems` has all of them."""
    shaped, problems = shape(source.data)
    compiled = CompiledFile(
        source, kinds, shaped.standards, problems=problems, ids=set(_ids(source.data.get("rule")))
    )
    problems += _inside_misshapen(source.data, shaped, kinds)
    for place, rule in shaped.of("rule"):
        _add_rule(compiled, place, rule)
    for place, withdraw in shaped.of("withdraw"):
        _add_withdraw(compiled, place, withdraw)
    for place, example in shaped.of("example"):
        _add_example(compiled, place, example)
    for place, promise in shaped.of("promise"):
        _add_promise(compiled, place, promise)
    for place, impossible in shaped.of("impossible"):
        _add_impossible(compiled, place, impossible)
    return compiled


def _inside_misshapen(data: Mapping[str, object], shaped: Shaped, kinds: Kinds) -> Iterator[Problem]:
    """Yield what is wrong in conditions and values of entries whose shape is wrong too."""
    for kind, readers in _INSIDE.items():
        whole = {place for place, _ in shaped.of(kind)}
        entries = data.get(kind)
        for place, entry in enumerate(entries if isinstance(entries, list) else ()):
            if place in whole or not isinstance(entry, Mapping):
                continue
            for key, read in readers.items():
                inside = entry.get(key)
                if isinstance(inside, Mapping):
                    yield from read(inside, (kind, place, key), kinds)[1]


def _read_set(raw: Mapping[str, object], path: KeyPath, _kinds: Kinds) -> tuple[object, list[Problem]]:
    return read_set(raw, path)


def _read_expect(raw: Mapping[str, object], path: KeyPath, _kinds: Kinds) -> tuple[object, list[Problem]]:
    return read_expect(raw, path)


_Reader = Callable[[Mapping[str, object], KeyPath, Kinds], tuple[object, list[Problem]]]
_INSIDE: Final[dict[str, dict[str, _Reader]]] = {
    "rule": {"when": read_when, "set": _read_set},
    "example": {"expect": _read_expect},
    "promise": {"where": read_when},
    "impossible": {"when": read_when},
}


def _ids(rules: object) -> Iterator[str]:
    for rule in rules if isinstance(rules, list) else ():
        name = rule.get("id") if isinstance(rule, Mapping) else None
        if isinstance(name, str):
            yield name


def _add_rule(compiled: CompiledFile, place: int, entry: RuleEntry) -> None:
    path = ("rule", place)
    when, wrong_when = read_when(entry.when, (*path, "when"), compiled.kinds)
    settings, wrong_set = read_set(entry.set, (*path, "set"))
    source = compiled.source
    if entry.id in compiled.places:
        first = source.line_of(("rule", compiled.places[entry.id]))
        says = f'the id "{entry.id}" is already taken' + (f" in line {first}" if first else "")
        compiled.problems.append(Problem((*path, "id"), says, "give each rule an id of its own"))
        return
    compiled.places[entry.id] = place
    if wrong_when or wrong_set:
        compiled.problems += [
            Problem(problem.path, f'rule "{entry.id}": {problem.says}', problem.mend)
            for problem in wrong_when + wrong_set
        ]
        return
    line = source.line_of(path)
    compiled.rules.append(
        Rule(
            id=entry.id,
            says=entry.says,
            when=when,
            set=settings,
            source=entry.source,
            layer=source.layer,
            file=source.path,
            line=line,
            replaces=entry.replaces,
            listed=frozenset(fact for fact, condition in entry.when.items() if isinstance(condition, list)),
            rank=source.rank,
            lets_go=entry.lets_go,
        )
    )


def _add_withdraw(compiled: CompiledFile, place: int, entry: WithdrawEntry) -> None:
    path, source = ("withdraw", place), compiled.source
    if source.layer == BASE:
        says = "the base withdraws nothing"
        compiled.problems.append(Problem(path, says, f'delete the rule "{entry.rule}" instead'))
        return
    line = source.line_of(path)
    compiled.withdrawals.append(
        (
            place,
            Withdraw(
                rule=entry.rule,
                because=entry.because,
                layer=source.layer,
                file=source.path,
                line=line,
                rank=source.rank,
                lets_go=entry.lets_go,
            ),
        )
    )


def _add_example(compiled: CompiledFile, place: int, entry: ExampleEntry) -> None:
    path, source = ("example", place), compiled.source
    given: dict[str, object] = {}
    expect, problems = read_expect(entry.expect, (*path, "expect"))
    for fact, raw in entry.given.items():
        given[fact], wrong = read_value(fact, raw, (*path, "given"), compiled.kinds)
        problems += wrong
    if problems:
        compiled.problems += problems
        return
    compiled.examples.append(
        Example(
            given=given,
            facts=whole_case(given),
            expect=expect,
            layer=source.layer,
            file=source.path,
            line=source.line_of(path),
            rank=source.rank,
        )
    )


def _add_promise(compiled: CompiledFile, place: int, entry: PromiseEntry) -> None:
    path, source = ("promise", place), compiled.source
    where, problems = read_when(entry.where, (*path, "where"), compiled.kinds)
    along, falling = entry.along, False
    if along is not None and along.startswith("falling "):
        along, falling = along.removeprefix("falling ").strip(), True
    problems += _promise_problems(entry, along, path)
    output, than = output_named(entry.output), output_named(entry.than or "")
    if problems or output is None or entry.never not in ("coarser", "weaker"):
        compiled.problems += problems
        return
    line = source.line_of(path)
    compiled.promises.append(
        Promise(
            says=entry.says,
            output=output.name,
            never="coarser" if entry.never == "coarser" else "weaker",
            where=where,
            along=along,
            falling=falling,
            than=than.name if than else None,
            layer=source.layer,
            file=source.path,
            line=line,
            rank=source.rank,
        )
    )


def _promise_problems(entry: PromiseEntry, along: str | None, path: KeyPath) -> list[Problem]:
    promisable = tuple(name for name, output in OUTPUTS.items() if not output.is_union)
    problems = []
    if entry.never not in ("coarser", "weaker"):
        problems.append(
            Problem(
                (*path, "never"),
                f'never cannot be "{entry.never}"',
                'write "coarser" for grades, else "weaker"',
            )
        )
    for key, name in (("output", entry.output), ("than", entry.than)):
        if name is not None and name not in promisable:
            says = f'nothing can be promised of an output "{name}"'
            problems.append(Problem((*path, key), says, did_you_mean(name, promisable)))
    if (along is None) == (entry.than is None):
        says = "a promise compares either along a fact or with another output"
        problems.append(Problem(path, says, 'give one of "along" and "than"'))
    ordered = tuple(fact.name for fact in CATEGORIES if fact.ordered) + tuple(NUMBER)
    if along is not None and along not in ordered:
        says = f'"{along}" has no order to go along' if along in CATEGORY else f'no fact is called "{along}"'
        problems.append(Problem((*path, "along"), says, did_you_mean(along, ordered)))
    if not problems:
        problems += _mismatches(entry, path)
    return problems


def _mismatches(entry: PromiseEntry, path: KeyPath) -> list[Problem]:
    output, other = output_named(entry.output), output_named(entry.than or "")
    if output is None:
        return []
    if output.is_grade != (entry.never == "coarser"):
        right = "coarser" if output.is_grade else "weaker"
        return [
            Problem((*path, "never"), f'{entry.output} is never "{entry.never}"', f'write never = "{right}"')
        ]
    if other is None:
        return []
    alike = (output.is_grade and other.is_grade) or (output.kind, output.words) == (other.kind, other.words)
    if other.name == output.name or not alike:
        return [Problem((*path, "than"), f"{entry.output} cannot be compared with {entry.than}")]
    return []


def _add_impossible(compiled: CompiledFile, place: int, entry: ImpossibleEntry) -> None:
    path, source = ("impossible", place), compiled.source
    if source.layer != BASE:
        says = "a house cannot say what is impossible"
        compiled.problems.append(Problem(path, says, "write a rule with a hold for such cases"))
        return
    when, problems = read_when(entry.when, (*path, "when"), compiled.kinds)
    if problems:
        compiled.problems += problems
        return
    compiled.impossibles.append(Impossible(when, entry.because, source.path, source.line_of(path)))
