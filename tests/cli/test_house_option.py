"""What commands share: which house counts, and what time it is."""

import argparse
import datetime as dt

import pytest

from prepadvisor.cli.shared import add_house, house_folders, now
from prepadvisor.records import BadInputError


def folders(*words: str) -> tuple[str, ...]:
    """Return the house folders that a command line asks for."""
    parser = argparse.ArgumentParser()
    add_house(parser)
    return house_folders(parser.parse_args(words))


def test_the_option_beats_the_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    """A flag counts more than the environment, the environment more than nothing."""
    assert folders() == ()
    monkeypatch.setenv("PREPADVISOR_HOUSE", "/shop")
    assert folders() == ("/shop",)
    assert folders("--house", "/other") == ("/other",)


# RFC 3339, section 5.8, has these examples.
@pytest.mark.parametrize(
    ("stated", "time"),
    [
        ("1985-04-12T23:20:50.52Z", dt.datetime(1985, 4, 12, 23, 20, 50, 520_000, dt.UTC)),
        ("1996-12-19T16:39:57-08:00", dt.datetime(1996, 12, 20, 0, 39, 57, 0, dt.UTC)),
    ],
)
def test_the_clock_can_be_stated(stated: str, time: dt.datetime, monkeypatch: pytest.MonkeyPatch) -> None:
    """PREPADVISOR_NOW stands for the clock."""
    monkeypatch.setenv("PREPADVISOR_NOW", stated)
    assert now() == time


@pytest.mark.parametrize(
    "stated", ["yesterday", "2026-03-02", "2026-03-02T09:40:00", "2026-02-30T00:00:00Z", "1"]
)
def test_a_clock_that_is_no_time_is_refused(stated: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A day without time, a time without zone, a day that is none: said, not guessed."""
    monkeypatch.setenv("PREPADVISOR_NOW", stated)
    with pytest.raises(BadInputError, match=r"PREPADVISOR_NOW: .* write it like 2026-03-02T09:40:00Z"):
        now()


def test_without_the_variable_the_clock_has_its_zone() -> None:
    """The time of the machine, aware of its zone, so that it can be compared with the log's."""
    assert now().tzinfo is not None
