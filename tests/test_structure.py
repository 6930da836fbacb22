"""The house can be held in mind: files, folders, imports and names within limits.

An import counts once for each module of our own that another names, at the top or inside a function, but not
where only a type checker reads it (`if TYPE_CHECKING`). A package's `__init__` is its door: it loads a part
when something of it is asked for. `python tests/test_structure.py` prints the figures, those of the other two
ways to count as well: what Python runs as the module loads, and all that is written.
"""

import ast
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from graphlib import TopologicalSorter
from importlib import import_module
from pathlib import Path
from typing import Any, Literal

import pytest

from prepadvisor.cli.schema import schema_of

ROOT = Path(__file__).parent.parent
PACKAGE = "prepadvisor"
TYPE = re.compile(r"^(?:class|type) ([A-Z]\w*)|^([A-Z]\w*[a-z]\w*) = ", re.MULTILINE)
Graph = Mapping[str, set[str]]
When = Literal["loading", "running", "written"]


@cache
def sources() -> Mapping[str, str]:
    """Return the text of every module by its dotted name."""
    found = {}
    for path in sorted((ROOT / PACKAGE).rglob("*.py")):
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        found[name.removesuffix(".__init__")] = path.read_text("utf-8")
    return found


@cache
def parsed() -> Mapping[str, ast.Module]:
    """Return every module by its dotted name, parsed."""
    return {name: ast.parse(text) for name, text in sources().items()}


def imports(node: ast.AST, when: When) -> Iterator[tuple[str, str]]:
    """Give the modules that a part of a module imports, each with a name that it takes there."""
    for each in ast.iter_child_nodes(node):
        if isinstance(each, ast.ImportFrom):
            yield from ((each.module or "", part.name) for part in each.names)
        elif isinstance(each, ast.Import):
            yield from ((part.name, "") for part in each.names)
        elif isinstance(each, ast.If) and "TYPE_CHECKING" in ast.dump(each.test):
            for side in (each.orelse, each.body if when == "written" else []):
                yield from imports(ast.Module(side, []), when)
        elif isinstance(each, ast.expr):
            continue  # no expression imports
        elif when != "loading" or not isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef):
            yield from imports(each, when)


@cache
def graph(when: When) -> Graph:
    """Return who imports whom while it loads, while it loads and runs, or wherever it is written."""
    texts = sources()
    found: dict[str, set[str]] = {}
    for name, tree in parsed().items():
        named = imports(tree, when)
        whole = {full if (full := f"{module}.{part}") in texts else module for module, part in named}
        found[name] = whole & texts.keys() - {name, PACKAGE}
    return found


def longest_chain(found: Graph) -> Sequence[str]:
    """Return the longest chain of modules that import one another. Raises RecursionError for a circle."""

    @cache
    def down(name: str) -> tuple[str, ...]:
        return (name, *max((down(each) for each in found[name]), key=len, default=()))

    return max((down(name) for name in found), key=len)


def shared_names() -> Mapping[str, Sequence[str]]:
    """Return the public types that two modules define under one name."""
    homes = defaultdict(list)
    for name, text in sources().items():
        for match in TYPE.finditer(text):
            homes[match[1] or match[2]].append(name)
    return {name: found for name, found in homes.items() if len(found) > 1}


def keys(part: Any) -> Iterator[bool]:
    """Give for each key of a JSON Schema, at any depth, whether a sentence explains it."""
    if isinstance(part, dict):
        properties = part.get("properties")
        if isinstance(properties, dict):
            yield from (bool(each.get("description")) for each in properties.values())
        yield from (found for each in part.values() for found in keys(each))
    elif isinstance(part, list):
        yield from (found for each in part for found in keys(each))


def doors() -> list[str]:
    """Return the packages whose `__init__` loads its parts when they are asked for."""
    return [name for name, text in sources().items() if "\n_PARTS = {" in text]


def mean(found: Graph) -> float:
    """Return how many modules a module imports."""
    return sum(map(len, found.values())) / len(found)


def lines() -> Mapping[str, int]:
    """Return the lines of every module."""
    return {name: text.count("\n") for name, text in sources().items()}


def flat() -> Counter[Path]:
    """Return how many modules stand in each folder."""
    return Counter(path.parent for path in (ROOT / PACKAGE).rglob("*.py"))


def test_there_are_no_more_files_than_ideas() -> None:
    """One file for each 130 lines, 230 at least; none over 350 lines, no folder over 30 files."""
    assert len(sources()) <= max(230, sum(lines().values()) // 130)
    assert {name: count for name, count in lines().items() if count > 350} == {}
    assert {folder: count for folder, count in flat().items() if count > 30} == {}


def test_imports_are_few_and_short() -> None:
    """At most 3.6 imports a module and 14 in a row, and no circle, not even for a type checker alone."""
    assert mean(graph("running")) <= 3.6
    assert len(longest_chain(graph("running"))) <= 14
    TopologicalSorter(graph("written")).prepare()  # raises CycleError


def test_a_name_means_one_thing() -> None:
    """Five public types at most share their name with another."""
    assert len(shared_names()) <= 5


@pytest.mark.parametrize("file", ["job", "advice"])
def test_nearly_every_key_is_explained(file: str) -> None:
    """An editor shows a sentence for 95 of 100 keys."""
    found = list(keys(schema_of(file)))
    assert sum(found) >= 0.95 * len(found)


def test_a_door_brings_what_it_promises() -> None:
    """The type checker, which looks whether each part has them, and Python are told of the same names."""
    for name in doors():
        block = next(node for node in parsed()[name].body if isinstance(node, ast.If))
        told = {
            (node.module, each.name)
            for node in block.body
            if isinstance(node, ast.ImportFrom)
            for each in node.names
        }
        parts: Mapping[str, str] = import_module(name)._PARTS
        assert told == {(f"{name}.{part}", each) for part, names in parts.items() for each in names.split()}


if __name__ == "__main__":
    total = sum(lines().values())
    longest = max(lines().values())
    print(f"{len(sources())} files, {total} lines, {total / len(sources()):.0f} a file, longest {longest}")
    print(f"most files flat in a folder: {flat().most_common(1)[0][1]}; names shared: {dict(shared_names())}")
    ways: tuple[When, ...] = ("loading", "running", "written")
    for how in ways:
        print(f"imports a module, {how}: {mean(graph(how)):.2f}")
    print("longest chain, running:", " > ".join(longest_chain(graph("running"))))
