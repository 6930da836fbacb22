"""`prepadvisor colours`: the book as a table, sealed, added to, and what a card makes of it."""

import json
from pathlib import Path

import pytest

from prepadvisor.checkoff import bases
from prepadvisor.cli.main import main
from prepadvisor.files import load_house, load_job
from prepadvisor.planning import advise

_HEAD = "book,name,code,flake,flake_um,tilt_deg,log_sd,stages,tone,notes,sealed_by,sealed_on"
_MIST = "Harbour mist,Harbour mist,HM-1,medium,16,,,2,mid,,K. M.,2026-03-02"
_NIGHT = "Night,Night,N-2,fine,,,,2,dark,,,"
_DEMO = Path(__file__).parents[2] / "demo_jobs/very-fine-door-and-wing.toml"


@pytest.fixture
def house(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A house whose book was read from a table of two colours."""
    folder = tmp_path / "ours"
    assert main(["colours", _table(tmp_path, _MIST, _NIGHT), "--house", str(folder)]) == 0
    capsys.readouterr()
    return folder


def _table(tmp_path: Path, *rows: str) -> str:
    path = tmp_path / "colours.csv"
    path.write_text("\n".join((_HEAD, *rows)) + "\n", encoding="utf-8")
    return str(path)


def _job(tmp_path: Path, colour: str) -> str:
    text = _DEMO.read_text("utf-8")
    start, end = text.index("[colour]"), text.index("[[panel]]")
    path = tmp_path / "job.toml"
    path.write_text(f"{text[:start]}[colour]\n{colour}\n\n{text[end:]}", encoding="utf-8")
    return str(path)


def _card(house: Path, job: str, capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    main(["card", job, "--to", "json", "--house", str(house)])
    return json.loads(capsys.readouterr().out)  # type: ignore[no-any-return]


def test_a_table_goes_in_and_comes_out_alike(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was read is what is written; reading it again changes nothing."""
    assert main(["colours", "--house", str(house)]) == 0
    text = capsys.readouterr().out
    again = house.parent / "again.csv"
    again.write_text(text, encoding="utf-8")
    assert main(["colours", str(again), "--house", str(house)]) == 0
    assert "0 colours added or changed" in capsys.readouterr().out


def test_every_bad_row_is_refused_and_none_half_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Lines 3 to 8 are told; the good row on line 2 is not taken either."""
    bad = (
        ",No word,,fine,,,,2,,,,",
        "A,,,glitter,,,,2,,,,",
        "B,,,fine,0.2,,,2,,,,",
        "C,,,fine,,,,4,,,,",
        "D,,,fine,,,,2,pale,,,",
        "Harbour mist,,,fine,,,,2,,,,",
        "E,,,fine,,,,2,,,,2026-03-02",
    )
    house = tmp_path / "ours"
    assert main(["colours", _table(tmp_path, _MIST, *bad), "--house", str(house)]) == 2
    told = capsys.readouterr().err
    assert [line for line in range(3, 10) if f"colours.csv:{line}:" not in told] == []
    assert not house.exists()


def test_a_colour_without_its_word_is_said_once_and_plainly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Not in the words of the checker of records."""
    assert main(["colours", _table(tmp_path, _NIGHT.removeprefix("Night")), "--house", str(tmp_path)]) == 2
    (told,) = capsys.readouterr().err.splitlines()
    assert told.endswith("book: is empty; write the word jobs call the colour by")


def test_find_by_a_part(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Part of a code."""
    assert main(["colours", "--find", "hm", "--house", str(house), "--json"]) == 0
    assert [each["book"] for each in json.loads(capsys.readouterr().out)["colours"]] == ["Harbour mist"]


def test_a_job_takes_from_a_sealed_entry(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Flake and stages left out: medium, two stages; the card says so with the seal."""
    card = _card(house, _job(tmp_path, 'name = "x"\nbook = "harbour mist"'), capsys)
    head = card["job"]
    assert isinstance(head, dict)
    assert (head["flake"], head["stages"], head["tone"]) == ("medium", 2, "mid")
    assert any("sealed by K. M. on 2026-03-02" in str(each) for each in card["cautions"])  # type: ignore[attr-defined]


def test_an_unsealed_entry_never_loosens(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Night is fine and two-stage, but unsealed: very fine, three stages, told."""
    card = _card(house, _job(tmp_path, 'book = "Night"'), capsys)
    head = card["job"]
    assert isinstance(head, dict)
    assert (head["flake"], head["stages"], head["tone"]) == ("very-fine", 3, "light")
    assert any("not sealed" in str(each) for each in card["cautions"])  # type: ignore[attr-defined]


def test_a_missing_entry_is_told_and_judged_from_the_job(
    house: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With what may have been meant."""
    card = _card(house, _job(tmp_path, 'book = "Harbour mst"\nflake = "coarse"\nstages = 2'), capsys)
    head = card["job"]
    assert isinstance(head, dict)
    assert head["flake"] == "coarse"
    assert any('did you mean "Harbour mist"' in str(each) for each in card["cautions"])  # type: ignore[attr-defined]


def test_sealing_counts_and_changes_no_version(house: Path) -> None:
    """The entry is sealed today; the standards' digest stays."""
    before = load_house(house)
    assert main(["colours", "--seal", "night", "--by", "L. R.", "--house", str(house)]) == 0
    after = load_house(house)
    assert after.book["night"].sealed_by == "L. R."
    assert after.book["night"].sealed_on is not None
    assert after.digest == before.digest


def test_sealing_changes_no_basis(house: Path, tmp_path: Path) -> None:
    """A look on a job that states what the book says stays good when a lead seals the entry."""
    job_file = _job(tmp_path, 'name = "Night"\nbook = "Night"\nflake = "fine"\nstages = 2\ntone = "dark"')
    found = []
    for seals in (False, True):
        if seals:
            assert main(["colours", "--seal", "Night", "--by", "L. R.", "--house", str(house)]) == 0
        loaded = load_house(house)
        job = load_job(job_file, loaded)
        found.append(bases(job, advise(job, loaded), loaded))
    assert found[0] == found[1]


@pytest.mark.parametrize(
    "words", [["--seal", "Night"], ["--seal", "Nigth", "--by", "L."], ["--seal", "Night", "--by", " "]]
)
def test_a_seal_needs_a_lead_and_an_entry(house: Path, words: list[str]) -> None:
    """Neither nobody nor nothing."""
    assert main(["colours", *words, "--house", str(house)]) == 2


def test_a_jobs_colour_is_put_in_unsealed(house: Path, tmp_path: Path) -> None:
    """Once; the second time the book has it."""
    job = _job(tmp_path, 'name = "Dune"\nflake = "coarse"\nstages = 2')
    assert main(["colours", "--add", job, "--house", str(house)]) == 0
    assert load_house(house).book["dune"].flake == "coarse"
    assert not load_house(house).book["dune"].is_sealed
    assert main(["colours", "--add", job, "--house", str(house)]) == 2


def test_comments_in_the_book_stay(house: Path, tmp_path: Path) -> None:
    """Edited by hand and by the program."""
    book = house / "colours.toml"
    book.write_text(book.read_text("utf-8") + "# the lead's own note\n", "utf-8")
    assert main(["colours", _table(tmp_path, "Dune,,,coarse,,,,2,,,,"), "--house", str(house)]) == 0
    text = book.read_text("utf-8")
    assert "# the lead's own note" in text
    assert 'book = "Dune"' in text


def test_a_faulty_book_is_told_whole(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every fault with its line, and no card by half a book."""
    (house / "colours.toml").write_text(
        '[[colour]]\nbook = "A"\nflake = "glitter"\n\n[[colour]]\nbook = "B"\nstages = 5\n', "utf-8"
    )
    assert main(["card", str(_DEMO), "--house", str(house)]) == 2
    told = capsys.readouterr().err
    assert "colours.toml:3:" in told
    assert "colours.toml:7:" in told


def test_a_book_needs_a_house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """There is nowhere to put it."""
    monkeypatch.delenv("PREPADVISOR_HOUSE", raising=False)
    assert main(["colours", _table(tmp_path, _MIST)]) == 2


@pytest.mark.parametrize(
    ("column", "value"),
    [("name", "Harbour fog"), ("code", "HM-2"), ("flake", "fine"), ("flake_um", "15"), ("tilt_deg", "8"),
     ("log_sd", "0.5"), ("stages", "3"), ("tone", "light")],
)  # fmt: skip
def test_a_changed_value_takes_the_seal_off(
    house: Path, capsys: pytest.CaptureFixture[str], column: str, value: str
) -> None:
    """The seal stood for the value before; a lead seals the new one."""
    cells = dict(zip(_HEAD.split(","), _MIST.split(","), strict=True)) | {column: value}
    assert main(["colours", _table(house.parent, ",".join(cells.values())), "--house", str(house)]) == 0
    assert "Harbour mist: its values changed, so its seal is off" in capsys.readouterr().out
    assert not load_house(str(house)).book["harbour mist"].is_sealed
    assert main(["colours", "--seal", "Harbour mist", "--by", "K. M.", "--house", str(house)]) == 0
    assert load_house(str(house)).book["harbour mist"].is_sealed


def test_notes_leave_the_seal_on(house: Path) -> None:
    """Notes are no value that anything is judged by."""
    row = _MIST.replace(",,K. M.", ",seen in the sun,K. M.")
    assert main(["colours", _table(house.parent, row), "--house", str(house)]) == 0
    entry = load_house(str(house)).book["harbour mist"]
    assert (entry.notes, entry.is_sealed) == ("seen in the sun", True)


def test_where_leads_are_named_only_they_seal(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`leads` of the shop file, as people write initials."""
    (house / "shop.toml").write_text('leads = ["K. M."]\n', encoding="utf-8")
    assert main(["colours", "--seal", "Night", "--by", "RT", "--house", str(house)]) == 2
    assert "RT is no lead of this shop; sealed by K. M." in capsys.readouterr().err
    assert main(["colours", "--seal", "Night", "--by", "km", "--house", str(house)]) == 0


def test_panels_and_outcomes_stand_at_their_colour(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Rows of the house's table by book word or name, in any case; outcomes of jobs that name the colour."""
    panels = (
        "colour,tool,grade,shows\nharbour  MIST,da,P600,yes\nHarbour mist,da,P1000,barely\nNight,da,P800,no\n"
    )
    (house / "panels.csv").write_text(panels, encoding="utf-8")
    job = _job(house.parent, 'name = "Harbour mist"\nflake = "medium"\nstages = 2')
    assert main(["outcome", job, "left-front-door/E1", "seen", "--by", "KM"]) == 0
    capsys.readouterr()
    assert main(["colours", "--house", str(house), "--json", "--record", job]) == 0
    record = {each["book"]: each["record"] for each in json.loads(capsys.readouterr().out)["colours"]}
    assert record["Harbour mist"] == {
        "panels": 2, "show": 1, "barely": 1, "reports": 1, "came_back": 1, "wet_looks": 0, "wet_lines": 0
    }  # fmt: skip
    assert record["Night"]["panels"] == 1
    assert main(["colours", "--house", str(house), "--record"]) == 0
    assert "2 test panels: 1 show, 1 barely" in capsys.readouterr().out


def test_two_colours_of_one_code_are_told(house: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Variants of one colour share a code: both stay, and it is said of each."""
    assert (
        main(["colours", _table(house.parent, "Mist two,,hm-1,fine,,,,2,mid,,,"), "--house", str(house)]) == 0
    )
    said = capsys.readouterr().out
    assert "code HM-1 is also that of Mist two" in said
    assert "code hm-1 is also that of Harbour mist" in said
    assert main(["colours", "--find", "HM-1", "--house", str(house)]) == 0
    assert capsys.readouterr().out.count("\n") == 3
