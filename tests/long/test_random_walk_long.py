"""Random keys, touches and resizes, 3,000 on each of six jobs, held against the file after each hundred."""

import pytest

from tests.tui.random_walk import JOBS, walk_all


@pytest.mark.parametrize("job", JOBS)
def test_the_file_has_what_the_screens_show(job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty comparisons a job."""
    monkeypatch.setattr("textual._wait.SLEEP_GRANULARITY", 0.004)
    assert walk_all((job,), 3000, seed=JOBS.index(job)) == 30
