"""The open job: advice with every change, problems refused, selection, what is saved."""

import pytest

from prepadvisor.checkoff import Wanted
from prepadvisor.planning import advise
from prepadvisor.records import Job, Problem
from prepadvisor.standards import House
from prepadvisor.tui.model import OpenJob, RefusedError, Session, add_panel, check_off, gate_view, with_colour


def test_every_change_is_advised_on_at_once(session: Session) -> None:
    """A solid colour needs no wet bed, and the advice says so without being asked."""
    assert _bed(session) == "required"
    session.do("flake solid", with_colour(session.job, flake="solid"))
    assert _bed(session) == "no"


def _bed(session: Session) -> str:
    assert session.advice is not None
    return session.advice.panels[0].wet_bed.need


def test_undo_advises_again(session: Session) -> None:
    """After undo the advice is the one before."""
    before = session.advice
    session.do("flake solid", with_colour(session.job, flake="solid"))
    session.undo()
    assert session.advice == before


def test_a_job_without_a_panel_has_no_advice_and_no_fault(shipped_house: House) -> None:
    """A job that has only a number can stand on the screens."""
    session = Session(OpenJob.new("7"), shipped_house, advise)
    assert session.advice is None
    assert session.trouble == ()


def test_a_change_with_a_problem_is_refused_and_leaves_the_job(
    door_and_wing: OpenJob, shipped_house: House
) -> None:
    """A refusal carries the words and changes nothing."""

    def judge(job: Job, house: House) -> list[Problem]:
        bad = job.colour.flake == "solid" and house is shipped_house
        return [Problem(("colour",), "no such colour", "take another")] if bad else []

    session = Session(door_and_wing, shipped_house, advise, judge)
    with pytest.raises(RefusedError, match="no such colour; take another"):
        session.do("flake solid", with_colour(session.job, flake="solid"))
    assert session.job == door_and_wing
    assert session.undo_name == ""


def test_a_job_is_dirty_until_it_is_saved(session: Session) -> None:
    """Saving is remembered, and undo after it makes the job differ from its file again."""
    session.do("flake solid", with_colour(session.job, flake="solid"))
    assert session.is_dirty
    session.mark_saved()
    assert not session.is_dirty
    session.undo()
    assert session.is_dirty


def test_the_selection_stays_on_the_job_when_its_panel_goes(session: Session) -> None:
    """Undoing the panel that is selected selects another one."""
    outline = session.house.outlines["bonnet"]
    job, panel_id = add_panel(session.job, outline, "clear-only")
    session.do("add bonnet", job)
    session.select(panel_id, "E1")
    session.undo()
    assert session.panel is not None
    assert session.part_id == "face"


def test_what_is_saved_in_the_log_is_not_taken_back(session: Session) -> None:
    """An entry that was saved stays when undo reaches it, and the words say so."""
    verdict = gate_view.gate_of(session)
    assert verdict is not None
    wanted = [Wanted("left-front-door/panel", "cleaned", "KM")]
    session.do("cleaned", check_off.logging(session, wanted)(session.job))
    session.mark_saved()
    told = session.undo()
    assert "never taken back" in told
    assert len(session.job.check) == 1


def test_what_is_not_saved_yet_is_taken_back_from_the_log(session: Session) -> None:
    """A slip of the finger at the check-off can be undone before it is saved."""
    wanted = [Wanted("left-front-door/panel", "cleaned", "KM")]
    session.do("cleaned", check_off.logging(session, wanted)(session.job))
    assert session.undo() == "cleaned"
    assert session.job.check == ()
