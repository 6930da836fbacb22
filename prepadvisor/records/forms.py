"""The forms a card is written in: name, ending of its file, how it is printed. A new form is an entry."""

from typing import Final, Literal

from prepadvisor.named import NamedTuple

Form = Literal["text", "html", "pdf", "json"]
"""What `card --to` takes; `cards.write` has a renderer for each."""


class CardForm(NamedTuple):
    """One form of a card.

    Attributes:
        ending: how the name of its file ends.
        other_endings: what else a name may end in to mean it.
        prints: what to do to print the file, with {} for its name; empty for a form that is not printed.
        is_page: whether it is laid out for a paper, so that each job is a file of its own.
    """

    ending: str
    other_endings: tuple[str, ...] = ()
    prints: str = ""
    is_page: bool = False


FORMS: Final[dict[Form, CardForm]] = {
    "text": CardForm(".txt", prints="print: lp {}"),
    "html": CardForm(
        ".html", (".htm",), prints="print: open it in a browser and print from there", is_page=True
    ),
    "pdf": CardForm(".pdf", prints="print: lp {}, or open it and print", is_page=True),
    "json": CardForm(".json"),
}

BY_ENDING: Final[dict[str, Form]] = {
    ending: name for name, form in FORMS.items() for ending in (form.ending, *form.other_endings)
}
"""The form that an ending of a file's name means."""
