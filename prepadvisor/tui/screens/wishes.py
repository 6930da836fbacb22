"""What views ask the app for; apart from them, so that the app need not load them at its start."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.records import BadInputError, Form
    from prepadvisor.tui.starts import Start


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


class WriteWanted(Message):
    """The card is to be written."""

    def __init__(self, form: "Form", paper: "PaperName") -> None:
        super().__init__()
        self.form, self.paper = form, paper


class NewWanted(Message):
    """A new job with a number is wanted."""

    def __init__(self, number: str) -> None:
        super().__init__()
        self.number = number
        self.again: Callable[[str], None] | None = None


class FileWanted(Message):
    """A job file is to be opened."""

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path
        self.again: Callable[[str], None] | None = None


class StartChosen(Message):
    """Something to start with was chosen."""

    def __init__(self, start: "Start") -> None:
        super().__init__()
        self.start = start


class OpeningResumed(Message):
    """The opening is on and wants its list."""
