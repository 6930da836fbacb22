"""No code reads a sentence: what is decided travels as kinds, and words are made where they are shown."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from typing import Final

import pytest

from tests.source import trees

SENTENCE: Final = re.compile(r"(?:why|mend|says|told|sentence|title|banner|headline)$|_(?:says|words|why)$")
"""How what is a sentence, or makes one, is called."""

CUTS: Final = frozenset({
    "replace", "removeprefix", "removesuffix", "translate", "split", "rsplit", "partition", "rpartition",
    "splitlines", "startswith", "endswith", "find", "rfind", "index", "count",
})  # fmt: skip
JOINTS: Final = re.compile(r"^[ :;,>]+$|^\. $|[a-z]{3,} [a-z]|^[A-Z]{3,}(?: [A-Z]+)*$")
"""What sentences are joined with, and what only a sentence has."""

NOT_SENTENCES: Final = {
    "_led": "a row of boxes, led by dots",
    "thousands": "a number, its thousands parted by blanks",
    "_coarsest_safe": "blanks that do not break",
    "_text _told": "the indent of a printed line",
    "folded on_mount _folded _together _lay": "lines in a pane: too long, or laid out by blanks",
    "_entries _loaded _photo syntax_words": "the text of a file, and what its reader says of it",
    "number_in number _typed action_take read typed_answer _with_fact": "a number as it was typed",
    "grade near_words readings done_of changed with_answer _log_other _put": "what a person typed or chose",
    "_output_of action_ask action_drop _picked _found _asked answer_of": "the id of a row",
    "_clashes": "names of keys",
    "_shows": "the comment on top of a demo job",
    "parts_of": "a hash and its name",
    "tightened": "grades in a lead's own sentence, for a rule made of it",
    "__init_subclass__": "a class's own table of keys",
    "writes_blocks": "the terminal's language",
}
"""Text that is compared or cut and is no sentence of this program: by function, with what it is."""

LET: Final = frozenset(name for names in NOT_SENTENCES for name in names.split())


@cache
def kinds() -> frozenset[str]:
    """Return every word that a type names: what is in a `Literal` is a kind, however it looks."""
    return frozenset(
        word.value
        for tree in trees().values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and node.value.id == "Literal"
        for word in ast.walk(node.slice)
        if isinstance(word, ast.Constant) and isinstance(word.value, str)
    )


def called(node: ast.AST) -> str:
    """Return the last name of what a value comes from: `sheet.clear` and `clear(x)` are both "clear"."""
    match node:
        case ast.Call(func=func):
            return called(func)
        case ast.Attribute(attr=name) | ast.Name(id=name):
            return name
        case ast.Subscript(value=value):
            return called(value)
    return ""


def words(node: ast.AST) -> list[str]:
    """Return the texts that stand in a value as they are."""
    parts = node.elts if isinstance(node, ast.Tuple | ast.Set | ast.List) else [node]
    return [part.value for part in parts if isinstance(part, ast.Constant) and isinstance(part.value, str)]


def read_in(node: ast.AST) -> bool:
    """Say whether a node compares, searches or cuts a sentence."""
    match node:
        case ast.Compare(left=left, ops=ops, comparators=others):
            texts = [word for side in (left, *others) for word in words(side)]
            if any(JOINTS.search(word) and word not in kinds() for word in texts):
                return True
            if any(isinstance(op, ast.Eq | ast.NotEq) for op in ops):
                return any(SENTENCE.search(called(side)) for side in (left, *others)) and bool(
                    [word for word in texts if word and word not in kinds()]
                )
            searched = [
                other for op, other in zip(ops, others, strict=True) if isinstance(op, ast.In | ast.NotIn)
            ]
            return bool(words(left)) and any(SENTENCE.search(called(other)) for other in searched)
        case ast.Call(func=ast.Attribute(value=owner, attr=name), args=[first, *_]) if name in CUTS:
            if SENTENCE.search(called(owner)):
                return True
            return any(JOINTS.search(word) and word not in kinds() for word in words(first))
        case ast.Call(func=ast.Attribute(value=ast.Name(id="re")), args=args):
            return any(SENTENCE.search(called(each)) for each in args)
    return False


def read(tree: ast.Module) -> Iterator[tuple[str, ast.AST]]:
    """Yield each reading of a sentence with the function it stands in."""

    def below(node: ast.AST, inside: str) -> Iterator[tuple[str, ast.AST]]:
        for child in ast.iter_child_nodes(node):
            own = (
                child.name
                if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef) and inside == "*"
                else inside
            )
            if read_in(child):
                yield own, child
            yield from below(child, own)

    return below(tree, "*")


def test_no_sentence_is_read() -> None:
    """A changed word once made a safety instruction vanish, and lately a page's headings."""
    found = [
        f"{module}:{node.lineno} in {function}: {ast.unparse(node)[:90]}"  # type: ignore[attr-defined]
        for module, tree in trees().items()
        for function, node in read(tree)
        if function not in LET
    ]
    assert found == []


@pytest.mark.parametrize(
    "code",
    [
        'why.replace(": re-cut with ", "")',
        'says.split(";")',
        'hold.why == "no grade"',
        '"PRIMER" in sheet.clear',
        'name.partition(" ")',
        'where == "FAULTY FILE"',
        '"is missing" in fault.says',
        're.sub("a", "b", says)',
        'hold_why(fact, words).startswith("line")',
        'ladder.steps.replace(" > ", ">")',
    ],
)
def test_each_way_that_was_used_is_found(code: str) -> None:
    """The ways sentences were read, each mended since."""
    assert list(read(ast.parse(code)))
