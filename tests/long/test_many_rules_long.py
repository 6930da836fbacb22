"""Twenty thousand rules, each wrong or all alike, are told of. Run by hand; a fifth of it is in the suite."""

from pathlib import Path

import pytest

from tests.cli.lead import test_standards_faults


@pytest.fixture(autouse=True)
def _twenty_thousand(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(test_standards_faults, "RULES", 20_000)


def test_twenty_thousand_with_a_mistake_each(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused with their lines."""
    test_standards_faults.test_thousands_of_rules_with_a_mistake_each_are_answered(tmp_path, capsys)


def test_twenty_thousand_that_say_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Told as twins in few lines."""
    test_standards_faults.test_thousands_of_rules_that_say_the_same_are_checked(tmp_path, capsys)
