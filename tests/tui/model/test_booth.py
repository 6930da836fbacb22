"""The booth's turns at the check-off."""

from prepadvisor.tui.model import Session, booth_wanted, check_off, gate_view
from prepadvisor.tui.model.booth import booth_rows
from prepadvisor.wording import turns


def _boxes(session: Session) -> list[str]:
    verdict = gate_view.gate_of(session)
    assert verdict is not None
    return [box for _, box in booth_rows(session, verdict)]


def test_full_colour_that_is_logged_does_not_tick_the_blend(session: Session) -> None:
    """Both are logged as coloured: the first entry is the full colour, the second the blend."""
    verdict = gate_view.gate_of(session)
    assert verdict is not None
    does = [turn[0].do for turn in turns(verdict.gate.work.booth)]
    assert does == ["colour", "bed", "look", "blend", "clear"]
    for turn, ticked in ((0, {0}), (3, {0, 3})):
        session.do("log", check_off.logging(session, booth_wanted(verdict, turn, "KM"))(session.job))
        assert {at for at, box in enumerate(_boxes(session)) if box == "[x]"} == ticked


def test_a_turn_says_what_the_card_says(session: Session) -> None:
    """One wording for card and screen."""
    verdict = gate_view.gate_of(session)
    assert verdict is not None
    assert "uncoloured base, never sealer" in booth_rows(session, verdict)[1][0]
