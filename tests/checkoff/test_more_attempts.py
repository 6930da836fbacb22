"""More ways past the gate of the same kinds: primer of another car, names with blanks, clever edits."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import tomli
import tomli_w

from prepadvisor.files import demo_jobs_dir, load_house, load_job, rules_dir
from prepadvisor.logbook import Writer
from prepadvisor.records import BadInputError, Check, Job
from prepadvisor.standards import House
from tests.checkoff.shopfloor import DOOR, START, Shopfloor, by_hand, commands
from tests.checkoff.test_attempts import E1, E2, FACE, H1, WING, index, wipe

pytestmark = pytest.mark.practice


@pytest.fixture
def filler(shipped_house: House) -> Shopfloor:
    """Return a quarter with filler that gets primer next, nothing logged."""
    job = load_job(str(demo_jobs_dir() / "filler-up-to-primer.toml"), shipped_house)
    return Shopfloor(job.model_copy(update={"check": ()}), shipped_house)


def patch_of(floor: Shopfloor) -> str:
    """Return the place of the patch."""
    panel = floor.job.panel[0]
    return f"{panel.id}/{panel.patch[0].id}"


def test_two_stages_one_job(filler: Shopfloor) -> None:
    """Clear for primer; primed; then the block with powder before it; then clear to mask."""
    said = filler.work_through().gate()
    assert (said.clear, said.gate.stage) == (True, "primer")
    said = filler.put(patch_of(filler), "primed").gate()
    assert (said.clear, said.gate.stage) == (False, "paint")
    assert said.states(patch_of(filler))["powder.1"] == "open"
    said = filler.work_through().gate()
    assert (said.clear, said.gate.stage) == (True, "paint")


@pytest.mark.parametrize("left_out", ["guide-coated", "sanded", "inspected"])
def test_primed_over_filler_that_was_not_done(filler: Shopfloor, left_out: str) -> None:
    """HELD though all of the paint stage is done: what lies under primer cannot be done any more."""
    filler.work_through()
    where = patch_of(filler)
    at = index(filler.log, where, left_out)
    filler.with_log(by_hand(check for n, check in enumerate(filler.log) if n != at))
    filler.put(where, "primed").work_through()
    said = filler.gate()
    assert said.kinds(where) == ["primed-early"]
    assert "take the entry back" in said.mend(where)


def test_primed_at_once(filler: Shopfloor) -> None:
    """HELD."""
    filler.put(patch_of(filler), "primed").work_through()
    assert "primed-early" in filler.gate().kinds(patch_of(filler))


def test_primed_taken_back(filler: Shopfloor) -> None:
    """The job is in its primer stage again."""
    filler.work_through().put(patch_of(filler), "primed")
    filler.put(patch_of(filler), "struck", of=filler.log[-1].id, note="primer was for the other car")
    said = filler.gate()
    assert (said.clear, said.gate.stage) == (True, "primer")


def test_the_log_of_a_primed_car_copied_to_another(filler: Shopfloor) -> None:
    """HELD in the primer stage: the primer is on another car."""
    filler.work_through().put(patch_of(filler), "primed").work_through()
    said = filler.with_job(number="2077").gate()
    assert (said.clear, said.gate.stage) == (False, "primer")


def test_primed_again_reopens_patch_face_and_the_lines_it_touches(filler: Shopfloor) -> None:
    """A second primer means a second block."""
    filler.work_through().put(patch_of(filler), "primed").work_through()
    filler.put(patch_of(filler), "primed")
    held = filler.gate().held
    assert {patch_of(filler), f"{filler.job.panel[0].id}/face"} <= held


@pytest.mark.parametrize("blank", [" ", "\u00a0", "\u2003"])
@pytest.mark.parametrize("part", ["panel", "feature"])
def test_a_name_with_a_blank_behind_it(floor: Shopfloor, blank: str, part: str) -> None:
    """HELD, read as in a file: it is another name, and whoever wrote it meant something."""
    at = index(floor.log, E1, "inspected")
    check = floor.log[at]
    odd = Check.model_validate({**check.model_dump(), part: getattr(check, part) + blank})
    log = [*floor.log[:at], odd, *floor.log[at + 1 :]]
    said = floor.with_log(log).gate()
    assert E1 in said.held
    assert f"{odd.panel}/{odd.feature}" in said.held


@pytest.mark.parametrize("gone", ["knew", "id"])
def test_a_look_moved_above_the_sanding_with_its_traces_wiped_out(floor: Shopfloor, gone: str) -> None:
    """HELD: without them it knew what stands above it, and the sanding does not."""
    log = list(floor.log)
    look = log.pop(index(floor.log, E1, "inspected"))
    traces = {"knew": ""} if gone == "knew" else {"knew": "", "id": ""}
    log.insert(index(floor.log, E1, "sanded"), look.model_copy(update=traces))
    assert E1 in floor.with_log(log).gate().held


def test_a_look_said_to_have_known_everything(floor: Shopfloor) -> None:
    """HELD: nobody knew what stands below him."""
    floor.put(E1, "sanded", tool="da-soft", grade="P1000")
    log = list(floor.log)
    at = index(floor.log, E1, "inspected")
    log[at] = log[at].model_copy(update={"knew": log[-1].id})
    assert E1 in wipe(floor.with_log(log)).gate().held


def test_an_id_used_twice(floor: Shopfloor) -> None:
    """HELD: an old look copied to the end with its id is no new one."""
    floor.put(E1, "sanded", tool="da-soft", grade="P1000")
    old = floor.log[index(floor.log, E1, "inspected")]
    assert E1 in wipe(floor.add(old)).gate().held
    assert E1 in wipe(floor.copy().add(old.model_copy(update={"note": "again"}))).gate().held


def test_a_log_pasted_twice(floor: Shopfloor) -> None:
    """CLEAR, and told: what stands twice counts once."""
    said = floor.with_log([*floor.log, *floor.log]).gate()
    assert said.clear
    assert "it counts once" in said.told


def test_a_whole_panel_taken_out_is_told(floor: Shopfloor) -> None:
    """Never done and gone: nobody would miss it."""
    log = [check for check in by_hand(floor.log) if check.panel == DOOR]
    job = floor.job.model_copy(update={"panel": floor.job.panel[:1], "check": tuple(log)})
    said = Shopfloor(job, floor.house).gate()
    assert said.clear
    assert "panels came to the job or went" in said.told


def test_a_worked_panel_taken_out_holds_at_its_places(floor: Shopfloor) -> None:
    """HELD until the lead names them."""
    job = floor.job.model_copy(update={"panel": floor.job.panel[:1]})
    assert {f"{WING}/face", f"{WING}/R1"} <= Shopfloor(job, floor.house).gate().held


@pytest.mark.parametrize("parts", [{"surface": "filler"}, {"next": "sealer"}, {"size_mm": [320, 250]}])
def test_a_patch_that_is_another(floor: Shopfloor, parts: dict[str, object]) -> None:
    """HELD: what was looked at was not this."""
    patch = {**floor.job.panel[1].patch[0].model_dump(), **parts}
    assert not floor.with_panel(WING, patch=[patch]).gate().clear


@pytest.mark.parametrize("parts", [{"reach": "hand"}, {"seen": False}, {"kind": "body-line"}])
def test_a_line_that_is_of_another_kind(floor: Shopfloor, parts: dict[str, Any]) -> None:
    """HELD."""
    assert E2 in floor.with_line("E2", **parts).gate().held


def test_a_measured_flake_that_is_finer(floor: Shopfloor) -> None:
    """HELD where colour comes over it."""
    assert E1 in floor.with_job(flake_um=5.0).gate().held


@pytest.mark.parametrize("by", ["K. M.", "J. B."])
def test_an_adverse_look_struck(floor: Shopfloor, by: str) -> None:
    """By who worked there HELD; by anybody else, where the shop names no lead, told."""
    floor.put(E1, "inspected", result="lines", by="J. S.")
    floor.put(E1, "struck", of=floor.log[-1].id, note="it was the lamp", by=by)
    said = wipe(floor).gate()
    assert said.clear is (by == "J. B.")
    assert "was taken back" in said.told or "takes nothing back" in said.told


def test_the_last_sanding_struck_after_the_look(floor: Shopfloor) -> None:
    """HELD: what is taken back was not done."""
    sanding = floor.log[index(floor.log, E1, "sanded")]
    assert E1 in floor.put(E1, "struck", of=sanding.id, note="it was E2").gate().held


def test_the_look_that_found_lines_struck_by_its_writer(floor: Shopfloor) -> None:
    """HELD: only a lead takes back what was found."""
    floor.put(E1, "inspected", result="lines")
    floor.put(E1, "struck", of=floor.log[-1].id, note="slip of the key")
    assert E1 in wipe(floor).gate().held


def test_acceptance_of_what_comes_after_it(floor: Shopfloor) -> None:
    """HELD: an acceptance in store is none."""
    floor.put(E1, "accepted", by="J. B.", note="whatever they find")
    floor.put(E1, "inspected", result="lines")
    assert E1 in wipe(floor).gate().held


def test_acceptance_by_who_did_not_know(floor: Shopfloor) -> None:
    """HELD: he had not read that lines were seen."""
    read = floor.log
    floor.put(E1, "inspected", result="lines")
    named = floor.copy().put(E1, "accepted", by="J. B.", note="hardly to be seen").log[-1]
    late = Writer("other").stamp(
        named.model_copy(update={"id": "", "knew": "", "of": floor.log[-1].id}), read
    )
    assert E1 in wipe(floor.add(late)).gate().held


@pytest.mark.parametrize("times", [1, 3])
def test_wiped_and_nothing_else_for_a_week(floor: Shopfloor, times: int) -> None:
    """HELD: fresh wipes do not make old looks new."""
    for _ in range(times):
        floor.now += dt.timedelta(days=5)
        wipe(floor)
    assert {E1, H1, FACE} <= floor.gate().held


def test_powder_in_a_place_for_the_hand_alone(floor: Shopfloor) -> None:
    """HELD: it stays there as specks until it is cut out by hand."""
    powder = Check(at=floor.now, by="KM", panel=DOOR, feature="H1", step="guide-coated")
    floor.add(floor.writer.stamp(powder, floor.log)).put(H1, "inspected", result="clear")
    floor.put(FACE, "inspected", result="clear")
    assert H1 in wipe(floor).gate().held


def test_a_machine_in_a_place_for_the_hand_alone(floor: Shopfloor) -> None:
    """HELD."""
    odd = Check(at=floor.now, by="KM", panel=DOOR, feature="H1", step="sanded", tool="da", grade="P1500")
    floor.add(floor.writer.stamp(odd, floor.log)).put(H1, "inspected", result="clear")
    assert "not-asked" in wipe(floor).gate().kinds(H1)


def test_nothing_at_all(fresh_job: Job, floor_of: Callable[[Job], Shopfloor]) -> None:
    """HELD at every place."""
    empty = floor_of(fresh_job)
    empty.now = START
    assert len(empty.gate().held) == len(empty.advice.places) + 2


@pytest.mark.parametrize(("result", "holds"), [("cut-through", True), ("lines", True), ("clear", False)])
def test_what_was_found_at_work_counts_as_found(floor: Shopfloor, result: str, holds: bool) -> None:
    """HELD: whoever writes at the last sanding that it went through has seen it."""
    at = index(floor.log, E1, "sanded")
    log = list(floor.log)
    log[at] = log[at].model_copy(update={"result": result})
    assert (E1 in floor.with_log(log).gate().held) is holds


def test_lines_done_while_primer_cures_count(filler: Shopfloor) -> None:
    """Entries count for their place whenever logged; only what the primer touches is owed anew."""
    filler.work_through().put(patch_of(filler), "primed")
    steps = [args for args in commands(filler.advice) if args[1] in {"cleaned", "scuffed"}]
    early = Shopfloor(filler.job.model_copy(update={"check": filler.log[:-1]}), filler.house)
    early.now = filler.now
    early.run(args for args in steps if args[1] == "scuffed").put(patch_of(filler), "primed")
    done = [task for task in early.gate().gate.work.tasks if task.stage == "paint" and task.do == "scuff"]
    assert done
    assert {task.state for task in done} == {"done"}


def test_a_house_that_takes_all_lines_of_an_outline_away_is_refused(tmp_path: Path) -> None:
    """Else a door would clear with its face alone."""
    outlines = tomli.loads((rules_dir() / "panels.toml").read_text(encoding="utf-8"))
    bare = [{**each, "feature": []} for each in outlines["outline"] if each["kind"] == "rear-door"]
    (tmp_path / "panels.toml").write_text(tomli_w.dumps({"outline": bare}), encoding="utf-8")
    with pytest.raises(BadInputError):
        load_house(tmp_path)


def test_primer_put_on_before_the_log_began_is_told(filler: Shopfloor) -> None:
    """Written by hand over work of which the log has nothing: CLEAR, with a word."""
    panel, patch = patch_of(filler).split("/")
    filler.add(Check(at=START, by="KM", panel=panel, feature=patch, step="primed")).work_through()
    said = filler.gate()
    assert said.clear
    assert "nothing of the work under this primer" in said.told


def test_primer_over_unfinished_work_accepted_by_name(filler: Shopfloor) -> None:
    """The primer is on: the lead may let it stand, in writing, told."""
    filler.put(patch_of(filler), "primed")
    primed = filler.log[-1].id
    filler.work_through().put(
        patch_of(filler), "accepted", of=primed, by="J. B.", note="sanded before my eyes"
    )
    said = filler.gate()
    assert said.clear
    assert "sanded before my eyes" in said.told
