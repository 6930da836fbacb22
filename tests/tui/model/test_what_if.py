"""Trials that change nothing, and go back one by one."""

from pathlib import Path

import pytest

from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records import RANK, Colour
from prepadvisor.standards import House
from prepadvisor.tui.model import (
    OpenJob,
    RefusedError,
    Session,
    WhatIf,
    changes,
    place_of,
    revised,
    with_more_coats,
)


@pytest.fixture
def trial(session: Session) -> WhatIf:
    """No trial yet on the demo job."""
    return WhatIf(session, with_more_coats)


def test_a_finer_flake_asks_for_a_finer_finish(trial: WhatIf, session: Session) -> None:
    """Vapour after very fine: P1500 after P1000, and the job is untouched."""
    before = session.job
    trial.finer_flake(1)
    place = place_of(trial.advice, "left-front-door/face")
    assert place is not None
    assert place.finish == "P1500"
    assert session.job is before
    assert session.undo_name == ""


def test_what_changed_is_named(trial: WhatIf, session: Session) -> None:
    """In words with before and after."""
    trial.finer_flake(1)
    changed = changes(session.advice, trial.advice, "left-front-door/face")
    assert "finish P1000 → P1500" in changed


def test_trials_stack_and_go_back_one_by_one(trial: WhatIf, session: Session) -> None:
    """One key goes one back."""
    trial.finer_flake(-1)
    trial.handle_off()
    assert trial.says == "fine flake + handle and trim off"
    assert trial.back() == "handle and trim off"
    assert trial.says == "fine flake"
    trial.back()
    assert trial.advice is session.advice


def test_the_handle_off_eases_the_wet_bed(trial: WhatIf) -> None:
    """The hand-only recess decided two coats; without it they are only advised."""
    trial.handle_off()
    assert trial.advice is not None
    assert trial.advice.panels[0].wet_bed.need == "advised"


def test_one_coat_more_lowers_the_risk_and_buys_no_grade(trial: WhatIf, session: Session) -> None:
    """A wet bed never buys a coarser grade."""
    trial.one_coat_more()
    assert trial.advice is not None
    assert session.advice is not None
    for spot, was in zip(trial.advice.spots, session.advice.spots, strict=True):
        assert spot.finish == was.finish
        if spot.line is not None and was.line is not None:
            assert spot.line.risk <= was.line.risk


def test_a_firm_pad_never_buys_a_coarser_grade(trial: WhatIf, session: Session) -> None:
    """Without the interface pad lines are deeper, so no finish gets coarser."""
    trial.other_pad()
    assert trial.says == "no interface pad"
    assert trial.advice is not None
    assert session.advice is not None
    for now, was in zip(trial.advice.places, session.advice.places, strict=True):
        if now.finish is not None and was.finish is not None:
            assert RANK[now.finish] >= RANK[was.finish]


def test_the_last_flake_is_the_last(trial: WhatIf) -> None:
    """Nothing is finer than vapour."""
    trial.finer_flake(1)
    with pytest.raises(RefusedError, match="last flake"):
        trial.finer_flake(1)


def _on(session: Session, **colour: object) -> WhatIf:
    session.do("colour", revised(session.job, {"colour": Colour.model_validate(colour)}))
    return WhatIf(session, with_more_coats)


def test_finer_goes_on_from_the_flake_as_judged(session: Session) -> None:
    """Fine with stages that nobody stated is judged as very fine, so one finer is vapour."""
    trial = _on(session, flake="fine")
    trial.finer_flake(1)
    assert trial.says == "vapour flake"
    assert trial.advice is not None
    assert trial.advice.job.flake == "vapour"


def test_a_coarser_flake_of_three_stages_is_refused(session: Session) -> None:
    """Three stages are judged as very fine whatever the flake; the trial would show no change."""
    trial = _on(session, flake="fine", stages=3)
    with pytest.raises(RefusedError, match="two stages"):
        trial.finer_flake(-1)


def test_a_trial_steps_from_what_the_colour_book_says(shipped_house: House, tmp_path: Path) -> None:
    """Finer than a coarse book colour is medium, whatever the job leaves unsaid; coarser the book forbids."""
    (tmp_path / "colours.toml").write_text(
        '[[colour]]\nbook = "hm-3"\nflake = "coarse"\nstages = 2\ntone = "mid"\n'
        'sealed_by = "K. M."\nsealed_on = 2026-02-01\n',
        encoding="utf-8",
    )
    colour = Colour(name="Harbour mist", book="hm-3")
    job = OpenJob.of(load_job(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house))
    session = Session(revised(job, {"colour": colour}), load_house(tmp_path), advise)
    trial = WhatIf(session, with_more_coats)
    trial.finer_flake(1)
    assert trial.advice is not None
    assert trial.advice.job.flake == "medium"
    trial.clear()
    with pytest.raises(RefusedError, match="colour book"):
        trial.finer_flake(-1)
    with pytest.raises(RefusedError, match="colour book"):
        trial.lighter_tone(-1)
