"""The fit of many unknowns: slopes by differences, posterior by a plain sampler, coverage by simulation."""

import numpy as np
import pytest

from prepadvisor.measured.likelihood import (
    SCATTER,
    SOLIDS,
    THRESHOLD,
    Z_90,
    layout_of,
    solids_of_unknown,
    solids_to_unknown,
)
from prepadvisor.measured.model import Model, Settings
from prepadvisor.measured.numerics import least
from prepadvisor.measured.posterior import Posterior, intervals, posterior
from prepadvisor.records import Constants, Grade
from prepadvisor.surface import Array
from tests.measured.conftest import SOLIDS as SET_SOLIDS
from tests.measured.conftest import Bench


def test_the_gradient_is_that_of_central_differences(bench: Bench) -> None:
    """60 panels, one of them barely, at a point away from the mode."""
    truth = bench.truth()
    rows = bench.read(bench.panels(60), truth)
    rows[3] = rows[3]._replace(shows="barely")
    model = bench.model(rows)
    at = bench.layout.mean + 0.3 * (truth - bench.layout.mean)
    steps = np.eye(len(at)) * 1e-5
    numeric = [(model.objective(at + step)[0] - model.objective(at - step)[0]) / 2e-5 for step in steps]
    np.testing.assert_allclose(model.objective(at)[1], numeric, atol=1e-6)


def test_the_curvature_is_that_of_central_differences(bench: Bench) -> None:
    """The whole matrix of second slopes, the bend of ln A included."""
    truth = bench.truth()
    model = bench.model(bench.read(bench.panels(60), truth))
    at = bench.layout.mean + 0.3 * (truth - bench.layout.mean)
    steps = np.eye(len(at)) * 1e-4
    numeric = [(model.objective(at + step)[1] - model.objective(at - step)[1]) / 2e-4 for step in steps]
    np.testing.assert_allclose(model.curvature(at), numeric, atol=2e-3)


def _sampled(model: Model, believed: Posterior, count: int, own: list[int], seed: int) -> Array:
    """A plain random-walk Metropolis sampler of some unknowns: nothing of the fit but ln P."""
    chance = np.random.default_rng(seed)
    step = np.linalg.cholesky(believed.covariance[np.ix_(own, own)]) * (2.2 / np.sqrt(len(own)))
    at, value = believed.mode.copy(), model.objective(believed.mode)[0]
    found = []
    for _ in range(count):
        tried = at.copy()
        tried[own] += step @ chance.normal(size=len(own))
        there = model.objective(tried)[0]
        if np.log(chance.random()) < value - there:
            at, value = tried, there
        found.append(at[own])
    return np.array(found[count // 10 :])


def test_laplace_is_what_a_plain_sampler_finds(plain: Bench) -> None:
    """Threshold, scatter and one tool's depth from 40 panels, the rest pinned: to a fifth of an sd.

    8,000 correlated steps in three directions leave about a twentieth of an sd of noise.
    """
    own = [plain.layout.place[name] for name in (THRESHOLD, SCATTER, "depth_per_grain.da-soft")]
    pinned = np.full(len(plain.layout.sd), 1e-4)
    pinned[own] = plain.layout.sd[own]
    small = plain._replace(layout=plain.layout._replace(sd=pinned))
    panels = [
        row._replace(tool="da-soft", flake="very-fine", coats=0, zone="fade") for row in small.panels(40)
    ]
    model = small.model(small.read(panels, small.truth()))
    believed = posterior(model)
    draws = _sampled(model, believed, 8_000, own, 3)
    away = (draws.mean(axis=0) - believed.mode[own]) / believed.sd[own]
    assert np.abs(away).max() < 0.2
    np.testing.assert_allclose(draws.std(axis=0), believed.sd[own], rtol=0.15)


def _only(bench: Bench, *names: str) -> Bench:
    """The bench with all unknowns pinned but some."""
    own = [bench.layout.place[name] for name in names]
    pinned = np.full(len(bench.layout.sd), 1e-4)
    pinned[own] = bench.layout.sd[own]
    return bench._replace(layout=bench.layout._replace(sd=pinned))


@pytest.mark.parametrize("coarse", [Grade("P600"), Grade("P320")])
def test_intervals_of_set_solids_are_those_of_the_posterior_itself(plain: Bench, coarse: Grade) -> None:
    """Six panels under a bed that never show: a fine grid over the one free unknown, its 5 % and 95 % points.

    The posterior leans: above Laplace's interval ends three of its sds too early. A quarter sd is chance.
    """
    small = _only(plain, SOLIDS)
    rows = [
        row._replace(tool="da-soft", grade=coarse, flake="very-fine", coats=1, zone="fade")
        for row in small.panels(6)
    ]
    model = small.model(rows)
    believed = posterior(model)
    at = small.layout.place[SOLIDS]
    grid = np.linspace(-5.0, 4.0, 600)
    points = np.repeat(small.layout.mean[None, :], len(grid), axis=0)
    points[:, at] = grid
    weight = np.exp([-model.objective(point)[0] for point in points])
    cumulative = np.cumsum(weight) / weight.sum()
    expected = np.interp([0.05, 0.95], cumulative, grid)
    low, high = intervals(model, believed)
    np.testing.assert_allclose([low[at], high[at]], expected, atol=0.25 * believed.sd[at])


def test_intervals_cover_the_truth_in_simulated_shops(bench: Bench) -> None:
    """A slice of the long run in tests/long: 30 shops, truths from the priors, all unknowns pooled.

    90 % of 450 correlated cases; 0.83 to 0.97 is some three standard errors either way.
    """
    covered = []
    for _ in range(30):
        truth = bench.truth()
        model = bench.model(bench.read(bench.panels(60), truth))
        believed = posterior(model)
        assert believed.settled
        low, high = intervals(model, believed)
        covered.append((low < truth) & (truth < high))
    assert 0.83 < np.mean(covered) < 0.97


def test_the_search_ends_soon(constants: Constants, plain: Bench) -> None:
    """A shop some of whose answers the model must take for slips, where ln P bends upwards: few steps.

    By a curvature that leaves such bends out this shop took 69; for 10,000 rows of the kind 100 were too few.
    """
    shop = Bench(constants, plain.layout, np.random.default_rng(1))
    model = shop.model(shop.read(shop.panels(60), shop.truth()))
    found = least(model.objective, plain.layout.mean, model.curvature)
    assert found.settled
    assert found.steps <= 15
    np.testing.assert_allclose(model.objective(found.at)[1], 0.0, atol=1e-4)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("log_spread", [-800.0, 800.0])
def test_a_point_far_out_is_still_a_number(plain: Bench, log_spread: float) -> None:
    """A search may try any point: value, slopes and curvature stay finite, without a warning."""
    model = plain.model(plain.read(plain.panels(30), plain.truth()))
    at = plain.layout.mean.copy()
    at[plain.layout.place[SCATTER]] = log_spread
    for found in (*model.objective(at), model.curvature(at)):
        assert np.isfinite(found).all()


def test_no_rows_leave_the_prior(plain: Bench) -> None:
    """Nothing seen, nothing learned."""
    believed = posterior(plain.model([]))
    np.testing.assert_allclose(believed.mode, plain.layout.mean)
    np.testing.assert_allclose(believed.sd, plain.layout.sd)


@pytest.mark.parametrize("set_solids", [0.12, 0.25, 0.40, 0.8])
def test_the_prior_of_set_solids_reaches_nine_tenths(constants: Constants, set_solids: float) -> None:
    """Orchard's equation makes 0.6 to 0.9 plausible: the 95 % point lies at 0.9 or above."""
    layout = layout_of(constants, set_solids, {}, {}, ["panel"])
    at = layout.place[SOLIDS]
    assert solids_of_unknown(layout.mean[at]) == pytest.approx(set_solids)
    assert solids_of_unknown(layout.mean[at] + Z_90 * layout.sd[at]) >= 0.9 - 1e-9


def test_set_solids_go_there_and_back() -> None:
    """The unknown's transform is undone by its inverse."""
    for value in (0.05, 0.4, 0.95):
        assert solids_of_unknown(solids_to_unknown(value)) == pytest.approx(value, rel=1e-12)


def test_the_bench_is_that_of_the_shop(plain: Bench) -> None:
    """The simulated shop sprays with the start value of the shipped shop file."""
    assert solids_of_unknown(plain.layout.mean[plain.layout.place[SOLIDS]]) == pytest.approx(SET_SOLIDS)
    assert len(Settings(plain.layout, plain.constants)) == 0
