"""Answers, ruler and rules in words, and text made harmless."""

from pathlib import Path

import pytest

from prepadvisor.cases import judged
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Estimate, Grade
from prepadvisor.standards import House
from prepadvisor.tui.model import (
    FLAKE_HELP,
    LeadDesk,
    OpenJob,
    Session,
    check_words,
    colour_fields,
    four_answers,
    one_finer,
    place_of,
    reasons,
    shortened,
)
from prepadvisor.tui.model.answers import answer
from prepadvisor.tui.model.grade_ruler import ruler
from prepadvisor.tui.model.lead import rule_rows
from prepadvisor.tui.model.plain_text import plain
from prepadvisor.wording import Units, model_says


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Door [/x]", "Door [/x]"),
        ("a\x1b[31mb", "a?[31mb"),
        ("a\u202eb", "a?b"),
        ("a\nb", "a?b"),
        ("é×µ", "é×µ"),
    ],
)
def test_text_from_outside_is_harmless(text: str, shown: str) -> None:
    """Brackets stay, control and direction characters become question marks."""
    assert plain(text) == shown


def test_a_long_name_ends_in_dots() -> None:
    """It never runs over its place."""
    assert shortened("a very long name", 6) == "a ver…"


def test_the_answer_says_grade_bed_and_guide_coat(session: Session) -> None:
    """The big words of a place."""
    place = place_of(session.advice, "left-front-door/E1")
    assert place is not None
    assert session.advice is not None
    first, last, powder, bed = four_answers(session.advice, place)
    assert first[:3] == ("FIRST", "P1000", "or finer")
    assert last[:3] == ("THEN DA", "P1000", "soft pad")
    assert powder.big == "yes"
    assert bed.big == "no"


def test_every_reason_names_rule_file_and_source(session: Session) -> None:
    """Nothing is decided by a rule that is not named."""
    place = place_of(session.advice, "left-front-door/E1")
    assert place is not None
    spot = session.spots(place)[0]
    says = "\n".join(said.text for said in reasons(spot, Units()))
    for reason in spot.because:
        assert reason.rule in says
        assert reason.source in says


def test_a_grade_that_is_not_the_one_taken_is_told_with_why(shipped_house: House) -> None:
    """The wing's rear edge may have P800 and is sanded with a face that needs P1000: both are said."""
    advice = advise(load_job(str(demo_jobs_dir() / "a-place-that-holds.toml"), shipped_house), shipped_house)
    place = place_of(advice, "right-front-wing/E1")
    assert place is not None
    spot = next(each for each in advice.spots if each.id == place.spots[0])
    says = "\n".join(said.text for said in answer(advice, place, spot, Units()))
    assert "taken P800 (it gets P1000, sanded in one go with finer)" in says


def test_examples_say_reach_once_and_the_line_model_names_tools_as_a_shop_does(shipped_house: House) -> None:
    """No "by by", no word of a file."""
    says = "\n".join(said.text for said in rule_rows.example_words(shipped_house, "clear-zone-hand"))
    assert "reach by hand only" in says
    said = model_says(Estimate(Grade("P1000"), "da-soft", 0, 0.13, 0.14, 0.5))
    assert said.startswith("P1000 with DA, interface pad: ")


def test_the_ruler_marks_range_taken_and_hand_limit(session: Session, shipped_house: House) -> None:
    """P1000 is taken, and is the hand limit too, on the demo's front edge."""
    place = place_of(session.advice, "left-front-door/E1")
    assert place is not None
    spot = session.spots(place)[0]
    ticks = {tick.grade: tick for tick in ruler(spot, place, shipped_house.shop.shelf, {})}
    assert ticks[Grade("P1000")].is_taken
    assert ticks[Grade("P1000")].is_hand_limit
    assert not ticks[Grade("P320")].in_range


def test_not_sure_takes_one_class_finer() -> None:
    """And never leaves the safe side."""
    assert one_finer("coarse") == "medium"
    assert one_finer("vapour") == "vapour"
    assert one_finer("unknown") == "very-fine"


def test_what_is_blank_says_what_it_counts_as() -> None:
    """A new job hides none of its safe defaults."""
    job = OpenJob.new("1")
    says = " ".join(field.says for field in colour_fields(job))
    assert "three: ground" in says
    assert "judged as light" in says
    assert judged(job.colour).flake == "very-fine"


def test_every_flake_class_is_offered() -> None:
    """With not known as the last."""
    assert [help_.flake for help_ in FLAKE_HELP] == [
        "solid", "coarse", "medium", "fine", "very-fine", "vapour", "unknown",
    ]  # fmt: skip


def test_every_rule_is_listed_and_readable(shipped_house: House) -> None:
    """Each has words, a condition, an outcome, its file and its source; offenders are listed."""
    ids = {row.id for row in rule_rows.rule_rows(shipped_house) if row.id}
    assert ids == {rule.id for rule in shipped_house.engine.rules}
    unreadable = [
        rule_id
        for rule_id in ids
        if not {"WHEN", "THEN"} <= {said.text[:4] for said in rule_rows.rule_words(shipped_house, rule_id)}
    ]
    assert unreadable == []


def test_a_filter_keeps_only_rules_with_all_its_words(shipped_house: House) -> None:
    """Two words narrow further than one."""
    wide = {row.id for row in rule_rows.rule_rows(shipped_house, "fade")}
    narrow = {row.id for row in rule_rows.rule_rows(shipped_house, "fade vapour")}
    assert narrow < wide
    assert "fade-vapour" in narrow


def test_the_shipped_standards_are_told_as_sound(shipped_house: House, tmp_path: Path) -> None:
    """The audit's words for the lead."""
    checked = LeadDesk(shipped_house, tmp_path).checked(shipped_house)
    says = " ".join(said.text for said in check_words(checked, is_draft=False))
    assert "×" not in says
    assert "√ no hole" in says
