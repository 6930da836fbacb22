"""The forms a card is written in, and the numbers that panels and places have on it: A, A1, A2 and so on."""

from collections.abc import Iterable
from typing import Final, Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.spots import Place

# The forms a card is written in: name, ending of its file, how it is printed. A new form is an entry.

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


def letters(index: int) -> str:
    """Return the letter of a panel, A, B … Z, AA, AB …, for an index from 0."""
    word = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        word = chr(65 + rest) + word
    return word


def card_numbers(panels: Iterable[str], places: Iterable[Place]) -> dict[str, str]:
    """Return the card's number of every place by place id; the face has its panel's letter alone.

    Args:
        panels: panel ids in the order of the job.
        places: the places as advised.
    """
    letter = {panel: letters(index) for index, panel in enumerate(panels)}
    return {
        place.id: letter[place.panel] + ("" if place.kind == "face" else str(place.number))
        for place in places
        if place.panel in letter
    }


def place_named(where: str, numbers: dict[str, str]) -> str:
    """Return the place id that a card number stands for, and anything else as it is.

    Args:
        where: such as "A4" or "a4", or "left-front-door/E1".
        numbers: the card's numbers by place id.
    """
    plain = where.strip().upper()
    return next((place for place, number in numbers.items() if number == plain), where)
