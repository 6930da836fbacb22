"""The whole fit: what it finds, and what it says of data that say little."""

import math

import numpy as np
import pytest

from prepadvisor.cases import numbers_of_class
from prepadvisor.measured.fitting import fit_rows
from prepadvisor.measured.force import ColourSize, InForce, flakes_of, risks_in_force
from prepadvisor.measured.likelihood import THRESHOLD
from prepadvisor.measured.posterior import posterior
from prepadvisor.planning import LineModel
from prepadvisor.records import Constants, Grade, PanelRow
from prepadvisor.records import fit as facts
from tests.measured.conftest import Bench

ROW = PanelRow(tool="da-soft", grade=Grade("P800"), shows="yes", flake="very-fine", blind=True)


def _number(fit: facts.Fit, name: str) -> facts.FittedNumber:
    return next(each for each in fit.numbers if each.name == name)


def _kinds(fit: facts.Fit) -> set[str]:
    return {each.kind for each in fit.told}


def test_no_rows_is_an_answer(in_force: InForce) -> None:
    """Every number as it was, and it is said."""
    fit = fit_rows([], in_force).fit
    assert _kinds(fit) == {"no-rows"}
    assert all(each.value == pytest.approx(each.before) and each.rows == 0 for each in fit.numbers)
    assert (fit.rows, fit.before, fit.after) == (0, None, None)


@pytest.mark.parametrize(("shows", "below"), [("yes", True), ("no", False)])
def test_one_answer_only_bounds_from_one_side(in_force: InForce, shows: str, below: bool) -> None:
    """All yes puts the threshold below where it was, all no above; both stay within sight of the prior."""
    rows = [ROW._replace(shows=shows, grade=grade) for grade in ("P600", "P800", "P1000")]  # type: ignore[arg-type]
    fit = fit_rows(rows, in_force).fit
    assert "one-answer-only" in _kinds(fit)
    found = _number(fit, THRESHOLD)
    assert (found.value < found.before) is below
    assert found.before_low / 2 < found.value < found.before_high * 2


def test_separable_rows_are_told_and_the_scatter_stays(in_force: InForce) -> None:
    """Without priors the scatter would be 0; with them it stays above half of what was believed."""
    rows = [ROW._replace(grade=grade, shows="yes" if grade in {Grade("P320"), Grade("P500")} else "no")
            for grade in map(Grade, ("P320", "P500", "P1500", "P2000")) for _ in range(3)]  # fmt: skip
    fit = fit_rows(rows, in_force).fit
    assert "separable" in _kinds(fit)
    assert 0.2 < fit.scatter.value < 0.4


def test_contradictory_rows_are_named(in_force: InForce) -> None:
    """The same panel yes and no: the lines are told, and the fit stands."""
    rows = [ROW._replace(line=2), ROW._replace(line=3, shows="no")]
    told = [each for each in fit_rows(rows, in_force).fit.told if isinstance(each, facts.Contradictory)]
    assert [each.lines for each in told] == [(("", 2), ("", 3))]


def test_answers_the_wrong_way_round_are_named(in_force: InForce) -> None:
    """P320 and P400 hide, P1500 and P2000 show: swapped strips; right ones, and neighbours, are not named."""

    def told(*answers: tuple[str, str]) -> list[tuple[tuple[str, int], ...]]:
        rows = [ROW._replace(grade=Grade(grade), shows=shows, line=line)  # type: ignore[arg-type]
                for line, (grade, shows) in enumerate(answers, 2)]  # fmt: skip
        kinds = fit_rows(rows, in_force).fit.told
        return [each.lines for each in kinds if isinstance(each, facts.WrongWayRound)]

    turned = (("P320", "no"), ("P400", "no"), ("P1500", "yes"), ("P2000", "yes"))
    assert told(*turned) == [(("", 2), ("", 3), ("", 4), ("", 5))]
    assert told(*turned, ("P240", "no")) == [tuple(("", line) for line in range(2, 7))]
    assert told(("P320", "yes"), ("P400", "yes"), ("P800", "no"), ("P1000", "yes"), ("P1500", "no")) == []
    assert told(("P800", "no"), ("P1000", "yes")) == []


def test_far_from_the_threshold_contradictions_are_too_many(in_force: InForce) -> None:
    """Strong lines that half of the looks miss are more than scatter explains."""
    rows = [
        ROW._replace(grade=Grade("P120"), line=line, shows="yes" if line % 2 else "no")
        for line in range(2, 42)
    ]
    rows += [
        ROW._replace(grade=Grade("P2000"), line=line, shows="yes" if line % 2 else "no")
        for line in range(42, 82)
    ]
    (told,) = [each for each in fit_rows(rows, in_force).fit.told if isinstance(each, facts.Contradictory)]
    assert told.settings == 2


def test_two_judges_are_two_rows(in_force: InForce) -> None:
    """A second reader of the same panels narrows the interval; he is counted."""
    coarse = [ROW._replace(grade=grade, by="A") for grade in (Grade("P600"), Grade("P800"))]
    rows = [
        *coarse,
        *(ROW._replace(grade=grade, by="A", shows="no") for grade in (Grade("P1000"), Grade("P1200"))),
    ]
    alone = fit_rows(rows, in_force).fit
    both = fit_rows([*rows, *(row._replace(by="B") for row in rows)], in_force).fit
    assert (both.rows, both.panels, both.judges) == (8, 4, 2)
    assert _number(both, THRESHOLD).log_sd < _number(alone, THRESHOLD).log_sd


def test_threshold_and_depth_are_known_better_together(plain: Bench, in_force: InForce) -> None:
    """The combination the data fix is narrower than the threshold alone."""
    rows = plain.read(plain.panels(80), plain.truth())
    fit = fit_rows(rows, in_force).fit
    assert all(each.narrower >= 1.0 for each in fit.fixed)
    assert {each.tool for each in fit.fixed} == {row.tool for row in rows}
    assert all(each.grain_low_um < each.grain_um < each.grain_high_um for each in fit.fixed)


def test_a_colour_of_the_book_starts_from_its_entry(in_force: InForce) -> None:
    """Its measured size is the prior's centre; a colour nobody knows starts from all classes and says so."""
    known = in_force._replace(book={"Harbour mist": ColourSize("very-fine", 7.0)})
    rows = [ROW._replace(flake=None, colour=name) for name in ("Harbour mist", "Somebody's red")]
    fit = fit_rows(rows, known).fit
    assert _number(fit, "flake_um.Harbour mist").before == pytest.approx(7.0)
    assert [each.colour for each in fit.told if isinstance(each, facts.ClassNotSaid)] == ["Somebody's red"]


def test_a_number_measured_before_starts_afresh(in_force: InForce, constants: Constants) -> None:
    """The prior is the shipped number, so that no panel counts twice; it is told."""
    sight = constants.sight
    line = sight.thinnest_line_arcsec.model_copy(update={"value": 0.3, "known": "measured"})
    now = constants.model_copy(update={"sight": sight.model_copy(update={"thinnest_line_arcsec": line})})
    again = fit_rows([ROW], in_force._replace(constants=now)).fit
    once = fit_rows([ROW], in_force).fit
    assert _number(again, THRESHOLD).value == pytest.approx(_number(once, THRESHOLD).value)
    assert _number(again, THRESHOLD).before == 0.3
    assert "started-afresh" in _kinds(again)


def test_risks_in_force_are_those_of_the_cards(in_force: InForce, constants: Constants) -> None:
    """`LineModel` for tools, grades, beds and zones; 0.002 for the arc tangent that is left out."""
    rows = [ROW._replace(tool=tool, grade=grade, coats=coats, zone=zone)
            for tool in ("hand-pad", "da-soft") for grade in map(Grade, ("P320", "P800", "P1500"))
            for coats in (0, 2) for zone in ("fade", "colour")]  # fmt: skip
    flake, model = numbers_of_class(constants, "very-fine"), LineModel(constants)
    assert flake is not None
    expected = [model.estimate(flake, row.tool, row.grade, row.zone, row.coats, 0.40).risk for row in rows]
    found = [risk for _, risk in risks_in_force(rows, flakes_of(rows, {}, constants), in_force)]
    np.testing.assert_allclose(found, expected, atol=0.002)


def test_most_of_a_wrong_prior_is_gone_after_sixty_panels(plain: Bench) -> None:
    """A slice of the long run: a threshold of half, the mean error of ln(A/T) over eight shops."""
    truth = plain.layout.mean.copy()
    truth[plain.layout.place[THRESHOLD]] -= math.log(2.0)
    left = []
    for _ in range(8):
        model = plain.model(plain.read(plain.panels(60), truth))
        believed = posterior(model)
        was, now, true = (model.margins(at).value for at in (plain.layout.mean, believed.mode, truth))
        left.append((now - true).sum() / (was - true).sum())
    assert abs(np.mean(left)) < 0.3


def test_a_fit_holds_its_rows_in_order(in_force: InForce) -> None:
    """Every row stands in the report with its chance, in the order of the file."""
    rows = [
        ROW._replace(line=line, grade=grade)
        for line, grade in enumerate((Grade("P400"), Grade("P2000"), Grade("P400")), 2)
    ]
    assert [each.row for each in fit_rows(rows, in_force).fit.fitted] == rows


def test_what_is_kept_and_not_used_is_told(in_force: InForce) -> None:
    """Light, film and photo change no number; dim light is told by its lux (at least 500 by the guide)."""
    rows = [ROW._replace(grade=grade, shows=shows)  # type: ignore[arg-type]
            for grade, shows in (("P600", "yes"), ("P800", "yes"), ("P1000", "no"))]  # fmt: skip
    kept = [row._replace(light="300", film_um=38.0, photo=f"{at}.jpg") for at, row in enumerate(rows)]
    plain, told = fit_rows(rows, in_force).fit, fit_rows(kept, in_force).fit
    assert plain.numbers == told.numbers
    assert facts.KeptUnused(light=3, film=3, photo=3) in told.told
    assert facts.DimLight(rows=3, least_lux=300.0) in told.told
    assert not {"kept-unused", "dim-light"} & _kinds(plain)
