"""Where a risk is called an estimate, it is so only as long as its numbers are: once measured, it says so."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from prepadvisor.cards import write_card
from prepadvisor.cards.explain.ask import explain, short
from prepadvisor.files import load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records import TOOLS
from prepadvisor.standards import House
from prepadvisor.wording import Words
from prepadvisor.wording.remarks import hold_why

_DEMO = Path(__file__).parents[2] / "demo_jobs/very-fine-door-and-wing.toml"


def _measured(tools: tuple[str, ...], arcsec: float = 0.5) -> House:
    """Return the shipped house with threshold and depths of some tools measured on 24 panels."""
    house = load_house()
    about = {"known": "measured", "rows": 24, "measured_on": dt.date(2026, 4, 1)}
    constants = house.constants
    depths = {
        tool: depth.model_copy(update=about) if tool in tools else depth
        for tool, depth in constants.groove.depth_per_grain.items()
    }
    line = constants.sight.thinnest_line_arcsec.model_copy(update={**about, "value": arcsec})
    constants = constants.model_copy(
        update={
            "groove": constants.groove.model_copy(update={"depth_per_grain": depths}),
            "sight": constants.sight.model_copy(update={"thinnest_line_arcsec": line}),
        }
    )
    return replace(house, constants=constants)


@pytest.mark.parametrize("form", ["text", "html", "json"])
def test_no_card_says_estimate_once_all_is_measured(form: str) -> None:
    """Both sheets, and the data: the word is gone, and the count of panels stands there."""
    house = _measured(TOOLS)
    job = load_job(_DEMO, house)
    card = write_card(job, advise(job, house), house, form, "a4", sheets="all")  # type: ignore[arg-type]
    assert isinstance(card, str)
    assert "estimate" not in card
    assert ('"source":"measured"' if form == "json" else "measured here, 24 panels") in card


def test_a_tool_without_panels_of_its_own_stays_an_estimate() -> None:
    """Only the soft pad was measured: what a hand pad does last is an estimate still."""
    house = _measured(("da-soft",))
    advice = advise(load_job(_DEMO, house), house)
    source = {
        spot.finish.tool: reason.source
        for spot in advice.spots for reason in spot.because
        if spot.finish and spot.line and reason.output == "line"
    }  # fmt: skip
    assert source == {"da-soft": "measured", "hand-pad": "estimate"}


@pytest.mark.parametrize(("tools", "word"), [((), "estimate"), (TOOLS, "measured here, 24 panels")])
def test_the_hold_lines_will_show_says_how_sure_it_is(tools: tuple[str, ...], word: str) -> None:
    """A threshold so low that every line shows: the hold carries the word of its numbers."""
    house = _measured(tools, arcsec=0.02)
    advice = advise(load_job(_DEMO, house), house)
    shows = [hold for hold in advice.holds if hold.fact.kind == "will-show"]
    assert shows
    assert all(f"({word})" in hold_why(hold, Words(advice)) for hold in shows)


def test_why_says_it_too() -> None:
    """In short and with every number."""
    house = _measured(TOOLS)
    job = load_job(_DEMO, house)
    asked = (job, advise(job, house), house, "left-front-door/E1")
    whole = (line for section in explain(*asked) for line in (section.title, *section.lines))
    for said in ("\n".join(short(*asked)), "\n".join(whole)):
        assert "measured here, 24 panels" in said
        assert "estimate" not in said
