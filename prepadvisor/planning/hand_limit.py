"""How coarse a line may be scuffed by hand ahead of the final DA pass.

The tightest of what the standards say and the coarsest grade whose groove the chosen pass cuts out in the
time a line gets and within the film that may come off it.
"""

from prepadvisor.planning.rates import WorkRates
from prepadvisor.surface.grades import RANK, Grade, finest


def clears(
    tool: str, grade: Grade, chosen: Grade, rates: WorkRates, minutes_max: float, film_max_um: float | None
) -> bool:
    """Say whether one pass of the chosen grade takes a hand groove out.

    Args:
        tool: the hand tool.
        grade: its grade.
        chosen: the grade of the final DA pass.
        rates: groove depths and removal rates.
        minutes_max: minutes per dm² that a line gets.
        film_max_um: film in µm that may come off, None where film does not count.
    """
    depth_um = rates.depth_um[tool, grade]
    if film_max_um is not None and depth_um > film_max_um + 1e-9:
        return False
    return depth_um / rates.rate_um[chosen] <= minutes_max + 1e-9


def hand_limit(
    by_rule: Grade | None,
    chosen: Grade,
    tool: str,
    shelf: tuple[Grade, ...],
    rates: WorkRates,
    minutes_max: float,
    film_max_um: float | None,
) -> Grade | None:
    """Return the coarsest hand grade on the shelf ahead of the chosen pass, None if none will do.

    Args:
        by_rule: the standards' limit, if there is one.
        chosen: the grade of the final DA pass.
        tool: the hand tool of the shop.
        shelf: the grades there are, coarse to fine.
        rates: groove depths and removal rates.
        minutes_max: minutes per dm² that a line gets.
        film_max_um: film in µm that may come off.
    """
    cleared = next(
        (
            grade
            for grade in shelf
            if clears(tool, grade, chosen, rates=rates, minutes_max=minutes_max, film_max_um=film_max_um)
        ),
        None,
    )
    if cleared is None:
        return None
    if by_rule is None:
        return cleared
    limit = finest(cleared, by_rule)
    return next((grade for grade in shelf if RANK[grade] >= RANK[limit]), None)
