"""A card for primer speaks of its own stage: bed and times of the paint's are no answers there.

What one reads on it, a rim to measure from or film that comes off, is named as elsewhere on it.
"""

import datetime as dt
from typing import Any

from prepadvisor.cards.page.set_card import drawings
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.checkoff import gate
from prepadvisor.planning import advise
from prepadvisor.records import Job
from prepadvisor.standards import House


def stated(**panel: Any) -> Job:
    """Return a very fine colour on a bonnet with a spot in primer, and with another in filler or none."""
    primer = {"id": "P1", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [200, 150]}
    filler = {"id": "F1", "surface": "filler", "next": "primer", "at": [0.2, 0.2], "size_mm": [60, 60]}
    bonnet = {
        "id": "p1", "kind": "bonnet", "role": "repair", "surface": "aged-clear", "length_mm": 1200,
        "height_mm": 1400, "colour_from": ["P1"], "colour_mm": 100, "fade_mm": 300, "film_um": [120],
        "patch": [primer, filler],
    }  # fmt: skip
    colour = {"name": "Fog", "flake": "very-fine", "stages": 2, "tone": "light"}
    return Job.model_validate({"job": {"number": "1"}, "colour": colour, "panel": [bonnet | panel]})


def test_bed_and_time_are_told_for_the_stage_at_hand(shipped_house: House) -> None:
    """The bed of the paint is no "none" there; the patch that colour comes from has its number."""
    job = stated()
    papers = Papers(job, advise(job, shipped_house), shipped_house)
    sheet = card_sheet(papers)
    (panel,), (drawn,) = sheet.panels, drawings(papers, sheet).values()
    assert papers.stage == "primer"
    assert papers.advice.panels[0].wet_bed.need == "required"
    assert (panel.answers[3].big, panel.answers[3].small) == ("-", ("not in this stage",))
    assert (drawn.bed, drawn.bed_need) == (None, "no")
    numbers = {patch.feature: patch.number for patch in drawn.patches}
    assert f"from rim of {numbers['P1']}" in " ".join(panel.zones)
    assert next(fact.says for fact in sheet.materials if fact.label == "TIME").endswith(
        ", this stage; mask 10 min"
    )


def test_film_is_told_beside_the_most_of_face_and_lines_each(shipped_house: House) -> None:
    """Ten µm of a face, five of a line; a line alone is not told like a face."""
    filler_gone = stated().panel[0].patch[:1]
    job = stated(patch=[patch.model_dump(exclude_none=True) for patch in filler_gone])
    papers = Papers(job, advise(job, shipped_house), shipped_house)
    assert "face takes 0.7 of 10, lines " in card_sheet(papers).panels[0].film
    assert card_sheet(papers).panels[0].film.endswith(" of 5.0 um")


def test_usual_lines_set_aside_are_told_by_name(shipped_house: House) -> None:
    """Not by the ids of the outline's file."""
    own = {"id": "X1", "kind": "edge", "name": "scoop", "path": [[0, 0], [0, 1]], "reach": "machine"}
    job = stated(feature=[own])
    now = gate(job, advise(job, shipped_house), shipped_house, dt.datetime(2026, 3, 2, tzinfo=dt.UTC))
    (told,) = [fact for fact in now.told if fact.kind == "usual-lines-aside"]
    assert list(told.lines) == [line.name for line in shipped_house.outlines["bonnet"].feature]
