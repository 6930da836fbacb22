"""What a card adds up, for any job: millilitres, minutes, discs."""

from math import ceil

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.planning import advise
from prepadvisor.records.job import Job
from prepadvisor.standards.house import House


@given(data=st.data())
@settings(max_examples=60, suppress_health_check=list(HealthCheck))
def test_materials_and_minutes_add_up(
    data: st.DataObject, any_job: st.SearchStrategy[Job], houses: st.SearchStrategy[House]
) -> None:
    """Millilitres by the equation, minutes and discs as sums of what the card lists."""
    job, house = data.draw(any_job), data.draw(houses)
    advice, shop = advise(job, house), house.shop
    bed = shop.wet_bed
    computed = sum(
        1000 * panel.wet_bed.area_m2 * bed.dry_um_per_coat * panel.wet_bed.coats
        / (1000 * bed.volume_solids * bed.transfer_efficiency)
        for panel in advice.panels
        if panel.id not in advice.work.unplanned
    )  # fmt: skip
    expected = max(150, ceil(round((2 * computed + 75) / 50, 6)) * 50) if computed else 0
    assert advice.mix_ml == expected
    tasks = advice.work.tasks
    assert advice.minutes == pytest.approx(sum(task.minutes for task in tasks))
    assert advice.minutes == pytest.approx(sum(panel.minutes for panel in advice.panels))
    for panel in advice.panels:
        mine = [task for task in tasks if task.place.split("/")[0] == panel.id]
        assert panel.minutes == pytest.approx(sum(task.minutes for task in mine))
    sanded = {task.grade for task in tasks if task.do == "sand"}
    assert set(advice.discs) == sanded
    if any(place.split for place in advice.places) or any(panel.patch for panel in job.panel):
        return  # then a task goes over a part of its place only
    areas: dict[str | None, float] = {}
    for task in tasks:
        if task.do == "sand":
            own = [spot.area_m2 for spot in advice.spots if f"{spot.panel}/{spot.feature}" == task.place]
            areas[task.grade] = areas.get(task.grade, 0.0) + sum(own) * 100
    assert advice.discs == {grade: max(1, ceil(area / shop.disc_dm2 - 1e-9)) for grade, area in areas.items()}
