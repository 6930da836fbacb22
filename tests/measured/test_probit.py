"""The probit likelihood and the search, held against published fits and statsmodels.

Sources: `tests/reference/probit_data.csv`, `probit_known_fits.csv` (Bliss 1935 by Dobson, Finney 1971 and
others, recomputed with statsmodels) and `posterior_known.csv` (grid over the BUGS Beetles model); tags there.
"""

import csv
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import statsmodels.api as sm

from prepadvisor.measured.likelihood import AnswerBounds, log_likelihood
from prepadvisor.measured.numerics import Curved, Least, least
from prepadvisor.surface import Array

_TABLES = Path(__file__).parents[1] / "reference"


def _table(name: str) -> list[dict[str, str]]:
    with (_TABLES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _doses(name: str) -> tuple[Array, Array, Array]:
    rows = [row for row in _table("probit_data") if row["set"] == name]
    x, n, k = (np.array([float(row[key]) for row in rows]) for key in ("x", "n", "k"))
    return x, n, k


def _answers(x: Array, n: Array, k: Array, lapse: float = 0.0) -> tuple[Array, AnswerBounds]:
    """Return doses twice with how many answered yes, and how many no."""
    half, zero, inf = np.full(len(x), 0.5), np.zeros(len(x)), np.full(len(x), np.inf)
    yes_no = AnswerBounds(
        np.concatenate([zero, -inf]), np.concatenate([inf, zero]), np.concatenate([half, half]),
        np.full(2 * len(x), lapse), np.concatenate([k, n - k]),
    )  # fmt: skip
    return np.concatenate([x, x]), yes_no


def _line(x: Array, answers: AnswerBounds, mean: Array, precision: Array) -> Callable[[Array], Curved]:
    """−ln posterior of intercept and slope: margin a + b·x, scatter 1, Gaussian priors."""
    columns = np.stack([np.ones_like(x), x], axis=1)

    def objective(at: Array) -> Curved:
        seen = log_likelihood(columns @ at, 1.0, answers)
        away = at - mean
        curvature = columns.T @ (columns * -seen.by_margin_twice[:, None]) + np.diag(precision)
        gradient = -columns.T @ seen.by_margin + precision * away
        return -float(seen.value.sum()) + 0.5 * float(away @ (precision * away)), gradient, curvature

    return objective


def _fit(x: Array, answers: AnswerBounds, mean: Array | None = None, precision: Array | None = None) -> Least:
    nothing = np.zeros(2)
    mean, precision = (nothing if each is None else each for each in (mean, precision))
    return least(_line(x, answers, mean, precision), nothing)


@pytest.mark.parametrize(
    ("name", "scale"), [("beetle", None), ("rotenone", np.log)], ids=["beetle", "rotenone"]
)
def test_published_probit_fits(name: str, scale: Callable[[Array], Array] | None) -> None:
    """Intercept, slope and their standard errors: Bliss 1935, Finney 1971 (probit_known_fits.csv)."""
    known = next(row for row in _table("probit_known_fits") if row["set"] == name and row["link"] == "probit")
    x, n, k = _doses(name)
    x, answers = _answers(scale(x) if scale else x, n, k)
    found = _fit(x, answers)
    assert found.settled
    np.testing.assert_allclose(found.at, [float(known["intercept"]), float(known["slope"])], rtol=2e-7)
    objective = _line(x, answers, np.zeros(2), np.zeros(2))
    observed = np.linalg.inv(objective(found.at)[2])
    np.testing.assert_allclose(
        np.sqrt(np.diag(observed)), [float(known["se_intercept"]), float(known["se_slope"])], rtol=0.02
    )  # theirs is by expected, ours by observed information


def test_the_fit_is_that_of_statsmodels() -> None:
    """sm.GLM with a probit link on the beetle counts, to 1e-6."""
    x, n, k = _doses("beetle")
    theirs = sm.GLM(
        np.stack([k, n - k], axis=1),
        sm.add_constant(x),
        family=sm.families.Binomial(sm.families.links.Probit()),
    ).fit(tol=1e-14)
    np.testing.assert_allclose(_fit(*_answers(x, n, k)).at, theirs.params, rtol=1e-6)


def test_threshold_and_spread_alone_free_is_statsmodels_probit() -> None:
    """300 panels of known ln A, yes or no: threshold and scatter of our model without priors, to 1e-6."""
    chance = np.random.default_rng(8)
    strength = chance.uniform(-2.0, 1.0, 300)
    shows = strength + 0.7 + 0.45 * chance.normal(size=300) > 0
    theirs = sm.Probit(shows.astype(float), sm.add_constant(strength)).fit(disp=0, tol=1e-14, maxiter=100)
    intercept, slope = theirs.params

    low = np.where(shows, 0.0, -np.inf)
    answers = AnswerBounds(low, np.where(shows, np.inf, 0.0), np.full(300, 0.5), np.zeros(300), np.ones(300))

    def objective(at: Array) -> Curved:
        threshold, log_spread = at
        seen = log_likelihood(strength - threshold, float(np.exp(log_spread)), answers)
        gradient = -np.array([-seen.by_margin.sum(), seen.by_log_spread.sum()])
        mixed = seen.by_both.sum()
        curvature = -np.array(
            [[seen.by_margin_twice.sum(), -mixed], [-mixed, seen.by_log_spread_twice.sum()]]
        )
        return -float(seen.value.sum()), gradient, curvature

    threshold, log_spread = least(objective, np.array([-0.5, -1.0])).at
    np.testing.assert_allclose([threshold, np.exp(log_spread)], [-intercept / slope, 1.0 / slope], rtol=1e-6)


def test_the_published_posterior_of_the_beetles() -> None:
    """Most likely values under N(0, variance 1000) priors, x centred (posterior_known.csv, probit, MAP)."""
    known = {row["parameter"]: float(row["MAP"]) for row in _table("posterior_known")
             if row["link"] == "probit" and row["MAP"]}  # fmt: skip
    x, n, k = _doses("beetle")
    x, answers = _answers(x - x.mean(), n, k)
    found = _fit(x, answers, np.zeros(2), np.full(2, 1e-3)).at
    np.testing.assert_allclose(found, [known["alpha*"], known["beta"]], rtol=5e-6)


def test_laplace_is_near_the_published_means_and_deviations() -> None:
    """Mode ± 1.645 sd against the grid's mean, sd and 5 % and 95 % points: within an eighth of an sd."""
    known = next(
        row for row in _table("posterior_known") if row["link"] == "probit" and row["parameter"] == "beta"
    )
    mean, sd, low, high = (float(known[key]) for key in ("mean", "sd", "p05", "p95"))
    x, n, k = _doses("beetle")
    x, answers = _answers(x - x.mean(), n, k)
    objective = _line(x, answers, np.zeros(2), np.full(2, 1e-3))
    at = _fit(x, answers, np.zeros(2), np.full(2, 1e-3)).at
    ours = float(np.sqrt(np.linalg.inv(objective(at)[2])[1, 1]))
    assert ours == pytest.approx(sd, rel=0.02)
    np.testing.assert_allclose(
        [at[1], at[1] - 1.645 * ours, at[1] + 1.645 * ours], [mean, low, high], atol=0.12 * sd
    )


def test_one_lapse_in_eighty_no_longer_doubles_the_spread() -> None:
    """probit_known_fits.csv, set lapse: sigma 57.2 without lapse, 27.1 with its own."""
    x, n, k = _doses("lapse")
    x, answers = _answers((x - 150.0) / 100.0, n, k, lapse=2 * 0.01258)
    found = least(_line(x, answers, np.zeros(2), np.zeros(2)), np.array([0.0, 2.0])).at
    assert 100.0 / found[1] == pytest.approx(27.0716, rel=0.05)
    assert 150.0 - 100.0 * found[0] / found[1] == pytest.approx(142.9779, rel=0.01)
    x, n, k = _doses("lapse")
    x, answers = _answers((x - 150.0) / 100.0, n, k)
    found = least(_line(x, answers, np.zeros(2), np.zeros(2)), np.array([0.0, 1.0])).at
    assert 100.0 / found[1] == pytest.approx(57.1759, rel=1e-5)
    assert 150.0 - 100.0 * found[0] / found[1] == pytest.approx(151.0512, rel=1e-6)


def test_a_fit_with_a_free_lapse_is_the_published_one() -> None:
    """probit_known_fits.csv, set lapse, P = (1 − λ)·Φ, λ = 0.01258: μ 142.9779, σ 27.0716, ln P −21.9125."""
    known = next(row for row in _table("probit_known_fits") if row["link"] == "normal cdf, free lapse")
    x, n, k = _doses("lapse")
    doses, answers = _answers((x - 150.0) / 100.0, n, k, lapse=0.01258)
    answers = answers._replace(at_random=np.repeat([0.0, 1.0], len(x)))  # who lapses says no
    found = least(_line(doses, answers, np.zeros(2), np.zeros(2)), np.array([0.0, 2.0]))
    sigma, kernel = (float(known[key].split()[1]) for key in ("slope", "logLik_with_binomial_term"))
    assert 100.0 / found.at[1] == pytest.approx(sigma, rel=1e-3)
    assert 150.0 - 100.0 * found.at[0] / found.at[1] == pytest.approx(142.9779, rel=1e-4)
    assert -found.value == pytest.approx(kernel, abs=1e-5)


def test_a_fit_over_a_floor_is_the_published_one() -> None:
    """Natural response (probit_known_fits.csv, set natural): with its floor c, intercept and slope."""
    known = next(row for row in _table("probit_known_fits") if row["set"] == "natural")
    x, n, k = _doses("natural")
    doses, answers = _answers(np.log10(np.maximum(x, 1e-30)), n, k, lapse=0.240883)
    answers = answers._replace(at_random=np.repeat([1.0, 0.0], len(x)))  # by itself it answers yes
    found = _fit(doses, answers)
    expected = [float(known["intercept"]), float(known["slope"])]
    np.testing.assert_allclose(found.at, expected, rtol=2e-5)
    assert -found.value == pytest.approx(float(known["logLik_with_binomial_term"]), abs=1e-4)


def _several(columns: Array, shows: Array) -> Least:
    """Fit an intercept and several slopes to yes and no."""
    columns = np.column_stack([np.ones(len(shows)), columns])
    low, high = np.where(shows, 0.0, -np.inf), np.where(shows, np.inf, 0.0)
    size = len(shows)
    answers = AnswerBounds(low, high, np.full(size, 0.5), np.zeros(size), np.ones(size))

    def objective(at: Array) -> Curved:
        seen = log_likelihood(columns @ at, 1.0, answers)
        curvature = columns.T @ (columns * -seen.by_margin_twice[:, None])
        return -float(seen.value.sum()), -columns.T @ seen.by_margin, curvature

    return least(objective, np.zeros(columns.shape[1]))


def _rows_of(name: str) -> list[dict[str, str]]:
    path = Path(sm.__file__).parent / name
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("name", ["spector", "vaso (Finney 1947)"])
def test_published_probit_fits_of_several_slopes(name: str) -> None:
    """Spector (published Stata results) and Finney's vaso data, both as statsmodels ships them."""
    known = next(row for row in _table("probit_known_fits") if row["set"] == name and row["link"] == "probit")
    if name == "spector":
        data = sm.datasets.spector.load_pandas()
        columns, shows = data.exog.to_numpy(), data.endog.to_numpy() > 0
    else:
        rows = _rows_of("stats/tests/results/binary_constrict.csv")
        columns = np.array([[float(row["log_rate"]), float(row["log_volumne"])] for row in rows])
        shows = np.array([row["constrict"] == "1" for row in rows])
    found = _several(columns, shows)
    slopes = [float(each) for each in known["slope"].split(";")]
    np.testing.assert_allclose(found.at, [float(known["intercept"]), *slopes], rtol=2e-5)
    if known["logLik_with_binomial_term"]:
        assert -found.value == pytest.approx(float(known["logLik_with_binomial_term"]), abs=1e-5)
    else:
        assert 2.0 * found.value == pytest.approx(float(known["deviance"]), abs=1e-4)


@pytest.mark.parametrize("name", ["beetle", "rotenone"])
def test_the_middle_of_a_fit_and_its_deviance_are_the_published_ones(name: str) -> None:
    """Half show at −a/b, with its standard error by the fit's covariance; deviance against free shares."""
    known = next(row for row in _table("probit_known_fits") if row["set"] == name and row["link"] == "probit")
    x, n, k = _doses(name)
    x = np.log(x) if known["covariate"] == "ln x" else x
    doses, answers = _answers(x, n, k)
    found = _fit(doses, answers)
    a, b = found.at
    assert -a / b == pytest.approx(float(known["mid"]), rel=1e-6)
    covariance = np.linalg.inv(_line(doses, answers, np.zeros(2), np.zeros(2))(found.at)[2])
    gradient = np.array([-1.0 / b, a / b**2])
    assert float(np.sqrt(gradient @ covariance @ gradient)) == pytest.approx(float(known["se_mid"]), rel=0.02)
    share = np.clip(k / n, 1e-300, 1.0)
    rest = np.clip(1.0 - k / n, 1e-300, 1.0)
    free = float((k * np.log(share) + (n - k) * np.log(rest)).sum())
    assert 2.0 * (free + found.value) == pytest.approx(float(known["deviance"]), abs=1e-5)


def test_three_answers_add_up_to_one_and_their_slopes_are_the_slopes() -> None:
    """Yes, barely and no of a judge on three steps; slopes by central differences."""
    margin = np.linspace(-2.0, 2.0, 41)
    total = np.zeros_like(margin)
    for low, high in ((0.25, np.inf), (-0.25, 0.25), (-np.inf, -0.25)):
        answers = AnswerBounds(*(np.full(41, each) for each in (low, high, 1 / 3, 0.02, 1.0)))
        at = log_likelihood(margin, 0.4, answers)
        total += np.exp(at.value)
        ends = [log_likelihood(margin + sign * 1e-5, 0.4, answers) for sign in (1, -1)]
        np.testing.assert_allclose((ends[0].value - ends[1].value) / 2e-5, at.by_margin, atol=1e-6)
        np.testing.assert_allclose(
            (ends[0].by_margin - ends[1].by_margin) / 2e-5, at.by_margin_twice, atol=1e-5
        )
        wide = [log_likelihood(margin, 0.4 * np.exp(sign * 1e-5), answers) for sign in (1, -1)]
        np.testing.assert_allclose((wide[0].value - wide[1].value) / 2e-5, at.by_log_spread, atol=1e-6)
        np.testing.assert_allclose((wide[0].by_margin - wide[1].by_margin) / 2e-5, at.by_both, atol=1e-5)
        np.testing.assert_allclose(
            (wide[0].by_log_spread - wide[1].by_log_spread) / 2e-5, at.by_log_spread_twice, atol=1e-5
        )
    np.testing.assert_allclose(total, 1.0, atol=1e-12)
