"""No code reads a sentence: what is decided travels as kinds, and words are made where they are shown."""

import re
from pathlib import Path
from typing import Final

import pytest

PACKAGE: Final = Path(__file__).parents[2] / "prepadvisor"

SENTENCE: Final = r"(?:\bwhy\b|\bmend\b|\bsays\b|\.told\b|\bsentence\b)"
WAYS: Final = {
    "replaced": re.compile(SENTENCE + r"\.(?:replace|removeprefix|removesuffix|translate)\("),
    "split": re.compile(SENTENCE + r"\.(?:split|rsplit|partition|rpartition|splitlines)\("),
    "compared": re.compile(r"\.(?:why|mend)\s*(?:==|!=)|(?:==|!=)\s*[\w.]+\.(?:why|mend)\b"),
    "searched": re.compile(
        r"[\"'] (?:not )?in [\w.]*" + SENTENCE + r"|" + SENTENCE + r"\.(?:startswith|endswith|find)\("
    ),
    "matched": re.compile(r"re\.\w+\([^)]*" + SENTENCE),
}
"""How sentences used to be read, by what was done to them."""


@pytest.mark.parametrize("way", WAYS)
def test_no_sentence_is_read(way: str) -> None:
    """Each of these ways was used once; a changed word then made a safety instruction vanish."""
    found = [
        f"{path.relative_to(PACKAGE).as_posix()}: {line.strip()}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if WAYS[way].search(line)
    ]
    assert found == []
