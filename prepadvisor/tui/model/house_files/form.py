"""A file of a house as a form: its lines as fields, its text with one changed, what a line means."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple

import tomli

from prepadvisor.files import with_changes
from prepadvisor.tui.model.fields import Field

if TYPE_CHECKING:
    from prepadvisor.standards import House

HouseFile = Literal["shop.toml", "constants.toml"]
"""Files of a house that are edited as a form."""


class HouseForm(NamedTuple):
    """How one file of a house is edited.

    Attributes:
        file: its name in a house folder.
        title: what stands over the form.
        fields: the lines, given the house and the text of its own file; what that states is marked ■.
        path_of: the keys that lead to a line in the file, given its id.
        about: what a line means, in lines of words, given the house and the line's id.
        with_changed: the file's text with one line as it was answered, given the house, the text, the line's
            id, the answer and how it is known; raises RefusedError.
        with_dropped: the file's text without a line, which is then as in the layer below.
        known: how an answer may be known, each with its words; empty where that is not asked.
    """

    file: HouseFile
    title: str
    fields: Callable[["House", str], list[Field]]
    path_of: Callable[[str], tuple[str, ...]]
    about: Callable[["House", str], list[str]]
    with_changed: Callable[["House", str, str, str, str], str]
    with_dropped: Callable[[str, str], str]
    known: Mapping[str, str] = MappingProxyType({})

    def is_own(self, text: str, ident: str) -> bool:
        """Say whether the house's own file, given as its text, states a line."""
        return states(tomli.loads(text), self.path_of(ident))


OWN: Final = "■"
"""Before what a house's own file states."""


def marked(fields: list[Field], own: str, path_of: Callable[[str], tuple[str, ...]]) -> list[Field]:
    """Return fields with what a house's own file states marked.

    Args:
        fields: the lines.
        own: the text of the file, empty where there is none.
        path_of: the keys that lead to a line in the file, given its id.
    """
    stated = tomli.loads(own)
    return [
        field._replace(says=f"{OWN if states(stated, path_of(field.id)) else ' '} {field.says}")
        for field in fields
    ]


def states(data: Mapping[str, Any], path: tuple[str, ...]) -> bool:
    """Say whether a file's data have a key."""
    for key in path:
        if not isinstance(data, Mapping) or key not in data:
            return False
        data = data[key]
    return True


def with_value(
    text: str, head: str, path: tuple[str, ...], value: object, more: Callable[[dict[str, Any]], None]
) -> str:
    """Return a file's text with one value put in, or taken out for None; its comments stay.

    Args:
        text: the file, empty for a first change.
        head: how the file begins then.
        path: the keys that lead to the value.
        value: the value.
        more: what else changes in the data with it.
    """
    old, new = tomli.loads(text), tomli.loads(text)
    tables = [new]
    for key in path[:-1]:
        tables.append(tables[-1].setdefault(key, {}))
    tables[-1].pop(path[-1], None)
    if value is not None:
        tables[-1][path[-1]] = value
    for at in range(len(path) - 1, 0, -1):  # a table that is left empty goes too
        if not tables[at]:
            del tables[at - 1][path[at - 1]]
    more(new)
    return with_changes((text or head).encode(), old, new).decode()
