"""The four big answers of a panel: the whole face, lines by hand first, hand-only places, wet bed."""

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Answer
from prepadvisor.cards.sheet.rows import NOTHING, STOP
from prepadvisor.records.advice import PanelAdvice, PanelWetBed, Place, ZoneBand
from prepadvisor.wording import trade as words
from prepadvisor.wording.units import Units

FACE, HAND, HAND_ONLY, BED = "WHOLE FACE, DA", "LINES BY HAND FIRST", "HAND-ONLY PLACES", "WET BED"
_ON_HOLD = ("see the hold on top",)


def four_answers(papers: Papers, panel: PanelAdvice) -> tuple[Answer, Answer, Answer, Answer]:
    """Return the four answers of a panel; with a hold anywhere on it all four say STOP."""
    if papers.panel_held(panel):
        return (
            Answer(FACE, STOP, _ON_HOLD), Answer(HAND, STOP, _ON_HOLD),
            Answer(HAND_ONLY, STOP, _ON_HOLD), Answer(BED, STOP, _ON_HOLD),
        )  # fmt: skip
    places = papers.of_panel(panel.id)
    ahead = [place for place in places if place.hand_coarsest and not papers.is_hand_only(place)]
    last = [place for place in places if papers.is_hand_only(place)]
    return (
        _face(panel, [place for place in places if place.kind == "face"]),
        _hand(papers, panel, ahead),
        _hand_only(panel, last),
        _bed(papers, panel),
    )


def _face(panel: PanelAdvice, faces: list[Place]) -> Answer:
    if panel.face is None:
        return Answer(FACE, NOTHING, ("not sanded",))
    small = [words.TOOL[panel.tool]] if panel.tool else []
    if faces and faces[0].split:
        small += [f"{grade} in {words.ZONE[zone]}" for zone, grade in faces[0].split]
    if len(panel.ladder) > 1:
        small.append("last of " + ">".join(step.grade for step in panel.ladder))
    elif panel.ladder and panel.ladder[0].guide_coat:
        small.append("powder first")
    return Answer(FACE, panel.face, tuple(small))


def _hand(papers: Papers, panel: PanelAdvice, places: list[Place]) -> Answer:
    if panel.hand is None:
        return Answer(HAND, NOTHING, ("no such line here",) if not places else ("see the rows",))
    small = ["or finer", words.TOOL[papers.house.shop.hand_tool]]
    if any(place.guide_coat != "no" for place in places):
        small.append("powder after it")
    return Answer(HAND, panel.hand, tuple(small))


def _hand_only(panel: PanelAdvice, places: list[Place]) -> Answer:
    if panel.hand_only is None:
        return Answer(HAND_ONLY, NOTHING, ("none on this panel",) if not places else ("see the rows",))
    tools = sorted({words.TOOL[place.tool] for place in places if place.tool})
    return Answer(HAND_ONLY, panel.hand_only, (*tools, "no DA after it"))


def _bed(papers: Papers, panel: PanelAdvice) -> Answer:
    bed = panel.wet_bed
    if bed.need == "no":
        return Answer(BED, "none", ())
    need = ("NEEDED",) if bed.need == "required" else ("advised", "flakes lie better")
    stretch = bed_stretch(bed, panel.bands, papers.house.shop.wet_bed.overlap_mm, papers.units)
    return Answer(BED, coats(bed.coats), (*need, *((stretch,) if stretch else ())))


def coats(count: int) -> str:
    """Return a number of coats in words: "1 coat", "2 coats"."""
    return f"{count} coat{'' if count == 1 else 's'}"


def bed_stretch(bed: PanelWetBed, bands: tuple[ZoneBand, ...], overlap_mm: float, units: Units) -> str:
    """Return how far a wet bed reaches, measured as the zones are: "50-800 mm", empty where not laid out.

    It goes over its zones and runs on past the fade by the overlap, but never past the panel.
    """
    zones = bed.zones or ("fade",)
    over = [band for band in bands if band.zone in zones]
    if not over:
        return ""
    start, end = min(band.from_mm for band in over), max(band.to_mm for band in over)
    first, last = min(band.from_mm for band in bands), max(band.to_mm for band in bands)
    end = min(last, end + overlap_mm) if "fade" in zones else end
    return "the whole panel" if (start, end) == (first, last) else units.span(start, end)
