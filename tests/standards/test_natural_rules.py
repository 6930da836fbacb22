"""Rules as a new lead writes them from the guide alone: clean at the first try, or with a line to paste.

Practice: what a lead would want stands in `natural/rules.toml`; the outside here is that nobody helped him.
"""

from pathlib import Path
from typing import Any

import pytest
import tomli

from prepadvisor.files import rules_dir
from prepadvisor.standards import audit, build, read_set, read_when
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.layers import RuleSource

NATURAL = tomli.loads((Path(__file__).parent / "natural" / "rules.toml").read_text("utf-8"))["natural"]
BASE = [
    RuleSource(f"base/{file.name}", "base", tomli.loads(file.read_text("utf-8")))
    for file in sorted((rules_dir() / "base").glob("*.toml"))
]


def house(rule: dict[str, Any]) -> Engine:
    """Lay one rule over the base."""
    return build([*BASE, RuleSource("ours.toml", "ours", {"rule": [rule]})])


@pytest.mark.parametrize("entry", NATURAL, ids=lambda entry: entry["wish"])
def test_a_natural_rule_is_clean_or_gets_a_line_that_cleans_it(entry: dict[str, Any]) -> None:
    """Every error points at his rule's file and carries the line, and with it there is none."""
    rule: dict[str, Any] = tomli.loads(entry["rule"]) | {"source": "ours"}
    findings = audit(house(rule)).findings
    for finding in findings:
        assert finding.file == "ours.toml"
        assert finding.paste
        assert "base/" not in finding.mend
    if findings:
        pasted = rule | tomli.loads(findings[0].paste)
        box, wrong_when = read_when(pasted["when"], ())
        settings, wrong_set = read_set(pasted["set"], ())
        assert (wrong_when, wrong_set) == ([], [])
        assert box.asked
        assert settings.keys() >= rule["set"].keys()
        assert audit(house(pasted)).findings == ()


def test_there_are_at_least_forty_and_most_are_clean_at_once() -> None:
    """The language asks for no more than a lead would say."""
    assert len(NATURAL) >= 40
