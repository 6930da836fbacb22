"""The small print of the gate: who and what counts for what, each rule read out plainly."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import pytest

from prepadvisor.checkoff import gate, recuts
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import Check, Job
from prepadvisor.records.gate import (
    Accepted,
    BasisLacks,
    BedTold,
    DoIt,
    Drill,
    LooksAged,
    NoBasis,
    PrimedUnseen,
    ScopeMoved,
)
from prepadvisor.standards import House
from tests.checkoff.plain_gate import ruled
from tests.checkoff.shopfloor import DOOR, Shopfloor, by_hand, commands
from tests.recompute.house import GRAIN, finer

E1, E2, FACE = f"{DOOR}/E1", f"{DOOR}/E2", f"{DOOR}/face"
WING = "left-front-wing"


def told(floor: Shopfloor, kind: type) -> list[object]:
    """Return the remarks of a kind."""
    return [each for each in floor.gate().gate.told if isinstance(each, kind)]


def test_only_looks_are_told_to_rest_on_nothing(floor: Shopfloor) -> None:
    """Of a log without bases the numbers of its looks, not of work, nor of one look for all."""
    floor.with_log(by_hand(floor.log, basis=False))
    looks = tuple(n for n, check in enumerate(floor.log, 1) if check.step == "inspected")
    assert told(floor, NoBasis) == [NoBasis(looks)]
    for_all = Check(at=floor.now, by="KM", panel=DOOR, feature="all", step="inspected", result="clear")
    assert told(floor.add(for_all), NoBasis) == [NoBasis(looks)]


def test_looks_that_lack_a_part_are_told_with_what_they_lack(floor: Shopfloor) -> None:
    """An older version wrote less; what is whole is not told."""
    at = next(n for n, check in enumerate(floor.log, 1) if check.step == "inspected")
    log = list(floor.log)
    older = " ".join(part for part in log[at - 1].basis.split() if not part.startswith(("scope:", "name:")))
    log[at - 1] = log[at - 1].model_copy(update={"basis": older})
    assert told(floor.with_log(log), BasisLacks) == [BasisLacks((at,), ("name", "scope"))]
    assert told(floor, ScopeMoved) == []


@pytest.mark.parametrize(("result", "held"), [("clear", False), ("lines", True), ("gloss", True)])
def test_a_look_over_the_whole_panel_touches_nothing_but_a_finding_does(
    floor: Shopfloor, result: str, held: bool
) -> None:
    """After the wipe a clear look for all renews; one that found something asks for the wipe again."""
    check = Check.model_validate({
        "at": floor.now, "by": "KM", "panel": DOOR, "feature": "all", "step": "inspected", "result": result,
        "id": "z-1", "knew": floor.log[-1].id,
    })  # fmt: skip
    assert ("wiped-before" in floor.add(check).gate().kinds(DOOR)) is held


@pytest.mark.parametrize(
    ("by", "leads", "own"), [("J. B.", ("J. B.",), False), ("K. M.", ("K. M.",), True), ("J. B.", (), False)]
)
def test_what_left_the_job_is_told_as_accepted_by_whom(
    worked_job: Job, shipped_house: House, by: str, leads: tuple[str, ...], own: bool
) -> None:
    """K. M. did the work; the only lead may accept his own, which is told."""
    house = replace(shipped_house, shop=shipped_house.shop.model_copy(update={"leads": leads}))
    floor = Shopfloor(worked_job, house).without_line("E2")
    assert E2 in floor.gate().held
    last = max(n for n, c in enumerate(floor.log, 1) if (c.panel, c.feature) == (DOOR, "E2"))
    floor.put(E2, "accepted", by=by, note="no such edge on this car")
    (found,) = told(floor, Accepted)
    assert isinstance(found, Accepted)
    assert (found.place, found.what and found.what.number, found.own) == (E2, last, own)
    assert E2 not in floor.gate().held


def test_a_rub_through_is_mended_by_work_on_its_patch_alone(floor: Shopfloor) -> None:
    """Blocked and looked at; a look or powder there alone is none, nor work that is dated ahead."""
    floor.put(E1, "inspected", result="cut-through")
    patch = {"id": "R9", "surface": "primer-surfacer", "at": [0.03, 0.5], "size_mm": [80, 100]}
    floor.with_panel(patch=[patch], colour_from=("front", "R9"))
    block = next(task for task in floor.advice.work.tasks if task.place == f"{DOOR}/R9" and task.do == "sand")
    how = {"tool": block.tool or "", "grade": block.grade or ""}

    def rubbed(one: Shopfloor) -> bool:
        return "rubbed-through" in one.put(E1, "inspected", result="clear").gate().kinds(E1)

    assert rubbed(floor.copy())
    assert rubbed(floor.copy().put(f"{DOOR}/R9", "inspected", result="clear"))
    assert not rubbed(floor.copy().put(f"{DOOR}/R9", "sanded", **how))
    ahead = floor.copy().put(f"{DOOR}/R9", "sanded", **how)
    late = ahead.log[-1].model_copy(update={"at": ahead.now + dt.timedelta(hours=9)})
    assert rubbed(ahead.with_log((*ahead.log[:-1], late)))


@pytest.mark.parametrize("start", ["P180", "P240", "P320", "P500"])
def test_a_coarse_cut_is_climbed_from_in_the_fewest_allowed_passes(fresh: Shopfloor, start: str) -> None:
    """Each pass finer and no farther than the standards let it jump: networkx finds no way of fewer."""
    floor = fresh.put(f"{DOOR}/panel", "cleaned")
    floor.put(FACE, "sanded", tool="da-soft", grade=start)
    hold = next(hold for hold in floor.gate().gate.holds if hold.place == FACE)
    assert isinstance(hold.mend, DoIt)
    cuts = [str(ask.grade) for ask in hold.mend.asks if ask.do == "sand"]
    ratio = max(ruled(floor.advice, FACE, "step_ratio_min"))
    steps = [start, *cuts]
    shelf = [str(grade) for grade in floor.house.shop.shelf]
    graph: nx.DiGraph[str] = nx.DiGraph()
    for one in {*shelf, start}:
        for other in shelf:
            if finer(other, one) and GRAIN[other] >= ratio * GRAIN[one] - 1e-9:
                graph.add_edge(one, other)
    assert all(graph.has_edge(one, other) for one, other in pairwise(steps))
    assert len(cuts) == nx.shortest_path_length(graph, start, cuts[-1])


def test_the_mend_of_a_recorded_scuff_is_the_advices_own_recut(shipped_house: House) -> None:
    """Powder, passes and minutes as the advice has them, then the rest of the plan."""
    job = load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    floor = Shopfloor(job.model_copy(update={"check": ()}), shipped_house).put(f"{DOOR}/panel", "cleaned")
    floor.put(E2, "scuffed", tool="hand-pad", grade="P500")
    advice = recuts(floor.job, floor.advice, shipped_house)
    done = next(place.done for place in advice.places if place.id == E2)
    assert done.recut
    hold = next(hold for hold in floor.gate().gate.holds if hold.place == E2)
    assert isinstance(hold.mend, DoIt)
    chain = [
        task for task in floor.advice.work.tasks
        if task.place == E2 and task.do in ("scuff", "powder", "sand")
    ]  # fmt: skip
    expected: list[tuple[str, str | None, str | None]] = []
    for step in done.recut[:-1]:
        expected += [("powder", None, None)] if step.guide_coat else []
        expected.append(("scuff" if "hand" in step.tool else "sand", step.tool, step.grade))
    expected += [(task.do, task.tool, task.grade) for task in chain]
    found: list[tuple[str, str | None, str | None]] = [(a.do, a.tool, a.grade) for a in hold.mend.asks]
    # what a machine re-cuts at a line that is scuffed by hand is asked for as the scuff's own step
    assert [each[1:] for each in found] == [each[1:] for each in expected]
    minutes = sum(step.minutes for step in done.recut[:-1]) + sum(task.minutes for task in chain)
    assert hold.mend.minutes == pytest.approx(minutes)
    assert any(step.guide_coat for step in done.recut[:-1])


def test_primer_put_on_a_whole_panel_too_early_holds_the_panel(shipped_house: House, fresh_job: Job) -> None:
    """The stage before is judged for that panel, not for its neighbour."""
    floor = Shopfloor(fresh_job, shipped_house).with_panel(WING, next="primer", surface="filler", patch=[])
    assert floor.advice.work.stages[0].id == "primer"
    floor.put(f"{WING}/panel", "cleaned")
    said = floor.put(f"{WING}/panel", "primed").gate()
    assert "primed-early" in said.kinds(WING)
    assert "primed-early" not in said.kinds(DOOR)


def test_a_mender_asks_for_the_whole_chain_only_from_where_it_broke(floor: Shopfloor) -> None:
    """A cleaning is asked for ahead only where it is the cleaning that was missing, and never done."""
    log = [check for check in floor.log if (check.panel, check.step) != (DOOR, "cleaned")]
    floor.with_log(by_hand(log))
    holds = [hold for hold in floor.gate().gate.holds if hold.place == E2]
    assert isinstance(holds[0].mend, DoIt)
    assert holds[0].mend.asks[0].do == "clean"
    clean = Check(at=floor.now, by="KM", panel=DOOR, feature="panel", step="cleaned")
    held = [hold for hold in floor.add(clean).gate().gate.holds if hold.place == E2]
    assert isinstance(held[0].mend, DoIt)
    assert held[0].mend.asks[0].do != "clean"


def test_looks_older_than_a_day_are_told_with_the_oldest(floor: Shopfloor) -> None:
    """Those of 24 hours and more, and how old the oldest is."""
    looks = [check for check in floor.log if check.step == "inspected"]
    (found,) = [each for each in floor.gate(dt.timedelta(hours=30)).gate.told if isinstance(each, LooksAged)]
    oldest = (floor.now - looks[0].at).total_seconds() / 3600 + 30
    assert found.hours == pytest.approx(oldest)
    assert set(found.places) == {f"{check.panel}/{check.feature}" for check in looks}
    young = floor.gate(dt.timedelta(hours=24) - (floor.now - looks[0].at) - dt.timedelta(minutes=1))
    assert not any(isinstance(each, LooksAged) for each in young.gate.told)


@pytest.mark.parametrize(("tool", "held"), [("da-soft", False), ("da", True)])
@pytest.mark.parametrize("flake", ["very-fine", "solid"])
def test_a_tool_that_cuts_deeper_is_judged_by_the_line_model_where_there_is_a_flake(
    worked_job: Job, shipped_house: House, tool: str, held: bool, flake: str
) -> None:
    """The grade is right; without the pad its lines would show in a very fine flake, and in none in solid."""
    floor = Shopfloor(worked_job.model_copy(update={"check": ()}), shipped_house).with_job(
        flake=flake, stages=2
    )
    floor.work_through()
    grade = next(check.grade for check in floor.log if (check.feature, check.step) == ("face", "sanded"))
    floor.put(FACE, "sanded", tool=tool, grade=grade or "")
    assert ("shows-lines" in floor.gate().kinds(FACE)) is (held and flake != "solid")


def test_a_ring_that_is_over_holds_nothing_and_hides_nothing(floor: Shopfloor) -> None:
    """The ring of a patch is no stranger; a place that is not there is one, logged after it too."""
    for feature in ("R1-ring", "E99", "R77-ring"):
        floor.add(Check(at=floor.now, by="KM", panel=WING, feature=feature, step="guide-coated"))
    assert {place for place in floor.gate().held if "/" in place} >= {f"{WING}/E99", f"{WING}/R77-ring"}
    assert f"{WING}/R1-ring" not in floor.gate().held


def test_a_place_that_the_plan_forgot_holds(floor: Shopfloor) -> None:
    """Nobody can have worked it; on a panel that is held as a whole its own hold says enough."""
    advice = floor.advice
    tasks = tuple(task for task in advice.work.tasks if task.place != E2)
    for unplanned, kinds in (((), ["not-planned"]), ((DOOR,), [])):
        forgot = advice._replace(work=advice.work._replace(tasks=tasks, unplanned=unplanned))
        said = gate(floor.job, forgot, floor.house, floor.now)
        assert [hold.fact.kind for hold in said.holds if hold.place == E2] == kinds


@pytest.mark.parametrize(("grade", "bed"), [("P1000", "lead"), ("P600", "too-coarse")])
def test_a_bed_over_lines_is_for_the_lead_unless_the_last_cut_is_too_coarse(
    floor: Shopfloor, grade: str, bed: str
) -> None:
    """By the last cut that was logged there, in a very fine flake."""
    floor.put(f"{DOOR}/H1", "scuffed", tool="hand-pad", grade=grade).put(
        f"{DOOR}/H1", "inspected", result="lines"
    )
    (mend,) = (hold.mend for hold in floor.gate().gate.holds if isinstance(hold.mend, Drill))
    assert mend.bed == bed


@pytest.mark.parametrize(("now", "used", "wrong"), [
    ("da-hard", "da-hard", False), ("da-hard", "da", False), ("da", "da-hard", True),
    ("block", "block", False), ("block", "hand-pad", True), ("block", "da", True), ("da", "block", True),
])  # fmt: skip
def test_filler_is_sanded_with_what_the_plan_goes_on_with_or_a_softer_sander(
    shipped_house: House, fresh_job: Job, now: str, used: str, wrong: bool
) -> None:
    """A hard sander only where the plan itself goes on with one; a block for a block and for nothing else."""
    filler = {"surface": "filler", "next": "primer", "patch": [], "now": {"tool": now, "grade": "P80"}}
    whole = {"role": "repair", "colour_from": (), "colour_mm": None, "fade_mm": None}
    floor = Shopfloor(fresh_job, shipped_house).with_panel(WING, **filler, **whole).work_through()
    own = [task for task in floor.advice.work.tasks if (task.place, task.stage) == (f"{WING}/face", "primer")]
    assert {task.tool for task in own if task.do == "sand"} == {now}
    log = [
        check.model_copy(update={"tool": used}) if check.step == "sanded" and check.panel == WING else check
        for check in floor.log
    ]
    assert ("wrong-tool" in floor.with_log(log).gate().kinds(f"{WING}/face")) is wrong


@pytest.mark.parametrize("first", ["unseen", "in order"])
def test_primer_put_on_too_early_holds_whatever_was_primed_before_it(
    shipped_house: House, fresh_job: Job, first: str
) -> None:
    """The wing by hand in the file with nothing above it, or all there done; then the door, only cleaned."""
    filler = {"surface": "filler", "next": "primer", "patch": []}
    whole = {"role": "repair", "colour_from": (), "colour_mm": None, "fade_mm": None}
    floor = Shopfloor(fresh_job, shipped_house)
    for panel in (DOOR, WING):
        floor.with_panel(panel, **filler, **whole)
    if first == "unseen":
        floor.add(Check(at=floor.now, by="KM", panel=WING, feature="panel", step="primed"))
    else:
        for args in commands(floor.advice):
            if args[0].startswith(WING):
                floor.run([args])
        floor.put(f"{WING}/panel", "primed")
    floor.put(f"{DOOR}/panel", "cleaned").put(f"{DOOR}/panel", "primed")
    assert ("primed-early" in floor.gate().kinds(WING), "primed-early" in floor.gate().kinds(DOOR)) == (
        False,
        True,
    )
    assert len(told(floor, PrimedUnseen)) == (first == "unseen")


def test_what_the_advice_forgot_is_no_leads_to_accept(floor: Shopfloor) -> None:
    """A spot without a finish and without a hold: the card is made again, whatever anybody writes."""
    floor.put(E2, "accepted", by="J. B.", note="hidden under the trim")
    advice = floor.advice
    silent = advice._replace(
        spots=tuple(spot._replace(finish=None) if spot.feature == "E2" else spot for spot in advice.spots)
    )
    said = gate(floor.job, silent, floor.house, floor.now)
    kinds = [hold.fact.kind for hold in said.holds if hold.place == E2]
    assert kinds[0] == "not-planned"
    assert f"{WING}/E2" in {hold.place for hold in said.holds}


def test_a_bed_is_told_where_one_is_asked_for_once_its_stage_is_worked(floor: Shopfloor) -> None:
    """On both panels of a very fine colour, on none of a solid one, and not while filler waits for primer."""
    assert [each.panel for each in told(floor, BedTold)] == [DOOR, WING]  # type: ignore[attr-defined]
    assert told(floor.copy().with_job(flake="solid", stages=2), BedTold) == []
    wing = next(panel for panel in floor.job.panel if panel.id == WING)
    patches = [{**patch.model_dump(), "surface": "filler", "next": "primer"} for patch in wing.patch]
    filler = floor.copy().with_log(()).with_panel(WING, patch=patches)
    assert [stage.id for stage in filler.advice.work.stages] == ["primer", "paint"]
    assert any(panel.wet_bed.need != "no" for panel in filler.advice.panels)
    assert told(filler, BedTold) == []
