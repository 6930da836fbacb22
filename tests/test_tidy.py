"""The house is tidy: what stands at the top, and that every module says what it is for."""

import ast
import subprocess
from pathlib import Path

import pytest

from tests.source import trees

ROOT = Path(__file__).parent.parent
ARGUMENTS_MAX = 5
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
    return [(name, (ast.get_docstring(tree) or "").partition("\n")[0]) for name, tree in trees().items()]


def test_no_call_has_more_than_five_arguments_without_names() -> None:
    """Two of them exchanged would be found by nobody: what has more is called by keywords."""
    assert [
        f"{name}:{node.lineno} passes {len(node.args)} arguments by place: name them"
        for name, tree in trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and len(node.args) > ARGUMENTS_MAX
    ] == []


def test_every_module_says_first_what_it_is_for() -> None:
    """The tree is the explanation: a first sentence for each, within one line."""
    assert [name for name, says in modules() if not says.endswith((".", ":", "?"))] == []


def test_the_guide_for_developers_is_short() -> None:
    """It is read to the end: 10 kB at most."""
    assert len((ROOT / "DEVELOPERS.md").read_bytes()) <= 10_000
