"""`prepadvisor fit`: rows in, numbers out, a house that works by them; faults all at once."""

import json
import shutil
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import load_house

_HEAD = "flake,tool,grade,coats,shows,by,blind,date"
_ROWS = (
    "very-fine,da-soft,P600,0,yes,A,yes,2026-03-02",
    "very-fine,da-soft,P800,0,yes,A,yes,2026-03-02",
    "very-fine,da-soft,P1000,0,no,A,yes,2026-03-02",
    "very-fine,hand-pad,P1000,0,yes,A,yes,2026-03-02",
    "fine,hand-pad,P1200,1,no,A,yes,2026-03-02",
    "fine,da-soft,P500,1,barely,B,yes,2026-03-02",
)
_DEMO = Path(__file__).parents[2] / "demo_jobs"


@pytest.fixture
def panels(tmp_path: Path) -> Path:
    """A file of six test panels."""
    path = tmp_path / "panels.csv"
    path.write_text("\n".join((_HEAD, *_ROWS)) + "\n", encoding="utf-8")
    return path


@pytest.fixture(autouse=True)
def _clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PREPADVISOR_NOW", "2026-04-01T09:00:00Z")
    monkeypatch.delenv("PREPADVISOR_HOUSE", raising=False)


def _json(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    assert main(["fit", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)  # type: ignore[no-any-return]


def test_json_has_its_keys(panels: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The contract: numbers with value, interval, before and rows; rows; next with gain and a sentence."""
    found = _json(capsys, str(panels), "--next", "2")
    assert found["rows"] == 6
    numbers = {each["name"]: each for each in found["numbers"]}  # type: ignore[attr-defined]
    assert {"threshold_arcsec", "depth_per_grain.da-soft", "bed_set_solids"} <= set(numbers)
    assert all({"value", "low", "high", "before", "rows"} <= set(each) for each in numbers.values())
    assert all(each["low"] <= each["value"] <= each["high"] for each in numbers.values())
    assert numbers["depth_per_grain.da-soft"]["rows"] == 4
    proposed = found["next"]
    assert isinstance(proposed, list)
    assert len(proposed) == 2
    assert all({"flake", "tool", "grade", "coats", "gain", "says"} <= set(each) for each in proposed)


def test_next_keeps_to_the_shelf(panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A shop with two grades is never told to buy a third for a test."""
    house = tmp_path / "house"
    house.mkdir()
    (house / "shop.toml").write_text('shelf = ["P600", "P1000"]\n', encoding="utf-8")
    found = _json(capsys, str(panels), "--next", "8", "--house", str(house))
    assert {each["grade"] for each in found["next"]} <= {"P600", "P1000"}  # type: ignore[attr-defined]


def test_out_puts_the_numbers_in_force(
    panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """From no house to a fitted one: the house has what the report says, with passports."""
    house = tmp_path / "ours"
    found = _json(capsys, str(panels), "--out", str(house))
    numbers = {each["name"]: each for each in found["numbers"]}  # type: ignore[attr-defined]
    loaded = load_house(house)
    line = loaded.constants.sight.thinnest_line_arcsec
    assert line.value == pytest.approx(numbers["threshold_arcsec"]["value"], rel=1e-5)
    assert (line.known, line.rows, str(line.measured_on)) == ("measured", 6, "2026-04-01")
    assert line.low is not None
    assert line.high is not None
    assert line.low < line.value < line.high
    soft = loaded.constants.groove.depth_per_grain["da-soft"]
    assert soft.value == pytest.approx(numbers["depth_per_grain.da-soft"]["value"], rel=1e-5)
    assert loaded.constants.groove.depth_per_grain["da"].known == "assumption"
    assert loaded.shop.wet_bed.set_solids == pytest.approx(numbers["bed_set_solids"]["value"], rel=1e-5)
    assert loaded.shop.passport["wet_bed.set_solids"].known == "measured"


def test_out_keeps_comments_and_earlier_layers(
    panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A lead's own file keeps its words; the version before stays; fitting again gives the same numbers."""
    house = tmp_path / "ours"
    house.mkdir()
    (house / "constants.toml").write_text(
        "# our lead's note\n[sight]\nviewing_distance_mm = { value = 600 }\n", "utf-8"
    )
    first = _json(capsys, str(panels), "--out", str(house))
    text = (house / "constants.toml").read_text("utf-8")
    assert "# our lead's note" in text
    assert "600" in text
    (kept,) = (house / "earlier").iterdir()
    assert kept.read_text("utf-8").startswith(
        "# our lead's note\n[sight]\nviewing_distance_mm = { value = 600 }"
    )
    again = _json(capsys, str(panels), "--out", str(house))
    values = [[each["value"] for each in one["numbers"]] for one in (first, again)]  # type: ignore[attr-defined]
    assert values[0] == pytest.approx(values[1])


def test_every_bad_row_is_told_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Lines 2 to 9, each with its own fault."""
    rows = (
        "very-fine,da-soft,600,0,yes,A,yes,2026-03-02",
        "very-fine,da-soft,P800,0,maybe,A,yes,2026-03-02",
        "solid,da-soft,P800,0,yes,A,yes,2026-03-02",
        "very-fine,,P800,0,yes,A,yes,2026-03-02",
        ",da-soft,P800,0,yes,A,yes,2026-03-02",
        "very-fine,da-soft,P800,1.5,yes,A,yes,2026-03-02",
        "very-fine,da-soft,P800,0,yes,A,perhaps,2026-03-02",
        "very-fine,da-soft,P800,0,yes,A,yes,2026-05-02",
    )
    path = tmp_path / "panels.csv"
    path.write_text("\n".join((_HEAD, *rows)), encoding="utf-8")
    house = tmp_path / "ours"
    assert main(["fit", str(path), "--out", str(house)]) == 2
    told = capsys.readouterr().err
    assert [line for line in range(2, 10) if f"panels.csv:{line}:" not in told] == []
    assert not house.exists()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("flake,tool,grade\nfine,da,P800\n", "no column shows"),
        ("flake,tool,grade,shows,graed\nfine,da,P800,yes,x\n", 'did you mean "grade"'),
        ("flake,flake,tool,grade,shows\n", "twice"),
        ("flake,tool,grade,shows\nfine,da,P800,yes,extra\n", "5 cells"),
    ],
)
def test_a_bad_table_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, says: str
) -> None:
    """Header and shape, in words."""
    path = tmp_path / "panels.csv"
    path.write_text(text, encoding="utf-8")
    assert main(["fit", str(path)]) == 2
    assert says in capsys.readouterr().err


def test_a_header_alone_is_no_rows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An empty house begins so: 0, told, nothing written."""
    path = tmp_path / "panels.csv"
    path.write_text(_HEAD + "\n", encoding="utf-8")
    found = _json(capsys, str(path), "--next", "3", "--out", str(tmp_path / "ours"))
    assert found["rows"] == 0
    assert [each["kind"] for each in found["told"]] == ["no-rows"]  # type: ignore[attr-defined]
    assert len(found["next"]) == 3  # type: ignore[arg-type]
    assert not (tmp_path / "ours").exists()


def test_semicolons_and_us_words_are_taken(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A spreadsheet of another country, and vapor, dual-action, color."""
    path = tmp_path / "panels.csv"
    path.write_text("Flake;Tool;Grade;Zone;Shows\nvapor;dual-action;p800;color;Yes\n", encoding="utf-8-sig")
    found = _json(capsys, str(path))
    assert {each["name"] for each in found["numbers"] if each["rows"]} == {  # type: ignore[attr-defined]
        "threshold_arcsec",
        "depth_per_grain.da",
    }


def _reported(tmp_path: Path, seen: bool) -> Path:
    job = tmp_path / "job.toml"
    shutil.copy(_DEMO / "very-fine-door-and-wing.toml", job)
    with job.open("a", encoding="utf-8") as file:
        file.write('\n[[check]]\nat = 2026-03-02T10:00:00Z\nby = "K."\npanel = "left-front-door"\n'
                   'feature = "face"\nstep = "sanded"\ntool = "da-soft"\ngrade = "P1000"\n')  # fmt: skip
        file.write('\n[[outcome]]\nat = 2026-03-20T10:00:00Z\nby = "K."\npanel = "left-front-door"\n'
                   f'feature = "face"\nseen = {str(seen).lower()}\n')  # fmt: skip
    return job


def test_a_house_keeps_its_own_table(
    panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """panels.csv of the house is read where no table is named, with jobs or without."""
    house = tmp_path / "ours"
    house.mkdir()
    (house / "shop.toml").write_text('name = "ours"\n', encoding="utf-8")
    shutil.copy(panels, house / "panels.csv")
    assert _json(capsys, "--house", str(house))["rows"] == 6
    assert _json(capsys, str(_reported(tmp_path, seen=False)), "--house", str(house))["rows"] == 7


def test_an_outcome_is_a_row_of_its_own_kind(
    panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A job's outcome adds to the panels; its tool's depth has one row more."""
    found = _json(capsys, str(panels), str(_reported(tmp_path, seen=False)))
    assert found["kinds"] == {"panel": 6, "outcome": 1, "wet-look": 0}
    assert found["rows"] == 7


def test_check_agrees_or_says_so(panels: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Panels as predicted agree; sixty strong lines that nobody sees do not. Both end with 0."""
    assert main(["fit", str(panels), "--check"]) == 0
    assert "they agree" in capsys.readouterr().out
    odd = tmp_path / "odd.csv"
    odd.write_text("\n".join(("flake,tool,grade,shows", *(["very-fine,hand-paper,P120,no"] * 60))), "utf-8")
    assert main(["fit", str(odd), "--check"]) == 0
    told = capsys.readouterr()
    assert "DISAGREE" in told.out
    assert "disagrees with the numbers in force" in told.err


def test_the_report_is_one_page_file_without_outside_requests(panels: Path, tmp_path: Path) -> None:
    """Drawings inside, nothing fetched; strips of the spray plan stand in it."""
    page = tmp_path / "report.html"
    assert main(["fit", str(panels), "--next", "3", "--report", str(page)]) == 0
    text = page.read_text("utf-8")
    assert text.count("<svg") >= 5
    assert "Spray plan" in text
    assert "src=" not in text.replace("src: url(data:", "")


@pytest.mark.parametrize("ending", ["html", "pdf"])
def test_the_spray_plan_is_written_alone(panels: Path, tmp_path: Path, ending: str) -> None:
    """With strips to scale; without panels to plan it is refused."""
    plan = tmp_path / f"plan.{ending}"
    assert main(["fit", str(panels), "--next", "4", "--plan", str(plan)]) == 0
    assert plan.stat().st_size > 3_000
    assert main(["fit", str(panels), "--plan", str(plan)]) == 2


def test_a_place_that_cannot_be_written_is_told_before_the_house_is_touched(
    panels: Path, tmp_path: Path
) -> None:
    """The report over its own input: nothing is written, the table stays."""
    before = panels.read_bytes()
    assert main(["fit", str(panels), "--out", str(tmp_path / "ours"), "--report", str(panels)]) == 2
    assert panels.read_bytes() == before
    assert not (tmp_path / "ours").exists()


def test_the_guide_is_a_page(capsys: pytest.CaptureFixture[str]) -> None:
    """How to make, light and read test panels."""
    assert main(["fit", "--guide"]) == 0
    told = capsys.readouterr().out
    assert [
        word for word in ("Strips", "Masking", "Order", "Light", "distance", "blind") if word not in told
    ] == []


@pytest.mark.parametrize("count", ["0", "-1", "x", "51"])
def test_an_odd_count_of_panels_is_refused(panels: Path, count: str) -> None:
    """1 to 50."""
    assert main(["fit", str(panels), "--next", count]) == 2


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    """No traceback."""
    assert main(["fit", str(tmp_path / "none.csv")]) == 2
    assert main(["fit"]) == 2


def test_a_house_without_panels_is_told_what_to_spray_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An empty house: no number moves, and the first panels are named."""
    house = tmp_path / "ours"
    house.mkdir()
    (house / "shop.toml").write_text('shelf = ["P600", "P800", "P1000"]\n', encoding="utf-8")
    found = _json(capsys, "--house", str(house), "--next", "4")
    assert found["rows"] == 0
    assert {each["grade"] for each in found["next"]} <= {"P600", "P800", "P1000"}  # type: ignore[attr-defined]
    assert len(found["next"]) == 4  # type: ignore[arg-type]
