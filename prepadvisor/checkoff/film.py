"""The film ledger of a place by its log: the plan's passes, and every pass that was logged beyond them."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from prepadvisor.planning.work.film import CUTS, Ledger, planned, spend
from prepadvisor.records import DO_OF

if TYPE_CHECKING:
    from prepadvisor.checkoff.basis import ShopFloor
    from prepadvisor.logbook import Entry
    from prepadvisor.records import Task


def ledger(
    entries: Sequence["Entry"], chain: Sequence["Task"], off_max_um: float | None, floor: "ShopFloor"
) -> Ledger:
    """Add up what comes off a place.

    Args:
        entries: what was logged there, in the order of the file.
        chain: the tasks of the place.
        off_max_um: the most that may come off.
        floor: the shop, for the depth of its tools' scratches.
    """
    film = planned(chain, off_max_um)
    if film.off_max_um is None:
        return film
    for entry in entries:
        check = entry.check
        do = DO_OF.get(check.step)
        if do in CUTS:
            before = film.passes
            film = spend(film, (do, check.tool, check.grade), chain, floor.constants)
            if film.over is None and film.passes > before and film.is_over:
                film = film._replace(over=entry)
    return film
