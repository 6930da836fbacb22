"""The shop's day."""

import csv
import datetime as dt
import io
import json
from pathlib import Path

import pytest

from prepadvisor.cards import Day, age, day_of, sums_says, write_day
from prepadvisor.checkoff import gate_now
from prepadvisor.cli.gate import gate_text
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Job
from prepadvisor.standards import House
from prepadvisor.wording import Words

NOW = dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def demos() -> list[Path]:
    """All demo jobs."""
    return sorted(demo_jobs_dir().glob("*.toml"))


@pytest.fixture(scope="module")
def day(demos: list[Path], shipped_house: House) -> Day:
    """The day of all demo jobs."""
    return day_of(demos, lambda path: load_job(path, shipped_house), shipped_house, NOW)


def test_the_sums_are_those_of_the_cards(day: Day, demos: list[Path], shipped_house: House) -> None:
    """Each card's own numbers, added one by one."""
    cards = [advise(load_job(path, shipped_house), shipped_house) for path in demos]
    discs: dict[str, int] = {}
    for card in cards:
        for grade, count in card.discs.items():
            discs[grade] = discs.get(grade, 0) + count
    assert day.sums.mix_ml == sum(card.mix_ml for card in cards)
    assert day.sums.minutes == pytest.approx(sum(card.minutes for card in cards))
    assert day.sums.discs == discs


def test_what_the_plan_holds_stands_first(day: Day) -> None:
    """A STOP needs a person before all else."""
    held = [job.held for job in day.jobs]
    assert held == sorted(held, reverse=True)
    assert any(held)


def test_a_faulty_file_is_a_line_and_stops_no_other(
    tmp_path: Path, demos: list[Path], shipped_house: House
) -> None:
    """Its first fault is told with file and line; the exit status is 2."""
    bad = tmp_path / "bad.toml"
    bad.write_text("[job]\nnumber = 7\n", encoding="utf-8")

    def load(path: Path) -> Job:
        return load_job(path, shipped_house)

    shown = day_of([bad, demos[0]], load, shipped_house, NOW)
    assert [bool(job.error) for job in shown.jobs] == [True, False]
    assert "bad.toml:1:1: [panel] is missing" in shown.jobs[0].error
    assert shown.exit_status == 2


def test_json_has_the_keys_that_programs_read(day: Day) -> None:
    """Jobs and sums, by name."""
    data = json.loads(write_day(day, "json"))
    keys = [
        "path",
        "number",
        "vehicle",
        "colour",
        "clear",
        "stage",
        "next",
        "by",
        "age_h",
        "mix_ml",
        "minutes",
        "error",
    ]
    assert [list(job) for job in data["jobs"]] == [keys] * len(day.jobs)
    assert list(data["sums"]) == ["mix_ml", "minutes", "powder", "discs"]


def test_all_forms_have_all_jobs(day: Day) -> None:
    """Text, page and table."""
    rows = list(csv.DictReader(io.StringIO(write_day(day, "csv"))))
    assert [row["number"] for row in rows] == [job.number for job in day.jobs]
    text, page = write_day(day), write_day(day, "html")
    for job in day.jobs:
        assert job.number in text
        assert f">{job.number}<" in page
    assert sums_says(day) in text


def test_a_name_is_no_formula_in_a_table(day: Day) -> None:
    """A car called =1+1 stays a name in a spreadsheet."""
    shown = day._replace(jobs=(day.jobs[0]._replace(vehicle="=1+1"),))
    assert "'=1+1" in write_day(shown, "csv")
    assert json.loads(write_day(shown, "json"))["jobs"][0]["vehicle"] == "=1+1"


@pytest.mark.parametrize(
    ("hours", "says"),
    [(None, "not begun"), (0.5, "30 min ago"), (5.2, "5 h ago"), (47.0, "47 h ago"), (72.0, "3 days ago")],
)
def test_ages_are_in_words(hours: float | None, says: str) -> None:
    """Minutes, hours, then days."""
    assert age(hours) == says


def test_a_day_of_imperial_cards_has_their_units(shipped_house: House) -> None:
    """What is mixed reads as on the card: 150 ml, 5.07 fl oz, up to a half; mixed days are metric."""
    imperial = demo_jobs_dir() / "imperial-display.toml"

    def told(*paths: Path) -> str:
        return sums_says(day_of(paths, lambda path: load_job(path, shipped_house), shipped_house, NOW))

    assert "wet bed 5.5 US fl oz (150 ml)" in told(imperial)
    assert "fl oz" not in told(imperial, demo_jobs_dir() / "very-fine-door-and-wing.toml")


def test_next_is_what_the_gate_says_next(tmp_path: Path, shipped_house: House) -> None:
    """One answer: what has its turn by the plan of work, here the patch before face and lines."""
    text = (demo_jobs_dir() / "very-fine-door-and-wing.toml").read_text("utf-8").partition("[[check]]")[0]
    entries = "".join(
        f'[[check]]\nat = 2026-03-02T09:0{minute}:00Z\nby = "KM"\npanel = "{panel}"\nfeature = "panel"\n'
        'step = "cleaned"\n'
        for minute, panel in enumerate(("left-front-door", "left-front-wing"))
    )
    path = tmp_path / "1042.toml"
    path.write_text(f"{text}\n{entries}", "utf-8")
    job = load_job(path, shipped_house)
    advice = advise(job, shipped_house)
    (told,) = day_of([path], lambda each: load_job(each, shipped_house), shipped_house, NOW).jobs
    said = gate_text(job, gate_now(job, advice, shipped_house, NOW), advice)
    assert f"  next: {told.next}" in said.splitlines()
    turn = min((step for step in advice.work.steps if step.n > 1), key=lambda step: step.n)
    assert told.next.startswith(Words(advice).where(turn.tasks[0].partition(".")[0]))
