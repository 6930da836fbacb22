"""Layers from the command line: what was in force when a card was printed, and verifying it a year later."""

import json
from pathlib import Path

import pytest

from prepadvisor.cli.main import main
from prepadvisor.files import demo_jobs_dir

JOB = str(min(demo_jobs_dir().glob("*.toml")))
RULE = """
[[rule]]
id = "{name}-fade"
says = "Fine flake: {grade} in the fade."
when = {{ flake = "fine", zone = "fade", surface = "aged-clear", next = "base", reach = "machine" }}
set = {{ finish_coarsest = "{grade}" }}
source = "ours"
"""


def house(folder: Path, name: str, version: str = "1", grade: str = "P1000", more: str = "") -> str:
    """Write a house folder with one rule."""
    path = folder / name
    path.mkdir(exist_ok=True)
    head = f'[standards]\nname = "{name}"\nversion = "{version}"\n{more}\n'
    (path / "rules.toml").write_text(head + RULE.format(name=name, grade=grade), encoding="utf-8")
    return str(path)


def card(path: Path, *houses: str) -> Path:
    """Write a job's card as JSON."""
    options = [word for each in houses for word in ("--house", each)]
    assert main(["card", JOB, "--to", "json", "--out", str(path), *options]) in (0, 1)
    return path


def verify(capsys: pytest.CaptureFixture[str], path: Path, *houses: str) -> tuple[int, dict[str, str]]:
    """Return the exit status and what became of each layer."""
    capsys.readouterr()
    options = [word for each in houses for word in ("--house", each)]
    status = main(["standards", "verify", str(path), "--json", *options])
    data = json.loads(capsys.readouterr().out)
    return status, {each["layer"]: each["was"] for each in data["layers"]}


def test_a_card_says_which_layers_it_rests_on(tmp_path: Path) -> None:
    """Lowest first, each with version and digest."""
    layers = json.loads(
        card(tmp_path / "c.json", house(tmp_path, "group"), house(tmp_path, "site", "7")).read_text()
    )["standards"]["layers"]
    assert [(each["layer"], each["version"], each["state"]) for each in layers] == [
        ("base", "1", "in force"),
        ("group", "1", "in force"),
        ("site", "7", "in force"),
    ]
    assert all(len(each["digest"]) == 64 for each in layers)


def test_a_comment_changes_no_digest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is verified is what the files say, not how."""
    ours = house(tmp_path, "ours")
    path = card(tmp_path / "c.json", ours)
    rules = Path(ours) / "rules.toml"
    rules.write_text("# a word more\n" + rules.read_text())
    assert verify(capsys, path, ours) == (0, {"base": "unchanged", "ours": "unchanged"})


def test_content_changed_under_one_version_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The card rests on something that nobody can look up any more."""
    path = card(tmp_path / "c.json", house(tmp_path, "ours"))
    ours = house(tmp_path, "ours", grade="P800")
    assert verify(capsys, path, ours) == (1, {"base": "unchanged", "ours": "changed under one version"})


def test_what_was_in_force_a_year_ago_can_be_looked_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Approved, changed with a new version, approved again: the old card still verifies."""
    ours = house(tmp_path, "ours")
    assert main(["standards", "approve", ours, "--by", "K. M.", "--from", "2020-01-01"]) == 0
    path = card(tmp_path / "c.json", ours)
    house(tmp_path, "ours", "2", grade="P800")
    assert main(["standards", "approve", ours, "--by", "K. M.", "--from", "2030-01-01"]) == 0
    assert verify(capsys, path, ours) == (0, {"base": "unchanged", "ours": "on record"})


def test_a_version_on_record_cannot_be_approved_with_other_content(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The check tells it as well, with exit status 1."""
    ours = house(tmp_path, "ours")
    assert main(["standards", "approve", ours, "--by", "K. M."]) == 0
    house(tmp_path, "ours", grade="P800")
    assert main(["standards", "approve", ours, "--by", "K. M."]) == 2
    assert main(["standards", "check", ours, "--json"]) == 1
    found = json.loads(capsys.readouterr().out.splitlines()[-1])["findings"]
    assert "file" in [finding["kind"] for finding in found]


@pytest.mark.parametrize("name", ["c.toml.txt", ".c.toml", "c.tml", "inside/c.toml", "c.txt"])
def test_a_rule_file_that_is_not_read_is_told(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A rule that a lead wrote and nobody reads is worse than none."""
    ours = house(tmp_path, "ours")
    stray = Path(ours) / name
    stray.parent.mkdir(exist_ok=True)
    stray.write_text(RULE.format(name="stray", grade="P1500"))
    assert main(["standards", "check", ours, "--json"]) == 1
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert (finding["kind"], finding["file"]) == ("file", str(stray))


@pytest.mark.parametrize("name", ["rules.toml~", "rules.toml.bak", "README.md", "notes.txt"])
def test_what_editors_leave_and_notes_are_no_faults(name: str, tmp_path: Path) -> None:
    """No false alarm."""
    ours = house(tmp_path, "ours")
    (Path(ours) / name).write_text("Nothing to do with rules.")
    assert main(["standards", "check", ours]) == 0


@pytest.mark.parametrize(
    ("was", "becomes", "unit"),
    [
        ('reach = "machine" }', 'reach = "machine", film_um = "< 0.1" }', "µm"),
        ('reach = "machine" }', 'reach = "machine", panel_m2 = ">= 60" }', "m²"),
        ('finish_coarsest = "P1000"', 'finish_coarsest = "P1000", film_off_max_um = 0.004', "µm"),
    ],
)
def test_a_number_in_another_unit_is_told(
    was: str, becomes: str, unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Mm for µm, dm² for m²."""
    rules = Path(house(tmp_path, "ours")) / "rules.toml"
    rules.write_text(rules.read_text().replace(was, becomes))
    assert main(["standards", "check", str(rules.parent), "--json"]) == 1
    found = [each for each in json.loads(capsys.readouterr().out)["findings"] if each["kind"] == "file"]
    assert len(found) == 1
    assert f"counts in {unit}" in found[0]["says"]


def test_a_sentence_with_another_grade_is_a_note(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """P600 in words beside P1000 in force: told, exit status 0."""
    rules = Path(house(tmp_path, "ours")) / "rules.toml"
    rules.write_text(rules.read_text().replace("P1000 in the fade", "P600 in the fade"))
    assert main(["standards", "check", str(rules.parent), "--json"]) == 0
    (finding,) = [each for each in json.loads(capsys.readouterr().out)["findings"] if each["kind"] == "says"]
    assert finding["rules"] == ["ours-fade"]


def test_layers_of_one_name_are_told_apart(tmp_path: Path) -> None:
    """Two folders called rules, one of them called base: no layer is taken for another."""
    for parent in ("north", "south"):
        (tmp_path / parent).mkdir()
    houses = house(tmp_path / "north", "rules"), house(tmp_path / "south", "base", more="")
    layers = json.loads(card(tmp_path / "c.json", *houses).read_text())["standards"]["layers"]
    assert [each["layer"] for each in layers] == ["base", "rules", "south/base"]


def test_a_withdrawn_note_prints_nowhere(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Neither on the card nor in its data; the deviation stands there instead."""
    ours = house(tmp_path, "ours")
    job = str(demo_jobs_dir() / "fine-two-panels.toml")
    assert main(["card", job, "--house", ours]) in (0, 1)
    assert "Hand pads vary" in " ".join(capsys.readouterr().out.split())
    withdrawn = '[[withdraw]]\nrule = "hand-pad-grain"\nbecause = "Ours are all one make."\n'
    (Path(ours) / "without.toml").write_text(withdrawn, encoding="utf-8")
    for form in ("text", "json"):
        assert main(["card", job, "--house", ours, "--to", form]) in (0, 1)
        printed = " ".join(capsys.readouterr().out.split())
        assert "Hand pads vary" not in printed
        assert "Ours are all one make" in printed
