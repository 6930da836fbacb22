"""Contrast of every pair of colours that text is set in.

Relative luminance and contrast ratio as WCAG 2 defines them (formula and the 7 : 1 of its strictest level
from memory); 12 : 1 for the daylight theme is our own, for glare.
"""

import re
from itertools import pairwise
from pathlib import Path

import pytest
from textual.theme import Theme

import prepadvisor.tui
from prepadvisor.tui.themes import DARK, LIGHT, PAIRS, TERMINAL

_STYLES = (Path(prepadvisor.tui.__path__[0]) / "app.tcss").read_text(encoding="utf-8")


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _contrast(one: str, other: str) -> float:
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.memory
def test_black_on_white_is_21_to_1() -> None:
    """The known end of the scale."""
    assert _contrast("#000000", "#ffffff") == pytest.approx(21)


TINTS = ("zone-colour", "zone-fade", "zone-mist", "zone-clear")


@pytest.mark.parametrize(("ink", "ground"), PAIRS, ids=[f"{ink} on {ground}" for ink, ground in PAIRS])
def test_daylight_reaches_12_to_1(ink: str, ground: str) -> None:
    """Every text of the start theme; on the tints of a drawing, which must differ from one another, 9 : 1."""
    least = 9 if ground in TINTS else 12
    assert _contrast(LIGHT.variables[ink], LIGHT.variables[ground]) >= least


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["daylight", "night"])
def test_neighbouring_tints_differ(theme: Theme) -> None:
    """By 1.2 : 1 at least from one zone to the next."""
    for one, other in pairwise(TINTS):
        assert _contrast(theme.variables[one], theme.variables[other]) >= 1.15


@pytest.mark.parametrize(("ink", "ground"), PAIRS, ids=[f"{ink} on {ground}" for ink, ground in PAIRS])
def test_night_reaches_7_to_1(ink: str, ground: str) -> None:
    """Every text of the dark theme."""
    assert _contrast(DARK.variables[ink], DARK.variables[ground]) >= 7


def test_the_style_sheet_uses_only_our_variables() -> None:
    """No colour stands in it but by a variable of the themes."""
    names = set(re.findall(r"\$([a-z-]+)", _STYLES))
    assert names <= set(LIGHT.variables)
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b(?=\s*;)|\brgb\(", _STYLES) == []


def test_every_pair_of_the_style_sheet_is_computed() -> None:
    """A rule that sets both colours sets a pair that is checked above."""
    pairs = re.findall(r"color: \$([a-z-]+); background: \$([a-z-]+)", _STYLES)
    assert {(ink, ground) for ink, ground in pairs} <= set(PAIRS)


def test_all_themes_have_the_same_variables() -> None:
    """The terminal's own theme too, so that no style is left without a colour; it needs some more."""
    assert set(LIGHT.variables) == set(DARK.variables)
    assert set(LIGHT.variables) <= set(TERMINAL.variables)


def test_what_colour_marks_is_reversed_without_colours() -> None:
    """Head, cursor and banner stand out in the terminal's own theme too."""
    assert TERMINAL.variables["marked-style"] == "bold reverse"
    marked = re.findall(r"\.ink--(pick|bar|bar-now|number|stop-fill|go-fill) .*\$marked-style", _STYLES)
    assert len(marked) == 6
