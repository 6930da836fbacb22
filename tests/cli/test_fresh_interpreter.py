"""What a command loads, seen from a fresh interpreter: fast starts are kept by not importing."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from prepadvisor.files import demo_jobs_dir

ROOT = Path(__file__).parents[2]
JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")


def _loaded(words: list[str]) -> set[str]:
    """Run a command line in a new interpreter and list the modules it loaded."""
    code = (
        "import sys, json, io, contextlib\n"
        "from prepadvisor.cli.main import main\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        f"    main({words!r})\n"
        "print(json.dumps(sorted(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(json.loads(done.stdout.splitlines()[-1]))


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["--version"],
        ["card", JOB],
        ["card", JOB, "--to", "json"],
        ["why", JOB, "left-front-door/face"],
        ["lines"],
        ["gate", JOB],
        ["outcomes", JOB],
        ["standards", "check"],
        ["schema", "job"],
    ],
    ids=lambda words: " ".join(words[:1] + words[2:]),
)
def test_no_command_without_a_screen_loads_textual(words: list[str]) -> None:
    """A card at the printer must not wait for a screen library."""
    assert _loaded(words) & {"textual", "rich"} == set()


@pytest.mark.parametrize("words", [["--help"], ["--version"]], ids=["help", "version"])
def test_help_and_version_load_no_model(words: list[str]) -> None:
    """They answer before numpy or pydantic could be loaded."""
    assert _loaded(words) & {"numpy", "pydantic", "tomli", "jinja2"} == set()


def test_a_text_card_loads_no_template_engine_and_makes_no_slow_tuples() -> None:
    """Templates are for the printed page, and `typing.NamedTuple` compiles a constructor for each class."""
    loaded = _loaded(["card", JOB])
    assert "jinja2" not in loaded
    paths = [Path(*name.split(".")).with_suffix(".py") for name in loaded if name.startswith("prepadvisor.")]
    files = [ROOT / path for path in paths if (ROOT / path).exists()]
    assert len(files) > 80
    slow = re.compile(r"^from typing import .*\bNamedTuple\b", re.MULTILINE)
    assert [file.name for file in files if slow.search(file.read_text("utf-8"))] == []
