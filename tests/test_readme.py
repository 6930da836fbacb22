"""The README is true: its files are read, its commands exist, its two starts stand where they must."""

import re
import shutil
from pathlib import Path

import pytest

from prepadvisor.cards import write_card
from prepadvisor.cases import Facts
from prepadvisor.cli.main import VERBS, main
from prepadvisor.files import demo_jobs_dir, job_of_text, load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.standards import House, audit

README = (Path(__file__).parent.parent / "README.md").read_text("utf-8")


def _section(title: str) -> str:
    """Return the text under a heading of level 2."""
    return README.partition(f"\n## {title}\n")[2].partition("\n## ")[0]


def _blocks(text: str) -> list[str]:
    """Return the fenced blocks of a text."""
    return re.findall(r"^```[a-z]*\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


def test_start_has_exactly_two_commands_of_one_line() -> None:
    """The first prints a card, the second passes the tests; each sets everything up by itself."""
    card, tests = _blocks(_section("Start"))
    assert card.count("\n") == tests.count("\n") == 1
    assert "prepadvisor card" in card
    assert "pytest" in tests
    assert all("pip install" in command for command in (card, tests))


def test_its_job_file_is_advised_on(shipped_house: House) -> None:
    """A painter can copy it."""
    (text,) = _blocks(_section("A job file"))
    advice = advise(job_of_text(text.encode(), "README.md", shipped_house), shipped_house)
    assert advice.holds == ()
    assert advice.panels[0].face == "P1000"


def test_its_house_rule_tightens_the_base(tmp_path: Path) -> None:
    """A lead can copy it: P1200 by hand on edges in the fade, where the base says P800."""
    (text,) = _blocks(_section("A house rule"))
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    case = Facts(feature="edge", zone="fade", flake="fine")
    assert load_house().engine.decide(case).hand_coarsest == "P800"
    assert load_house(tmp_path).engine.decide(case).hand_coarsest == "P1200"
    assert audit(load_house(tmp_path).engine).findings == ()


def test_every_command_stands_in_its_table() -> None:
    """Nothing is hidden, nothing is promised that is not there."""
    table = _section("Commands")
    assert [verb for verb in VERBS if f"prepadvisor {verb}" not in table] == []


def test_its_pictures_are_there() -> None:
    """Each picture named is a file of the checkout."""
    named = re.findall(r"!\[[^]]*\]\(([^)]+)\)", README)
    assert named
    assert [name for name in named if not (Path(__file__).parent.parent / name).is_file()] == []


def test_its_card_is_the_one_that_the_program_prints(shipped_house: House) -> None:
    """The top of the demo card, line by line."""
    (block,) = _blocks(_section("A card"))[:1]
    job = load_job(str(demo_jobs_dir() / "very-fine-door-and-wing.toml"), shipped_house)
    printed = str(write_card(job, advise(job, shipped_house), shipped_house))
    assert printed.startswith(block)


def test_its_way_from_nothing_to_measured_numbers_can_be_walked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As a new lead would: the commands in their order, with the table as it stands there."""
    section = _section("The shop's own numbers")
    (table,) = _blocks(section)
    jobs = tmp_path / "jobs"
    shutil.copytree(demo_jobs_dir(), jobs)
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PREPADVISOR_HOUSE", raising=False)
    monkeypatch.setenv("PREPADVISOR_NOW", "2026-04-01T09:00:00Z")
    commands = re.findall(r"`prepadvisor ((?:fit|standards new) [^`]*)`", section)
    assert [command.split()[0] for command in commands] == ["standards", *["fit"] * 5]
    for number, command in enumerate(commands):
        if number == 3:  # the panels are sprayed and read now
            (tmp_path / "our-house/panels.csv").write_text(table, encoding="utf-8")
        assert main(command.split()) == 0, capsys.readouterr().err
    capsys.readouterr()
    main(["card", "jobs/fine-two-panels.toml", "--house", "our-house"])
    assert "measured here, 7 panels" in " ".join(capsys.readouterr().out.split())
    assert (tmp_path / "plan.html").is_file()
