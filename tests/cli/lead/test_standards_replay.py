"""`prepadvisor standards replay`: an archive under a draft, against single runs of `card`."""

import csv
import io
import json
import shutil
from contextlib import redirect_stdout
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import tomli
import tomli_w

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir, rules_dir

FEW = ("very-fine-door-and-wing.toml", "coarse-silver.toml", "three-stage.toml", "fine-two-panels.toml")

DRAFT = """
[[rule]]
id = "draft-fade"
says = "Fade on fine flake with P1200."
when = { flake = ["fine", "very-fine"], zone = "fade", surface = "aged-clear", next = "base" }
set = { finish_coarsest = "P1200", finish_target = "P1200", guide_coat = "every-change" }
source = "practice"
"""


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder of job files, some in a folder in it. Nobody writes in it."""
    folder = tmp_path_factory.mktemp("archive") / "jobs"
    (folder / "march").mkdir(parents=True)
    for path in demo_jobs_dir().glob("*.toml"):
        shutil.copy(path, folder / path.name)
    for name in FEW:
        shutil.copy(folder / name, folder / "march" / name)
    return folder


@pytest.fixture(scope="module")
def few(archive: Path) -> Path:
    """Return the folder in the archive, for what a few jobs show as well as many."""
    return archive / "march"


@pytest.fixture(scope="module")
def draft(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return a house folder with one stricter rule. Nobody writes in it."""
    folder = tmp_path_factory.mktemp("draft")
    (folder / "rules.toml").write_text(DRAFT, encoding="utf-8")
    return str(folder)


@cache
def replayed(*words: str) -> tuple[int, Any]:
    """Replay with --json and return status and data; once for all tests that ask the same."""
    with redirect_stdout(io.StringIO()) as printed:
        status = main(["standards", "replay", *words, "--json"])
    return status, json.loads(printed.getvalue())


def advice(capsys: pytest.CaptureFixture[str], job: Path, *words: str) -> Any:
    """Return the advice of one job as JSON."""
    main(["card", str(job), "--to", "json", *words])
    return json.loads(capsys.readouterr().out)


def test_the_sums_are_those_of_single_runs(
    archive: Path, draft: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Jobs and places that change, minutes and discs, counted again one job at a time."""
    jobs = sorted(archive.rglob("*.toml"))
    pairs = [(advice(capsys, job), advice(capsys, job, "--house", draft)) for job in jobs]
    finer = sum(
        one["finish"] != other["finish"] and None not in (one["finish"], other["finish"])
        for before, after in pairs
        for one, other in zip(before["places"], after["places"], strict=True)
    )

    status, found = replayed(str(archive), "--against", draft)

    assert status == 1
    assert found["jobs"]["read"] == len(jobs)
    assert found["places"]["all"] == sum(len(before["places"]) for before, _ in pairs)
    assert found["ways"]["finer"] == finer
    for side, place in (("before", 0), ("after", 1)):
        assert found["minutes"][side] == pytest.approx(sum(pair[place]["minutes"] for pair in pairs), abs=0.1)
        assert sum(found["discs"][side].values()) == sum(sum(pair[place]["discs"].values()) for pair in pairs)


def test_two_processes_count_the_same_as_one(few: Path, draft: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """In whatever order they end."""
    alone = replayed(str(few), "--against", draft, "--workers", "1")
    monkeypatch.setattr("prepadvisor.cli.lead.replay._ALONE_MOST", 1)
    assert replayed(str(few), "--against", draft, "--workers", "2") == alone


def test_files_that_cannot_be_read_are_listed_and_counted(few: Path, draft: str, tmp_path: Path) -> None:
    """Status 2, and the others are counted all the same."""
    (tmp_path / "bad.toml").write_text("[job\n", encoding="utf-8")
    status, found = replayed(str(few), str(tmp_path), "--against", draft)
    assert status == 2
    assert [Path(each["file"]).name for each in found["unreadable"]] == ["bad.toml"]
    assert found["files"] == found["jobs"]["read"] + 1 == len(FEW) + 1


def test_a_draft_that_changes_nothing_ends_with_status_zero(few: Path, tmp_path: Path) -> None:
    """The shop's standards against themselves."""
    (tmp_path / "same").mkdir()
    (tmp_path / "same" / "shop.toml").write_text("mist_mm = 150\n", encoding="utf-8")
    status, found = replayed(str(few), "--against", str(tmp_path / "same"))
    assert (status, found["places"]["changed"], found["largest"]) == (0, 0, [])


def test_a_lead_reads_which_way_and_the_largest_by_name(
    few: Path, draft: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """In words, with totals."""
    main(["standards", "replay", str(few), "--against", draft])
    text = capsys.readouterr().out
    for words in ("finish finer", "LARGEST CHANGES", "very-fine-door-and-wing.toml", "IN TOTAL", "hours"):
        assert words in text


def test_a_folder_without_jobs_is_refused(
    tmp_path: Path, draft: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 2: nothing was looked at."""
    (tmp_path / "empty").mkdir()
    assert main(["standards", "replay", str(tmp_path / "empty"), "--against", draft]) == 2
    assert "no job file" in capsys.readouterr().err


def test_a_bad_draft_is_refused_before_any_job_is_read(
    archive: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its faults are told once."""
    (tmp_path / "rules.toml").write_text("[[rule]]\n", encoding="utf-8")
    assert main(["standards", "replay", str(archive), "--against", str(tmp_path)]) == 2
    assert "rules.toml" in capsys.readouterr().err


def test_other_usual_lines_of_an_outline_change_jobs(archive: Path, tmp_path: Path) -> None:
    """A job that states no lines is read anew under a draft that draws its panels otherwise."""
    (tmp_path / "drawn").mkdir()
    outline = next(
        entry
        for entry in tomli.loads((rules_dir() / "panels.toml").read_text("utf-8"))["outline"]
        if entry["kind"] == "bonnet"
    )
    outline["feature"] = outline["feature"][:1]
    (tmp_path / "drawn" / "panels.toml").write_text(tomli_w.dumps({"outline": [outline]}), encoding="utf-8")

    _, found = replayed(str(archive / "vapour-bonnet.toml"), "--against", str(tmp_path / "drawn"))

    assert found["places"]["changed"] > 0


def test_every_job_and_place_can_be_read_as_rows(
    few: Path, draft: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """CSV and JSON name each changed place with before, after, rule and line, and each changed job."""
    main(["standards", "replay", str(few), "--against", draft, "--to", "csv"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    _, found = replayed(str(few), "--against", draft)
    assert [row["place"] for row in rows] == [row["place"] for row in found["changes"]]
    assert sum(row["kind"] == "place" for row in rows) == found["places"]["changed"]
    assert sum(row["kind"] == "job" for row in rows) == found["jobs"]["changed"]
    finer = [row for row in rows if row["finish_before"] == "P1000" and row["finish_after"] == "P1200"]
    assert finer
    assert all(row["rules"] == "draft-fade" and row["where"].endswith("rules.toml:2") for row in finer)


def test_money_is_told_at_the_shops_rates_and_shop_files_are_compared(few: Path, tmp_path: Path) -> None:
    """A draft with another shop file: what differs in it, and what it costs."""
    (tmp_path / "dear").mkdir()
    text = 'disc_minutes = 3\n[rates]\ncurrency = "EUR"\nlabour_per_hour = 60\n'
    (tmp_path / "dear" / "shop.toml").write_text(text, encoding="utf-8")
    _, found = replayed(str(few), "--against", str(tmp_path / "dear"))
    changed = {each["key"]: (each["before"], each["after"]) for each in found["data"]}
    assert changed["disc_minutes"] == ("0.5", "3")
    assert found["money"]["currency"] == "EUR"
    assert found["money"]["after"] == pytest.approx(found["minutes"]["after"], abs=0.1)
    assert found["rules"][0]["rule"] == ""
