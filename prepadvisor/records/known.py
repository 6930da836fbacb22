"""How a number is known: the one text that says what each word of a passport means.

Words are judged by their lowest ground: a value read in one place but used for another purpose is no longer
published. A test holds the table in rules/README.md to this one.
"""

from typing import Final

from prepadvisor.records.words import Known

MEANS: Final[dict[Known, str]] = {
    "published": "stands in a source whose passage was read, and is used for what the source says it of",
    "derived": "arithmetic on published values alone; the note says which",
    "measured": "from this shop's own test panels or gauge",
    "practice": "how the trade works, which any experienced painter could be asked; no source",
    "memory": "stands in a publication, but was not read again",
    "assumption": "a guess at something that could be measured; nobody here has",
    "chosen": "a setting of this program that no measurement could refute; its note says what others change",
}
"""Each word with its meaning, from the firmest ground down, settings last."""

UNPUBLISHED: Final = frozenset({"practice", "memory", "assumption", "measured", "chosen"})
"""Words that no publication stands behind."""
