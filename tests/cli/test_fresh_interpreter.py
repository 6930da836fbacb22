"""What a command loads, seen from a fresh interpreter: fast starts are kept by not importing."""

import json
import subprocess
import sys

import pytest

from prepadvisor.files import demo_jobs_dir

JOB = str(demo_jobs_dir() / "very-fine-door-and-wing.toml")


def _loaded(words: list[str]) -> set[str]:
    """Run a command line in a new interpreter and list the top-level packages it loaded."""
    code = (
        "import sys, json, io, contextlib\n"
        "from prepadvisor.cli.main import main\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        f"    main({words!r})\n"
        "print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))\n"
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


def test_a_text_card_loads_no_template_engine() -> None:
    """Templates are for the printed page."""
    assert "jinja2" not in _loaded(["card", JOB])
