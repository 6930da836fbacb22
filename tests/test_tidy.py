"""The house is tidy: what stands at the top, and a line in DEVELOPERS.md for every module."""

import ast
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "prepadvisor", "rules", "tests", "demo_jobs"}


def _tracked() -> list[str]:
    """List the files git tracks, none where this is no checkout."""
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    return listed.stdout.split("\n")[:-1]


def test_the_top_level_is_what_it_should_be() -> None:
    """Dot files aside, exactly these."""
    tracked = _tracked()
    if not tracked:
        pytest.skip("not a git checkout")
    assert {name.partition("/")[0] for name in tracked if not name.startswith(".")} == TOP


def modules() -> list[tuple[str, str]]:
    """List every module with the first line of its docstring."""
    found = []
    for path in sorted((ROOT / "prepadvisor").rglob("*.py")):
        told = ast.get_docstring(ast.parse(path.read_text("utf-8"))) or ""
        found.append((path.relative_to(ROOT / "prepadvisor").as_posix(), told.partition("\n")[0]))
    return found


def test_the_map_for_developers_has_a_line_for_every_module() -> None:
    """Each module stands there with the first line of its docstring."""
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    missing = [f"- `{name}`: {says}" for name, says in modules() if f"- `{name}`: {says}" not in page]
    assert missing == []


def test_the_map_names_no_module_that_is_gone() -> None:
    """A map of yesterday misleads."""
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## Map")[2]
    known = {name for name, _ in modules()}
    named = [line[3:].partition("`")[0] for line in page.splitlines() if line.startswith("- `")]
    assert [name for name in named if name not in known] == []
