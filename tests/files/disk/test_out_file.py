"""What a command writes never lands on an input, a job, a rule file, or what is no file."""

import os
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, put_out
from prepadvisor.records import BadInputError

DEMO = (demo_jobs_dir() / "solid.toml").read_bytes()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return a job file."""
    path = tmp_path / "j.toml"
    path.write_bytes(DEMO)
    return path


@pytest.mark.parametrize("name", ["j.toml", "other.toml", "NEW.TOML", "j.toml~", "link.txt", "hard.txt"])
def test_a_card_never_lands_on_a_job_or_an_input(name: str, job: Path) -> None:
    """Not by another ending, a link or a second name either; exit 2 and the file as it was."""
    place = job.with_name(name)
    if name == "other.toml":
        place.write_bytes(DEMO)
    elif name == "link.txt":
        place.symlink_to(job)
    elif name == "hard.txt":
        os.link(job, place)
    assert main(["card", str(job), "--out", str(place)]) == 2
    assert job.read_bytes() == DEMO
    assert not place.exists() or place.read_bytes() == DEMO


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no named pipes")
def test_a_card_never_goes_into_a_pipe_or_a_device(job: Path) -> None:
    """Neither waits nor replaces it."""
    pipe = job.with_name("pipe.txt")
    os.mkfifo(pipe)
    assert main(["card", str(job), "--out", str(pipe)]) == 2
    assert pipe.is_fifo()
    assert main(["card", str(job), "--out", "/dev/null"]) == 2
    assert not Path("/dev/null").is_file()


def test_a_rule_file_of_the_house_is_never_written_over(job: Path) -> None:
    """An input like the job itself."""
    house = job.parent / "house"
    house.mkdir()
    shop = house / "shop.toml"
    shop.write_text("gate_hours = 12\n", encoding="utf-8")
    os.link(shop, job.with_name("card.txt"))
    assert main(["card", str(job), "--house", str(house), "--out", str(job.with_name("card.txt"))]) == 2
    assert shop.read_text(encoding="utf-8") == "gate_hours = 12\n"


def test_what_a_killed_writer_left_is_taken_away(tmp_path: Path) -> None:
    """Half-written cards of the dead go with the next card of that name."""
    card = tmp_path / "card.txt"
    left = tmp_path / ".card.txt.999999999-0a1b2c3d.new"
    left.write_bytes(b"half")
    put_out(card, b"whole")
    assert [path.name for path in tmp_path.iterdir()] == ["card.txt"]


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    """In one sentence."""
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(BadInputError, match="cannot be written"):
        put_out(tmp_path / "file" / "card.txt", b"")
