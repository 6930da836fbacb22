"""What a command loads, seen from a fresh interpreter: fast starts are kept by not importing."""

import json
import re
import subprocess
import sys
from pathlib import Path

from prepadvisor.files import demo_jobs_dir

ROOT = Path(__file__).parents[2]
JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")


def _loaded(*commands: list[str]) -> list[set[str]]:
    """Run command lines, one after another, in a new interpreter; list what was loaded after each."""
    code = (
        "import sys, json, io, contextlib\n"
        "from prepadvisor.cli.main import main\n"
        f"for words in {commands!r}:\n"
        "    with contextlib.redirect_stdout(io.StringIO()):\n"
        "        main(words)\n"
        "    print(json.dumps(sorted(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return [set(json.loads(line)) for line in done.stdout.splitlines()]


def test_no_command_without_a_screen_loads_textual() -> None:
    """A card at the printer must not wait for a screen library. What one loads, all after it have."""
    commands = [
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
    ]
    loaded = _loaded(*commands)
    found = zip(commands, loaded, strict=True)
    assert next((words for words, each in found if each & {"textual", "rich"}), None) is None


def test_help_and_version_load_no_model() -> None:
    """They answer before numpy or pydantic could be loaded."""
    for loaded in _loaded(["--help"], ["--version"]):
        assert loaded & {"numpy", "pydantic", "tomli", "jinja2"} == set()


def test_a_text_card_loads_no_template_engine_and_makes_no_slow_tuples() -> None:
    """Templates are for the printed page, and `typing.NamedTuple` compiles a constructor for each class."""
    (loaded,) = _loaded(["card", JOB])
    assert "jinja2" not in loaded
    paths = [Path(*name.split(".")).with_suffix(".py") for name in loaded if name.startswith("prepadvisor.")]
    files = [ROOT / path for path in paths if (ROOT / path).exists()]
    assert len(files) > 80
    slow = re.compile(r"^from typing import .*\bNamedTuple\b", re.MULTILINE)
    assert [file.name for file in files if slow.search(file.read_text("utf-8"))] == []
