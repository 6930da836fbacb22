"""The keys in force: each thing that can be done has a name, by which a person may give it another key."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from textual.binding import Binding, BindingType

from prepadvisor.records import NamedTuple
from prepadvisor.tui.widgets import Act, Stop

if TYPE_CHECKING:
    from textual.theme import Theme

EVERYWHERE: Final = "everywhere"
"""Where a key belongs that works in every view."""
_NAMED: Final = {"onward(1)": "next", "onward(-1)": "before"}

Keys = Mapping[str, str]
"""What a person gave other keys: "check-off.log-next" to its key, as it is shown."""
AS_BUILT: Final[Keys] = MappingProxyType({})
"""No key but the built-in ones."""


class OwnChoices(NamedTuple):
    """What a person chose: the theme to start with (empty for none), keys, and themes of the person's own."""

    theme: str = ""
    keys: Keys = AS_BUILT
    themes: tuple["Theme", ...] = ()


def name_of(action: str) -> str:
    """Return the name of an action, as a file of keys has it: "log-next" for "log_next"."""
    bare = action.removeprefix("app.")
    return _NAMED.get(bare) or re.sub(r"[^a-z0-9]+", "-", bare.lower().replace("(-", "-minus-")).strip("-")


def ident_of(view: str, action: str) -> str:
    """Return what an action of a view goes by among all."""
    return f"{view}.{name_of(action)}"


def with_idents(view: str, bindings: Iterable[BindingType]) -> list[BindingType]:
    """Return bindings each with what it goes by, so that it may get another key."""
    return [
        replace(each, id=each.id or ident_of(view, each.action)) if isinstance(each, Binding) else each
        for each in bindings
    ]


def in_force(act: Act, view: str, keys: Keys) -> Act:
    """Return an act with the key that is in force for it."""
    if not keys or not act.action:
        return act
    key = keys.get(ident_of(view, act.action)) or keys.get(ident_of(EVERYWHERE, act.action))
    return act._replace(key=key) if key else act


def way_in_force(way: Iterable[Stop], keys: Keys) -> tuple[Stop, ...]:
    """Return the stops of a way each with the key that leads there from everywhere."""
    return tuple(
        stop._replace(key=keys.get(ident_of(EVERYWHERE, f"go('{stop.view}')"), stop.key)) for stop in way
    )
