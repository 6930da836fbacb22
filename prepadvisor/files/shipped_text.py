"""Reads the rules and numbers that ship, the program's own files, without what only a stranger's need.

They are within all bounds and in the program's own words, which tests hold them to, so neither is looked for.
Worked examples, near half of their text, are left out until somebody asks: no card does.
"""

import hashlib
import re
from typing import Final

import tomli

from prepadvisor.files.reading import TomlText, parse

_EXAMPLE: Final = re.compile(r"^\[\[example\]\]\n(?:(?!\[).*\n)*+(?:(?!\[).+)?", re.MULTILINE)
"""An example to the next header, or to the end; none of ours holds a line that opens with a bracket."""


def read_shipped(raw: bytes, name: str) -> TomlText:
    """Return a shipped file without its examples; lines keep their numbers.

    Raises:
        BadInputError: somebody has changed it so that it is no TOML.
    """
    try:
        text = raw.decode("utf-8").replace("\r\n", "\n")
        data = tomli.loads(_EXAMPLE.sub(lambda found: "\n" * found[0].count("\n"), text))
    except ValueError:  # then with all that is said to people
        return parse(raw, name)
    return TomlText(name, text, data, hashlib.sha256(raw).hexdigest())


def whole(text: TomlText) -> TomlText:
    """Return a shipped file with its examples."""
    return parse(text.text.encode(), text.name)
