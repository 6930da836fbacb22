"""What is kept of panels changes no advice, and panels do not change one another's steps."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.cases import standing
from prepadvisor.planning import KeptPieces, advise
from prepadvisor.planning.panels import plan_panel
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.work.plan import acts_of, joined_steps, panel_steps
from prepadvisor.records import Check, Job
from prepadvisor.standards import House

EXAMPLES, STEPS = 4, 3
"""Few: a hundred times as many were tried by hand, without a difference."""


@settings(max_examples=EXAMPLES, deadline=None)
@given(data=st.data())
def test_what_is_kept_never_changes_what_is_advised(
    any_job: st.SearchStrategy[Job], houses: st.SearchStrategy[House], data: st.DataObject
) -> None:
    """Panels come, go, change and come back, are primed, and colour and house change, in any order."""
    drawn = [data.draw(any_job) for _ in range(3)]
    panels = [
        panel.model_copy(update={"id": f"panel{at}"})
        for at, panel in enumerate(panel for job in drawn for panel in job.panel)
    ]
    changed = [panel.model_copy(update={"role": "clear-only", "colour_from": ()}) for panel in panels]
    some_houses = [data.draw(houses) for _ in range(2)]
    kept = KeptPieces()
    for _ in range(STEPS):
        chosen = data.draw(st.lists(st.integers(0, len(panels) - 1), min_size=1, max_size=4, unique=True))
        these = [data.draw(st.sampled_from([panels[at], changed[at]])) for at in chosen]
        primed = [
            Check(
                panel=panel.id,
                feature=patch.id,
                step="primed",
                by="ab",
                at=dt.datetime(2026, 5, 4, 9, tzinfo=dt.UTC),
            )
            for panel in these
            for patch in panel.patch
            if patch.next == "primer" and data.draw(st.booleans())
        ]
        colour = data.draw(st.sampled_from(drawn)).colour
        job = drawn[0].model_copy(update={"colour": colour, "panel": tuple(these), "check": tuple(primed)})
        house = data.draw(st.sampled_from(some_houses))
        assert advise(job, house, kept=kept) == advise(job, house)


@settings(max_examples=EXAMPLES, deadline=None)
@given(data=st.data())
def test_steps_of_panels_joined_are_those_of_all_acts_at_once(
    any_job: st.SearchStrategy[Job], shipped_house: House, data: st.DataObject
) -> None:
    """The least step that may be begun comes next, whether it is looked for on all panels or on each."""
    jobs = [data.draw(any_job) for _ in range(3)]
    planner = Planner(shipped_house, shipped_house.judged(jobs[0].colour))
    acts = []
    for at, panel in enumerate(panel for job in jobs for panel in job.panel):
        named = panel.model_copy(update={"id": f"panel{at}"})
        acts.append(acts_of(plan_panel(standing(named, frozenset(), 25, 50), planner), planner))
    at_once = panel_steps([act for own in acts for act in own], 1.5)
    assert joined_steps([panel_steps(own, 1.5) for own in acts]) == joined_steps([at_once])


def test_an_advice_is_kept_while_the_same_is_asked_and_no_longer(
    job_of: Callable[..., Job], shipped_house: House
) -> None:
    """The same, though the log grew; for another head, colour, panel, primer, house or search its own."""
    patch = {"id": "R1", "surface": "filler", "next": "primer", "at": [0.5, 0.5], "size_mm": [60, 60]}
    job, kept = job_of(patch=[patch]), KeptPieces()
    first = advise(job, shipped_house, kept=kept)
    at = dt.datetime(2026, 5, 4, 9, tzinfo=dt.UTC)
    cleaned = Check(panel="door", feature="panel", step="cleaned", by="ab", at=at)
    assert advise(job.model_copy(update={"check": (cleaned,)}), shipped_house, kept=kept) is first
    wing = job_of(id="wing").panel
    slower = replace(shipped_house, shop=shipped_house.shop.model_copy(update={"disc_minutes": 9.0}))
    primed = Check(panel="door", feature="R1", step="primed", by="ab", at=at)
    for house, seek, changed in (
        (shipped_house, True, {"job": job.job.model_copy(update={"number": "2"})}),
        (shipped_house, True, {"colour": job.colour.model_copy(update={"flake": "solid"})}),
        (shipped_house, True, {"panel": (*job.panel, *wing)}),
        (shipped_house, True, {"panel": wing}),
        (shipped_house, True, {"check": (primed,)}),
        (shipped_house, False, {}),
        (slower, True, {}),
    ):
        other = job.model_copy(update=changed)
        found = advise(other, house, seek_offers=seek, kept=kept)
        assert found == advise(other, house, seek_offers=seek)
        assert found != first
        assert advise(job, shipped_house, kept=kept) == first
