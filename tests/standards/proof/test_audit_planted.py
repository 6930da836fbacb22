"""A corpus of planted defects: each one is found in the shipped standards, and nothing else is."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import tomli

from prepadvisor.files import rules_dir
from prepadvisor.standards import Audit, RuleSource, audit, build

PLANTED = Path(__file__).parent / "planted"
BASE = [
    RuleSource(path.name, "base", tomli.loads(path.read_text("utf-8")))
    for path in sorted((rules_dir() / "base").glob("*.toml"))
]
TABLES = ("rule", "withdraw", "example", "promise")


def corpus() -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield kind and entry of every planted defect."""
    for path in sorted(PLANTED.glob("*.toml")):
        for entry in tomli.loads(path.read_text("utf-8"))["planted"]:
            yield path.stem, entry


CORPUS = list(corpus())


def audited_with(entry: Mapping[str, Any]) -> Audit:
    """Audit the shipped standards with one planted defect laid over them."""
    planted = {table: entry[table] for table in TABLES if table in entry}
    return audit(build([*BASE, RuleSource("planted.toml", "house", planted, line_of=lambda _: 1)]))


@pytest.mark.parametrize(
    ("kind", "entry"), CORPUS, ids=[f"{kind}: {entry['name']}" for kind, entry in CORPUS]
)
def test_a_planted_defect_is_found_and_nothing_else(kind: str, entry: dict[str, Any]) -> None:
    """All findings are of the planted kind, name the planted rules and begin where they were planted."""
    findings = audited_with(entry).findings

    assert {finding.kind for finding in findings} == {kind}
    for finding in findings:
        assert set(entry.get("rules", ())) <= set(finding.rules)
        assert entry.get("facts", {}).items() <= finding.facts().items()
    if kind != "promise":
        assert {finding.file for finding in findings} == {"planted.toml"}


def test_the_corpus_has_at_least_sixty_defects_and_every_kind() -> None:
    """The corpus is as large as it is meant to be."""
    assert {kind for kind, _ in CORPUS} >= {"gap", "collision", "promise", "example", "unreachable", "dead"}
    assert len(CORPUS) >= 60


def test_the_shipped_standards_have_nothing_to_mend() -> None:
    """Without a planted defect there is no finding at all, not even a note."""
    assert audit(build(BASE)).findings == ()
