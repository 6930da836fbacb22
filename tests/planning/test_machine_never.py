"""Where the standards keep the machine off: the whole place is finished by hand, and the card can say why."""

from collections.abc import Callable
from pathlib import Path

import pytest

from prepadvisor.files import load_house
from prepadvisor.planning import advise
from prepadvisor.records import Advice, Job, KeptOff

LINE = [{"id": "L1", "kind": "body-line", "path": [[0, 0.4], [1, 0.4]], "reach": "machine"}]


@pytest.fixture
def advised(tmp_path: Path, job_of: Callable[..., Job]) -> Advice:
    """Advise on a line through all zones, where a house keeps the machine off body lines in the fade."""
    (tmp_path / "own.toml").write_text(
        """
[[rule]]
id = "own-crests"
says = "No machine on body lines in the fade."
when = { feature = "body-line", zone = "fade" }
set = { machine = "never" }
source = "house"
""",
        encoding="utf-8",
    )
    return advise(job_of(feature=LINE), load_house(tmp_path))


def test_a_machine_kept_off_one_zone_of_a_line_is_kept_off_the_line(advised: Advice) -> None:
    """A line is sanded in one go: a DA on it would not stop at the border of a zone."""
    line = next(place for place in advised.places if place.feature == "L1")
    assert (line.reach, line.tool, line.hand_coarsest) == ("hand", "hand-pad", None)
    assert {spot.reach for spot in advised.spots if spot.feature == "L1"} == {"hand"}


def test_every_spot_of_it_names_the_rule(advised: Advice) -> None:
    """Why it is by hand stands with each spot."""
    spots = [spot for spot in advised.spots if spot.feature == "L1"]
    assert [any(reason.rule == "own-crests" for reason in spot.because) for spot in spots] == [True] * 3


def test_the_face_keeps_its_own_grade(advised: Advice) -> None:
    """A hand grade of a line is not forced on the face."""
    assert advised.panels[0].face == "P1000"
    assert advised.panels[0].hand_only == "P1500"


def test_the_place_says_why_in_words_for_the_card(advised: Advice) -> None:
    """Who reads the card sees that it is the house that keeps the machine off."""
    line = next(place for place in advised.places if place.feature == "L1")
    assert line.notes[0] == KeptOff("No machine on body lines in the fade.")
