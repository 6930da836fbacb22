"""Bad job files in classes: each makes one from a chance, and none of them may be taken for a job."""

import random
from collections.abc import Callable
from typing import Final

from prepadvisor.files import demo_jobs_dir

GOOD: Final = (demo_jobs_dir() / "solid.toml").read_text(encoding="utf-8")
PANEL: Final = "left-rear-door"
ENTRY: Final = f"""
[[check]]
at = 2026-03-02T09:40:00Z
by = "KM"
panel = "{PANEL}"
feature = "E1"
step = "scuffed"
"""
Make = Callable[[random.Random], "str | bytes"]


def _with(old: str, new: str) -> str:
    assert old in GOOD, old
    return GOOD.replace(old, new, 1)


def _line(chance: random.Random, new: str) -> str:
    """Put a line somewhere into the file."""
    lines = GOOD.split("\n")
    lines.insert(chance.randrange(1, len(lines)), new)
    return "\n".join(lines)


def _word(chance: random.Random, least: int = 1, most: int = 12) -> str:
    return "".join(chance.choices("abcdefghijklmnopqrstuvwxyz", k=chance.randint(least, most)))


CLASSES: Final[dict[str, Make]] = {
    "empty": lambda c: " \n\t" * c.randint(0, 50),
    "zeros": lambda c: b"\0" * c.randint(1, 9000),
    "random bytes": lambda c: b"\xff" + c.randbytes(c.randint(1, 9000)),
    "random letters": lambda c: _word(c, 10, 3000),
    "UTF-16": lambda _c: GOOD.encode("utf-16"),
    "Latin-1": lambda c: _with("[job]", f"[job]\n# {_word(c)}").replace(_SLATE, "Gr\xfcn").encode("latin-1"),
    "cut short": lambda c: GOOD[: c.randint(60, len(GOOD) // 2)] + "\n[",
    "no equals sign": lambda c: _line(c, _word(c)),
    "blanks without end": lambda c: _line(c, "x" + " " * c.randint(20_000, 60_000)),
    "tabs without end": lambda c: _line(c, "\t" * c.randint(20_000, 60_000) + "x"),
    "an open quote": lambda c: _line(c, f'note = "{_word(c)}'),
    "an open text of many lines": lambda c: GOOD + f'x = """{_word(c)}\n' * 1 + "a\n" * c.randint(1, 9000),
    "an open bracket": lambda c: GOOD + "x = [" + "1," * c.randint(1, 9000),
    "brackets in brackets": lambda c: "a = " + "[" * c.randint(200, 90_000),
    "tables in tables": lambda c: GOOD + "x = " + "{a = " * c.randint(20, 300) + "1" + "}" * 20,
    "dotted keys": lambda c: GOOD + ".".join("a" * c.randint(17, 900)) + " = 1\n",
    "a dotted table": lambda c: GOOD + "[" + ".".join("a" * c.randint(17, 900)) + "]\n",
    "a key of thousands of letters": lambda c: GOOD + "k" * c.randint(300, 90_000) + " = 1\n",
    "an unknown key": lambda c: _with("flake", f"z{_word(c)} = 1\nflake"),
    "thousands of unknown keys": lambda c: (
        GOOD + "".join(f"k{n} = 1\n" for n in range(c.randint(2001, 20_000)))
    ),
    "hundreds of thousands of keys": lambda c: (
        GOOD + "".join(f"k{n} = 1\n" for n in range(c.randint(200_000, 349_000)))
    ),
    "lines beyond number": lambda c: GOOD + "#\n" * c.randint(351_000, 900_000),
    "values beyond number": lambda c: GOOD + "x = [" + "1," * c.randint(510_000, 900_000) + "]\n",
    "too large": lambda c: GOOD + "# " + "x" * c.randint(5_000_000, 6_000_000),
    "a key twice": lambda _c: _with("flake", 'flake = "solid"\nflake'),
    "a table twice": lambda _c: GOOD + '\n[job]\nnumber = "2"\n',
    "a number of thousands of digits": lambda c: _with("950", "9" * c.randint(4_301, 9_000)),
    "a number beyond all size": lambda c: _with("950", "9" * c.randint(20, 4_000)),
    "a hexadecimal number beyond all size": lambda c: _with("950", "0x" + "f" * c.randint(17, 9_000)),
    "nan": lambda c: _with("950", c.choice(("nan", "inf", "-inf", "+nan"))),
    "a negative size": lambda c: _with("950", f"-{c.randint(1, 9999)}"),
    "an impossible size": lambda c: _with("950", f"{c.randint(6001, 10**9)}"),
    "a size in quotes": lambda c: _with("950", f'"{c.randint(1, 999)}"'),
    "a bare grade": lambda c: _with(
        "[[panel]]", "[[panel]]\n" + f'now = {{ tool = "da", grade = "{c.randint(1, 9)}00" }}'
    ),
    "an unknown word": lambda c: _with('"solid"', f'"{_word(c)}x"'),
    "a word of thousands of letters": lambda c: _with('"solid"', f'"{"s" * c.randint(5_000, 90_000)}"'),
    "an id of thousands of letters": lambda c: _with(PANEL, "n" * c.randint(61, 9_000)),
    "an id with a path": lambda c: _with(PANEL, c.choice(("../../x", "a/b", "c\\\\d", ".."))),
    "a blank id": lambda c: _with(PANEL, " " * c.randint(0, 50)),
    "an invisible id": lambda c: _with(
        PANEL, c.choice(("\u200b", "\u3164", "a\u200db", "\u00ad", "\ufe0fx"))
    ),
    "an id with a control sign": lambda c: _with(PANEL, c.choice(("a\\u001b[2J", "a\\u202e", "a\\u0000"))),
    "an id twice": lambda _c: GOOD + GOOD[GOOD.index("[[panel]]") :],
    "no panel": lambda _c: GOOD[: GOOD.index("[[panel]]")],
    "no number": lambda _c: GOOD.replace("number", "nummer", 1),
    "no room": lambda c: _with("fade_mm = 350", f"fade_mm = {c.randint(3000, 6000)}"),
    "panels beyond number": lambda c: GOOD + "[[panel]]\n" * c.randint(201, 90_000),
    "lines of a panel beyond number": lambda c: (
        GOOD + "".join(f"[[panel.feature]]\nid = 'p{n}'\n" for n in range(c.randint(501, 20_000)))
    ),
    "entries beyond number": lambda c: GOOD + ENTRY * c.randint(20_001, 24_000),
    "bad entries": lambda c: GOOD + ENTRY.replace('"scuffed"', f'"{_word(c)}q"') * c.randint(1, 9_000),
    "an entry without its time zone": lambda c: GOOD + ENTRY.replace("Z", "") * c.randint(1, 300),
    "an entry without its signs": lambda c: (
        GOOD + ENTRY.replace(c.choice(("by =", "step =", "at =")), "x =", 1)
    ),
    "an unknown key of an entry": lambda c: GOOD + ENTRY + f"z{_word(c)} = 1\n",
    "a list where a table belongs": lambda _c: GOOD.replace("[job]", "job = []\n[jobs]", 1),
    "a table where a list belongs": lambda _c: GOOD + "\n[check]\nstep = 1\n",
    "half a letter": lambda c: _with(PANEL, c.choice(("\\ud800", "\\udfff"))),
    "a rule file": lambda _c: '[standards]\nname = "x"\nversion = "1"\n',
    "a year that is none": lambda c: _with("[job]", f"[job]\ndate = 2026-{c.randint(13, 99)}-02"),
}
_SLATE: Final = "Slate"


def bad_file(name: str, chance: random.Random) -> bytes:
    """Return a bad file of a class."""
    made = CLASSES[name](chance)
    return made if isinstance(made, bytes) else made.encode(errors="surrogatepass")
