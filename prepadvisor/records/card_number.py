"""The numbers that panels and places have on the card: A, B … for panels, A1, A2 … for their places."""

from collections.abc import Iterable

from prepadvisor.records.advice import Place


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
