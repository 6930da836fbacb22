"""What a finding asks for, against the words of the trade read out plainly, at every place of random jobs."""

import random
from collections.abc import Callable, Sequence
from typing import Final

import pytest

from prepadvisor.planning.work.drills import DrillGround, DrillShop, drill, drills_of
from prepadvisor.planning.work.film import once_planned, planned
from prepadvisor.records import Ask, Do, Drill, FilmShort, Grade, LeadDecides, Look, Task, Tool
from prepadvisor.standards import House
from tests.laws.checking import advised
from tests.recompute.house import GRAIN, finer
from tests.recompute.jobs import GRADES, drawn

FROM_FINE: Final = ("fine", "very-fine", "vapour")
SANDERS: Final = ("block", "da-hard", "da", "da-soft")
Pass = tuple[str, str | None, str | None]
POWDER: Final[Pass] = ("powder", None, None)


def plain(asks: tuple[Ask, ...]) -> list[Pass]:
    """Return what is done with what."""
    return [(each.do, each.tool, each.grade) for each in asks]


def told(task: Task) -> Pass:
    """Return a task likewise."""
    return task.do, task.tool, task.grade


def last_cuts(chain: list[Task]) -> list[Task]:
    """Return the cuts that end a place: sandings if there are any, those that nothing there follows."""
    cuts = [task for task in chain if task.do == "sand"] or [task for task in chain if task.do == "scuff"]
    waited_for = {name for task in chain for name in task.after}
    return [task for task in cuts if task.id not in waited_for]


def same_again(chain: list[Task]) -> list[Pass]:
    """Return the last cuts once more: under powder where a sander goes, which shows what is left."""
    cuts = last_cuts(chain)
    powders = [task for task in chain if task.do == "powder" and any(task.id in cut.after for cut in cuts)]
    found = [told(task) for task in (*powders, *cuts)]
    if not powders and any(cut.do == "sand" and cut.tool in SANDERS for cut in cuts):
        found.insert(0, ("powder", None, None))
    return found


def from_before(chain: list[Task], shelf: Sequence[str]) -> list[Pass]:
    """Return the cut before the last and the last; where there is none, one grade back if it is allowed."""
    again, cuts = same_again(chain), last_cuts(chain)
    if not cuts or not cuts[-1].grade:
        return []
    last = cuts[-1]
    assert last.grade is not None
    assert last.range is not None
    head: list[Pass] = [("powder", None, None)] if again[0][0] == "powder" else []
    before = [
        task for task in chain
        if task.do == last.do and task not in cuts and task.grade and finer(last.grade, task.grade)
    ]  # fmt: skip
    if before:
        return [*head, told(before[-1]), *again]
    coarser = [grade for grade in shelf if finer(last.grade, grade)]
    back = min(coarser, key=GRAIN.__getitem__, default=None)
    if back is None or finer(last.range[0], back):
        return []
    return [*head, (last.do, last.tool, back), *again]


def asks_of(passes: list[Pass]) -> tuple[Ask, ...]:
    """Return passes as they are asked for."""
    return tuple(Ask(*each) for each in passes)  # type: ignore[arg-type]


def within(most: int) -> Callable[[tuple[Ask, ...]], FilmShort | None]:
    """Return a ledger with film for so many cuts."""

    def short(asks: tuple[Ask, ...]) -> FilmShort | None:
        cuts = sum(each.do != "powder" for each in asks)
        return FilmShort(asks, cuts, most, may_follow=True) if cuts > most else None

    return short


@pytest.mark.practice
def test_drills_of_any_place_are_those_of_the_trade(shipped_house: House) -> None:
    """Lines: the same again, then from the step before; gloss and fill from the start; no film, the lead."""
    count, shelf = 0, list(shipped_house.shop.shelf)
    for seed in range(24):
        advice = advised(drawn(random.Random(seed)), shipped_house)
        chains: dict[str, list[Task]] = {}
        for task in advice.work.tasks if advice else ():
            if task.do in ("scuff", "powder", "sand") and task.stage == "paint":
                chains.setdefault(task.place, []).append(task)
        for place, chain in chains.items():
            rng = random.Random(f"{seed} {place}")
            zones = rng.choice((("clear",), ("fade", "clear"), ("colour",)))
            surface, flake = (
                rng.choice(("aged-clear", "filler", "sealer")),
                rng.choice((*FROM_FINE, "coarse")),
            )
            last = rng.choice((*GRADES, None))
            ground = DrillGround(
                chain=chain, surface=surface, zones=zones, flake=flake, shelf=shelf,  # type: ignore[arg-type]
                last_grade=last, short=within(rng.choice((0, 1, 2, 3, 9, 9, 9, 9))),  # type: ignore[arg-type]
            )  # fmt: skip
            for times in (1, 2):
                seen: Look = rng.choice(("lines", "lines", "gloss", "low", "pinhole", "cut-through"))
                found, count = drill(seen, ground, times), count + 1
                coarse = flake in FROM_FINE and (last is None or finer("P800", last))
                if isinstance(found, LeadDecides):
                    whole = [told(task) for task in chain]
                    again, back = same_again(chain), from_before(chain, shelf)
                    asked = whole if seen != "lines" else again if times == 1 else back
                    assert seen != "cut-through"
                    assert found.may_accept is (seen != "gloss" and not coarse)
                    assert found.film is not None
                    assert plain(found.film.asks) == asked
                    continue
                assert ground.short((*found.first, *found.then)) is None
                assert isinstance(found, Drill)
                assert (found.result, found.zones, found.on_fill) == (seen, zones, surface == "filler")
                if seen != "lines":
                    whole = [] if seen == "cut-through" else [told(task) for task in chain]
                    minutes = sum(task.minutes for task in chain) if whole else 0.0
                    assert (plain(found.first), found.then, found.bed) == (whole, (), "no")
                    assert found.minutes == pytest.approx(minutes)
                    continue
                again, back = same_again(chain), from_before(chain, shelf)
                assert plain(found.first) == (again if times == 1 else back)
                then = back if times == 1 and not ground.short((*found.first, *asks_of(back))) else []
                assert plain(found.then) == then
                named = {before for cut in last_cuts(chain) for before in cut.after}
                powders = [task for task in chain if task.do == "powder" and task.id in named]
                assert found.minutes == pytest.approx(
                    sum(task.minutes for task in (*powders, *last_cuts(chain)))
                )
                bed = "too-coarse" if coarse else "lead"
                assert found.bed == (bed if surface == "aged-clear" and zones != ("clear",) else "no")
    assert count > 100


@pytest.mark.practice
@pytest.mark.parametrize(
    ("do", "tool", "coarsest", "back"),
    [
        ("scuff", "hand-pad", "P800", [("scuff", "hand-pad", "P800"), ("scuff", "hand-pad", "P1000")]),
        ("scuff", "hand-pad", "P1000", []),
        ("sand", "da-soft", "P800",
         [POWDER, ("sand", "da-soft", "P800"), POWDER, ("sand", "da-soft", "P1000")]),
        ("sand", "da-soft", "P1000", []),
    ],
)  # fmt: skip
def test_one_grade_back_is_taken_where_it_is_allowed_with_powder_only_for_a_machine(
    do: Do, tool: Tool, coarsest: str, back: list[Pass]
) -> None:
    """The next coarser grade of the shelf; with P1000 as the coarsest there is only the lead left."""
    grade = Grade("P1000")
    task = Task("p/E1.x.1", "paint", "p/E1", do, tool, grade, (Grade(coarsest), Grade("P1500")), minutes=3.0)
    shelf = tuple(map(Grade, ("P500", "P800", "P1000", "P1200")))
    ground = DrillGround((task,), "aged-clear", ("clear",), "solid", shelf)
    once, twice = drill("lines", ground), drill("lines", ground, 2)
    assert isinstance(once, Drill)
    assert isinstance(twice, Drill)
    assert (plain(once.first)[-1], plain(once.then)) == ((do, tool, "P1000"), back)
    assert (plain(twice.first), twice.then) == (back, ())
    assert (once.minutes, twice.minutes) == (3.0, 3.0)


@pytest.mark.practice
@pytest.mark.parametrize(("do", "tool"), [("scuff", "hand-pad"), ("sand", "da-soft")])
def test_the_plans_own_pass_before_the_last_is_taken_again(do: Do, tool: Tool) -> None:
    """With powder ahead of it only where the last has powder; finer or equal ones before are none."""
    wide = (Grade("P800"), Grade("P1500"))
    chain = [
        Task(
            f"p/E1.{at}", "paint", "p/E1", do, tool, Grade(grade), wide, (f"p/E1.{at - 1}",), minutes=1.0 + at
        )
        for at, grade in enumerate(("P600", "P800", "P1500"))
    ]
    found = drill("lines", DrillGround(chain, "aged-clear", ("clear",), "solid", (Grade("P1200"),)), 2)
    assert isinstance(found, Drill)
    powder = [POWDER] if do == "sand" else []
    assert plain(found.first) == [*powder, (do, tool, "P800"), *powder, (do, tool, "P1500")]
    assert found.minutes == 3.0


@pytest.mark.practice
@pytest.mark.parametrize(
    ("surface", "does", "results"),
    [
        ("aged-clear", ("scuff", "powder", "sand", "look"), {"lines"}),
        ("aged-clear", ("scuff", "look"), {"lines"}),
        ("filler", ("powder", "sand", "look"), {"lines", "low"}),
        ("feather-edge", ("sand", "look"), {"lines", "low"}),
        ("aged-clear", ("look",), set()),
        ("filler", ("powder", "look"), set()),
    ],
)  # fmt: skip
def test_a_card_has_drills_for_what_is_cut(
    shipped_house: House, surface: str, does: tuple[Do, ...], results: set[str]
) -> None:
    """Lines everywhere, low spots in fill; a place worked with another has none of its own."""
    advice = advised(drawn(random.Random(0)), shipped_house)
    assert advice is not None
    place = advice.places[0]._replace(surface=surface)  # type: ignore[arg-type]
    grade = Grade("P1000")
    tasks = [Task(f"{place.id}.{do}.1", "paint", place.id, do, None, grade, (grade, grade)) for do in does]
    chain = [task for task in tasks if task.do != "look"]
    rates = DrillShop("solid", shipped_house.shop.shelf, shipped_house.constants)
    made = drills_of(place, chain, ("clear",), None, rates)
    assert set(made) == results
    whole = [told(task) for task in chain]
    assert all(isinstance(one, Drill) for one in made.values())
    assert all(plain(one.first) == whole for name, one in made.items() if name == "low")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("off_um", "most_um", "stops"), [(3.5, 5.0, False), (4.2, 5.0, False), (4.3, 5.0, True)]
)
def test_a_card_asks_for_no_pass_that_film_is_too_short_for(
    shipped_house: House, off_um: float, most_um: float, *, stops: bool
) -> None:
    """P1000 by pad, then by DA: 18.3 µm of grain, 0.039 of it deep, so 0.714 µm for the same pass again."""
    advice = advised(drawn(random.Random(0)), shipped_house)
    assert advice is not None
    place = advice.places[0]._replace(surface="aged-clear")
    grade, coarse = Grade("P1000"), Grade("P800")
    chain = [
        Task("p/L.scuff.1", "paint", "p/L", "scuff", "hand-pad", grade, (coarse, grade), film_off_um=0.0),
        Task("p/L.sand.1", "paint", "p/L", "sand", "da-soft", grade, (grade, grade), film_off_um=off_um),
    ]
    rates = DrillShop("very-fine", shipped_house.shop.shelf, shipped_house.constants)
    film = once_planned(planned(chain, most_um), chain, rates.constants)
    (one,) = drills_of(place, chain, ("fade",), film, rates).values()
    assert isinstance(one, LeadDecides) is stops
    if isinstance(one, LeadDecides):
        assert one.film is not None
        assert one.film.off_um == pytest.approx(off_um + 0.039 * 18.3)
        assert (one.film.off_max_um, one.film.may_follow) == (most_um, True)
    assert isinstance(drills_of(place, chain, ("fade",), None, rates)["lines"], Drill)
