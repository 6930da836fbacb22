"""`prepadvisor log`: entries are added or refused, and the file is never spoilt."""

import shutil
from pathlib import Path

import pytest
import tomli

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

NOW = "2026-03-02T09:40:00Z"


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a copy of the demo door, at a fixed time."""
    monkeypatch.setenv("PREPADVISOR_NOW", NOW)
    monkeypatch.setenv("PREPADVISOR_BY", "KM")
    return Path(shutil.copy(demo_jobs_dir() / "very-fine-door-and-wing.toml", tmp_path / "1042.toml"))


def _log(job: Path, *words: str) -> int:
    return main(["log", str(job), *words])


def _entries(job: Path) -> list[dict[str, object]]:
    entries: list[dict[str, object]] = tomli.loads(job.read_text(encoding="utf-8")).get("check", [])
    return entries


def test_a_time_that_is_none_hides_no_other_fault(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of an entry or an outcome, all at once, and nothing is written."""
    before = job.read_bytes()
    words = ("left-front-door/X9", "sandd", "--grade", "600", "--at", "yesterday")
    assert _log(job, *words) == 2
    told = capsys.readouterr().err
    for fault in ('"yesterday" is not', '"sandd"', '"X9"', '"600" has no P'):
        assert told.count(fault) >= 1, fault
    assert main(["outcome", str(job), "X9", "sen", "--at", "yesterday"]) == 2
    told = capsys.readouterr().err
    for fault in ('"yesterday" is not', '"sen" is neither', '"X9"'):
        assert told.count(fault) == 1, fault
    assert job.read_bytes() == before


def test_what_is_too_long_is_said_in_plain_words(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Not in those of the checker of records, of an entry nor of an outcome."""
    words = ("left-front-door/E1", "guide-coated", "--note", "x" * 3_000)
    assert _log(job, *words) == 2
    assert main(["outcome", str(job), "left-front-door/E1", "seen", "--note", "x" * 3_000]) == 2
    told = capsys.readouterr().err
    assert told.count("note: is longer than 400 letters") == 2


def test_an_entry_is_added_with_all_that_was_said(job: Path) -> None:
    """Time, initials, place, step, tool, grade, note and what it rests on."""
    words = ("scuffed", "--tool", "hand-pad", "--grade", "p1000", "--note", "lower half twice")
    assert _log(job, "left-front-door/E1", *words) == 0
    (entry,) = _entries(job)
    assert entry.pop("at").isoformat() == "2026-03-02T09:40:00+00:00"  # type: ignore[attr-defined]
    assert str(entry.pop("basis")).startswith("number:")
    assert str(entry.pop("id")).endswith("-1")
    assert entry.pop("knew") == "start"
    assert entry == {
        "by": "KM", "panel": "left-front-door", "feature": "E1", "step": "scuffed", "tool": "hand-pad",
        "grade": "P1000", "note": "lower half twice",
    }  # fmt: skip


def test_the_file_keeps_every_byte_that_it_had(job: Path) -> None:
    """Comments too."""
    before = job.read_bytes()
    _log(job, "left-front-door/panel", "cleaned")
    assert job.read_bytes().startswith(before)


def test_what_is_next_is_printed(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """At that place, and how much the gate still lacks."""
    _log(job, "left-front-door", "cleaned")
    _log(job, "left-front-door/E1", "scuffed", "--tool", "hand-pad", "--grade", "P1000")
    out = capsys.readouterr().out
    assert "logged: left-front-door/E1 scuffed hand-pad P1000" in out
    assert "next at left-front-door/E1: guide coat" in out


def test_a_scuff_too_coarse_is_logged_and_its_mend_printed(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The truth is logged; the re-cut comes before any other way out."""
    assert _log(job, "left-front-door/E1", "scuffed", "--tool", "hand-pad", "--grade", "P600") == 0
    out = capsys.readouterr().out
    assert "P600 is coarser than the P1000 allowed here" in out
    assert "scuff by hand with P1000 (non-woven pad), guide coat, P1000 with DA" in out


def test_doing_what_the_mend_of_a_coarse_scuff_says_takes_its_hold_away(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Scuffed again, powder, DA, the face sanded, then looked at: the place is done."""
    _log(job, "A", "cleaned")
    _log(job, "A1", "scuffed", "--tool", "hand-pad", "--grade", "P600")
    _log(job, "A1", "scuffed", "--tool", "hand-pad", "--grade", "P1000")
    _log(job, "A1", "guide-coated")
    _log(job, "A1", "sanded", "--tool", "da-soft", "--grade", "P1000")
    _log(job, "A", "sanded", "--tool", "da-soft", "--grade", "P1000")
    capsys.readouterr()
    _log(job, "A1", "inspected", "--result", "clear")
    out = capsys.readouterr().out
    assert "P600" not in out
    assert "nothing, this place is done" in out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("left-front-dor/E1", "scuffed"), 'did you mean "left-front-door"?'),
        (("left-front-door/E1", "inspected"), "a look needs its result"),
        (("left-front-door/E1", "scuffed", "--grade", "1000"), "has no P"),
        (("left-front-door/E1", "accepted", "--note", "x"), "initials"),
        (("left-front-door/E1", "accepted", "--by", "JB"), "a reason"),
        (("left-front-door/E1", "sanded", "--tool", "hand-pad"), "hand tool"),
        (("left-front-door/E1", "wiped"), "for the whole panel"),
        (("left-front-door/E1", "guide-coated", "--at", "2026-03-02T09:40:01Z"), "ahead of now"),
        (("left-front-door/E1", "guide-coated", "--at", "2026-03-02 09:00"), "with its zone"),
        (("left-front-door/../../etc/passwd", "scuffed"), "has no place"),
        (("left-front-door/E1", "guide-coated", "--by", "\x1b[31m"), "control character"),
    ],
)
def test_what_makes_no_sense_is_refused(
    job: Path, words: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 2, the reason on stderr, the file as it was, nothing else in its folder."""
    before = job.read_bytes()
    assert _log(job, *words) == 2
    assert says in capsys.readouterr().err
    assert job.read_bytes() == before
    assert [path.name for path in job.parent.iterdir()] == ["1042.toml"]


def test_an_entry_may_be_dated_back(job: Path) -> None:
    """Logged after the break; the gate goes by both order and time."""
    assert _log(job, "left-front-door/panel", "cleaned", "--at", "2026-03-02T08:00:00+01:00") == 0
    assert _entries(job)[0]["at"].isoformat() == "2026-03-02T08:00:00+01:00"  # type: ignore[attr-defined]


def test_a_pad_of_the_shop_stands_for_its_coarse_end(job: Path, tmp_path: Path) -> None:
    """The house folder names its pads."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "shop.toml").write_text('[pads]\ngrey = "P800"\n', encoding="utf-8")
    words = ("scuffed", "--tool", "hand-pad", "--pad", "grey", "--house", str(house))
    assert _log(job, "left-front-door/E1", *words) == 0
    assert _entries(job)[0]["grade"] == "P800"


def test_standard_input_cannot_be_added_to(capsys: pytest.CaptureFixture[str]) -> None:
    """There is no file that would keep the entry."""
    assert main(["log", "-", "door/E1", "scuffed"]) == 2
    assert "name the job file" in capsys.readouterr().err


def test_a_job_with_a_fault_is_not_logged_in(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its faults are told, and it stays as it is."""
    job.write_text(job.read_text(encoding="utf-8").replace('"blend"', '"blnd"'), encoding="utf-8")
    before = job.read_bytes()
    assert _log(job, "left-front-door/panel", "cleaned") == 2
    assert 'did you mean "blend"' in capsys.readouterr().err
    assert job.read_bytes() == before


def test_a_full_disk_says_what_to_do(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line, no traceback, status 2."""

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("prepadvisor.files.disk.atomic.FileSystem.write", full)
    before = job.read_bytes()
    assert _log(job, "left-front-door/panel", "cleaned") == 2
    err = capsys.readouterr().err
    assert "not saved: the disk is full; free some room, then log it again" in err
    assert "Traceback" not in err
    assert job.read_bytes() == before


def test_a_place_may_be_named_as_on_the_card(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The technician has the card in front of him, where the handle recess is A4 and the panel is A."""
    assert _log(job, "a4", "scuffed", "--tool", "hand-pad", "--grade", "P1500") == 0
    assert "logged: left-front-door/H1 scuffed hand-pad P1500   (on the card: A4 handle recess)" in (
        capsys.readouterr().out
    )
    assert _log(job, "A", "cleaned") == 0
    assert _log(job, "A", "sanded", "--tool", "da-soft", "--grade", "P1000") == 0
    assert [(e["panel"], e["feature"]) for e in _entries(job)] == [
        ("left-front-door", "H1"), ("left-front-door", "panel"), ("left-front-door", "face"),
    ]  # fmt: skip


def test_a_panels_own_name_goes_before_a_card_number(job: Path) -> None:
    """A panel that is called A2 stays that panel."""
    text = job.read_text(encoding="utf-8").replace('"left-front-door"', '"A2"')
    job.write_text(text, encoding="utf-8")
    assert _log(job, "A2", "cleaned") == 0
    assert _entries(job)[-1]["panel"] == "A2"


def test_without_pads_in_the_shop_file_the_grade_is_asked_for(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An empty list of pads helps nobody."""
    assert _log(job, "left-front-door/E1", "scuffed", "--tool", "hand-pad", "--pad", "grey") == 2
    assert "the shop file names no pads; give the grade with its P" in capsys.readouterr().err


def test_after_a_rub_through_the_next_thing_is_no_look(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was found is mended first; nobody is sent to look at it once more."""
    _log(job, "A1", "inspected", "--result", "cut-through")
    out = capsys.readouterr().out
    assert "mend what was found there first" in out
    assert "next at left-front-door/E1: look" not in out


def test_what_is_next_after_lines_is_their_mend(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every later entry at the place says the mend again in words, not "as above"."""
    _log(job, "left-front-door", "cleaned")
    _log(job, "left-front-door/E1", "scuffed", "--tool", "hand-pad", "--grade", "P1000")
    _log(job, "left-front-door/E1", "inspected", "--result", "lines")
    capsys.readouterr()
    _log(job, "left-front-door/E1", "guide-coated")
    (line,) = [each for each in capsys.readouterr().out.splitlines() if each.startswith("next at")]
    assert "mend what was found there first: " in line
    assert "P1000" in line


def test_a_number_that_is_not_on_the_card_names_those_that_are(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A99 is a slip of the key, not an unknown panel."""
    assert _log(job, "A99", "scuffed") == 2
    said = capsys.readouterr().err
    assert 'has no place "A99"' in said
    assert "A1" in said


def test_a_wipe_before_the_work_is_told_at_once(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It counts only as the last thing on its panel."""
    assert _log(job, "A", "wiped") == 0
    assert "wipe again" in capsys.readouterr().out
