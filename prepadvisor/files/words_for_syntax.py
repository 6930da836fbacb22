"""What a line that is no TOML does wrong, in a shop's words."""

import re
from typing import Final

_WORDS: Final[tuple[tuple[str, str, str], ...]] = (
    ("Expected '='", "a key and its value need a = between them", 'write it like reach = "hand"'),
    ("Invalid statement", "this is neither a [table] nor a key = value line", 'start a remark with "#"'),
    ("Expected newline", "something stands behind the value", "put each key = value on its own line; \
start a remark with \"#\""),
    ("twice", "this table is there twice", "keep one of them, or use [[two brackets]] for a list of them"),
    ("Cannot overwrite", "this key already has a value above", "keep one of the two"),
    ("Duplicate inline", "this key is there twice in one { }", "keep one of the two"),
    ("Cannot mutate", "this adds to something that is already complete", "write it in one place"),
    ("Cannot redefine", "this adds to something that is already complete", "write it in one place"),
    ("Expected ']' at", "the closing bracket of a [table] is missing", "close it with ]"),
    ("Expected ']]'", "the closing brackets of a [[table]] are missing", "close it with ]]"),
    ("Invalid initial character for a key", "a key is missing or begins with a sign it may not have",
     "use letters, digits, - and _"),
    ("Unclosed array", "a list is not closed", "put a comma between its values and ] at its end"),
    ("Unclosed inline table", "a { } is not closed", "put a comma between its entries and } at its end"),
    ("Unterminated string", "the closing quote is missing", 'end the text with "'),
    ("Illegal character", "the closing quote is missing, or the text holds a sign it may not hold",
     'end the text with " on the same line'),
    ("Unescaped", r"a backslash in quotes starts a special sign", r"write \\ for one backslash, or use /"),
    ("Invalid hex", "a special sign after a backslash is not complete", r"write \\ for one backslash"),
    ("Escaped character", "a special sign after a backslash does not exist", r"write \\ for one backslash"),
    ("Invalid date", "there is no such day or time", "write a day as 2026-03-02"),
    ("Expected", "the closing quote is missing", "end the text with the quote it began with"),
    ("Found invalid character", "a sign stands here that may not", "remove it"),
)  # fmt: skip


def syntax_words(message: str, line: str) -> tuple[str, str]:
    """Return what is wrong and how to mend it.

    Args:
        message: the parser's own message, without its position.
        line: the line it points to.
    """
    if message.startswith("Invalid value"):
        return _value_words(line)
    if message.startswith(("Expected '='", "Invalid statement")) and not line.partition("=")[0].isascii():
        return "a key may only have the letters a to z, digits, - and _", "compare the key with a demo job"
    if message.startswith("Expected newline") and (words := _number_words(line.partition("=")[2].strip())):
        return words
    for begins, says, mend in _WORDS:
        if begins in message:
            return says, mend
    return "this line cannot be read", "compare it with a demo job"


def _value_words(line: str) -> tuple[str, str]:
    value = line.partition("=")[2].partition("#")[0].strip()
    if not value:
        return "the value is missing", 'write one, or put "#" before the line'
    if value.lower() in {"true", "false", "yes", "no"}:
        meant = "true" if value.lower() in {"true", "yes"} else "false"
        return f"{value} is not a value", f"write {meant}, in small letters and without quotes"
    if value[0].isalpha():
        return "text needs quotes", f'write "{value[:60]}"'
    return _number_words(value) or ("this value cannot be read", "put text in quotes; write numbers plain")


def _number_words(value: str) -> tuple[str, str] | None:
    """Return what is wrong with a number, None where the value does not begin like one."""
    if re.match(r"[\d.]+,\d", value):
        return "a number has no comma", "write 1050 for a thousand and fifty, 0.5 for a half"
    if re.match(r"[\d.]+\s*[^\W\d_]", value):
        return "a number has no unit or letters behind it", "leave them off; the key says the unit"
    return None
