"""Where the shelf has no grit step between what is there and the finish, the hold names what to buy."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from prepadvisor.planning import advise
from prepadvisor.records import Hold, Job, NoWayUp
from prepadvisor.standards import House


def _holds(job: Job, house: House, shelf: list[str]) -> tuple[Hold, ...]:
    shop = house.shop.model_copy(update={"shelf": tuple(shelf)})
    return advise(job, replace(house, shop=shop)).holds


@pytest.mark.parametrize("start", ["P240", "P320", "P400"])
def test_what_the_hold_names_opens_the_way(
    start: str, job_of: Callable[..., Job], shipped_house: House
) -> None:
    """Bought, the hold is gone; nothing on the shelf already is named."""
    shelf = [start, "P1000", "P1500"]
    job = job_of(now={"tool": "da-soft", "grade": start})
    held = [hold for hold in _holds(job, shipped_house, shelf) if isinstance(hold.fact, NoWayUp)]
    lacks = [grade for hold in held for grade in hold.lacks]
    assert lacks
    assert not set(lacks) & set(shelf)
    after = _holds(job, shipped_house, [*shelf, *lacks])
    assert [hold for hold in after if isinstance(hold.fact, NoWayUp)] == []
