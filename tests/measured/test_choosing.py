"""The choice of panels, held against exact answers and brute force.

Source: `tests/reference/oed_known.csv`: for a probit location m ~ N(0, s²) with unit noise the expected
information is ln 2 − ½ at s = 1 (houlsby-2011: the formula is memory, the value checked by quadrature).
"""

import csv
import itertools
import math
from pathlib import Path

import numpy as np
import pytest

from prepadvisor.measured.choosing import (
    ArchivedDecision,
    Case,
    Outlook,
    answer_information,
    choose,
    decision_information,
    line_information,
)  # fmt: skip
from prepadvisor.measured.model import Settings
from prepadvisor.measured.posterior import posterior, prior
from prepadvisor.records import Grade, PanelRow
from tests.measured.conftest import GRADES, Bench

_KNOWN = list(
    csv.DictReader((Path(__file__).parents[1] / "reference/oed_known.csv").read_text("utf-8").splitlines())
)


def _outlook(sd: float, shared: float) -> Outlook:
    one = np.array([sd**2])
    return Outlook(np.zeros(1), one, np.zeros(1), one, np.array([[shared * sd**2]]))


@pytest.mark.parametrize("sd", [0.5, 1.0, 2.0])
def test_information_on_a_decision_is_that_of_counting(sd: float) -> None:
    """Four million draws of margin and answer, without lapse: mutual information of two coins."""
    chance = np.random.default_rng(1)
    margin = sd * chance.normal(size=4_000_000)
    shows, within = margin + chance.normal(size=margin.size) > 0, margin < 0.0
    table = np.array([[np.mean(shows & within), np.mean(shows & ~within)],
                      [np.mean(~shows & within), np.mean(~shows & ~within)]])  # fmt: skip
    alone = table.sum(axis=1, keepdims=True) * table.sum(axis=0, keepdims=True)
    expected = float((table * np.log(table / alone)).sum())
    found, shown = decision_information(_outlook(sd, 1.0), np.zeros(1), 1.0, lapse=0.0)
    assert float(found[0, 0]) == pytest.approx(expected, abs=1e-3)
    assert float(shown[0]) == pytest.approx(0.5)


_UNIT = [row for row in _KNOWN if row["design"].startswith("s = ")]


@pytest.mark.parametrize("row", _UNIT, ids=[f"{row['case'][:14]}-{row['design']}" for row in _UNIT])
def test_the_unit_case_is_the_published_one(row: dict[str, str], mean_of: dict[str, float]) -> None:
    """Probit location m ~ N(mean, s²), unit noise, looked at 0: ln 2 − E h(Φ(m))."""
    sd = float(row["design"].removeprefix("s = "))
    found = answer_information(np.array([mean_of[row["case"]]]), np.array([sd**2]), 1.0, lapse=0.0)
    assert float(found[0]) == pytest.approx(float(row["answer"]), abs=2e-5)


@pytest.fixture
def mean_of() -> dict[str, float]:
    """The mean of each case of the table; "same" goes on from the first."""
    cases = dict.fromkeys((row["case"] for row in _UNIT), 0.0)
    return cases | {"the same, mean 1 off": 1.0, "the same, mean 2 off": 2.0}


def test_for_small_doubt_information_is_the_doubt_over_pi() -> None:
    """oed_known.csv, s → 0: EIG / s² = 1/π."""
    found = answer_information(np.zeros(1), np.array([1e-4]), 1.0, lapse=0.0)
    assert float(found[0]) / 1e-4 == pytest.approx(0.318309886, rel=1e-3)


def test_when_all_is_decided_a_panel_near_its_threshold_is_sprayed(plain: Bench) -> None:
    """No decision is left in doubt: then a panel that says most of how strong the line decided on is."""
    candidates, _ = _shop(plain)
    far = [
        ArchivedDecision(Case("fine", plain.flake("fine"), "da-soft", Grade("P2500"), "fade", 0), 0.5, 1.0)
    ]
    known = prior(plain.layout)._replace(covariance=np.diag((plain.layout.sd * 0.1) ** 2))
    (choice,) = choose(known, candidates, far, Settings(plain.layout, plain.constants), 1)
    assert 0.2 < choice.chance < 0.8
    assert candidates[choice.candidate].tool == "da-soft"


def test_information_on_a_line_is_that_of_its_own_answer() -> None:
    """A decision on the panel's own line: what the answer says of its margin."""
    alone = answer_information(np.zeros(1), np.ones(1), 1.0)
    assert line_information(_outlook(1.0, 1.0), 1.0)[0, 0] == pytest.approx(float(alone[0]))
    assert line_information(_outlook(1.0, 0.0), 1.0)[0, 0] == pytest.approx(0.0)
    assert 0.0 < line_information(_outlook(1.0, 0.5), 1.0)[0, 0] < float(alone[0])


def test_a_tool_that_seems_settled_by_wrong_numbers_is_looked_at_again(plain: Bench) -> None:
    """Scratches of the soft pad are half as deep as believed: 24 chosen panels take over half of that away.

    A slice of the long run in tests/long. By decisions alone a third of the panels fell to the pad, its
    decisions seemed made, and two thirds of the error stayed after 60.
    """
    candidates, decisions = _shop(plain)
    truth = plain.layout.mean.copy()
    truth[plain.layout.place["depth_per_grain.da-soft"]] -= math.log(2.0)
    rows: list[PanelRow] = []
    believed = prior(plain.layout)
    while len(rows) < 24:
        settings = Settings(plain.layout, plain.constants)
        chosen = [candidates[each.candidate] for each in choose(believed, candidates, decisions, settings, 8)]
        blank = [
            PanelRow(tool=one.tool, grade=one.grade, shows="no", flake=one.label, coats=one.coats)  # type: ignore[arg-type]
            for one in chosen
        ]
        rows += plain.read(blank, truth)
        believed = posterior(plain.model(rows))
    lines = Settings(plain.layout, plain.constants)
    places = [lines.place(*one.case[1:]) for one in decisions if one.case.tool == "da-soft"]
    was, now, true = (lines.margins(each).value[places] for each in (plain.layout.mean, believed.mode, truth))
    assert float((now - true).mean() / (was - true).mean()) < 0.5


def test_information_on_a_decision_is_less_than_on_the_margin() -> None:
    """oed_known.csv, s = 1: 0.193147 nat about the margin itself; whether it is below 0 is a part of that."""
    found, _ = decision_information(_outlook(1.0, 1.0), np.zeros(1), 1.0, lapse=0.0)
    assert 0.05 < float(found[0, 0]) < 0.193147181


def test_a_panel_that_shares_nothing_says_nothing() -> None:
    """Uncorrelated margins: no information."""
    found, _ = decision_information(_outlook(1.0, 0.0), np.zeros(1), 1.0)
    assert float(found[0, 0]) == pytest.approx(0.0, abs=1e-9)


def _shop(bench: Bench) -> tuple[list[Case], list[ArchivedDecision]]:
    candidates = [
        Case(name, bench.flake(name), tool, grade, "fade", coats)
        for name, tool, grade, coats in itertools.product(
            ("medium", "fine", "very-fine"), ("hand-pad", "da-soft"), GRADES, range(3)
        )
    ]
    decisions = [
        ArchivedDecision(Case("fine", bench.flake("fine"), tool, grade, "fade", 0), 0.25, times)
        for tool, grade, times in (
            ("da-soft", Grade("P800"), 5.0),
            ("da-soft", Grade("P1000"), 3.0),
            ("hand-pad", Grade("P1200"), 1.0),
        )
    ]
    return candidates, decisions


def test_the_first_choice_is_the_best_of_all(plain: Bench) -> None:
    """Brute force: each of a third of the candidates alone, ranked by its gain."""
    candidates, decisions = _shop(plain)
    candidates = candidates[::3]
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


def test_at_most_two_alike_are_chosen_while_there_are_others(plain: Bench) -> None:
    """Strips alike share sander, hand and eye; with a single candidate it is chosen all the same."""
    candidates, decisions = _shop(plain)
    settings = Settings(plain.layout, plain.constants)
    chosen = [each.candidate for each in choose(prior(plain.layout), candidates, decisions, settings, 8)]
    assert max(chosen.count(one) for one in chosen) <= 2
    one = choose(prior(plain.layout), candidates[:1], decisions, Settings(plain.layout, plain.constants), 3)
    assert [each.candidate for each in one] == [0, 0, 0]
