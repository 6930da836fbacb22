"""How a tick box looks in text."""

from typing import Final

from prepadvisor.cards.sheet.record import Box

BOXES: Final[dict[Box, str]] = {"open": "[ ]", "done": "[x]", "none": " - "}
"""Open, ticked, and nothing owed."""
