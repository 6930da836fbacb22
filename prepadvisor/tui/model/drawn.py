"""What the drawing of the selected panel shows, and its zones in words."""

from prepadvisor.cards.units import Units
from prepadvisor.records.job import Point
from prepadvisor.tui.model.layout import room_mm
from prepadvisor.tui.model.picture import Picture, Stroke
from prepadvisor.tui.model.session import Session


def drawn(
    session: Session, border: str = "", points: tuple[Point, ...] = (), cross: Point | None = None
) -> Picture | None:
    """Return the picture of the selected panel, or None without one.

    Args:
        session: the open job.
        border: the border that can be moved, "colour" or "fade"; empty for none.
        points: points of a path being drawn.
        cross: where the pointing cross stands.
    """
    panel = session.panel
    if panel is None:
        return None
    outline = session.house.outlines.get(panel.kind)
    shape = outline.shape if outline else ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    numbers = place_numbers(session)
    strokes = tuple(Stroke(line.id, numbers[line.id], line.path) for line in panel.feature)
    picked = "" if border else session.part_id
    return Picture(panel, shape, session.house.shop.mist_mm, strokes, picked, border, points, cross)


def place_numbers(session: Session) -> dict[str, str]:
    """Return the number of each line of the selected panel: the card's own, or its order without advice."""
    panel = session.panel
    if panel is None:
        return {}
    known: dict[str, int] = {}
    if session.advice is not None:
        known = {place.feature: place.number for place in session.advice.places if place.panel == panel.id}
    return {line.id: str(known.get(line.id) or at) for at, line in enumerate(panel.feature, 1)}


def zone_words(session: Session, units: Units) -> list[str]:
    """Return the zones of the selected panel in a line or two, with their widths."""
    panel = session.panel
    if panel is None:
        return []
    if panel.role == "clear-only":
        return ["clear over the whole panel, no colour"]
    if panel.colour_mm is None:
        return ["▒ full colour over the whole panel"]
    fade_to = panel.colour_mm + (panel.fade_mm or 0.0)
    mist_to = min(fade_to + session.house.shop.mist_mm, room_mm(panel))
    return [
        f"▒ full colour {units.span(0, panel.colour_mm)}",
        f"░ fade {units.span(panel.colour_mm, fade_to)}, mist to {units.length(mist_to)}",
        f"  then clear, to {units.length(room_mm(panel))}",
    ]
