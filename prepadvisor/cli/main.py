"""The command line's front door: finds the verb, loads only what it needs, ends with an honest status.

Exit status: 0 fine, 1 checked and found something, 2 bad input or usage, 130 and 128 + n on signals, 70 on a
fault of the program itself, with one line and the path of a log file.
"""

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Final

from prepadvisor.cli.short_life import leave, start_light
from prepadvisor.cli.streams import done, give_up, is_of_a_stream, prepare, tell, was_closed

VERBS: Final[dict[str, str]] = {
    "bench": "open the screens: set a job up, read the advice, check it off",
    "card": "write the prep card of a job",
    "why": "explain every number at one place",
    "lines": "table: will a scratch of this tool and grade show in this flake?",
    "gate": "clear to mask, or what holds it",
    "log": "add an entry to a job's check-off",
    "day": "all jobs of a folder: what waits, and what the day needs",
    "wall": "what each flake asks for, on one sheet for the wall",
    "outcome": "record, weeks later, whether lines were seen",
    "outcomes": "how often lines came back, by flake, tool and grade",
    "times": "planned minutes against those the logs show, and the shop's rates from them",
    "fit": "the shop's own numbers from its test panels, and which panels to spray next",
    "colours": "the shop's colour book: find, seal, read and write it as a table",
    "flakes": "flake size, spread and class from measured diameters",
    "standards": "check, compare, replay, show or start house standards",
    "schema": "print the JSON Schema of a file",
}
"""Verb to what it does; each verb's code is the module of its name in this package."""

_HELP: Final = """\
prepadvisor: how to prepare a blend panel so that no scratch shows through a fine metallic.

Examples:
  prepadvisor                                     open the screens
  prepadvisor card JOB.toml                       print a job's prep card
  prepadvisor card JOB.toml --to html --out card.html
  prepadvisor why JOB.toml left-front-door/E1     where every number there comes from
  prepadvisor gate JOB.toml                       clear to mask?

Commands:
{verbs}

  prepadvisor COMMAND --help tells more. --version prints the version.
  --house DIR (or PREPADVISOR_HOUSE) puts a shop's own standards over the shipped ones.
"""


def entry() -> None:
    """Run the program and leave the process with its exit status."""
    start_light()
    leave(main(sys.argv[1:], _load_light))


def _load_light() -> None:
    from prepadvisor.cli.light_loading import load_light  # not for --help: it loads what all verbs load

    load_light()


def main(arguments: Sequence[str], before_loading: Callable[[], None] = lambda: None) -> int:
    """Run one command line and return its exit status.

    Args:
        arguments: the words after the program's name.
        before_loading: called once it is known that a verb is to be loaded.
    """
    words = list(arguments)
    prepare(words)
    if words[:1] in (["-h"], ["--help"], ["help"]):
        return _shown(_HELP.format(verbs="\n".join(f"  {verb:<10} {says}" for verb, says in VERBS.items())))
    if words[:1] in (["--version"], ["-V"]):
        from prepadvisor.version import __version__

        return _shown(f"prepadvisor {__version__}\n")
    words = _command_first(words)
    if not words or (words[0].startswith("-") and words[0] != "-"):
        words.insert(0, "bench")
    if words[0] not in VERBS:
        return _unknown(words[0])
    before_loading()
    return _guarded(words[0], words[1:])


def _shown(says: str) -> int:
    try:
        print(says, end="", flush=True)
    except OSError as error:
        return _unheard(error)
    return 0


def _command_first(words: list[str]) -> list[str]:
    """Move options that stand before the command behind it: `--house DIR card JOB` means the same."""
    for place, word in enumerate(words[:3]):
        if word in VERBS and words[0].startswith("--"):
            return [word, *words[:place], *words[place + 1 :]]
    return words


def _unknown(word: str) -> int:
    from prepadvisor.records import nearest

    near = nearest(word, VERBS)
    meant = f'; did you mean "{near}"?' if near else ""
    says = f'there is no command "{word}"{meant} (prepadvisor --help lists them)'
    print(f"prepadvisor: {says}", file=sys.stderr)
    return 2


def _guarded(verb: str, words: list[str]) -> int:
    try:
        status = _run(verb, words)
        sys.stdout.flush()
    except KeyboardInterrupt:
        if done():
            tell(f"prepadvisor: stopped. Done before that: {done()}")
        return 130
    except Exception as error:  # the last line of defence: say it in one line, keep the rest for a log
        return _failed(error)
    if was_closed("stdout") and done():
        tell(f"prepadvisor: {done()}; standard output is closed, so nothing more can be shown")
    return status


def _run(verb: str, words: list[str]) -> int:
    try:
        module = import_module(f"prepadvisor.cli.{verb}")
        return int(module.run(module.parser().parse_args(words)))
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 2


def _failed(error: Exception) -> int:
    from prepadvisor.records import BadInputError

    if isinstance(error, OSError) and is_of_a_stream(error):
        return _unheard(error)
    before = f" Done before that: {done()}" if done() else ""
    if isinstance(error, BadInputError):
        tell("\n".join(error.lines))
        if before:
            tell(f"prepadvisor:{before}")
        return 2
    from prepadvisor.files import write_crash_log

    says = "something went wrong inside the program" + ("" if before else "; nothing was written")
    tell(f"prepadvisor: {says}.{before} Details: {write_crash_log(error)}")
    return 70


def _unheard(reason: OSError) -> int:
    """End where the answer cannot be shown: what was done stays done, and is said if anybody listens."""
    give_up(sys.stdout)
    if done():
        tell(f"prepadvisor: {done()}; but the answer could not be shown ({reason.strerror or reason})")
        return 0
    if isinstance(reason, BrokenPipeError):
        return 141
    tell(f"prepadvisor: the answer could not be written ({reason.strerror or reason}); nothing else was done")
    return 2


if __name__ == "__main__":
    entry()
