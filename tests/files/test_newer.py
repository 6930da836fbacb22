"""What a newer version wrote: unknown keys of its entries are kept and told, its file form is named."""

from pathlib import Path

import pytest
import tomli

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.records import BadInputError
from prepadvisor.standards import House
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.model import with_colour

ENTRY = """
[[check]]
at = 2026-03-02T09:40:00Z
by = "K. M."
panel = "left-rear-door"
feature = "panel"
step = "cleaned"
photo = "17.jpg"            # of a newer version
spots = { a = [1, 2] }
"""


def _job(folder: Path, more: str) -> Path:
    path = folder / "1031.toml"
    path.write_bytes((demo_jobs_dir() / "solid.toml").read_bytes() + more.encode())
    return path


def test_unknown_keys_of_an_entry_are_kept_and_told(
    tmp_path: Path, shipped_house: House, capsys: pytest.CaptureFixture[str]
) -> None:
    """Through an entry, an edit and a look at the gate, byte for byte."""
    job = _job(tmp_path, ENTRY + 'id = "ab-1"\n')
    assert [check.newer for check in load_job(job, shipped_house).check] == [("photo", "spots")]
    assert main(["log", str(job), "left-rear-door/E1", "scuffed", "--by", "KM", "--tool", "hand-pad"]) == 0
    desk = Desk(shipped_house, tmp_path)
    desk.open(job)
    assert desk.session is not None
    desk.session.do("fine", with_colour(desk.session.job, flake="fine"))
    assert desk.save() == ""
    text = job.read_text(encoding="utf-8")
    assert ENTRY in text
    assert "newer" not in tomli.loads(text)["check"][0]
    capsys.readouterr()
    main(["gate", str(job)])
    assert "newer version of the program" in capsys.readouterr().out


def test_an_unknown_key_that_a_hand_wrote_is_a_fault(tmp_path: Path, shipped_house: House) -> None:
    """An entry without id is no newer version's: the key is a slip."""
    with pytest.raises(BadInputError, match='the key "photo" is not known here'):
        load_job(_job(tmp_path, ENTRY), shipped_house)


def test_the_form_of_a_newer_file_is_named(tmp_path: Path, shipped_house: House) -> None:
    """Beside what this version does not know in it."""
    job = _job(tmp_path, "")
    text = job.read_text(encoding="utf-8").replace("[job]\n", "[job]\nformat = 7\nbay = 3\n", 1)
    job.write_text(text, encoding="utf-8")
    with pytest.raises(BadInputError, match=r"form 7 of a newer version.*update this program"):
        load_job(job, shipped_house)
    job.write_text(text.replace("bay = 3\n", ""), encoding="utf-8")
    assert load_job(job, shipped_house).job.format == 7
