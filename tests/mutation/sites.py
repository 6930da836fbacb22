"""Where code and data can be changed a little, and how: one small fault at a time."""

import ast
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final, NamedTuple

COMPARISONS: Final = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==", ast.In: "not in",
    ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
SUMS: Final = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*", ast.Pow: "*"}
CALLS: Final = {
    "min": "max",
    "max": "min",
    "any": "all",
    "all": "any",
    "finest": "coarsest",
    "coarsest": "finest",
}
SYMBOL: Final = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
SILENT: Final = re.compile(r"_REMEMBERED|_KEPT|_SMALL\b|maxsize|_WORLD|^ *if TYPE_CHECKING:")
"""Lines about how much is remembered, and what only a type checker runs: they change no answer."""
ROUNDING: Final = 1e-6
"""Numbers below it keep rounding out of a comparison: a tenth more of it changes no answer."""
UNASKED: Final = frozenset({"strict"})
"""Arguments that only raise where lengths that always agree would not: they change no answer."""


class Fault(NamedTuple):
    """One small change of a file: where, and what becomes of the text there."""

    path: str
    line: int
    start: int
    end: int
    before: str
    after: str
    scope: str = ""
    written: str = ""
    nth: int = 1

    @property
    def key(self) -> str:
        """A name that survives moved lines and files: the function, the line as written, the change."""
        more = f" (#{self.nth})" if self.nth > 1 else ""
        change = f"{' '.join(self.before.split())} -> {' '.join(self.after.split())}"
        return f"{self.scope} | {self.written} | {change}{more}"

    def made(self, text: str) -> str:
        """Return the text of the file with the fault in it."""
        return text[: self.start] + self.after + text[self.end :]


def code_faults(path: Path, name: str) -> list[Fault]:
    """Return every small fault that can be put into a Python file."""
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    starts = _line_starts(text)
    lines = text.splitlines()
    found = []
    for node, scope in _live(tree, ""):
        for begin, end, after in _changes(node, text, starts):
            line = text.count("\n", 0, begin)
            if not SILENT.search(lines[line]):
                written = lines[line].strip()
                found.append(Fault(name, line + 1, begin, end, text[begin:end], after, scope, written))
    return numbered(found)


def numbered(faults: Iterable[Fault]) -> list[Fault]:
    """Give faults that would have one name their number."""
    seen: Counter[str] = Counter()
    found = []
    for fault in sorted(faults, key=lambda each: (each.start, each.end)):
        seen[fault.key] += 1
        found.append(fault._replace(nth=seen[fault.key]))
    return found


def _line_starts(text: str) -> list[int]:
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    return starts


def _live(node: ast.AST, scope: str) -> Iterator[tuple[ast.AST, str]]:
    """Yield the nodes that run: no annotations, no texts, no imports, nothing that raises or is raised."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Raise | ast.Import | ast.ImportFrom | ast.Assert):
            continue
        if isinstance(child, ast.keyword) and child.arg in UNASKED:
            continue
        own = scope
        if isinstance(child, ast.FunctionDef | ast.ClassDef):
            own = f"{scope}.{child.name}".lstrip(".")
        elif not scope and isinstance(child, ast.Assign | ast.AnnAssign):
            target = child.targets[0] if isinstance(child, ast.Assign) else child.target
            own = target.id if isinstance(target, ast.Name) else ""
        yield child, own
        if isinstance(child, ast.FunctionDef):
            for each in child.body:
                yield each, own
                yield from _live(each, own)
        elif isinstance(child, ast.AnnAssign):
            if child.value is not None:
                yield child.value, own
                yield from _live(child.value, own)
        else:
            yield from _live(child, own)


def _changes(node: ast.AST, text: str, starts: list[int]) -> Iterator[tuple[int, int, str]]:
    def at(part: ast.expr | ast.stmt, *, end: bool = False) -> int:
        line, column = (part.end_lineno, part.end_col_offset) if end else (part.lineno, part.col_offset)
        assert line is not None
        assert column is not None
        whole = text[starts[line - 1] : starts[line]].encode()
        return starts[line - 1] + len(whole[:column].decode())

    def between(left: ast.expr, right: ast.expr, sign: str, after: str) -> Iterator[tuple[int, int, str]]:
        begin, stop = at(left, end=True), at(right)
        place = text.find(sign, begin, stop)
        if place >= 0:
            yield place, place + len(sign), after

    match node:
        case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in COMPARISONS:
            begin, stop = at(left, end=True), at(right)
            written = text[begin:stop]
            sign = written.strip(" ()\n\t")
            if sign:
                place = begin + written.index(sign)
                yield place, place + len(sign), COMPARISONS[type(op)]
        case ast.BinOp(left=left, op=op, right=right) if type(op) in SUMS:
            yield from between(left, right, SYMBOL[type(op)], SUMS[type(op)])
        case ast.BoolOp(op=op, values=[first, second, *_]):
            sign, after = ("and", "or") if isinstance(op, ast.And) else ("or", "and")
            yield from between(first, second, sign, after)
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            yield at(node), at(operand), ""
        case ast.IfExp(test=test):
            yield at(test), at(test, end=True), f"not ({text[at(test) : at(test, end=True)]})"
        case ast.If(test=test) if not isinstance(test, ast.Compare | ast.BoolOp | ast.UnaryOp):
            yield at(test), at(test, end=True), f"not ({text[at(test) : at(test, end=True)]})"
        case ast.Constant(value=value) if isinstance(value, bool):
            yield at(node), at(node, end=True), str(not value)
        case ast.Constant(value=value) if isinstance(value, int | float) and not 0 < value < ROUNDING:
            yield (
                at(node),
                at(node, end=True),
                str(value + 1) if isinstance(value, int) else repr(value * 1.1 or 0.1),
            )
        case ast.Call(func=ast.Name(id=name)) if name in CALLS:
            yield at(node.func), at(node.func, end=True), CALLS[name]
        case ast.AugAssign() | ast.Expr(value=ast.Call()):
            yield at(node), at(node, end=True), "pass"
        case ast.Continue():
            yield at(node), at(node, end=True), "break"


NUMBER: Final = re.compile(r"(?<![\w.\"#-])-?\d+(?:\.\d+)?(?![\w.\"-])")
GRADE: Final = re.compile(r'"(P\d+)"')
SHELF: Final = [
    "P80",
    "P120",
    "P180",
    "P240",
    "P320",
    "P400",
    "P500",
    "P600",
    "P800",
    "P1000",
    "P1200",
    "P1500",
    "P2000",
]


def data_faults(path: Path, name: str) -> list[Fault]:
    """Return every number moved by about a tenth, and every grade in a rule moved by one."""
    text = path.read_text(encoding="utf-8")
    found, position, table, rule = [], 0, "", ""
    for number, line in enumerate(text.splitlines(keepends=True), 1):
        code = line.split(" #")[0]
        if code.startswith("["):
            table, rule = code.strip(), ""
        if code.startswith(("id = ", "kind = ")):
            rule = code.split('"')[1]
        live = not code.startswith("#") and "example" not in table and "passport" not in table
        if live and "promise" not in table and "source" not in table:
            for begin, end, after in _moved(name, code):
                where = position + begin, position + end
                found.append(Fault(name, number, *where, line[begin:end], after, rule or table, code.strip()))
        position += len(line)
    return numbered(found)


def _moved(name: str, code: str) -> Iterator[tuple[int, int, str]]:
    value = re.search(r"\bvalue = (-?\d+(?:\.\d+)?)", code)
    if name.endswith("constants.toml"):
        if value:
            yield value.start(1), value.end(1), _tenth(value[1])
        return
    if name.endswith("shop.toml"):
        for match in NUMBER.finditer(code):
            if code.split("=")[0].strip() != "shelf":
                yield match.start(), match.end(), _tenth(match[0])
        for match in GRADE.finditer(code if not code.startswith("shelf") else ""):
            yield match.start(1), match.end(1), _next_grade(match[1])
        return
    if not re.match(r"(set|when) = ", code):
        return
    plain = re.sub(r'(says|notes|cautions|holds) = "[^"]*"', lambda text: " " * len(text[0]), code)
    for match in GRADE.finditer(plain):
        yield match.start(1), match.end(1), _next_grade(match[1])
    for match in re.finditer(r"(?<=[= <>\"])(\d+(?:\.\d+)?)(?=[ ,}\"])", plain):
        yield match.start(1), match.end(1), _tenth(match[1])


def _tenth(written: str) -> str:
    value = float(written)
    moved = value * 1.1 if value else 1.0
    return f"{moved:.6g}" if "." in written else str(max(round(moved), int(value) + 1))


def _next_grade(grade: str) -> str:
    place = SHELF.index(grade) if grade in SHELF else 0
    return SHELF[place + 1 if place + 1 < len(SHELF) else place - 1]
