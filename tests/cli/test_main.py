"""The front door: help, version, unknown words, exit status, and one friendly line on a fault of our own."""

import re
from pathlib import Path

import pytest

from prepadvisor import __version__
from prepadvisor.cli import card
from prepadvisor.cli import main as front


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    """Examples come first, then the commands."""
    assert front.main(["--help"]) == 0
    told = capsys.readouterr().out
    assert [verb for verb in front.VERBS if not re.search(rf"^  {verb} ", told, re.MULTILINE)] == []
    assert told.index("Examples") < told.index("Commands")


def test_version_is_the_packages(capsys: pytest.CaptureFixture[str]) -> None:
    """One place for the version."""
    assert front.main(["--version"]) == 0
    assert capsys.readouterr().out == f"prepadvisor {__version__}\n"


def test_an_unknown_command_is_usage_and_says_what_was_meant(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 2, on stderr."""
    assert front.main(["crad"]) == 2
    assert 'did you mean "card"?' in capsys.readouterr().err


@pytest.mark.parametrize("verb", sorted(front.VERBS))
def test_every_command_explains_itself(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    """`--help` of a command ends with 0 and shows an example."""
    assert front.main([verb, "--help"]) == 0
    assert "prepadvisor" in capsys.readouterr().out


def test_a_fault_of_our_own_is_one_line_and_a_log(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No traceback on the screen; the log has it; the status is 70, not 0."""

    def broken(_: object) -> int:
        raise ZeroDivisionError("no such thing")

    monkeypatch.setattr(card, "run", broken)
    assert front.main(["card", "x.toml"]) == 70
    told = capsys.readouterr().err
    assert len(told.splitlines()) == 1
    log = Path(told.rpartition("Details: ")[2].strip())
    assert "ZeroDivisionError: no such thing" in log.read_text("utf-8")


def test_control_c_is_130(monkeypatch: pytest.MonkeyPatch) -> None:
    """As shells expect."""

    def interrupted(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(card, "run", interrupted)
    assert front.main(["card", "x.toml"]) == 130


def test_an_option_may_stand_before_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    """`--house DIR lines` means `lines --house DIR`: the folder is looked for."""
    assert front.main(["--house", "no-such-folder", "lines"]) == 2
    assert "there is no such house folder" in capsys.readouterr().err
