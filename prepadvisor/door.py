"""The door of a room: names that others take there, each brought by its part when it is first asked for.

A room is a package; its `__init__` lists what each part brings, once for Python and once for a type checker,
and a command pays for no part that it does not use.
"""

import sys
from collections.abc import Callable, Mapping
from importlib import import_module


def door(room: str, parts: Mapping[str, str]) -> Callable[[str], object]:
    """Return what a room's `__init__` sets as its `__getattr__`.

    Args:
        room: the dotted name of the room, which is being loaded.
        parts: to each part, by its name below the room, the names it brings, with blanks between.
    """
    part_of = {name: part for part, names in parts.items() for name in names.split()}
    known = vars(sys.modules[room])

    def bring(name: str) -> object:
        """Load the part that has a name, and keep all that it brings. Raises AttributeError for others."""
        if name not in part_of:
            raise AttributeError(f"module {room!r} has no attribute {name!r}")
        part = import_module(f"{room}.{part_of[name]}")
        known.update((each, getattr(part, each)) for each in parts[part_of[name]].split())
        return known[name]

    return bring
