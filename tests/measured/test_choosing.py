"""The choice of panels, held against exact answers and brute force.

Source: `tests/reference/oed_known.csv`: for a probit location m ~ N(0, s²) with unit noise the expected
information is ln 2 − ½ at s = 1 (houlsby-2011: the formula is memory, the value checked by quadrature).
"""

import itertools

import numpy as np
import pytest

from prepadvisor.measured import choosing
from prepadvisor.measured.choosing import Case, Decision, Outlook, choose, decision_information
from prepadvisor.measured.model import Settings
from prepadvisor.measured.posterior import posterior, prior
from tests.measured.conftest import GRADES, Bench


def _outlook(sd: float, shared: float) -> Outlook:
    one = np.array([sd**2])
    return Outlook(np.zeros(1), one, np.zeros(1), one, np.array([[shared * sd**2]]))


@pytest.mark.parametrize("sd", [0.5, 1.0, 2.0])
def test_information_on_a_decision_is_that_of_counting(sd: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Four million draws of margin and answer, without lapse: mutual information of two coins."""
    monkeypatch.setattr(choosing, "LAPSE", 0.0)
    chance = np.random.default_rng(1)
    margin = sd * chance.normal(size=4_000_000)
    shows, within = margin + chance.normal(size=margin.size) > 0, margin < 0.0
    table = np.array([[np.mean(shows & within), np.mean(shows & ~within)],
                      [np.mean(~shows & within), np.mean(~shows & ~within)]])  # fmt: skip
    alone = table.sum(axis=1, keepdims=True) * table.sum(axis=0, keepdims=True)
    expected = float((table * np.log(table / alone)).sum())
    found, shown = decision_information(_outlook(sd, 1.0), np.zeros(1), 1.0)
    assert float(found[0, 0]) == pytest.approx(expected, abs=1e-3)
    assert float(shown[0]) == pytest.approx(0.5)


def test_information_on_a_decision_is_less_than_on_the_margin(monkeypatch: pytest.MonkeyPatch) -> None:
    """oed_known.csv, s = 1: 0.193147 nat about the margin itself; whether it is below 0 is a part of that."""
    monkeypatch.setattr(choosing, "LAPSE", 0.0)
    found, _ = decision_information(_outlook(1.0, 1.0), np.zeros(1), 1.0)
    assert 0.05 < float(found[0, 0]) < 0.193147181


def test_a_panel_that_shares_nothing_says_nothing() -> None:
    """Uncorrelated margins: no information."""
    found, _ = decision_information(_outlook(1.0, 0.0), np.zeros(1), 1.0)
    assert float(found[0, 0]) == pytest.approx(0.0, abs=1e-9)


def _shop(bench: Bench) -> tuple[list[Case], list[Decision]]:
    candidates = [
        Case(name, bench.flake(name), tool, grade, "fade", coats)
        for name, tool, grade, coats in itertools.product(
            ("medium", "fine", "very-fine"), ("hand-pad", "da-soft"), GRADES, range(3)
        )
    ]
    decisions = [
        Decision(Case("fine", bench.flake("fine"), tool, grade, "fade", 0), 0.25, times)
        for tool, grade, times in (
            ("da-soft", "P800", 5.0),
            ("da-soft", "P1000", 3.0),
            ("hand-pad", "P1200", 1.0),
        )
    ]
    return candidates, decisions


def test_the_first_choice_is_the_best_of_all(plain: Bench) -> None:
    """Brute force: every candidate alone, ranked by its gain."""
    candidates, decisions = _shop(plain)
    believed = prior(plain.layout)

    def alone(case: Case) -> float:
        return choose(believed, [case], decisions, Settings(plain.layout, plain.constants), 1)[0].gain

    (first,) = choose(believed, candidates, decisions, Settings(plain.layout, plain.constants), 1)
    gains = [alone(case) for case in candidates]
    assert first.candidate == int(np.argmax(gains))
    assert first.gain == pytest.approx(max(gains))


def test_the_second_choice_knows_of_the_first(plain: Bench) -> None:
    """Gains fall along a sequence: the same panel twice is worth less than once."""
    candidates, decisions = _shop(plain)
    settings = Settings(plain.layout, plain.constants)
    gains = [each.gain for each in choose(prior(plain.layout), candidates, decisions, settings, 5)]
    assert gains == sorted(gains, reverse=True)


def test_nothing_to_decide_is_nothing_to_spray(plain: Bench) -> None:
    """Without decisions or candidates there is no choice."""
    candidates, decisions = _shop(plain)
    believed = prior(plain.layout)
    assert choose(believed, candidates, [], Settings(plain.layout, plain.constants), 3) == []
    assert choose(believed, [], decisions, Settings(plain.layout, plain.constants), 3) == []


def test_a_chosen_panel_settles_a_part_of_the_doubt(plain: Bench) -> None:
    """A part of what is in doubt at the decision it says most about: above 0, at most all."""
    candidates, decisions = _shop(plain)
    settings = Settings(plain.layout, plain.constants)
    rows = plain.read(plain.panels(10), plain.truth())
    for each in choose(posterior(plain.model(rows)), candidates, decisions, settings, 3):
        assert 0.0 < each.settles <= 1.0
        assert 0.5 <= each.sure <= 1.0
