"""Which panels are judged and shown anew when something changes: those it touches, and no other."""

import datetime as dt
from dataclasses import replace
from typing import Any, Final

import pytest

from prepadvisor.checkoff import (
    KeptVerdicts,
    KeptViews,
    gate,
    kept_verdicts,
    panel_verdict,
    panel_views,
    views,
)
from prepadvisor.records import Job
from tests.checkoff.shopfloor import DOOR, Shopfloor

WING: Final = "left-front-wing"
BOTH: Final = [DOOR, WING]
HOUR: Final = dt.timedelta(hours=1)


class Watched:
    """A floor whose gate is judged again and again with what is kept; `judged` and `shown` are panels."""

    def __init__(self, floor: Shopfloor) -> None:
        """Begin with nothing kept."""
        self.floor, self.advice, self.kept, self.shown_before = (
            floor,
            floor.advice,
            KeptVerdicts(),
            KeptViews(),
        )
        self.judged: list[str] = []
        self.shown: list[str] = []

    def after(
        self, hours: float = 0.0, job: Job | None = None, advice: Any = None
    ) -> tuple[list[str], list[str]]:
        """Judge and show, and return what was judged and shown anew for it."""
        self.judged.clear()
        self.shown.clear()
        now = self.floor.now + hours * HOUR
        said = gate(job or self.floor.job, advice or self.advice, self.floor.house, now, self.kept)
        views(said, advice or self.advice, self.shown_before)
        return list(self.judged), list(self.shown)


@pytest.fixture
def watched(floor: Shopfloor, monkeypatch: pytest.MonkeyPatch) -> Watched:
    """Return the worked job, judged once."""
    one = Watched(floor)
    judge, show = panel_verdict.panel_verdict, panel_views.panel_view

    def judged(scene: Any, now: dt.datetime) -> Any:
        one.judged.append(scene.panel.id)
        return judge(scene, now)

    def shown(said: Any) -> Any:
        one.shown.append(said.id)
        return show(said)

    monkeypatch.setattr(kept_verdicts, "panel_verdict", judged)
    monkeypatch.setattr(panel_views, "panel_view", shown)
    assert one.after() == (BOTH, BOTH)
    return one


def test_an_entry_is_judged_at_its_own_panel(watched: Watched) -> None:
    """And nothing where nothing was logged; the advice may be another with the same in it."""
    assert watched.after() == ([], [])
    assert watched.after(advice=watched.advice._replace(minutes=1.0)) == ([], [])
    watched.floor.put(f"{DOOR}/E1", "guide-coated")
    assert watched.after() == ([DOOR], [DOOR])
    watched.floor.put(f"{WING}/E1", "inspected", result="lines")
    assert watched.after() == ([WING], [WING])


def test_time_alone_is_judged_where_something_has_ended(watched: Watched) -> None:
    """A wipe lasts 24 hours; then its age is told, which each time asks anew. So does a clock put back."""
    assert watched.after(5) == ([], [])
    assert watched.after(23.9) == ([], [])
    assert watched.after(24 - 90 / 3600) == ([], [])  # the door was wiped a minute before the wing
    assert watched.after(24 - 30 / 3600)[0] == [DOOR]
    assert WING in watched.after(24 + 0.5 / 3600)[0]
    assert watched.after(24.2) == (BOTH, BOTH)
    assert watched.after(24.2) == ([], [])
    assert watched.after(24.5) == (BOTH, BOTH)
    assert watched.after(1)[0] == BOTH
    assert watched.after(0.5)[0] == BOTH
    assert watched.after(0.5)[0] == []


def test_a_verdict_without_an_age_in_it_outlasts_its_last_end_alone(watched: Watched) -> None:
    """Nothing of a job without a log ends."""
    bare = watched.floor.job.model_copy(update={"check": ()})
    assert watched.after(job=bare)[0] == BOTH
    assert watched.after(2000, job=bare) == ([], [])


def test_a_panel_that_went_is_let_go_and_judged_when_it_comes_back(watched: Watched) -> None:
    """A panel more or fewer is of no account to the others but in what their looks rested on."""
    job = watched.floor.job
    less = job.model_copy(update={"panel": job.panel[:1]})
    work = watched.advice.work
    advice = watched.advice._replace(
        panels=watched.advice.panels[:1],
        places=tuple(place for place in watched.advice.places if place.panel == DOOR),
        spots=tuple(spot for spot in watched.advice.spots if spot.panel == DOOR),
        work=work._replace(
            tasks=tuple(task for task in work.tasks if task.place.startswith(DOOR)),
            steps=tuple(
                step._replace(tasks=tuple(task for task in step.tasks if task.startswith(DOOR)))
                for step in work.steps
            ),
        ),
    )
    assert watched.after(job=less, advice=advice)[1] == []
    judged, shown = watched.after()
    assert WING in judged
    assert shown == [WING]


def test_what_the_house_says_is_judged_everywhere(watched: Watched) -> None:
    """Another shop is another scene for every panel."""
    shop = watched.floor.house.shop.model_copy(update={"leads": ("L. D.",)})
    watched.floor.house = replace(watched.floor.house, shop=shop)
    assert watched.after()[0] == BOTH
