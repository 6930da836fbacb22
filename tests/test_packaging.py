"""What travels with the package: the licence, those of what it holds, and the mark that it is typed."""

import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def test_the_licence_travels_with_it() -> None:
    """Each pattern finds a text, and the program's own is the licence that is named."""
    found = [list(ROOT.glob(pattern)) for pattern in PROJECT["license-files"]]
    assert all(found)
    own = (ROOT / "prepadvisor/LICENSE").read_text(encoding="utf-8")
    assert (PROJECT["license"], "Apache License" in own, "Version 2.0" in own) == ("Apache-2.0", True, True)


def test_the_package_says_that_it_is_typed() -> None:
    """PEP 561."""
    assert (ROOT / "prepadvisor/py.typed").exists()
