"""`prepadvisor card`: jobs in, cards out whole or not at all, and the worst exit status of all jobs."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from prepadvisor.cli.card import card_name
from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

GOOD = str(demo_jobs_dir() / "solid.toml")
HELD = str(demo_jobs_dir() / "a-place-that-holds.toml")


@pytest.fixture
def bad(tmp_path: Path) -> str:
    """A job file with a fault."""
    path = tmp_path / "bad.toml"
    path.write_text('[job]\nnumber = 1042\n[[panel]]\nid = "x"\n', encoding="utf-8")
    return str(path)


def test_the_card_is_printed_and_the_status_is_0(capsys: pytest.CaptureFixture[str]) -> None:
    """Text by default."""
    assert main(["card", GOOD]) == 0
    assert "NOTHING BLOCKS THIS JOB." in capsys.readouterr().out


def test_a_hold_is_status_1_and_the_card_is_printed_all_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    """The hold stands on top of it."""
    assert main(["card", HELD]) == 1
    assert "STOP:" in capsys.readouterr().out


def test_bad_input_is_status_2_with_faults_on_stderr_and_no_card(
    bad: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """One plain line each, no traceback."""
    assert main(["card", bad]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert f"{bad}:2:" in err
    assert "Traceback" not in err


def test_a_bad_job_leaves_an_existing_card_untouched(bad: str, tmp_path: Path) -> None:
    """Nothing is written, nothing is emptied."""
    card = tmp_path / "card.txt"
    card.write_text("yesterday's card", encoding="utf-8")
    assert main(["card", bad, "--out", str(card)]) == 2
    assert card.read_text(encoding="utf-8") == "yesterday's card"


def test_one_file_named_with_out_is_replaced(tmp_path: Path) -> None:
    """The person named it; no half-written file is left beside it."""
    card = tmp_path / "card.txt"
    card.write_text("yesterday's card", encoding="utf-8")
    assert main(["card", GOOD, "--out", str(card)]) == 0
    assert card.read_text(encoding="utf-8").startswith("JOB ")
    assert [path.name for path in tmp_path.iterdir()] == ["card.txt"]


def test_the_form_follows_the_name_of_the_file(tmp_path: Path) -> None:
    """--out advice.json is JSON."""
    card = tmp_path / "advice.json"
    assert main(["card", GOOD, "--out", str(card)]) == 0
    assert json.loads(card.read_text(encoding="utf-8"))["schema"] == "prepadvisor/advice/1"


def test_json_has_the_keys_that_programs_read(capsys: pytest.CaptureFixture[str]) -> None:
    """Keys are added, never renamed."""
    main(["card", GOOD, "--to", "json"])
    data = json.loads(capsys.readouterr().out)
    assert {
        "schema", "job", "standards", "spots", "places", "panels", "mix_ml", "discs", "minutes",
        "holds", "cautions",
    } <= set(data)  # fmt: skip
    assert {"files", "deviations"} <= set(data["standards"])
    assert {
        "id", "panel", "feature", "zone", "reach", "seen", "length_mm", "finish", "hand_coarsest",
        "guide_coat",         "wet_bed", "line", "because",
    } <= set(data["spots"][0])  # fmt: skip
    assert {"output", "value", "rule", "layer", "file", "line", "says", "source"} <= set(
        data["spots"][0]["because"][0]
    )
    assert {
        "id", "spots", "finish", "tool", "hand_coarsest", "guide_coat", "wet_bed", "ladder", "done",
    } <= set(data["places"][0])  # fmt: skip
    assert {"id", "face", "hand", "hand_only", "wet_bed", "ladder", "minutes", "film"} <= set(
        data["panels"][0]
    )


def test_several_jobs_are_one_json_line_each_and_the_worst_status(
    bad: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A hold and a bad file among them: 2, and the good ones are there."""
    assert main(["card", GOOD, HELD, "--to", "json"]) == 1
    assert [json.loads(line)["job"]["number"] for line in capsys.readouterr().out.splitlines()] == [
        "1031",
        "1060",
    ]
    assert main(["card", GOOD, bad, HELD, "--to", "json"]) == 2
    assert len(capsys.readouterr().out.splitlines()) == 2


def test_a_dash_reads_the_job_from_standard_input() -> None:
    """And writes to standard output."""
    done = subprocess.run(
        [sys.executable, "-m", "prepadvisor", "card", "-", "--out", "-"],
        input=Path(GOOD).read_bytes(), capture_output=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert done.stdout.startswith(b"JOB 1031")


def test_a_folder_of_jobs_gives_one_card_each_with_progress(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Names from the job files; progress on standard error."""
    out = tmp_path / "cards"
    assert main(["card", str(demo_jobs_dir()), "--out", f"{out}/"]) == 1
    jobs = sorted(path.stem for path in demo_jobs_dir().glob("*.toml"))
    assert sorted(path.stem for path in out.iterdir()) == jobs
    assert f"[1/{len(jobs)}]" in capsys.readouterr().err


def test_an_older_card_in_a_folder_is_kept_unless_forced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And it is said, since a stale card on a car is dangerous."""
    card = tmp_path / "solid.txt"
    card.write_text("yesterday's card", encoding="utf-8")
    assert main(["card", GOOD, "--out", str(tmp_path)]) == 0
    assert card.read_text(encoding="utf-8") == "yesterday's card"
    assert "OLDER card" in capsys.readouterr().err
    assert main(["card", GOOD, "--out", str(tmp_path), "--force"]) == 0
    assert card.read_text(encoding="utf-8").startswith("JOB 1031")


def test_a_folder_without_jobs_is_bad_input(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Said in one line."""
    assert main(["card", str(tmp_path)]) == 2
    assert "holds no job file" in capsys.readouterr().err


def test_a_place_that_cannot_be_written_is_told_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A file where a folder should be."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    assert main(["card", GOOD, "--out", str(tmp_path / "file" / "card.txt")]) == 2
    err = capsys.readouterr().err
    assert "cannot be written" in err
    assert "Traceback" not in err


def test_steps_that_are_logged_are_ticked_on_the_card(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The check-off's own view decides what counts as done."""
    monkeypatch.setenv("PREPADVISOR_NOW", "2026-02-23T12:00:00Z")
    job = tmp_path / "job.toml"
    text = Path(GOOD).read_text(encoding="utf-8").split("[[check]]")[0]
    log = '\n[[check]]\nat = 2026-02-23T09:00:00Z\nby = "R. T."\npanel = "left-rear-door"\n'
    job.write_text(f'{text}{log}feature = "panel"\nstep = "cleaned"\n', encoding="utf-8")
    assert main(["card", str(job)]) == 0
    assert "1. [x] wash, degrease twice" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("job", "number", "name"),
    [
        ("jobs/1042.toml", "1042", "1042.txt"),
        ("CON.toml", "1", "card-CON.txt"),
        ("a:b*c?.toml", "1", "a-b-c.txt"),
        ("...toml", "1", "card.txt"),
        ("x" * 200 + ".toml", "1", "x" * 80 + ".txt"),
        ("-", "../../etc/passwd", "etc-passwd.txt"),
        ("-", "דלת", "דלת.txt"),
    ],
    ids=["usual", "reserved", "signs", "dots", "long", "climbing", "hebrew"],
)
def test_card_names_are_safe_on_every_system(job: str, number: str, name: str) -> None:
    """No sign, no reserved device name, no path."""
    assert card_name(job, number, "text", set()) == name


def test_two_jobs_never_share_a_card_name() -> None:
    """Not even where the system takes upper and lower case alike."""
    taken: set[str] = set()
    assert [card_name(job, "1", "pdf", taken) for job in ("a/X.toml", "b/x.toml")] == ["X.pdf", "x-2.pdf"]


def test_the_text_card_loads_no_page_pdf_or_screen_package() -> None:
    """A cold start stays short."""
    code = (
        "import sys; from prepadvisor.cli.main import main; "
        f"main(['card', {GOOD!r}]); "
        "heavy = ('jinja2', 'fpdf', 'textual', 'rich', 'tomlkit'); "
        "print([name for name in heavy if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"
