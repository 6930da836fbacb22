"""Words of the trade's other half, spellings that mean one thing only, and the near word that was meant.

Files and options take them as they take the first word; inside the program everything goes by the first.
A word that could mean two things, such as "clear" for a surface, is not here: guessing is worse than asking.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

_OUTLINES: Final = {
    "hood": "bonnet",
    "trunk": "boot-lid",
    "trunk-lid": "boot-lid",
    "deck-lid": "boot-lid",
    "decklid": "boot-lid",
    "lift-gate": "tailgate",
    "liftgate": "tailgate",
    "fender": "front-wing",
    "front-fender": "front-wing",
    "quarter-panel": "rear-quarter",
    "rear-quarter-panel": "rear-quarter",
    "rocker": "sill",
    "rocker-panel": "sill",
    "front-bumper-cover": "front-bumper",
    "rear-bumper-cover": "rear-bumper",
    "mirror-cover": "mirror-cap",
    "fuel-door": "fuel-flap",
    "gas-door": "fuel-flap",
}
_LINES: Final = {
    "swage": "body-line",
    "swage-line": "body-line",
    "character-line": "body-line",
    "return": "flange",
    "aperture": "cut-out",
    "cutout": "cut-out",
    "arch": "wheel-arch",
    "wheel-opening": "wheel-arch",
}
_SURFACES: Final = {
    "aged-clear-coat": "aged-clear",
    "aged-clearcoat": "aged-clear",
    "cured-clear-coat": "cured-clear",
    "cured-clearcoat": "cured-clear",
    "e-coat": "electrocoat",
    "ecoat": "electrocoat",
    "featheredge": "feather-edge",
    "body-filler": "filler",
    "putty": "filler",
    "bare-metal": "bare",
}
_CLEAR: Final = {"clear-coat": "clear", "clearcoat": "clear"}
_COLOUR: Final = {"color": "colour"}
_ROLES: Final = {"clear-coat-only": "clear-only", "clearcoat-only": "clear-only"}
_FLAKES: Final = {"vapor": "vapour"}
_TOOLS: Final = {"dual-action": "da", "random-orbital": "da"}
_NEXT: Final = {**_CLEAR, "base-coat": "base", "basecoat": "base"}
_SPECIALS: Final = {"matte": "matt"}
_LOOKS: Final = {"burn-through": "cut-through", "rub-through": "cut-through"}

OTHER_WORDS: Final[Mapping[str, Mapping[str, str]]] = MappingProxyType(
    {
        "flake": _FLAKES,
        "zone": {**_COLOUR, **_CLEAR},
        "role": _ROLES,
        "surface": _SURFACES,
        "next": _NEXT,
        "feature": _LINES,
        "panel": _OUTLINES,
        "special": _SPECIALS,
        "tool": _TOOLS,
        "result": _LOOKS,
    }
)
"""What kind of word, such as a fact of the standards, to its other words, each with the first word."""

VALUE_WORDS: Final[Mapping[tuple[str, str], Mapping[str, str]]] = MappingProxyType(
    {
        ("colour", "flake"): _FLAKES,
        ("panel", "kind"): _OUTLINES,
        ("outline", "kind"): _OUTLINES,
        ("panel", "role"): _ROLES,
        ("panel", "surface"): _SURFACES,
        ("panel", "next"): _NEXT,
        ("panel", "special"): _SPECIALS,
        ("patch", "surface"): _SURFACES,
        ("patch", "next"): _NEXT,
        ("feature", "kind"): _LINES,
        ("now", "tool"): _TOOLS,
        ("done", "tool"): _TOOLS,
        ("check", "tool"): _TOOLS,
        ("check", "result"): _LOOKS,
        ("", "finishing_tool"): _TOOLS,
        ("", "hand_tool"): _TOOLS,
        **{
            (table, fact): words
            for table in ("when", "where", "given")
            for fact, words in OTHER_WORDS.items()
        },
    }
)
"""(table, key) of a file to the other words its value may be, each with the first word."""

KEY_WORDS: Final[Mapping[str, Mapping[str, str]]] = MappingProxyType(
    {
        "": _COLOUR,
        "panel": {"color_from": "colour_from", "color_mm": "colour_mm"},
        "film": {
            "color_set_solids": "colour_set_solids",
            "earlier_color_coats_color": "earlier_colour_coats_colour",
            "earlier_color_coats_fade": "earlier_colour_coats_fade",
        },
        "flake": _FLAKES,
        "depth_per_grain": _TOOLS,
        "first_grade": _SURFACES,
    }
)
"""A table of a file to the other spellings of its keys, each with the first one; "" is the file itself."""

ANY_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {other: first for words in (*KEY_WORDS.values(), *VALUE_WORDS.values()) for other, first in words.items()}
)
"""All other words, for hints where no place says what kind of word is meant."""


def first_word(kind: str, word: str) -> str:
    """Return the program's word for one of a kind; a word that is no other word is returned as it is.

    Args:
        kind: a key of `OTHER_WORDS`.
        word: a word as somebody wrote it.
    """
    return OTHER_WORDS[kind].get(word, word)


def first_words_of_place(place: str) -> str:
    """Return a place (panel, panel/feature or panel/feature/zone) with panel and zone in first words."""
    panel, slash, rest = place.partition("/")
    feature, second, zone = rest.partition("/")
    return f"{first_word('panel', panel)}{slash}{feature}{second}{first_word('zone', zone)}"


def other_keys(table: str, key: str) -> tuple[str, ...]:
    """Return the other spellings a key of a table may be written in."""
    return tuple(other for other, first in KEY_WORDS.get(table, {}).items() if first == key)


# Suggests the word that was meant: a near spelling, or the program's word for another country's.

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


def nearest(word: str, known: Iterable[str], alike: float = 0.6) -> str | None:
    """Return the known word that was probably meant, or None; see `near_words`."""
    return next(iter(near_words(word, known, 1, alike)), None)


def near_words(word: str, known: Iterable[str], most: int, alike: float = 0.6) -> list[str]:
    """Return the known words that may have been meant, the likeliest first.

    Args:
        word: what a person wrote.
        known: the words there are.
        most: how many are wanted.
        alike: the least likeness of their spellings, 0 to 1.
    """
    from difflib import get_close_matches  # only where something is amiss

    words = list(known)
    plain = word.strip().lower().replace("_", "-").replace(" ", "-")[:100]
    by_plain = {each.lower().replace("_", "-"): each for each in words}
    if plain in by_plain:
        return [by_plain[plain]]
    for same in (SAME_THING.get(plain), SAME_THING.get(plain.replace("-", "_")), ANY_WORDS.get(plain)):
        if same in words:
            return [same]
    return [by_plain[close] for close in get_close_matches(plain, by_plain, most, cutoff=alike)]


def known_words(words: Iterable[str]) -> str:
    """Return the words as a readable list; a long list is cut."""
    listed = list(dict.fromkeys(words))
    shown = ", ".join(listed[:_SHOWN_MAX])
    return f"{shown} and {len(listed) - _SHOWN_MAX} more" if len(listed) > _SHOWN_MAX else shown or "none"
