"""A person's own keys and themes from a file, each colour held to its contrast; what cannot be is refused."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from textual.binding import Binding, BindingsMap
from textual.theme import Theme

from prepadvisor.files import TomlText, read_toml
from prepadvisor.records import BadInputError, Fault, KeyPath, Problem, did_you_mean
from prepadvisor.tui.app import BenchApp
from prepadvisor.tui.keys import AS_BUILT, EVERYWHERE, Keys, OwnChoices, ident_of, name_of
from prepadvisor.tui.menus import EVERYWHERE_ACTS, GO_ACTS
from prepadvisor.tui.themes import DARK, LIGHT, PAIRS, THEMES, theme_like
from prepadvisor.tui.views import VIEWS, view_class
from prepadvisor.tui.widgets import Act, key_name

# Themes of a person's own: one of ours with some colours changed, as long as all text can be read on it.

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


_SETTINGS: Final = ("theme", "keys", "themes")
_KEY: Final = re.compile(r"[a-z0-9+\-/.,*]|f([1-9]|1[0-2])|ctrl\+[a-z]", re.IGNORECASE)
_KEYS_THERE_ARE: Final = "use a letter, a digit, F1 to F12, one of + - / . , * or Ctrl+ and a letter"
_FIXED: Final[Mapping[str, str]] = {
    **dict.fromkeys(("ctrl+q", "ctrl+c"), "saves and leaves"),
    **dict.fromkeys(("ctrl+i", "ctrl+m", "ctrl+j", "ctrl+h"), "is Tab, Enter or Backspace to a terminal"),
}


def read_choices(path: Path) -> OwnChoices:
    """Return what a file chooses.

    Raises:
        BadInputError: with every fault of it, by line.
    """
    text = read_toml(path)
    problems = [
        Problem((key,), f'no setting is called "{key}"', did_you_mean(key, _SETTINGS))
        for key in text.data
        if key not in _SETTINGS
    ]
    themes, wrong = themes_of(text.data.get("themes", {}))
    problems += wrong
    keys, wrong = _keys_of(text.data.get("keys", {}))
    problems += wrong
    theme, known = text.data.get("theme", ""), [each.name for each in (*THEMES, *themes)]
    if theme and theme not in known:
        problems.append(Problem(("theme",), f'no theme is called "{theme}"', did_you_mean(str(theme), known)))
    faults = [*text.broken, *text.twice, *(_placed(text, problem) for problem in problems)]
    if faults:
        raise BadInputError(sorted(faults, key=lambda fault: (fault.line, fault.column)))
    return OwnChoices(str(theme), keys, tuple(themes))


def named_acts(view: str) -> dict[str, Act]:
    """Return what may get another key in a view, or everywhere, by its name."""
    acts = (*EVERYWHERE_ACTS, *GO_ACTS) if view == EVERYWHERE else view_class(view).acts
    return {
        name_of(act.action): act
        for act in acts
        if act.action and _KEY.fullmatch(act.key) and key_name(act.key) not in _FIXED
    }


def template() -> str:
    """Return a file of choices in which every key stands as it is built in, each line commented out."""
    lines = ["# Own keys and themes of the screens. Take the # away from a line to change it.", ""]
    lines += ['# theme = "night"   # daylight, night, terminal, or one of your own below', ""]
    for view in (EVERYWHERE, *VIEWS):
        lines.append(f"[keys.{view}]")
        lines += [
            f'# {name} = "{act.key}"   # {act.says or act.label}' for name, act in named_acts(view).items()
        ]
        lines.append("")
    lines += ["# [themes.bright]", '# like = "daylight"', '# paper = "#fffbe8"']
    return "\n".join(lines) + "\n"


def _keys_of(raw: object) -> tuple[Keys, list[Problem]]:
    """Return the keys of a file by what they are for, and what is wrong with them."""
    if not isinstance(raw, Mapping):
        return AS_BUILT, [Problem(("keys",), "keys is a table", 'write [keys.check-off] and log-next = "K"')]
    problems: list[Problem] = []
    keys: dict[str, str] = {}
    at: dict[str, KeyPath] = {}
    sections = (EVERYWHERE, *VIEWS)
    for view, table in raw.items():
        if view not in sections or not isinstance(table, Mapping):
            says = f'no view is called "{view}"' if view not in sections else f"keys.{view} is a table"
            problems.append(Problem(("keys", view), says, did_you_mean(str(view), sections)))
            continue
        named = named_acts(view)
        for name, key in table.items():
            path: KeyPath = ("keys", view, name)
            if name not in named:
                says = f'nothing of {view} is called "{name}"'
                problems.append(Problem(path, says, did_you_mean(str(name), named)))
            elif (why := _unfit(key)) is not None:
                problems.append(Problem(path, why, _KEYS_THERE_ARE))
            else:
                ident = ident_of(view, named[name].action)
                keys[ident], at[ident] = shown_key(str(key)), path
    return keys, [*problems, *_clashes(keys, at)]


def _unfit(key: object) -> str | None:
    if not isinstance(key, str) or not _KEY.fullmatch(key.strip()):
        return f"{key!r} is no key that always arrives" if isinstance(key, str) else "a key stands in quotes"
    fixed = _FIXED.get(key.strip().lower())
    return f"{key} {fixed}, and stays" if fixed else None


def shown_key(key: str) -> str:
    """Return a key as it is written in a file the way the screens show it: "F9", "Ctrl+F", "K"."""
    bare = key.strip()
    return bare.upper() if len(bare) == 1 else "+".join(part.capitalize() for part in bare.split("+"))


def _clashes(keys: Keys, at: Mapping[str, KeyPath]) -> Iterator[Problem]:
    """Yield a problem for each chosen key that something else has in the same view."""
    told: set[tuple[str, str]] = set()
    for view in VIEWS:
        by_key: dict[str, list[tuple[str, str]]] = {}
        for binding in _bindings(view):
            ident = binding.id or binding.action
            for key in key_name(keys[ident]).split(",") if ident in keys else [binding.key]:
                if (ident, binding.description) not in by_key.setdefault(key, []):
                    by_key[key].append((ident, binding.description))
        for having in by_key.values():
            chosen = [ident for ident, _ in having if ident in keys]
            if len(having) > 1 and chosen:
                first, rest = chosen[0], [says for ident, says in having if ident != chosen[0]]
                if (first, rest[0]) not in told:
                    told.add((first, rest[0]))
                    says = f'{keys[first]} is also the key of "{rest[0]}" in {view}'
                    yield Problem(at[first], says, "take another key, or give that one another too")


def _bindings(view: str) -> Iterator[Binding]:
    """Yield every binding that works in a view, with one key each."""
    merged: BindingsMap | None = view_class(view)._merged_bindings  # noqa: SLF001 - inherited ones too
    for bindings in merged.key_to_bindings.values() if merged is not None else ():
        yield from bindings
    for bindings in BindingsMap(BenchApp.BINDINGS).key_to_bindings.values():
        yield from bindings


def _placed(text: TomlText, problem: Problem) -> Fault:
    return text.fault(problem)
