"""Card: the preview as it prints, and writing it as text, page or PDF."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.containers import Container
from textual.widget import Widget

from prepadvisor.cards import write_card
from prepadvisor.tui.model import Session, gate_for_card
from prepadvisor.tui.screens.view import View, bound
from prepadvisor.tui.screens.wishes import WriteWanted
from prepadvisor.tui.widgets import Act, Line, Reading

if TYPE_CHECKING:
    from prepadvisor.cards.page.typeface import PaperName
    from prepadvisor.records import Form

ACTS = (
    Act("T", "Write text", "write('text')", "Write the card as text, for any printer"),
    Act("H", "Write page", "write('html')", "Write the card as a page for a browser"),
    Act("P", "Write PDF", "write('pdf')", "Write the card as PDF"),
    Act("PgDn", "Down", "roll(10)", "Scroll down"),
    Act("PgUp", "Up", "roll(-10)", "Scroll up"),
    Act("A", "Paper", "paper", "A4 or Letter, for page and PDF"),
)


class CardView(View):
    """The text card to scroll, and the plates that write it."""

    view = "card"
    title_words = "Card"
    acts = ACTS
    help_words = """\
This is the card as it prints as text, 80 columns; a narrower window folds its long lines, the print does not.
What blocks stands on top. Arrows and Page keys scroll.

T writes it as text, H as a page for the browser (largest print, drawings), P as PDF. The path is shown below
when it is written. To print: lp PATH, or open the page in a browser and print from there. A changes between
A4 and Letter."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    def __init__(self) -> None:
        """Start on A4."""
        super().__init__()
        self._paper: PaperName = "a4"
        self._things: tuple[object, ...] = (None,) * 3
        self._made_of: tuple[int, str] = (-1, "")
        self._announced: object = None
        self._lines: list[Line] = []

    def compose_body(self) -> Iterable[Widget]:
        """Only the preview; in a wide window it goes on beside itself."""
        with Container(classes="split"):
            yield Reading(name="preview")
            yield Reading(name="more")

    def first_focus(self) -> str:
        """Start on the preview, to scroll it."""
        return "#preview"

    def show(self, session: Session) -> None:
        """Show the text card."""
        preview = self.query_one("#preview", Reading)
        if session.advice is None:
            preview.show([Line("There is no card before the first panel: F3, then A.", "warn")])
            return
        things = (session, session.advice, session.house)
        made_of = (session.revision, f"{session.now():%F %H:%M}")
        alike = all(one is other for one, other in zip(things, self._things, strict=True))
        if not alike or made_of != self._made_of:  # it is asked for again and again while a view comes up
            if session.is_long and self._announced != (made_of, session.advice):
                self._announced = made_of, session.advice
                preview.show([Line("The card is being written ...", "bold")])
                self.query_one("#more", Reading).show([])
                self.show_later()
            if self.is_waiting:
                return
            gate = gate_for_card(session)
            text = str(write_card(session.job, session.advice, session.house, "text", gate=gate))
            self._things, self._made_of = things, made_of
            self._lines = [Line(line, keep=True) for line in text.splitlines()]
        lines, more = self._lines, self.query_one("#more", Reading)
        middle = _middle([line.text for line in lines]) if more.display else len(lines)
        preview.show(lines[:middle])
        more.show(lines[middle:])

    def action_write(self, form: "Form") -> None:
        """Ask for the card to be written."""
        self.post_message(WriteWanted(form, self._paper))

    def action_roll(self, lines: int) -> None:
        """Scroll the preview."""
        for reading in self.query(Reading):
            reading.action_roll(lines)

    def action_paper(self) -> None:
        """Change the paper."""
        self._paper = "letter" if self._paper == "a4" else "a4"
        self.say(f"page and PDF are laid out for {'A4' if self._paper == 'a4' else 'Letter'}")


def _middle(lines: list[str]) -> int:
    """Return where a card is best parted in two: at the double rule or blank line nearest to its middle."""
    parts = [at for at, line in enumerate(lines) if not line.strip("= ")]
    return min(parts, key=lambda at: abs(at - len(lines) // 2), default=len(lines))
