"""Every key and value of valid TOML is found where it stands; the oracle is the parser tomli."""

from collections.abc import Iterator
from itertools import count
from random import Random
from typing import Any

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.files import Locator
from prepadvisor.files.reading.locator import DEPTH_MAX

Path = tuple[str | int, ...]


def leaves(data: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Yield every value that is no table and no list, with its path."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from leaves(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            yield from leaves(value, (*path, number))
    else:
        yield path, data


def text_at(text: str, place: tuple[int, int]) -> str:
    """Return what stands at a line and column, to the end of the text."""
    line, column = place
    lines = text.split("\n")
    return "\n".join([lines[line - 1][column - 1 :], *lines[line:]])


# Valid documents by the rules of the TOML 1.0 and 1.1 specifications (toml.io), each value its own marker.
VALID: dict[str, str] = {
    "bare, quoted and literal keys": (
        'a = 101\n"b c" = 102\n\'d.e\' = 103\n"\\u0066\\n" = 104\n1234 = 105\n-_- = 106\n'
    ),
    "dotted keys, spaces round the dots": 'a.b = 101\na . "c" = 102\nx.y.z.w = 103\n[t]\n\tu . v=104',
    "a table over another": "[a.b]\nc = 101\n[a]\nd = 102\n[a.e]\nf = 103\n",
    "spaces in headers": '[ a . "b" ]\nc = 101\n[[ d ]]\ne = 102\n[[d]]\ne = 103\n',
    "arrays of tables in arrays of tables": (
        "[[p]]\n[[p.f]]\nx=101\n[[p.f]]\nx=102\n[p.f.g]\ny=103\n[[p]]\n[[p.f]]\nx=104\n"
    ),
    "comments with brackets and quotes": '# [a] = "\'\na = 101 # ]} """\n[t] # = 1\nb = 102#x\n',
    "strings that look like TOML": 'a = "# no = [1"\nb = \'C:\\x = "\'\nc = "\\"]"\nd = 104\n',
    "multi-line basic strings": ('a = """\n[x]\ny = 1\\"""\n""""\nb = 102\nc = """a\\\n   b"""\nd = 103\n'),
    "multi-line strings that end in quotes": (
        'a = """x"""""\nb = 102\nc = \'\'\'y\'\'\'\'\'\nd = 104\ne = """"""\nf = 106\n'
    ),
    "multi-line literal strings": "a = '''\n\\ [[b]]\n''x'\n'''\nc = 102\n",
    "lists over lines with comments": (
        "a = [ # one\n 101, # ]\n\n 102\n,\n]\nb = [[103, 104], [ ]]\nc = 105\n"
    ),
    "inline tables": 'a = { b = 101, c.d = 102, "e" = [103, { f = 104 }] }\ng = {}\nh = 105\n',
    "inline tables over lines": "a = {\n  b = 101, # one\n  c = 102,\n}\nd = 103\n",
    "dates and times": (
        "a = 1979-05-27 07:32:00Z\nb = 1979-05-27T00:32:00-07:00\nc = 1979-05-27\nd = 07:32:00\ne = 105\n"
    ),
    "numbers in all notations": (
        "a = +1_01\nb = 0xDEAD_BEEF\nc = 6.626e-34\nd = -inf\ne = nan\nf = 0b1101\ng = true\nh = 108\n"
    ),
    "other scripts": '"Größe" = 101\n"ключ" = "значение"\n"鍵" = 103\n"😀" = { "é" = 104 }\n',
    "tabs and blank lines": "\n\n\t a\t=\t101\t\n\n\t[ t ]\t\n\tb = 102\n",
    "no line end at the end": "a = 101",
    "nothing": "",
    "only a comment": "# nothing",
}


@pytest.mark.parametrize("text", VALID.values(), ids=VALID)
def test_every_value_stands_where_the_locator_says(text: str) -> None:
    """The text at a value's place parses to that value."""
    locator = Locator(text)
    for path, value in leaves(tomli.loads(text)):
        rest = text_at(text, locator.value(path))
        expected = pytest.approx(value, nan_ok=True) if isinstance(value, float) else value
        assert _first_value(rest) == expected, path


def _first_value(text: str) -> Any:
    """Return the value a text begins with: that of its longest beginning that parses."""
    for end in range(len(text), 0, -1):
        try:
            return tomli.loads("value = " + text[:end])["value"]
        except tomli.TOMLDecodeError:
            continue
    return None


@pytest.mark.parametrize("text", VALID.values(), ids=VALID)
def test_every_key_stands_where_the_locator_says(text: str) -> None:
    """The text at a key's place begins with that key, in one of its three spellings."""
    locator = Locator(text)
    for path, _ in leaves(tomli.loads(text)):
        if isinstance(path[-1], str):
            assert _first_key(text_at(text, locator.key(path))) == path[-1]


def _first_key(text: str) -> Any:
    """Return the key a text begins with: that of the longest beginning of its line that can take a value."""
    line = text.split("\n")[0]
    for end in range(len(line), 0, -1):
        try:
            return next(iter(tomli.loads(line[:end] + " = 1")))
        except tomli.TOMLDecodeError:
            continue
    return None


class _Writer:
    """Writes random data as TOML in random spellings; each leaf is a number that stands nowhere else."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.markers = count(10_000_001, 7)
        self.lines: list[str] = []

    def table(self, header: tuple[str, ...], depth: int) -> None:
        for name in self.names():
            shape = self.random.randrange(6 if depth < 3 else 3)
            if shape < 3:
                self.lines.append(f"{self.indent()}{self.key(name)} = {self.value(depth)}{self.comment()}")
        for name in self.names("t"):
            path = (*header, name)
            if depth >= 3:
                continue
            written = " . ".join(self.key(part) for part in path)
            if self.random.random() < 0.5:
                self.lines.append(f"[{written}]{self.comment()}")
                self.table(path, depth + 1)
            else:
                for _ in range(self.random.randint(1, 3)):
                    self.lines.append(f"{self.indent()}[[{written}]]{self.comment()}")
                    self.table(path, depth + 1)

    def names(self, mark: str = "k") -> list[str]:
        return [
            f"{mark}{number}{self.random.choice(['', ' x', '.', 'ü'])}"
            for number in range(self.random.randint(0, 3))
        ]

    def key(self, name: str) -> str:
        bare = name.isascii() and name.isalnum()
        return self.random.choice([f'"{name}"', f"'{name}'", *([name] if bare else [])])

    def value(self, depth: int) -> str:
        shape = self.random.randrange(8)
        gap = self.random.choice(["", " ", "\n  ", " # [ ]\n"])
        if shape == 0 and depth < 4:
            entries = [self.value(depth + 1) for _ in range(self.random.randint(0, 3))]
            return f"[{gap}{f',{gap}'.join(entries)}{gap}]"
        if shape == 1 and depth < 4:
            pairs = [f"{self.key(name)} = {self.value(depth + 4)}" for name in self.names()]
            return "{ " + ", ".join(pairs) + " }"
        marker = next(self.markers)
        return [str(marker), f'"{marker}"', f"'{marker}'", f'"""{marker}\n[x]\n"""', f"'''{marker}'''"][
            shape % 5
        ]

    def comment(self) -> str:
        return self.random.choice(["", " # no = [1]", "\t"])

    def indent(self) -> str:
        return self.random.choice(["", "  ", "\t", "\n"])


@settings(max_examples=80)
@given(st.randoms(use_true_random=False))
def test_random_documents_are_located(random: Random) -> None:
    """In any document each number stands at its own place and its key on the way to it."""
    writer = _Writer(random)
    writer.table((), 0)
    text = "\n".join(writer.lines)
    locator = Locator(text)
    for path, value in leaves(tomli.loads(text)):
        marker = str(value)[:8]
        assert text_at(text, locator.value(path)).lstrip("\"'").startswith(marker), (path, text)
        assert locator.holds(path)


def test_a_missing_key_has_the_place_of_its_table() -> None:
    """What is missing is shown at the header of the table it is missing from."""
    locator = Locator("[job]\nnumber = 1\n\n  [[panel]]\nid = 2\n")
    assert locator.value(("panel", 0, "height_mm")) == (4, 3)
    assert locator.value(("colour",)) == (1, 1)
    assert not locator.holds(("panel", 0, "height_mm"))


def test_the_first_of_a_list_of_tables_stands_for_the_list() -> None:
    """The list's own place is its first header; each entry has the place of its own."""
    locator = Locator("[[p]]\n[[p]]\n[[p]]\n")
    assert [locator.value(("p",)), locator.value(("p", 2))] == [(1, 1), (3, 1)]


def test_deep_and_long_documents_stay_bounded() -> None:
    """Deep nesting and a key of a thousand parts get an ancestor's place; a long list is scanned quickly."""
    deep = "a = " + "[" * 300 + "1" + "]" * 300 + "\nb = 2\n"
    assert Locator(deep).value(("b",)) == (2, 5)
    dotted = ".".join("k" * 900) + " = 1\nb = 2\n"
    assert Locator(dotted).value(("b",)) == (2, 5)
    assert len(max(Locator(dotted)._values, key=len)) == DEPTH_MAX


@pytest.mark.parametrize("text", ["a = ", "[a", "[[a]", "a = [1, {", 'a = "x', "= 1", "a.b", "]", 'a = """x'])
def test_text_that_is_no_toml_is_scanned_as_far_as_it_goes(text: str) -> None:
    """The locator never raises: it is used to report faults."""
    assert Locator(text).value(("a",))[0] == 1
