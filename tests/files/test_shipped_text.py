"""Shipped files are read by a shorter way; what it leaves out is held here against the long one."""

import pytest
import tomli

from prepadvisor.files import in_first_words, load_house, read_shipped, whole
from prepadvisor.files.house_files import _shipped_files
from prepadvisor.records import BadInputError


def test_the_short_way_gives_all_but_the_examples_on_the_same_lines() -> None:
    """The reference is the parser on the whole text; examples are read in full when they are asked for."""
    examples = 0
    for path in _shipped_files():
        raw = path.read_bytes()
        every = tomli.loads(raw.decode())
        text = read_shipped(raw, f"rules/{path.name}")
        said = every.pop("example", [])
        assert text.data == every, path.name
        assert whole(text).data.get("example", []) == said
        assert whole(text).sha256 == text.sha256
        examples += len(said)
    assert examples == len(load_house().engine.examples) > 200


def test_shipped_files_are_in_the_words_of_the_program() -> None:
    """They are not brought to them, as other files are."""
    for path in _shipped_files():
        data = tomli.loads(path.read_text("utf-8"))
        found = in_first_words(data, path.read_text("utf-8"))
        assert (found.data, found.written, found.twice) == (data, {}, ()), path.name


def test_a_shipped_file_that_somebody_broke_is_told_like_any_other() -> None:
    """By line, with what to do."""
    with pytest.raises(BadInputError, match=r"rules/base/x\.toml"):
        read_shipped(b"[[rule]]\nid = \n[[]]\n", "rules/base/x.toml")
