"""Themes of a person's own: one of ours with some colours changed, as long as all text can be read on it."""

import re
from collections.abc import Mapping
from typing import Final

from textual.theme import Theme

from prepadvisor.records.fault import Problem
from prepadvisor.records.nearest import did_you_mean
from prepadvisor.tui.themes import DARK, LIGHT, PAIRS, THEMES, theme_like

CONTRAST_LEAST: Final = 4.5
"""Least contrast of text on its ground: what WCAG 2 asks of ordinary text (from memory)."""
_COLOUR: Final = re.compile(r"#[0-9a-fA-F]{6}")
_LIKE: Final = {LIGHT.name: LIGHT, DARK.name: DARK}
COLOURS: Final = tuple(dict.fromkeys(name for pair in PAIRS for name in pair))
"""The colours that a theme may change."""


def themes_of(raw: object) -> tuple[list[Theme], list[Problem]]:
    """Return the themes of a file, and what is wrong with them."""
    if not isinstance(raw, Mapping):
        return [], [Problem(("themes",), "themes is a table", 'write [themes.bright] and like = "daylight"')]
    themes: list[Theme] = []
    problems: list[Problem] = []
    taken = {theme.name for theme in THEMES}
    for name, table in raw.items():
        path = ("themes", name)
        if name in taken or not isinstance(table, Mapping):
            says = f'"{name}" is a theme of the program' if name in taken else f"themes.{name} is a table"
            problems.append(Problem(path, says, "take another name"))
            continue
        like = table.get("like", LIGHT.name)
        if like not in _LIKE:
            says = f'a theme cannot be like "{like}"'
            problems.append(Problem((*path, "like"), says, did_you_mean(str(like), _LIKE)))
            continue
        wrong = [each for key, value in table.items() if (each := _wrong(path, key, value)) is not None]
        colours = {key: str(value).lower() for key, value in table.items() if key != "like"}
        if not wrong:
            wrong = _unreadable(path, colours, _LIKE[like])
        problems += wrong
        if not wrong:
            themes.append(theme_like(name, _LIKE[like], colours))
    return themes, problems


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours such as "#1a2b3c", 1 to 21, as WCAG 2 defines it (from memory)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _wrong(path: tuple[str, str], key: str, value: object) -> Problem | None:
    if key == "like":
        return None
    if key not in COLOURS:
        return Problem((*path, key), f'no colour is called "{key}"', did_you_mean(key, COLOURS))
    if not isinstance(value, str) or not _COLOUR.fullmatch(value):
        return Problem((*path, key), f"{key} cannot be {value!r}", 'write it as "#1a2b3c"')
    return None


def _unreadable(path: tuple[str, str], colours: Mapping[str, str], like: Theme) -> list[Problem]:
    """Return a problem for each pair with a changed colour that is too faint to read."""
    now = {**like.variables, **colours}
    found = []
    for ink, ground in PAIRS:
        changed = next((each for each in (ink, ground) if each in colours), None)
        ratio = contrast(now[ink], now[ground])
        if changed is not None and ratio < CONTRAST_LEAST:
            says = f"{ink} on {ground} is too faint to read: contrast {ratio:.1f}, least is {CONTRAST_LEAST}"
            found.append(Problem((*path, changed), says, "take a darker and a lighter colour"))
    return found
