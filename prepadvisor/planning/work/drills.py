"""What to do where a look found something: which passes first, which then, and whether film lets them be cut.

No grade is named that the rules forbid at the place: one grade back is only taken where it lies in the range
that the plan has for a pass there.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from prepadvisor.cases import may_stay
from prepadvisor.planning.work.film import CUTS, Ledger, overrun
from prepadvisor.records import (
    CLEAR_SURFACES,
    DA_TOOLS,
    LEVELLED_SURFACES,
    Ask,
    Bed,
    Drill,
    FilmShort,
    Flake,
    LeadDecides,
    Look,
    NamedTuple,
    Place,
    Task,
    Zone,
    finest,
    is_finer,
)

if TYPE_CHECKING:
    from prepadvisor.records import Constants, Grade


def _enough(_asks: tuple[Ask, ...]) -> FilmShort | None:
    """Say that film lets everything be cut: it is not counted there."""


class DrillGround(NamedTuple):
    """What a drill goes by.

    Attributes:
        chain: the tasks of the place but its look.
        surface: what is sanded there.
        zones: its zones.
        flake: the flake as judged.
        shelf: grades of the shop.
        short: says of passes what film they lack, None where it lets them be cut.
        last_grade: the grade of the last cut there as logged, None where none is.
    """

    chain: Sequence[Task]
    surface: str
    zones: tuple[Zone, ...]
    flake: Flake
    shelf: Sequence["Grade"]
    short: "Callable[[tuple[Ask, ...]], FilmShort | None]" = _enough
    last_grade: "Grade | None" = None


class DrillShop(NamedTuple):
    """What passes are asked for by: the flake as judged, grades of the shop, the numbers in force."""

    flake: Flake
    shelf: Sequence["Grade"]
    constants: "Constants"


def drills_of(
    place: Place, chain: Sequence[Task], zones: tuple[Zone, ...], film: Ledger | None, shop: DrillShop
) -> dict[Look, Drill | LeadDecides]:
    """Return what the looks that a place's surface allows will ask for once all that is planned is done.

    Nothing where nothing is cut.

    Args:
        place: the place.
        chain: its tasks but the look.
        zones: its zones.
        film: what comes off it by then, by the plan and any log; None where the lead takes it as it is.
        shop: what passes are asked for by.
    """
    if not any(task.do in CUTS for task in chain):
        return {}

    def short(asks: tuple[Ask, ...]) -> FilmShort | None:
        gone = overrun(film, asks, chain, shop.constants) if film is not None else None
        if gone is None:
            return None
        return FilmShort(asks, gone.off_um, gone.off_max_um, may_stay(shop.flake, gone.grade))

    ground = DrillGround(chain, place.surface, zones, flake=shop.flake, shelf=shop.shelf, short=short)
    results: tuple[Look, ...] = ("lines", "low") if place.surface in LEVELLED_SURFACES else ("lines",)
    return {result: drill(result, ground) for result in results}


def drill(result: Look, ground: DrillGround, times: int = 1) -> Drill | LeadDecides:
    """Return what a finding asks for.

    Args:
        result: what was seen.
        ground: the place.
        times: how many looks in a row saw it.
    """
    on_fill = ground.surface in LEVELLED_SURFACES
    bed = _bed(ground)
    if result in {"clear", "cut-through"}:
        return Drill(result, (), zones=ground.zones, bed="no", on_fill=on_fill)
    lead = result != "gloss" and may_stay(ground.flake, ground.last_grade)
    if result in {"gloss", "low", "pinhole"}:
        whole = tuple(map(ask, ground.chain))
        if short := ground.short(whole):
            return LeadDecides(lead, short)
        return Drill(
            result=result,
            first=whole,
            minutes=_minutes(ground.chain),
            zones=ground.zones,
            on_fill=on_fill,
        )
    again, back = _again(ground.chain), _back(ground)
    first, then = (again, back) if times < 2 else (back, ())
    if short := ground.short(first):
        return LeadDecides(lead, short)
    if ground.short((*first, *then)):
        then = ()
    minutes = sum(task.minutes for task in _last(ground.chain))
    return Drill(
        result=result, first=first, then=then, minutes=minutes, bed=bed, zones=ground.zones, on_fill=on_fill
    )


def ask(task: Task) -> Ask:
    """Return a task as something to do."""
    return Ask(task.do, task.tool, task.grade, task.range)


def last_pass(chain: Sequence[Task]) -> tuple[Ask, ...]:
    """Return the last pass over a place, without its powder."""
    return tuple(ask(task) for task in _last(chain) if task.do != "powder")


def _last(chain: Sequence[Task]) -> tuple[Task, ...]:
    """Return the last pass over the place with its powder; split places have two."""
    cuts = [task for task in chain if task.do == "sand"] or [task for task in chain if task.do == "scuff"]
    if not cuts:
        return ()
    final = [task for task in cuts if not any(task.id in other.after for other in chain)]
    named = {each for task in final for each in task.after}
    powder = [task for task in chain if task.do == "powder" and task.id in named]
    return (*powder, *(final or cuts[-1:]))


def _again(chain: Sequence[Task]) -> tuple[Ask, ...]:
    """Return the last pass once more, with powder where a machine goes: it shows what is left."""
    last = _last(chain)
    by_machine = any(task.do == "sand" and task.tool in DA_TOOLS for task in last)
    if by_machine and not any(task.do == "powder" for task in last):
        return (Ask("powder"), *map(ask, last))
    return tuple(map(ask, last))


def _back(ground: DrillGround) -> tuple[Ask, ...]:
    """Return the pass before the last and the last: the plan's own, or one grade back where allowed."""
    last = [task for task in _last(ground.chain) if task.do != "powder"]
    if not last:
        return ()
    again = _again(ground.chain)
    earlier = [
        task
        for task in ground.chain
        if task.do == last[-1].do and task not in last and task.grade and last[-1].grade
        and is_finer(last[-1].grade, task.grade)
    ]  # fmt: skip
    if earlier:
        powder = (Ask("powder"),) if again and again[0].do == "powder" else ()
        return (*powder, ask(earlier[-1]), *again)
    grade = last[-1].grade
    back = _one_grade_back(grade, ground.shelf) if grade else None
    if back is None or last[-1].range is None or is_finer(last[-1].range[0], back):
        return ()
    powder = (Ask("powder"),) if again and again[0].do == "powder" else ()
    return (*powder, Ask(last[-1].do, last[-1].tool, back, last[-1].range), *again)


def _minutes(chain: Sequence[Task]) -> float:
    return sum(task.minutes for task in chain)


def _bed(ground: DrillGround) -> Bed:
    if ground.surface not in CLEAR_SURFACES or all(zone == "clear" for zone in ground.zones):
        return "no"
    return "lead" if may_stay(ground.flake, ground.last_grade) else "too-coarse"


def _one_grade_back(grade: "Grade", shelf: Iterable["Grade"]) -> "Grade | None":
    """Return the next coarser grade on the shelf, None where there is none."""
    coarser = [each for each in shelf if is_finer(grade, each)]
    return finest(*coarser) if coarser else None
