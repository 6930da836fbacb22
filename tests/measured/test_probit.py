"""The fit held against published probit, logit and complementary log-log fits and statsmodels.

Sources: `tests/reference/probit_data.csv`, `probit_known_fits.csv` (Bliss 1935 by Dobson, Finney 1971,
Milicer 1966, Collett 1991 and others, recomputed with statsmodels), `posterior_known.csv` (grid over the BUGS
Beetles model); tags there. All of it runs through the fit's own −ln posterior, search, Laplace and draws.
"""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import statsmodels.api as sm

from prepadvisor.measured.likelihood import AnswerBounds, log_likelihood
from prepadvisor.measured.numerics import Curve, Curved, least
from prepadvisor.measured.posterior import drawn, intervals, posterior
from prepadvisor.surface import Array
from tests.measured.straight import CURVES, Straight, counts, doses, line, table

_SCALE: dict[str, Callable[[Array], Array]] = {"x": np.asarray, "age": np.asarray, "ln x": np.log}
_LINES = [row for row in table("probit_known_fits") if row["covariate"] in _SCALE and row["deviance"]]


def _numbers(row: dict[str, str], *keys: str) -> list[float]:
    return [float(part) for key in keys for part in row[key].split(";")]


def _of(row: dict[str, str]) -> tuple[Straight, Array, Array]:
    x, n, k = doses(row["set"])
    design = line(_SCALE[row["covariate"]](x))
    return Straight(design, counts(n, k), curve=CURVES[row["link"]]), n, k


@pytest.mark.parametrize("row", _LINES, ids=[f"{row['set']}-{row['link']}" for row in _LINES])
def test_published_fits_of_a_line(row: dict[str, str]) -> None:
    """Intercept, slope, their standard errors, deviance, and where half answer, with Fieller's interval."""
    model, n, k = _of(row)
    found = posterior(model)
    assert found.settled
    np.testing.assert_allclose(found.mode, _numbers(row, "intercept", "slope"), rtol=2e-6)
    covariance = model.expected_covariance(found.mode)
    errors = _numbers(row, "se_intercept", "se_slope")
    np.testing.assert_allclose(np.sqrt(np.diag(covariance)), errors, rtol=2e-5)
    share, rest = (np.clip(each, 1e-300, 1.0) for each in (k / n, 1.0 - k / n))
    free = float((k * np.log(share) + (n - k) * np.log(rest)).sum())
    value = model.objective(found.mode)[0]
    assert 2.0 * (free + value) == pytest.approx(float(row["deviance"]), abs=2e-5)
    ways = sum(math.log(math.comb(int(of), int(yes))) for of, yes in zip(n, k, strict=True))
    assert ways - value == pytest.approx(float(row["logLik_with_binomial_term"]), abs=1e-5)
    if row["mid"]:
        middle, error, low, high = _middle(found.mode, covariance)
        np.testing.assert_allclose(
            [middle, low, high], _numbers(row, "mid", "fieller_low", "fieller_high"), rtol=2e-6
        )
        assert error == pytest.approx(float(row["se_mid"]), rel=2e-4)


def _middle(at: Array, covariance: Array) -> tuple[float, float, float, float]:
    """Return −a/b, its standard error by slopes, and the ends of Fieller's 95 % interval (Finney 1971)."""
    a, b = at
    gradient = np.array([-1.0 / b, a / b**2])
    z = 1.959963984540054
    square = np.array([
        b * b - z * z * covariance[1, 1],
        2.0 * (a * b - z * z * covariance[0, 1]),
        a * a - z * z * covariance[0, 0],
    ])  # fmt: skip
    low, high = sorted(np.roots(square).real)
    return -a / b, float(np.sqrt(gradient @ covariance @ gradient)), low, high


@pytest.mark.parametrize("link", list(CURVES))
def test_the_fit_is_that_of_statsmodels(link: str) -> None:
    """sm.GLM on the beetle counts, to 1e-6."""
    x, n, k = doses("beetle")
    links = sm.families.links
    family = sm.families.Binomial(
        {"probit": links.Probit, "logit": links.Logit, "cloglog": links.CLogLog}[link]()
    )
    theirs = sm.GLM(np.stack([k, n - k], axis=1), sm.add_constant(x), family=family).fit(tol=1e-14)
    found = posterior(Straight(line(x), counts(n, k), curve=CURVES[link]))
    np.testing.assert_allclose(found.mode, theirs.params, rtol=1e-6)


def test_two_sexes_and_one_slope_are_the_published_fit() -> None:
    """Budworm (Collett 1991), logit on log2 dose with an intercept a sex; where half of the females die."""
    (row,) = (each for each in table("probit_known_fits") if each["set"] == "budworm")
    (x, n, female), (_, _, male) = doses("budworm-female"), doses("budworm-male")
    one, zero = np.ones_like(x), np.zeros_like(x)
    design = np.vstack([np.stack([one, zero, np.log2(x)], axis=1), np.stack([zero, one, np.log2(x)], axis=1)])
    answers = counts(np.concatenate([n, n]), np.concatenate([female, male]))
    model = Straight(design, answers, curve=CURVES[row["link"]])
    found = posterior(model)
    np.testing.assert_allclose(found.mode, _numbers(row, "intercept", "slope"), rtol=2e-6)
    covariance = model.expected_covariance(found.mode)
    errors = _numbers(row, "se_intercept", "se_slope")
    np.testing.assert_allclose(np.sqrt(np.diag(covariance)), errors, rtol=1e-5)
    middle, error, _, _ = _middle(found.mode[[0, 2]], covariance[np.ix_([0, 2], [0, 2])])
    np.testing.assert_allclose([middle, error], _numbers(row, "mid", "se_mid"), rtol=1e-6)


_SEVERAL = [row for row in table("probit_known_fits") if row["set"] in {"spector", "vaso (Finney 1947)"}]


@pytest.mark.parametrize("row", _SEVERAL, ids=[f"{row['set'][:7]}-{row['link']}" for row in _SEVERAL])
def test_published_fits_of_several_slopes(row: dict[str, str]) -> None:
    """Spector (published Stata results) and Finney's vaso data, both as statsmodels ships them."""
    if row["set"] == "spector":
        data = sm.datasets.spector.load_pandas()
        columns, shows = data.exog.to_numpy(), data.endog.to_numpy()
    else:
        path = Path(sm.__file__).parent / "stats/tests/results/binary_constrict.csv"
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        columns = np.array([[float(each["log_rate"]), float(each["log_volumne"])] for each in rows])
        shows = np.array([float(each["constrict"]) for each in rows])
    design = np.column_stack([np.ones(len(shows)), columns])
    model = Straight(design, counts(np.ones(len(shows)), shows), curve=CURVES[row["link"]])
    found = posterior(model)
    np.testing.assert_allclose(found.mode, _numbers(row, "intercept", "slope"), rtol=2e-6)
    observed = row["set"] == "spector"  # its errors are by observed information, the other's by expected
    errors = found.sd if observed else np.sqrt(np.diag(model.expected_covariance(found.mode)))
    np.testing.assert_allclose(errors, _numbers(row, "se_intercept", "se_slope"), rtol=1e-5)
    key, factor = ("logLik_with_binomial_term", -1.0) if observed else ("deviance", 2.0)
    assert factor * model.objective(found.mode)[0] == pytest.approx(float(row[key]), abs=1e-5)


@pytest.mark.parametrize("link", list(CURVES))
def test_the_published_posterior_of_the_beetles(link: str) -> None:
    """N(0, variance 1000) priors, x centred: mode to 5e-6; mean, deviation and ends by the weighed draws.

    4,000 weighed draws leave some 2 % of a standard deviation of noise in a mean, 5 % in an end.
    """
    known = {row["parameter"]: row for row in table("posterior_known") if row["link"] == link}
    x, n, k = doses("beetle")
    model = Straight(line(x - x.mean()), counts(n, k), sd=1000.0**0.5, curve=CURVES[link])
    found = posterior(model)
    expected = [float(known[name]["MAP"]) for name in ("alpha*", "beta")]
    np.testing.assert_allclose(found.mode, expected, rtol=1e-5)
    cloud = drawn(model, found)
    assert cloud is not None
    draws = found.mode + cloud.moves
    sought = {"alpha*": draws[:, 0], "beta": draws[:, 1]}
    if "alpha" in known:
        sought["alpha"] = draws[:, 0] - draws[:, 1] * x.mean()
    for name, values in sought.items():
        mean, sd = (float(known[name][key]) for key in ("mean", "sd"))
        ours = float(values @ cloud.weight)
        assert ours == pytest.approx(mean, abs=0.06 * sd)
        assert float(((values - ours) ** 2 @ cloud.weight) ** 0.5) == pytest.approx(sd, rel=0.05)
    low, high = intervals(model, found)
    ends = _numbers(known["beta"], "p05", "p95")
    np.testing.assert_allclose([low[1], high[1]], ends, atol=0.12 * float(known["beta"]["sd"]))


def _best(fit: Callable[[float], float], low: float, high: float) -> float:
    """Return where a fit's −ln P is least, by golden section, to 1e-4 of the way."""
    part = (5.0**0.5 - 1.0) / 2.0
    for _ in range(20):
        left, right = high - part * (high - low), low + part * (high - low)
        low, high = (low, right) if fit(left) < fit(right) else (left, high)
    return (low + high) / 2.0


def _value(design: Array, answers: AnswerBounds) -> tuple[Array, float]:
    model = Straight(design, answers)
    at = least(model.objective, np.array([0.0, 2.0])).at
    return at, model.objective(at)[0]


def test_one_lapse_in_eighty_no_longer_doubles_the_spread() -> None:
    """Set lapse, P = (1 − λ)·Φ: without lapse σ 57.18; with its best, λ 0.01258, μ 142.98 and σ 27.07."""
    without, free = (row for row in table("probit_known_fits") if row["set"] == "lapse")
    x, n, k = doses("lapse")
    design = line((x - 150.0) / 100.0)
    best = _best(lambda lapse: _value(design, counts(n, k, lapse=lapse))[1], 0.005, 0.025)
    assert best == pytest.approx(0.01258, abs=6e-6)
    for row, lapse in ((without, 0.0), (free, best)):
        (a, b), value = _value(design, counts(n, k, lapse=lapse))
        mu, sigma, kernel = (
            float(row[key].split()[1]) for key in ("intercept", "slope", "logLik_with_binomial_term")
        )
        np.testing.assert_allclose([150.0 - 100.0 * a / b, 100.0 / b, -value], [mu, sigma, kernel], rtol=1e-5)


def test_a_fit_over_a_floor_is_the_published_one() -> None:
    """Natural response (set natural): the best floor c is 0.240883; there intercept, slope and ln P."""
    (row,) = (each for each in table("probit_known_fits") if each["set"] == "natural")
    x, n, k = doses("natural")
    design = line(np.log10(np.maximum(x, 1e-30)))
    best = _best(lambda floor: _value(design, counts(n, k, floor=floor))[1], 0.2, 0.28)
    assert best == pytest.approx(0.240883, abs=2e-5)
    at, value = _value(design, counts(n, k, floor=0.240883))
    np.testing.assert_allclose(at, _numbers(row, "intercept", "slope"), rtol=2e-5)
    assert -value == pytest.approx(float(row["logLik_with_binomial_term"]), abs=1e-4)


def test_two_choices_have_a_floor_of_a_half() -> None:
    """The demonstration data of a psychometric package: P = ½ + (½ − λ)·Φ, most likely at λ = 0.

    Threshold where Φ is ½, width from Φ = 0.05 to 0.95; its priors are flat about here, its 95 % intervals
    have lapse and further scatter unknown too. Its search ends within 0.1 %.
    """
    (row,) = (each for each in table("probit_known_fits") if each["set"].startswith("2AFC"))
    threshold, width = (float(row[key].split()[1]) for key in ("intercept", "slope"))
    x, n, k = doses("two-choices")
    model = Straight(line(1000.0 * x), counts(n, k, floor=0.5))
    found = posterior(model)
    a, b = found.mode
    ours = [-a / b / 1000.0, 2.0 * 1.6448536269514722 / b / 1000.0]
    np.testing.assert_allclose(ours, [threshold, width], rtol=1e-3)
    assert _value(line(1000.0 * x), counts(n, k, floor=0.5, lapse=0.005))[1] > model.objective(found.mode)[0]
    cloud = drawn(model, found)
    assert cloud is not None
    draws = found.mode + cloud.moves
    order = np.argsort(found_at := -draws[:, 0] / draws[:, 1] / 1000.0)
    ends = np.interp([0.025, 0.975], np.cumsum(cloud.weight[order]), found_at[order])
    published = [float(each) for each in row["se_intercept"].removeprefix("95 %: ").split(" to ")]
    np.testing.assert_allclose(ends, published, atol=0.2 * (published[1] - published[0]))


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


@pytest.mark.parametrize("curve", list(CURVES.values()), ids=list(CURVES))
def test_three_answers_add_up_to_one_and_their_slopes_are_the_slopes(curve: Curve) -> None:
    """Yes, barely and no of a judge on three steps; slopes by central differences, whatever the curve."""
    margin = np.linspace(-2.0, 2.0, 41)
    total = np.zeros_like(margin)
    for low, high in ((0.25, np.inf), (-0.25, 0.25), (-np.inf, -0.25)):
        answers = AnswerBounds(*(np.full(41, each) for each in (low, high, 1 / 3, 0.02, 1.0)))
        at = log_likelihood(margin, 0.4, answers, curve)
        total += np.exp(at.value)
        ends = [log_likelihood(margin + sign * 1e-5, 0.4, answers, curve) for sign in (1, -1)]
        np.testing.assert_allclose((ends[0].value - ends[1].value) / 2e-5, at.by_margin, atol=1e-6)
        np.testing.assert_allclose(
            (ends[0].by_margin - ends[1].by_margin) / 2e-5, at.by_margin_twice, atol=1e-5
        )
        wide = [log_likelihood(margin, 0.4 * np.exp(sign * 1e-5), answers, curve) for sign in (1, -1)]
        np.testing.assert_allclose((wide[0].value - wide[1].value) / 2e-5, at.by_log_spread, atol=1e-6)
        np.testing.assert_allclose((wide[0].by_margin - wide[1].by_margin) / 2e-5, at.by_both, atol=1e-5)
        np.testing.assert_allclose(
            (wide[0].by_log_spread - wide[1].by_log_spread) / 2e-5, at.by_log_spread_twice, atol=1e-5
        )
    np.testing.assert_allclose(total, 1.0, atol=1e-12)
