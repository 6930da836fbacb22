"""Which files of a folder are jobs, and that a house's earlier numbers are neither jobs nor strays."""

from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, job_files
from prepadvisor.files.house_strays import strays
from prepadvisor.records import BadInputError


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop's folder: a job, and a house with rules, data and the numbers before."""
    house = tmp_path / "our-house"
    (house / "earlier").mkdir(parents=True)
    for name, text in {
        "rules.toml": '# ours\n[standards]\nname = "Ours"\nversion = "1"\n',
        "more.toml": '[[rule]]\nid = "x"\n',
        "shop.toml": 'shelf = ["P800"]\n',
        "earlier/shop-2026-01-01.toml": 'shelf = ["P600"]\n',
    }.items():
        (house / name).write_text(text, encoding="utf-8")
    job = (demo_jobs_dir() / "solid.toml").read_text(encoding="utf-8")
    (tmp_path / "1050.toml").write_text(job, encoding="utf-8")
    return tmp_path


def test_files_of_a_house_beside_jobs_are_no_jobs(shop: Path) -> None:
    """Neither its rules nor its data nor what it keeps of before."""
    assert job_files([str(shop)]) == [str(shop / "1050.toml")]


def test_a_file_named_by_itself_is_always_meant(shop: Path) -> None:
    """Then its faults are told, instead of leaving it out without a word."""
    rules = str(shop / "our-house" / "rules.toml")
    assert job_files([rules]) == [rules]


def test_a_file_that_is_neither_is_still_read_as_a_job(shop: Path) -> None:
    """A job whose head is spoilt is told as a fault, never passed over."""
    (shop / "spoilt.toml").write_text('[jobb]\nnumber = "1"\n', encoding="utf-8")
    assert str(shop / "spoilt.toml") in job_files([str(shop)])


def test_a_folder_without_jobs_is_refused(shop: Path) -> None:
    """It is most likely the wrong folder."""
    with pytest.raises(BadInputError, match="there is no job file"):
        job_files([str(shop / "our-house")])


def test_numbers_before_are_no_strays(shop: Path) -> None:
    """The program put them there itself; rules in any other folder inside are told."""
    assert strays([str(shop / "our-house")]) == []
    (shop / "our-house" / "old").mkdir()
    (shop / "our-house" / "old" / "rules.toml").write_text('[[rule]]\nid = "y"\n', encoding="utf-8")
    (finding,) = strays([str(shop / "our-house")])
    assert "(1 file)" in finding.says


@pytest.mark.parametrize("verb", ["times", "outcomes"])
def test_verbs_over_folders_pass_over_a_house(
    shop: Path, verb: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """The folder as it is may be given: 0, and one job."""
    assert main([verb, str(shop)]) == 0
    assert capsys.readouterr().out.startswith("1 job file")
