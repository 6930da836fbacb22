"""The check-off's rows and entries."""

from prepadvisor.checkoff import Wanted
from prepadvisor.tui.model import Session, check_off, gate_view
from prepadvisor.tui.model import gate_view as gate_words


def _gate(session: Session) -> gate_view.GateView:
    verdict = gate_view.gate_of(session)
    assert verdict is not None
    return verdict


def _log(session: Session, wanted: list[Wanted]) -> None:
    session.do("log", check_off.logging(session, wanted)(session.job))


def test_every_place_of_every_panel_has_a_row(session: Session) -> None:
    """No place is left out, and each panel has a row of its own."""
    rows = {row.id for row in check_off.check_rows(session, _gate(session))}
    assert session.advice is not None
    assert {place.id for place in session.advice.places} <= rows
    assert {"left-front-door/panel", "left-front-wing/panel"} <= rows


def test_boxes_are_written_not_coloured(session: Session) -> None:
    """An open and a ticked box differ as text."""
    _log(session, [Wanted("left-front-door/panel", "cleaned", "KM")])
    row = check_off.check_rows(session, _gate(session))[0]
    assert row.boxes == "cleaned [x]  wiped [ ]"


def test_one_key_logs_each_place_with_its_own_grade(session: Session) -> None:
    """Hand-only places are scuffed finer than those a DA follows on."""
    views = check_off.owed(_gate(session), "left-front-door", "scuffed")
    wanted = {each.where: each.grade for each in check_off.planned(views, "scuffed", "KM")}
    assert wanted["left-front-door/H1"] == "P1500"
    assert wanted["left-front-door/E1"] == "P1000"


def test_the_face_is_not_scuffed(session: Session) -> None:
    """A face owes sanding and a look."""
    views = check_off.owed(_gate(session), "left-front-door", "scuffed")
    assert "face" not in {view.feature for view in views}


def test_the_step_that_is_due_follows_the_work(session: Session) -> None:
    """Cleaning first, then the hand work, powder, DA, looks, and wiping last."""
    due = []
    panel = "left-front-door"
    while step := check_off.due_step(_gate(session), panel):
        due.append(step)
        verdict = _gate(session)
        if step in {"cleaned", "wiped"}:
            _log(session, [Wanted(f"{panel}/panel", step, "KM")])
        elif step == "inspected":
            for view in check_off.owed(verdict, panel, step):
                _log(session, [Wanted(view.id, step, "KM", result="clear")])
        else:
            _log(session, check_off.planned(check_off.owed(verdict, panel, step), step, "KM"))
    assert due == ["cleaned", "scuffed", "guide-coated", "sanded", "inspected", "wiped"]
    assert all(view.is_clear for view in _gate(session).panels[0].places)
    assert not _gate(session).clear
    assert gate_words.banner_words(_gate(session)).startswith("× NOT CLEAR TO MASK")


def test_lines_left_say_what_to_do_here(session: Session) -> None:
    """The words at a place whose look was not clear tell the mend."""
    where = "left-front-door/E1"
    _log(session, [Wanted(where, "scuffed", "KM", "hand-pad", "P1000"), Wanted(where, "guide-coated", "KM")])
    _log(session, [Wanted(where, "sanded", "KM", "da-soft", "P1000")])
    _log(session, [Wanted(where, "inspected", "KM", result="lines")])
    assert "guide coat" in gate_words.here_words(session, _gate(session), "left-front-door/E1")
    assert gate_words.here_words(session, _gate(session), "left-front-door/E2") == ""


def test_where_film_is_too_short_for_what_is_left_the_lead_is_asked_here(session: Session) -> None:
    """P600 on a finished edge, scuffed over: the pass owed again would cut too much, so none is due."""
    where, pad = "left-front-door/E1", "hand-pad"
    for grade in ("P1000", "P600", "P1000"):
        _log(session, [Wanted(where, "scuffed", "KM", pad, grade)])
        if grade == "P1000":
            _log(session, [Wanted(where, "guide-coated", "KM")])
        _log(session, [Wanted(where, "sanded", "KM", "da-soft", "P1000")] if grade == "P1000" else [])
    _log(session, [Wanted(where, "scuffed", "KM", pad, "P500"), Wanted(where, "scuffed", "KM", pad, "P1000")])
    said = gate_words.here_words(session, _gate(session), where)
    assert said.startswith("HERE: stop, cut no more")
    assert where not in {view.id for view in check_off.owed(_gate(session), "left-front-door", "sanded")}


def test_the_card_is_given_where_the_log_leaves_the_work(session: Session) -> None:
    """The card prints ticked what the check-off has."""
    assert gate_view.gate_for_card(session) is None
    _log(session, [Wanted("left-front-door/panel", "cleaned", "KM")])
    gate = gate_view.gate_for_card(session)
    assert gate is not None
    done = [task.id for task in gate.work.tasks if task.state == "done"]
    assert done == ["left-front-door.clean.1"]


def test_holds_are_named_as_on_the_card(session: Session) -> None:
    """Number and name of the place and tools as the trade calls them; no id of a file is shown."""
    text = "\n".join(gate_words.hold_lines(session, _gate(session)))
    assert "A4 handle recess: not scuffed" in text
    assert "A left front door: not cleaned" in text
    assert not [word for word in ("left-front-door", "da-soft", "hand-pad", "/H1") if word in text]
