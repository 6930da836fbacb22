"""Film as a ledger, against a plain sum: what is planned plus each further pass's scratches below it."""

import pytest

from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.checkoff import free_tasks, ledger, views
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.logbook import Logbook
from prepadvisor.records import DS50_UM, Check, Grade, Task
from prepadvisor.records.gate import Drill, FilmSpent, LeadDecides, MendFact, WetDrill
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, Shopfloor, commands

E2 = f"{DOOR}/E2"
P1000 = Grade("P1000")
CHAIN = (
    Task(
        "p/E2.scuff.1", "paint", "p/E2", "scuff", "hand-pad", P1000, (P1000, Grade("P4000")), film_off_um=0.0
    ),
    Task(
        "p/E2.sand.1",
        "paint",
        "p/E2",
        "sand",
        "da-soft",
        P1000,
        (P1000, Grade("P1500")),
        ("p/E2.scuff.1",),
        film_off_um=1.2,
    ),
)


def _sum(floor: Shopfloor, passes: list[tuple[str, str, str]], most: float) -> tuple[float, int | None]:
    checks = [
        Check.model_validate(
            {
                "at": floor.now, "by": "KM", "panel": "p", "feature": "E2", "step": step, "tool": tool,
                "grade": grade,
            }
        )
        for step, tool, grade in passes
    ]  # fmt: skip
    found = ledger(Logbook.read(checks).entries, CHAIN, most, floor.house)
    return found.off_um, found.over.number if found.over else None


PLANNED = [("scuffed", "hand-pad", "P1000"), ("sanded", "da-soft", "P1000")]


@pytest.mark.parametrize("again", [0, 1, 2, 5])
def test_each_further_pass_takes_off_the_scratches_below_it(fresh: Shopfloor, again: int) -> None:
    """Five re-cuts with the same grade take five times its depth; the first pass is the plan's own."""
    depth = fresh.house.constants.groove.depth_per_grain["da-soft"].value * DS50_UM[Grade("P1000")]
    off, over = _sum(fresh, [*PLANNED, *[("sanded", "da-soft", "P1000")] * again], 3.0)
    assert off == pytest.approx(1.2 + again * depth)
    first = next((n for n in range(again + 1) if 1.2 + n * depth > 3.0), None)
    assert over == (None if first is None else 2 + first)


def test_a_coarse_scuff_costs_its_depth_to_cut_out(fresh: Shopfloor) -> None:
    """Its scratches are what the next pass takes off."""
    depth = fresh.house.constants.groove.depth_per_grain["hand-pad"].value * DS50_UM[Grade("P320")]
    passes = [*PLANNED, ("scuffed", "hand-pad", "P320"), ("sanded", "da-soft", "P1000")]
    fine = fresh.house.constants.groove.depth_per_grain["da-soft"].value * DS50_UM[Grade("P1000")]
    assert _sum(fresh, passes, 9.0)[0] == pytest.approx(1.2 + fine + depth)


def test_what_is_planned_alone_is_never_over(fresh: Shopfloor) -> None:
    """That would be the plan's own hold."""
    off, over = _sum(fresh, PLANNED, 0.1)
    assert off == pytest.approx(1.2)
    assert over is None


def recut(floor: Shopfloor, times: int) -> Shopfloor:
    """Find lines and work them over, so many times."""
    for _ in range(times):
        floor.put(E2, "inspected", result="lines").put(E2, "guide-coated")
        floor.put(E2, "sanded", tool="da-soft", grade="P1000")
    return floor.put(E2, "inspected", result="clear")


def test_too_many_recuts_stop_and_the_lead_decides(floor: Shopfloor) -> None:
    """5 µm may come off a line (rules/base, practice): then STOP, and nothing more is cut."""
    assert "film-spent" not in recut(floor.copy(), 2).gate().kinds(E2)
    said = recut(floor, 9).gate()
    assert "film-spent" in said.kinds(E2)
    assert "STOP" in said.why(E2)
    assert "cut no more; the lead decides" in said.mend(E2)
    assert E2 in {found.place for found in said.gate.found}


def test_a_drill_cuts_no_more_once_film_is_spent(floor: Shopfloor) -> None:
    """Lines seen on a line whose film is spent: no drill, the lead, until he has accepted what came off."""
    said = recut(floor, 9).put(E2, "inspected", result="lines").gate()
    assert said.mend(E2).count("stop, cut no more") == 2
    spent = next(hold.fact for hold in said.gate.holds if isinstance(hold.fact, FilmSpent))
    floor.put(E2, "accepted", by="L. D.", note="gauged, enough clear left", of=spent.said.check.id)
    assert floor.gate().mend(E2).startswith("guide coat, P1000 with DA")


@pytest.mark.parametrize("times", [0, 4, 5])
def test_a_card_asks_for_what_the_gate_asks_for_once_lines_are_seen(floor: Shopfloor, times: int) -> None:
    """1.28 µm planned at the edge, 0.71 for each pass more: the sixth goes over 5, the lead is left."""
    recut(floor, times)
    card = Papers(floor.job, floor.advice, floor.house, floor.gate().gate)
    for place in (E2, f"{DOOR}/E1", f"{DOOR}/face"):
        gate = floor.copy().put(place, "inspected", result="lines").gate().gate
        asked = next(hold.mend for hold in gate.found if hold.place == place)
        drill = card.drills[place]["lines"]
        assert isinstance(drill, LeadDecides) is (place == E2 and times == 5)
        assert type(asked) is type(drill)
        if isinstance(drill, Drill) and isinstance(asked, Drill):
            assert (drill.first, drill.then) == (asked.first, asked.then)
        elif isinstance(drill, LeadDecides):
            assert drill.film == asked.film  # type: ignore[union-attr]
    says = " ".join(one.says for one in card_sheet(card).panels[0].drills)
    assert ("At A2 no film is left for it: cut no more, the lead decides." in says) is (times == 5)
    spent = next((hold for hold in floor.gate().gate.found if hold.fact.kind == "film-spent"), None)
    assert spent is None


def test_the_ledger_changes_no_step(floor: Shopfloor, shipped_house: House) -> None:
    """The plan of a job is the same whatever was logged."""
    before = floor.advice.work
    after = Shopfloor(recut(floor, 3).job, shipped_house).advice.work
    assert before == after


def test_a_cut_without_tool_or_grade_has_no_depth_that_is_known(fresh: Shopfloor) -> None:
    """The pass over it costs nothing that could be told; the pass after that costs its own again."""
    depth = fresh.house.constants.groove.depth_per_grain["da-soft"].value * DS50_UM[P1000]
    for tool, grade in ((None, "P1000"), ("da-soft", None)):
        passes = [*PLANNED, ("sanded", tool, grade), *[("sanded", "da-soft", "P1000")] * 2]
        assert _sum(fresh, passes, 99.0)[0] == pytest.approx(1.2 + 2 * depth)  # type: ignore[arg-type]


def test_a_mend_that_film_is_too_short_for_is_the_leads_beforehand(shipped_house: House) -> None:
    """A solid colour's recess, P800 by pad (0.07 of the grain deep), then P400 over it, as worked by hand.

    1.53 µm planned, 1.53 for the P400 over the P800, 2.45 for the P800 over the P400: 5.50 of 5.
    """
    job = load_job(demo_jobs_dir() / "solid.toml", shipped_house).model_copy(update={"check": ()})
    where = "left-rear-door/H1"
    floor = Shopfloor(job, shipped_house).work_through().put(where, "scuffed", tool="hand-pad", grade="P400")
    said = floor.gate()
    hold = next(hold for hold in said.gate.holds if hold.fact.kind == "cut-too-coarse")
    assert isinstance(hold.mend, LeadDecides)
    assert hold.mend.film is not None
    assert [each.grade for each in hold.mend.film.asks] == ["P800"]
    assert hold.mend.film.off_um == pytest.approx(0.07 * 21.8 * 2 + 0.07 * 35.0)
    assert (hold.mend.film.off_max_um, hold.mend.film.may_follow, hold.mend.may_accept) == (5.0, True, True)
    assert said.mend(where).startswith("stop, cut no more")
    (view,) = (
        place for panel in views(said.gate, said.advice) for place in panel.places if place.id == where
    )
    assert (view.next, view.stop) == (None, hold)
    assert {task.place for task in free_tasks(said.gate)} == {
        task.place for task in said.advice.work.tasks if task.owed and task.place != where
    }
    assert "wipe" not in {task.do for task in free_tasks(said.gate)}


def test_the_lead_accepts_the_coarse_cut_never_the_fine_one_that_ran_over_it(floor: Shopfloor) -> None:
    """P320 by DA on the face, then P1000: the P320 is still under it, whatever is said of the P1000."""
    face = f"{DOOR}/face"
    floor.put(face, "sanded", tool="da-soft", grade="P320").put(face, "sanded", tool="da-soft", grade="P1000")
    floor.put(face, "accepted", by="L. D.", note="looks good", of=floor.log[-1].id)
    assert "still-coarse" in floor.gate().kinds(face)


def test_what_a_wet_coat_shows_where_film_is_spent_is_the_leads_but_for_a_rub_through(
    floor: Shopfloor,
) -> None:
    """Lines would be sanded out again; nothing is cut to mend a rub-through."""
    spent = recut(floor, 9)
    kinds: dict[str, MendFact] = {
        result: next(
            hold.mend
            for hold in spent.copy().put(E2, "seen-wet", result=result).gate().gate.holds
            if hold.place == E2 and hold.fact.kind in ("saw-something", "rubbed-through")
        )
        for result in ("lines", "cut-through")
    }
    lines = kinds["lines"]
    assert isinstance(lines, LeadDecides)
    assert lines.may_accept
    assert lines.film is not None
    assert [each.grade for each in lines.film.asks] == ["P1000"]
    assert isinstance(kinds["cut-through"], WetDrill)


def test_the_lead_is_asked_before_the_first_pass_that_goes_over_and_only_if_it_is_one(
    fresh: Shopfloor,
) -> None:
    """Cut by cut on an edge that may lose 5 µm: 1.28 planned, 0.71 for each pass over P1000 by DA."""
    floor = fresh.run(step for step in commands(fresh.advice) if step[0] != E2)
    floor.run(step for step in commands(fresh.advice) if step[0] == E2)
    for times in range(1, 8):
        floor.put(E2, "inspected", result="lines")
        found = next(
            hold.mend
            for hold in floor.gate().gate.holds
            if (hold.place, hold.fact.kind) == (E2, "saw-something")
        )
        would = 1.281 + 0.039 * 18.3 * times
        assert isinstance(found, LeadDecides) is (would > 5.0)
        if isinstance(found, LeadDecides):
            assert found.film is not None
            assert found.film.off_um == pytest.approx(would, abs=1e-3)
            assert "film-spent" not in floor.gate().kinds(E2)
            return
        floor.put(E2, "guide-coated").put(E2, "sanded", tool="da-soft", grade="P1000")
        floor.put(E2, "inspected", result="clear")
    raise AssertionError


def test_a_pass_that_is_too_fine_is_nobodys_to_accept_for_its_film_either(floor: Shopfloor) -> None:
    """P3000 as the pass that goes over: it does not key, so the place is planned anew."""
    recut(floor, 5)
    floor.put(E2, "guide-coated").put(E2, "sanded", tool="da-soft", grade="P3000")
    spent = next(hold for hold in floor.gate().gate.holds if hold.fact.kind == "film-spent")
    assert isinstance(spent.fact, FilmSpent)
    assert spent.fact.said.check.grade == "P3000"
    assert spent.mend == LeadDecides(may_accept=False)
    fine = next(hold.mend for hold in floor.gate().gate.holds if hold.fact.kind == "cut-too-fine")
    assert isinstance(fine, LeadDecides)
    assert fine.film is not None
    assert (fine.may_accept, fine.film.may_follow) == (False, False)
