"""The way through the shop's own numbers, apart from their views: known without loading them."""

from typing import Final

from prepadvisor.tui.widgets import Act, Stop

OWN_WAY: Final[tuple[Stop, ...]] = (
    Stop("F8", "Standards", "standards"),
    Stop("C", "Colour book", "book"),
    Stop("P", "Test panels", "test-panels"),
    Stop("T", "Fit", "fit"),
    Stop("O", "Outcomes", "outcomes"),
)
"""The way through the shop's own numbers, in its order."""


def ways_from(view: str) -> tuple[Act, ...]:
    """Return the keys that lead from one of these views to the others."""
    return tuple(
        Act(stop.key, stop.label, f"app.go('{stop.view}')", f"Go to {stop.label.lower()}")
        for stop in OWN_WAY[1:]
        if stop.view != view
    )
