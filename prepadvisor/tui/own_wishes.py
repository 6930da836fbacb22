"""What the screens of the shop's own numbers ask the app for; light, so that it costs no start-up."""

from collections.abc import Callable, Mapping

from textual.message import Message

from prepadvisor.records.colour_book import BookColour


class PanelTyped(Message):
    """A test panel was filled in, cells by column; `then` is called once it is in the table."""

    def __init__(self, cells: Mapping[str, str], then: Callable[[], None]) -> None:
        """Keep both."""
        super().__init__()
        self.cells, self.then = cells, then


class ColourTyped(Message):
    """A colour of the book was changed, or is new."""

    def __init__(self, entry: BookColour, *, new: bool = False) -> None:
        """Keep the entry as it is to be."""
        super().__init__()
        self.entry, self.new = entry, new


class JobColourWanted(Message):
    """The colour of the open job is to be put into the book."""


class SealWanted(Message):
    """An entry is to be sealed by somebody."""

    def __init__(self, word: str, by: str) -> None:
        """Keep which and who."""
        super().__init__()
        self.word, self.by = word, by


class FitWanted(Message):
    """The fit is to be made anew, with so many panels to spray next."""

    def __init__(self, count: int = 0) -> None:
        """Keep the count."""
        super().__init__()
        self.count = count


class PutInForceWanted(Message):
    """The numbers of the fit on the screen are to be put in force."""


class FitPageWanted(Message):
    """The report of the fit on the screen, or its spray plan, is to be written as a page."""

    def __init__(self, *, plan: bool) -> None:
        """Keep which."""
        super().__init__()
        self.plan = plan


class OutcomeTyped(Message):
    """What was seen weeks later at a place of a job: lines, or none."""

    def __init__(self, path: str, place: str, by: str, note: str, *, seen: bool) -> None:
        """Keep the report."""
        super().__init__()
        self.path, self.place, self.by, self.note, self.seen = path, place, by, note, seen
