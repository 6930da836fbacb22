"""Suggests the word that was meant: a near spelling, or the program's word for another country's."""

from collections.abc import Iterable
from typing import Final

from prepadvisor.records.trade_words import ANY_WORDS

_SHOWN_MAX: Final = 16

SAME_THING: Final[dict[str, str]] = {
    "wing": "front-wing",
    "quarter": "rear-quarter",
    "hatch": "tailgate",
    "door": "front-door",
    "bumper": "front-bumper",
    "mirror": "mirror-cap",
    "primer": "primer-surfacer",
    "surfacer": "primer-surfacer",
    "old-clear": "aged-clear",
    "clear": "aged-clear",
    "plastic": "primed-plastic",
    "orbital": "da",
    "pad": "hand-pad",
    "paper": "hand-paper",
    "foam": "hand-foam",
    "blend_mm": "fade_mm",
    "width_mm": "height_mm",
    "type": "kind",
    "line": "feature",
    "pearl": "medium",
    "metallic": "medium",
}
"""Words that may mean a word of the files, or another: worth asking back, not worth taking."""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return `did you mean "x"?` where one known word is near, else the list of known words."""
    words = list(dict.fromkeys(known))
    near = nearest(word, words)
    return f'did you mean "{near}"?' if near else f"known: {known_words(words)}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that was probably meant, or None."""
    return next(iter(near_words(word, known, 1)), None)


def near_words(word: str, known: Iterable[str], most: int) -> list[str]:
    """Return the known words that may have been meant, the likeliest first, `most` at most."""
    from difflib import get_close_matches  # only where something is amiss

    words = list(known)
    plain = word.strip().lower().replace("_", "-").replace(" ", "-")[:100]
    by_plain = {each.lower().replace("_", "-"): each for each in words}
    if plain in by_plain:
        return [by_plain[plain]]
    for same in (SAME_THING.get(plain), SAME_THING.get(plain.replace("-", "_")), ANY_WORDS.get(plain)):
        if same in words:
            return [same]
    return [by_plain[close] for close in get_close_matches(plain, by_plain, most, cutoff=0.6)]


def known_words(words: Iterable[str]) -> str:
    """Return the words as a readable list; a long list is cut."""
    listed = list(dict.fromkeys(words))
    shown = ", ".join(listed[:_SHOWN_MAX])
    return f"{shown} and {len(listed) - _SHOWN_MAX} more" if len(listed) > _SHOWN_MAX else shown or "none"
