"""Our own themes: black on white (12 : 1 or more), a dark one (7 : 1 or more), the terminal's own colours.

Only these variables are used by the style sheet. `PAIRS` names every foreground with the background it is put
on, so that a test can compute each contrast.
"""

from typing import Final

from textual.theme import BUILTIN_THEMES, Theme

PAIRS: Final[tuple[tuple[str, str], ...]] = (
    ("ink", "paper"),
    ("hush", "paper"),
    ("stop", "paper"),
    ("go", "paper"),
    ("warn", "paper"),
    ("bar-ink", "bar"),
    ("pick-ink", "pick"),
    ("ink", "rest"),
    ("ink", "plate"),
    ("stop-fill-ink", "stop-fill"),
    ("go-fill-ink", "go-fill"),
    ("ink", "zone-colour"),
    ("ink", "zone-fade"),
    ("ink", "zone-mist"),
    ("ink", "zone-clear"),
    ("pick", "paper"),
)
"""Foreground and background of all text on the screens."""

_LIGHT: Final = {
    "paper": "#ffffff", "ink": "#000000", "hush": "#2a2a2a", "stop": "#640000", "go": "#003a10",
    "warn": "#452700",
    "bar": "#000000", "bar-ink": "#ffffff", "pick": "#001f47", "pick-ink": "#ffffff", "rest": "#dcdcdc",
    "plate": "#ececec", "stop-fill": "#5c0000", "stop-fill-ink": "#ffffff", "go-fill": "#00330e",
    "go-fill-ink": "#ffffff", "zone-colour": "#8fb0dc", "zone-fade": "#bcd0ec", "zone-mist": "#e2eaf6",
    "zone-clear": "#ffffff",
}  # fmt: skip
_DARK: Final = {
    "paper": "#0e0e0e", "ink": "#f4f4f4", "hush": "#c4c4c4", "stop": "#ff9c94", "go": "#86e29b",
    "warn": "#ffd27a",
    "bar": "#f4f4f4", "bar-ink": "#0e0e0e", "pick": "#ffe08a", "pick-ink": "#0e0e0e", "rest": "#333333",
    "plate": "#262626", "stop-fill": "#ffb3ad", "stop-fill-ink": "#0e0e0e", "go-fill": "#9bedae",
    "go-fill-ink": "#0e0e0e", "zone-colour": "#2f5080", "zone-fade": "#23395a", "zone-mist": "#182436",
    "zone-clear": "#0e0e0e",
}  # fmt: skip
_TERMINAL: Final = dict.fromkeys(_LIGHT, "ansi_default")
_MARKED: Final = "marked-style"
"""The variable for the style of what colours would mark: without colours it is reversed instead."""
_ANSI_NEEDS: Final = BUILTIN_THEMES["ansi-dark"].variables
"""What the framework's own styles ask of a theme that keeps to the terminal's colours."""


def _theme(name: str, values: dict[str, str], dark: bool, ansi: bool = False) -> Theme:
    return Theme(
        name=name,
        primary=values["pick"],
        secondary=values["pick"],
        accent=values["pick"],
        warning=values["warn"],
        error=values["stop"],
        success=values["go"],
        foreground=values["ink"],
        background=values["paper"],
        surface=values["paper"],
        panel=values["plate"],
        boost=values["plate"],
        dark=dark,
        ansi=ansi,
        text_alpha=1.0,
        variables=(_ANSI_NEEDS if ansi else {}) | values | {_MARKED: "bold reverse" if ansi else "bold"},
    )


LIGHT: Final = _theme("daylight", _LIGHT, dark=False)
DARK: Final = _theme("night", _DARK, dark=True)
TERMINAL: Final = _theme("terminal", _TERMINAL, dark=True, ansi=True)
THEMES: Final = (LIGHT, DARK, TERMINAL)


def theme_like(name: str, like: Theme, colours: dict[str, str]) -> Theme:
    """Return a theme like one of ours with some of its colours changed."""
    values = {key: like.variables[key] for key in _LIGHT} | colours
    return _theme(name, values, dark=like.dark)
