"""`prepadvisor bench`: opens the screens, on a job, on a folder of jobs, or on a demo job to look at."""

import argparse
import gc
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from prepadvisor.cli.shared import add_house, house_of

if TYPE_CHECKING:
    from prepadvisor.tui.desk import Desk
    from prepadvisor.tui.keys import OwnChoices

_DEMO: Final = "very-fine-door-and-wing.toml"
_GARBAGE_LOOKED_FOR_EVERY: Final = 50_000
"""New objects between two looks for garbage: screens live long and make more of it than a command."""
_EXAMPLES: Final = """\
examples:
  prepadvisor bench                       the opening screen; new jobs are saved in this folder
  prepadvisor bench 1042.toml             that job, at the view it was left in
  prepadvisor bench jobs/                 the opening screen with the jobs of a folder
  prepadvisor bench --demo                a demo job to look at; nothing is written
  prepadvisor bench 1042.toml --demo      that job to look at; nothing is written
  prepadvisor bench --keys > ~/.config/prepadvisor/screens.toml    a file of own keys and themes to change

NO_COLOR keeps to the terminal's own colours. The same things are done without a screen by card, why, gate
and log.
"""


def parser() -> argparse.ArgumentParser:
    """Return the options of this command."""
    options = argparse.ArgumentParser(
        prog="prepadvisor bench",
        description="Open the screens: set a job up, read the advice, check it off.",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    options.add_argument("job", metavar="JOB", nargs="?", help="a job file, or the folder of new jobs")
    options.add_argument(
        "--keys", action="store_true", help="print every key with its name, as a file to change, and stop"
    )
    options.add_argument("--demo", action="store_true", help="only to look at: nothing is written")
    add_house(options)
    return options


def run(args: argparse.Namespace) -> int:
    """Open the screens and return the exit status: 2 where there is no terminal they can be drawn on.

    Raises:
        BadInputError: for a job, a house, or a file of own keys with faults.
    """
    if args.keys:
        from prepadvisor.tui.own_choices import template

        print(template(), end="")
        return 0
    if fault := _no_screen():
        print(f"prepadvisor: {fault}", file=sys.stderr)
        return 2
    os.environ["TEXTUAL_ANIMATIONS"] = "none"
    os.environ.setdefault("TEXTUAL_FPS", "250")  # the least wait from one paint to the next is 1 / this
    for frozen in ("COLUMNS", "LINES"):  # exported by some shells; the screens would never follow the window
        os.environ.pop(frozen, None)
    os.environ.setdefault("ESCDELAY", "10")  # ms to tell the Esc key from the start of another key's signs
    gc.disable()  # what loading makes stays; a look through all of it would find nothing
    from prepadvisor.cli.first_head import first_head

    try:
        with first_head(_at_first(args)):
            from prepadvisor.tui.app import BenchApp

            own = _own_choices()
            desk, told = _desk(args)
        gc.freeze()  # what was loaded stays to the end
    finally:
        gc.enable()
    gc.set_threshold(_GARBAGE_LOOKED_FOR_EVERY, 20, 20)
    app = BenchApp(desk, no_colour="NO_COLOR" in os.environ, told=told, own=own)
    app.run()
    desk.close()
    if app.crash_log is not None:
        told = "something went wrong inside the program; nothing was lost. Details:"
        print(f"prepadvisor: {told} {app.crash_log}", file=sys.stderr)
        return 70
    return app.return_code or 0


def _own_choices() -> "OwnChoices | None":
    """Return a person's own keys and themes, None where there is no file of them."""
    from prepadvisor.files import screens_file

    path = screens_file()
    if path is None:
        return None
    from prepadvisor.tui.own_choices import read_choices

    return read_choices(path)


def _at_first(args: argparse.Namespace) -> Path | None:
    """Return the job file that is opened first, None for the list of jobs."""
    if args.job and not Path(args.job).is_dir():
        return Path(args.job)
    from prepadvisor.files import demo_jobs_dir

    return demo_jobs_dir() / _DEMO if args.demo else None


def _desk(args: argparse.Namespace) -> "tuple[Desk, str]":
    from prepadvisor.files import demo_jobs_dir
    from prepadvisor.tui.desk import Desk

    house = house_of(args)
    asked = Path(args.job) if args.job else None
    if asked is not None and asked.is_dir():
        desk = Desk(house, asked)
        return desk, desk.open(demo_jobs_dir() / _DEMO, read_only=True) if args.demo else ""
    desk = Desk(house, asked.parent if asked else Path())
    if asked is None:
        return desk, desk.open(demo_jobs_dir() / _DEMO, read_only=True) if args.demo else ""
    return desk, desk.open(asked, read_only=args.demo)


def _no_screen() -> str:
    """Return why no screen can be drawn, with what to do; empty where one can."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return "the screens need a terminal; without one use card, why, gate and log (prepadvisor --help)"
    if os.environ.get("TERM", "") == "dumb":
        return 'TERM is "dumb": this terminal cannot draw screens; use card, why, gate and log, or set TERM'
    return ""
