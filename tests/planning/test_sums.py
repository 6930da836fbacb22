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
    )  # fmt: skip
    expected = max(150, ceil(round((2 * computed + 75) / 50, 6)) * 50) if computed else 0
    assert advice.mix_ml == expected
    assert advice.minutes == pytest.approx(sum(panel.minutes for panel in advice.panels))
    sanded: dict[str, float] = {}
    for panel in advice.panels:
        mine = [place for place in advice.places if place.panel == panel.id]
        recuts = [step.minutes for place in mine for step in place.done.recut or ()]
        steps = [step.minutes for step in panel.ladder]
        assert panel.minutes == pytest.approx(sum([*steps, *recuts, *(place.minutes for place in mine)]))
        for place in mine:
            area = sum(spot.area_m2 for spot in advice.spots if spot.id in place.spots) * 100
            ladder = panel.ladder if place.kind == "face" else place.ladder or ()
            for step in ladder:
                sanded[step.grade] = sanded.get(step.grade, 0.0) + area
            if place.kind not in ("face", "patch") and place.reach == "machine" and place.finish:
                sanded[place.finish] = sanded.get(place.finish, 0.0) + area
    assert advice.discs == {
        grade: max(1, ceil(area / shop.disc_dm2 - 1e-9)) for grade, area in sanded.items() if area > 0
    }
