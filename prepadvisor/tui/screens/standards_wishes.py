"""What the standards view asks the app for; apart from it, so that the app need not load it at its start."""

from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from prepadvisor.records import BadInputError


class FreshWanted(Message):
    """The rule files are to be read again; `asked` by a person or by the view's own watch.

    `says` is what was done to them, told in place of that they changed.
    """

    def __init__(self, asked: bool, folders: tuple[str, ...] = (), says: str = "") -> None:
        super().__init__()
        self.asked, self.folders, self.says = asked, folders, says


class FaultsFound(Message):
    """Something of the draft could not be read or written."""

    def __init__(self, title: str, error: "BadInputError") -> None:
        super().__init__()
        self.title, self.error = title, error
