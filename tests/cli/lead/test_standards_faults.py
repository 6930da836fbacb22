"""Every mistake a lead can make in a rule file: told with its line and its mend."""

from pathlib import Path

import pytest

from prepadvisor.cli.main import main

RULES = 4_000
"""How many a generated folder has; tests/long has five times as many."""

SOUND = """
[[rule]]
id = "sound"
says = "Planted."
when = { flake = "fine" }
set = { risk_limit = 0.2 }
source = "practice"
"""


def faults(folder: Path, text: str, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """Check a folder with one rule file and return the faults on standard error."""
    folder.mkdir()
    (folder / "rules.toml").write_text(text, encoding="utf-8")
    status = main(["standards", "check", str(folder)])
    printed = capsys.readouterr()
    assert status == 2
    assert printed.out == ""
    assert "Traceback" not in printed.err
    return printed.err.splitlines()


@pytest.mark.parametrize(
    ("wrong", "line", "words"),
    [
        pytest.param(SOUND.replace("flake =", "flak ="), 5, ("flak", 'did you mean "flake"'), id="fact"),
        pytest.param(SOUND.replace('"fine"', '"fin"'), 5, ("fin", 'did you mean "fine"'), id="value"),
        pytest.param(
            SOUND.replace('flake = "fine"', 'film_um = "300 .. 90"'), 5, ("backwards",), id="reversed range"
        ),
        pytest.param(
            SOUND.replace('flake = "fine"', 'flake = "fine .. coarse"'),
            5,
            ("backwards",),
            id="reversed order",
        ),
        pytest.param(
            SOUND.replace("risk_limit = 0.2", 'finish_coarsest = "600"'),
            6,
            ("no P", "P600"),
            id="bare number",
        ),
        pytest.param(SOUND.replace("risk_limit", "risk"), 6, ("risk", "risk_limit"), id="output"),
        pytest.param(SOUND + SOUND, 10, ('"sound"', "already taken"), id="same id twice"),
        pytest.param(SOUND + 'replaces = "fade-anny"\n', 8, ("fade-anny", "fade-any"), id="unknown replaced"),
        pytest.param(SOUND.replace('says = "Planted."\n', ""), 2, ("says", "missing"), id="no says"),
        pytest.param(SOUND.replace('source = "practice"\n', ""), 2, ("source", "missing"), id="no source"),
        pytest.param(SOUND.replace('"Planted."', '""'), 4, ("says", "empty"), id="empty says"),
        pytest.param(SOUND.replace("set = {", "sett = {"), 6, ("sett", 'did you mean "set"'), id="key"),
        pytest.param(SOUND.replace('"fine" }', '"fine"'), 6, ("not closed",), id="syntax"),
    ],
)
def test_a_mistake_is_told_with_its_line(
    wrong: str, line: int, words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A person finds the place and knows what was meant."""
    told = faults(tmp_path / "ours", wrong, capsys)
    meant = [fault for fault in told if f"rules.toml:{line}:" in fault]
    assert meant
    assert all(any(word in fault for fault in meant) for word in words)


def test_a_circle_of_replacements_is_told_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every rule of it is named in order."""
    one = SOUND + 'replaces = "other"\n'
    other = SOUND.replace('"sound"', '"other"') + 'replaces = "sound"\n'
    told = faults(tmp_path / "ours", one + other, capsys)
    assert any("circle" in fault and "sound → other → sound" in fault for fault in told)


def test_all_mistakes_of_a_file_are_told_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody mends one line only to learn of the next."""
    wrong = "".join(
        SOUND.replace('"sound"', f'"rule-{number}"').replace('"fine"', f'"flake-{number}"')
        for number in range(5)
    )
    told = faults(tmp_path / "ours", wrong, capsys)
    assert [sum(f'"flake-{number}"' in fault for fault in told) for number in range(5)] == [1] * 5


def test_a_file_of_five_megabytes_is_answered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Read and checked, or refused in words; never a hang or a crash."""
    folder = tmp_path / "ours"
    folder.mkdir()
    comment = "# " + "x" * 98 + "\n"
    (folder / "rules.toml").write_text(SOUND + comment * 50_000, encoding="utf-8")
    status = main(["standards", "check", str(folder)])
    assert status in {0, 1, 2}
    assert "Traceback" not in capsys.readouterr().err


def test_thousands_of_rules_with_a_mistake_each_are_answered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A generated folder gone wrong is refused with its lines, however many there are."""
    wrong = "".join(
        SOUND.replace('"sound"', f'"rule-{number}"') + f'replaces = "gone-{number}"\n'
        for number in range(RULES)
    )
    told = faults(tmp_path / "ours", wrong, capsys)
    assert "rules.toml:8:" in told[0]


def test_thousands_of_rules_that_say_the_same_are_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """All of them are told as twins, in few lines."""
    folder = tmp_path / "ours"
    folder.mkdir()
    text = "".join(SOUND.replace('"sound"', f'"rule-{number}"') for number in range(RULES))
    (folder / "rules.toml").write_text(text, encoding="utf-8")
    status = main(["standards", "check", str(folder)])
    assert status in {0, 1}
    assert len(capsys.readouterr().out.splitlines()) < 100
