"""`prepadvisor standards`: check, compare, show and new from the command line."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from prepadvisor.cli.main import main

RULE = """
[[rule]]
id = "{id}"
says = "Planted."
when = {when}
set = {set}
source = "practice"
"""
TOO_FINE = RULE.format(
    id="too-fine",
    when='{ surface = "electrocoat", next = "sealer" }',
    set='{ finish_coarsest = "P800", finish_target = "P800" }',
)
STRICTER = RULE.format(
    id="stricter-fade",
    when='{ flake = ">= fine", zone = "fade", surface = "aged-clear", next = "base", reach = "machine" }',
    set="{ risk_limit = 0.1 }",
)


def house(folder: Path, text: str) -> str:
    """Write a house folder of one rule file and return its name."""
    folder.mkdir(exist_ok=True)
    (folder / "rules.toml").write_text(text, encoding="utf-8")
    return str(folder)


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """Run a command and return status and what it printed to standard output, on one line."""
    status = main(["standards", *words])
    return status, " ".join(capsys.readouterr().out.split())


def data(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    """Run a command with --json and return status and data."""
    status = main(["standards", *words, "--json"])
    return status, json.loads(capsys.readouterr().out)


def test_the_shipped_standards_check_clean(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing to mend, not even a note, and all cases were looked at."""
    status, found = data(capsys, "check")
    assert (status, found["findings"]) == (0, [])
    assert found["cells"] > 100_000_000


def test_a_collision_ends_with_status_one_and_tells_place_and_mend(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A lead reads which rules, which cases, which line and what to do."""
    folder = house(tmp_path / "ours", TOO_FINE)
    status, text = told(capsys, "check", folder)
    assert status == 1
    for words in ("COLLISION", f"{folder}/rules.toml:2", "on electrocoat; sealer next", "Mend: Make"):
        assert words in text


def test_json_findings_have_the_agreed_keys(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Kind, rules, facts, says, file and line, for a program to read."""
    status, found = data(capsys, "check", house(tmp_path / "ours", TOO_FINE))
    (finding,) = found["findings"]
    assert status == 1
    assert (finding["kind"], finding["line"]) == ("collision", 2)
    assert finding["rules"] == ["electrocoat-sealer", "too-fine"]
    assert finding["facts"] == {"surface": "electrocoat", "next": "sealer", "reach": "machine"}
    assert finding["file"].endswith("rules.toml")
    assert finding["says"]


def test_a_dead_rule_is_a_note_and_no_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0: nobody is kept from work by a rule that changes nothing."""
    idle = RULE.format(id="idle", when='{ flake = "vapour" }', set='{ guide_coat = "no" }')
    status, text = told(capsys, "check", house(tmp_path / "ours", idle))
    assert status == 0
    assert "a note, not an error" in text
    assert "1 note." in text


def test_the_house_of_the_environment_is_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a folder, the one that PREPADVISOR_HOUSE names."""
    monkeypatch.setenv("PREPADVISOR_HOUSE", house(tmp_path / "ours", TOO_FINE))
    assert told(capsys, "check")[0] == 1


def test_a_bad_rule_file_ends_with_status_two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every fault on standard error, nothing on standard output."""
    bad = RULE.format(id="bad", when='{ flavour = "fine" }', set='{ finish_coarsest = "600" }')
    assert main(["standards", "check", house(tmp_path / "ours", bad)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "rules.toml:5:" in printed.err
    assert "rules.toml:6:" in printed.err


def test_standards_do_not_differ_from_themselves(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0 and no change."""
    status, found = data(capsys, "compare", "base", "base")
    assert (status, found["changes"], found["cases"]) == (0, [], 0)


def test_compare_tells_before_and_after_of_the_cases_that_change(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One tightened answer in the words of its rule."""
    status, found = data(capsys, "compare", "base", house(tmp_path / "ours", STRICTER))
    (change,) = found["changes"]
    assert status == 1
    assert change["differences"] == [{"output": "risk_limit", "before": 0.25, "after": 0.1}]
    assert change["facts"]["flake"] == ["fine", "very-fine", "vapour"]
    assert change["cases"] == found["cases"]


def test_compare_in_words_names_the_output_and_both_values(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A lead reads it without JSON."""
    status, text = told(capsys, "compare", "base", house(tmp_path / "ours", STRICTER))
    assert status == 1
    assert "fine or finer flake; fade zone; on aged-clear" in text
    assert "risk_limit: 0.25 → 0.1" in text


def test_compare_tells_the_faults_of_both_folders(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One run is enough to see all that is wrong."""
    bad = [house(tmp_path / name, "[[rule]]\n") for name in ("a", "b")]
    assert main(["standards", "compare", *bad]) == 2
    printed = capsys.readouterr().err
    assert all(name in printed for name in bad)


def test_show_lists_rules_by_their_file(capsys: pytest.CaptureFixture[str]) -> None:
    """Families in order, each rule with what it says."""
    status, text = told(capsys, "show")
    assert status == 0
    assert (
        text.index("rules/base/cleaning.toml") < text.index("rules/base/hand.toml") < text.index("hand-any")
    )


def test_show_tells_all_of_one_rule(capsys: pytest.CaptureFixture[str]) -> None:
    """When, sets, source, where it decides, and the examples that meet it."""
    status, text = told(capsys, "show", "hand-very-fine")
    assert status == 0
    for words in (
        "sets hand_coarsest: P1000",
        "source practice",
        "WHERE IT DECIDES",
        "EXAMPLES THAT MEET IT",
    ):
        assert words in text


def test_show_finds_rules_by_a_word(capsys: pytest.CaptureFixture[str]) -> None:
    """A value that a rule asks about finds the rule."""
    status, text = told(capsys, "show", "bonnet")
    assert status == 0
    assert "bed-large-panel" in text


def test_show_of_an_unknown_word_ends_with_status_one(capsys: pytest.CaptureFixture[str]) -> None:
    """With the nearest rule, in case it was a slip."""
    status, text = told(capsys, "show", "hand-vary-fine")
    assert status == 1
    assert "Did you mean hand-very-fine" in text


def test_show_says_that_a_rule_is_withdrawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With who did so and why."""
    text = '[[withdraw]]\nrule = "crest-light-passes"\nbecause = "We tape every crest."\n'
    status, shown = told(capsys, "show", "crest-light-passes", "--house", house(tmp_path / "ours", text))
    assert status == 0
    assert "NOT IN FORCE: withdrawn" in shown
    assert "We tape every crest." in shown


def test_a_new_folder_loads_checks_clean_and_changes_something(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The first rule in it is sound and alive."""
    folder = str(tmp_path / "ours")
    assert main(["standards", "new", folder]) == 0
    capsys.readouterr()
    assert data(capsys, "check", folder)[1]["findings"] == []
    assert main(["standards", "compare", "base", folder]) == 1


def test_new_leaves_a_folder_with_files_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2, and the file is as it was."""
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    assert main(["standards", "new", str(tmp_path)]) == 2
    assert "left alone" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_a_replaced_rule_stands_as_a_deviation_on_the_card(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The card names the base rule that the house works otherwise."""
    from prepadvisor.files import demo_jobs_dir

    text = '[[withdraw]]\nrule = "crest-light-passes"\nbecause = "We tape every crest."\n'
    job = str(demo_jobs_dir() / "solid.toml")
    main(["card", job, "--house", house(tmp_path / "ours", text)])
    assert "crest-light-passes" in capsys.readouterr().out


def test_compare_warns_of_one_version_twice_in_every_form(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two folders that call themselves alike and say something else; changed numbers stand in rows too."""
    head = '[standards]\nname = "Ours"\nversion = "1"\n'
    folders = [house(tmp_path / name, head + text) for name, text in (("a", ""), ("b", STRICTER))]
    (tmp_path / "b" / "shop.toml").write_text("mist_mm = 300\n", encoding="utf-8")
    says = 'Both call themselves "Ours", version 1, with other content: give B a new version.'
    assert says in told(capsys, "compare", *folders)[1]
    assert data(capsys, "compare", *folders)[1]["warnings"] == [says]
    assert main(["standards", "compare", *folders, "--to", "csv"]) == 1
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [row["facts"] for row in rows if row["direction"] == "warning"] == [says]
    (number,) = (row for row in rows if row["direction"] == "data")
    assert (number["file"], number["output"], number["before"], number["after"]) == (
        "shop.toml", "mist_mm", "150", "300",
    )  # fmt: skip
    assert data(capsys, "compare", "base", folders[1])[1]["warnings"] == []
