"""What the drawing of the selected panel shows, and its zones in words."""

from collections.abc import Collection

from prepadvisor.cards.figures.drawing import bed_span_mm, is_mirrored
from prepadvisor.records.job import Point
from prepadvisor.tui.model.layout import room_mm
from prepadvisor.tui.model.line_edits import WHOLE, Corners
from prepadvisor.tui.model.picture import Border, NumberedLine, Picture
from prepadvisor.tui.model.session import Session
from prepadvisor.wording.units import Units


def drawn(
    session: Session,
    border: Border = "",
    points: tuple[Point, ...] = (),
    cross: Point | None = None,
    done: Collection[str] = (),
) -> Picture | None:
    """Return the picture of the selected panel, or None without one.

    Args:
        session: the open job.
        border: the border that can be moved, "colour" or "fade"; empty for none.
        points: points of a path being drawn.
        cross: where the pointing cross stands.
        done: ids of the lines that are done.
    """
    panel = session.panel
    if panel is None:
        return None
    shape = shape_of(session)
    numbers = place_numbers(session)
    strokes = tuple(
        NumberedLine(line.id, numbers[line.id], line.path, line.id in done) for line in panel.feature
    )
    picked = "" if border else session.part_id
    return Picture(
        panel=panel,
        shape=shape,
        mist_mm=session.house.shop.mist_mm,
        strokes=strokes,
        picked=picked,
        border=border,
        points=points,
        cross=cross,
        mirrored=is_mirrored(panel, session.house.outlines.get(panel.kind)),
        bed_mm=_bed_mm(session, panel.id),
        patch_signs=tuple((patch.id, numbers[patch.id]) for patch in panel.patch),
    )


def shape_of(session: Session) -> Corners:
    """Return the outline of the selected panel, 0 to 1."""
    outline = session.house.outlines.get(session.panel.kind) if session.panel else None
    return outline.shape if outline else WHOLE


def _bed_mm(session: Session, panel_id: str) -> tuple[float, float] | None:
    """Return the depths between which the selected panel gets a wet bed, None where it gets none."""
    advice = session.advice
    own = next((one for one in advice.panels if one.id == panel_id), None) if advice else None
    return None if own is None else bed_span_mm(own, session.house.shop.wet_bed.overlap_mm)


def place_numbers(session: Session) -> dict[str, str]:
    """Return the number of each line and patch of the selected panel, the card's where there is advice."""
    panel = session.panel
    if panel is None:
        return {}
    known: dict[str, int] = {}
    if session.advice is not None:
        known = {place.feature: place.number for place in session.advice.places if place.panel == panel.id}
    ids = [*(line.id for line in panel.feature), *(patch.id for patch in panel.patch)]
    return {part: str(known.get(part) or at) for at, part in enumerate(ids, 1)}


def zone_words(session: Session, units: Units) -> list[str]:
    """Return the zones of the selected panel with their widths; nothing where the scale has them."""
    panel = session.panel
    if panel is None or (panel.colour_mm is not None and panel.colour_from in {("front",), ("rear",)}):
        return []
    if panel.role == "clear-only":
        return ["clear over the whole panel, no colour"]
    if panel.colour_mm is None:
        return ["full colour over the whole panel"]
    fade_to = panel.colour_mm + (panel.fade_mm or 0.0)
    mist_to = min(fade_to + session.house.shop.mist_mm, room_mm(panel))
    return [
        f"full colour {units.span(0, panel.colour_mm)}, fade {units.span(panel.colour_mm, fade_to)},",
        f"mist to {units.length(mist_to)}, then clear, to {units.length(room_mm(panel))}",
    ]
