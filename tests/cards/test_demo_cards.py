"""The card of every demo job: nothing of the advice missing, holds on top, every number explained."""

import json
from pathlib import Path

import pytest

from prepadvisor.cards import write_card
from prepadvisor.cards.explain.ask import NoSuchPlaceError, explain
from prepadvisor.cards.page.columns import width
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Advice, Job
from prepadvisor.standards import House
from prepadvisor.wording import advice_json, reason_says

DEMO_JOBS = sorted(demo_jobs_dir().glob("*.toml"))
each_demo_job = pytest.mark.parametrize("path", DEMO_JOBS, ids=[path.stem for path in DEMO_JOBS])


def carded(path: Path, house: House) -> tuple[Job, Advice, str]:
    """Load, advise and print a demo job."""
    job = load_job(str(path), house)
    advice = advise(job, house)
    printed = write_card(job, advice, house)
    assert isinstance(printed, str)
    return job, advice, printed


def squeezed(text: str) -> str:
    """Leave out all white space, so that a fact is found however it was wrapped."""
    return "".join(text.split())


@each_demo_job
def test_no_line_is_wider_than_80_columns(path: Path, shipped_house: House) -> None:
    """Any printer and any terminal."""
    assert max(map(width, carded(path, shipped_house)[2].splitlines())) <= 80


@each_demo_job
def test_every_hold_stands_on_top_in_words(path: Path, shipped_house: House) -> None:
    """Above the ticks before sanding, with its mend."""
    _, advice, printed = carded(path, shipped_house)
    top = squeezed(printed.split("BEFORE SANDING")[0])
    held = json.loads(advice_json(advice))["holds"]
    assert [
        hold for hold in held if squeezed(hold["why"]) not in top or squeezed(hold["mend"]) not in top
    ] == []
    assert ("STOP:" in top) == bool(advice.holds)


@each_demo_job
def test_every_place_with_work_or_a_hold_has_a_row_with_its_grade(path: Path, shipped_house: House) -> None:
    """One row at least for each place of the stage, with the grade of its last pass."""
    _, advice, printed = carded(path, shipped_house)
    stage = advice.work.stages[0].id
    rows = [line.split() for line in printed.splitlines() if line.startswith(" ")]
    letters = {panel.id: "ABCDEFGH"[at] for at, panel in enumerate(advice.panels)}
    for place in advice.places:
        tasks = [task for task in advice.work.tasks if task.place == place.id and task.stage == stage]
        number = letters[place.panel] + ("" if place.kind == "face" else str(place.number))
        own = [row for row in rows if row and row[0] == number and "[_]" in row[-1]]
        assert len(own) >= bool(tasks), place.id
        grades = [task.grade for task in tasks if task.grade]
        assert not grades or any(word.startswith(grades[-1]) for word in own[-1]), place.id


@each_demo_job
def test_cautions_materials_and_offers_of_the_advice_are_printed(path: Path, shipped_house: House) -> None:
    """What JSON says, the card says."""
    _, advice, printed = carded(path, shipped_house)
    text = squeezed(printed)
    written = json.loads(advice_json(advice))
    said = [caution.rstrip(".") for caution in written["cautions"]]
    said += [offer["says"].rstrip(".") for offer in written["offers"]]
    said += [f"{grade} {count}" for grade, count in advice.discs.items()]
    said += [f"{advice.mix_ml} ml"] if advice.mix_ml and "CLEAR TO MASK" in printed else []
    assert [fact for fact in said if squeezed(fact) not in text] == []


@each_demo_job
def test_every_place_spot_and_panel_is_explained(path: Path, shipped_house: House) -> None:
    """By id and by the number on the card, with at least one rule or hold behind each place."""
    job, advice, _ = carded(path, shipped_house)
    asked = [place.id for place in advice.places] + [spot.id for spot in advice.spots]
    asked += [panel.id for panel in advice.panels]
    for name in asked:
        sections = explain(job, advice, shipped_house, name)
        assert sections, name
        assert all(section.lines for section in sections), name


@each_demo_job
def test_every_bound_of_a_spot_is_explained_with_rule_and_line(path: Path, shipped_house: House) -> None:
    """Rule id, layer, file and line, what it says, source."""
    job, advice, _ = carded(path, shipped_house)
    for spot in advice.spots:
        told = " ".join(line for part in explain(job, advice, shipped_house, spot.id) for line in part.lines)
        for because in spot.because:
            line = f", {because.file}:{because.line}" if because.file else ""
            where = f"{because.rule} ({because.layer}{line})"
            assert where in told, spot.id
            assert reason_says(because) in told, spot.id


@each_demo_job
def test_the_line_model_is_explained_where_it_speaks(path: Path, shipped_house: House) -> None:
    """Its numbers end in the strength and the risk that stand in the advice."""
    job, advice, _ = carded(path, shipped_house)
    for spot in advice.spots:
        told = " ".join(line for part in explain(job, advice, shipped_house, spot.id) for line in part.lines)
        if spot.line and spot.finish:
            assert f"= {spot.line.arcsec:.3g} arcsec" in told, spot.id
            assert f"= {spot.line.risk:.3f}" in told, spot.id
        else:
            assert "risk = Phi" not in told, spot.id


def test_a_place_is_found_by_its_number_on_the_card(shipped_house: House) -> None:
    """A4 on the card is A4 on the command line."""
    job, advice, _ = carded(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    by_number = explain(job, advice, shipped_house, "a4")
    recess = next(place for place in advice.places if place.number == 4)
    assert by_number == explain(job, advice, shipped_house, recess.id)


def test_a_misspelt_place_is_told_with_what_was_meant(shipped_house: House) -> None:
    """The nearest id, and what there is."""
    job, advice, _ = carded(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)
    with pytest.raises(NoSuchPlaceError, match='did you mean "left-front-door/E1"'):
        explain(job, advice, shipped_house, "left-front-dor/E1")


def test_an_unknown_flake_is_said_on_top(shipped_house: House) -> None:
    """What was not stated is judged strictly, and the card says so above the panels."""
    top = carded(demo_jobs_dir() / "unknown-flake.toml", shipped_house)[2].split("BEFORE SANDING")[0]
    for word in ("Flake not known", "Stages not stated", "Tone not stated"):
        assert word in top


def test_an_imperial_job_shows_inches_mils_and_ounces(shipped_house: House) -> None:
    """The file stays metric, the card does not."""
    printed = carded(demo_jobs_dir() / "imperial-display.toml", shipped_house)[2]
    assert "edge, in: 0 to " in printed
    assert " mil" in printed
    assert "US fl oz" in printed
    assert " mm" not in printed.split("BEFORE SANDING")[1]


def test_the_two_panel_card_is_read_in_a_minute_or_two(shipped_house: House) -> None:
    """At most 850 words as text, with the base standards and an empty log."""
    printed = carded(demo_jobs_dir() / "very-fine-door-and-wing.toml", shipped_house)[2]
    assert len(printed.split()) <= 850
