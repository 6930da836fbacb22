"""A panel as geometry in its own millimetres: outline, zones, patches, lines with what they need, wet bed.

One record for screen, page and PDF; nobody else works out where a zone ends on a drawing. A panel is drawn as
one sees it standing before the car: the front on the left, or on the right for a right-hand panel (mirrored).
Whoever stands before a front bumper has the car's left on the right, so that is mirrored too.
"""

import re
from typing import TYPE_CHECKING, Final, Literal

from prepadvisor.records import BUILT, Built, NamedTuple
from prepadvisor.wording import METRIC, Units, side

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.record import PlaceRow
    from prepadvisor.cases import PanelShapes
    from prepadvisor.records import Outline, Panel, PanelAdvice, Zone
    from prepadvisor.surface import Layout, Rect

PanelPoint = tuple[float, float]
Need = Literal["hand-then-machine", "hand-only", "hand-only-unseen", "machine", "stop"]

NEEDS: Final[dict[Need, str]] = {
    "hand-then-machine": "hand, then DA",
    "machine": "DA or block only",
    "hand-only": "hand only",
    "hand-only-unseen": "hand, unseen",
    "stop": "STOP",
}
"""How a line is drawn and what that means, in the order of a legend."""


class DrawnLine(NamedTuple):
    """An edge or line of the panel: its path in mm and what it needs."""

    feature: str
    number: str
    need: Need
    path: tuple[PanelPoint, ...]


class DrawnPatch(NamedTuple):
    """A patch with its number, in mm."""

    feature: str
    number: str
    stop: bool
    rect: "Rect"


class DrawnZone(NamedTuple):
    """A zone between two depths in mm from where the colour comes in."""

    zone: "Zone"
    from_mm: float
    to_mm: float


class DrawnPanel(NamedTuple):
    """Everything a panel's drawing shows, in mm from its front top corner (mirrored panels: front right).

    `ends` names the panel's front and rear end as people do.
    """

    panel: str
    length_mm: float
    height_mm: float
    mirrored: bool
    outline: tuple[PanelPoint, ...]
    layout: "Layout"
    zones: tuple[DrawnZone, ...]
    patches: tuple[DrawnPatch, ...]
    lines: tuple[DrawnLine, ...]
    bed: tuple[float, float] | None
    bed_need: str
    ends: tuple[str, str] = ("front", "rear")
    units: Units = Units()

    def seen_from_outside(self, point: PanelPoint) -> PanelPoint:
        """Return where a point of the panel is drawn, x to the right."""
        return (self.length_mm - point[0], point[1]) if self.mirrored else point


def is_right_hand(panel: "Panel", outline: "Outline | None" = None) -> bool:
    """Say whether a panel is on the car's right side, by the words of its id, such as "right-front-door"."""
    if _built(panel, outline).seen != "side":
        return False
    words = set(re.split(r"[^a-z]+", panel.id.lower()))
    return bool(words & {"right", "rh", "offside", "os"}) and not words & {"left", "lh"}


def is_mirrored(panel: "Panel", outline: "Outline | None" = None) -> bool:
    """Say whether a panel is drawn with its front on the right, as whoever stands before it sees it."""
    return is_right_hand(panel, outline) or _built(panel, outline).seen == "ahead"


def ends_of(panel: "Panel", outline: "Outline | None" = None) -> tuple[str, str]:
    """Return what people call a panel's front and rear end: a bumper's are the car's left and right."""
    kind = _seen_as(panel, outline)
    return side(kind, "front"), side(kind, "rear")


def _built(panel: "Panel", outline: "Outline | None") -> Built:
    return BUILT.get(_seen_as(panel, outline), Built())


def _seen_as(panel: "Panel", outline: "Outline | None") -> str:
    return outline.seen_as if outline else panel.kind


def panel_drawing(
    panel: "Panel",
    outline: "Outline | None",
    advice: "PanelAdvice",
    rows: tuple["PlaceRow", ...],
    shapes: "PanelShapes",
    unseen: frozenset[str] = frozenset(),
    overlap_mm: float = 0.0,
    units: Units = METRIC,
) -> DrawnPanel:
    """Return the drawing of one panel.

    Args:
        panel: the panel of the job.
        outline: its generic outline, None for a plain rectangle.
        advice: what was advised for the panel; its bands are the zones.
        rows: the rows of its card, which say the number of each line and what it needs.
        shapes: what lies on the panel.
        unseen: ids of the lines that nobody sees.
        overlap_mm: how far a wet bed reaches past the fade.
        units: of the card, for the drawing in words.
    """
    first_rows: dict[str, PlaceRow] = {}
    for row in rows:
        first_rows.setdefault(row.feature, row)
    lines = tuple(
        DrawnLine(feature, row.number, _need(row, feature in unseen), shapes.lines[feature])
        for feature, row in first_rows.items()
        if feature in shapes.lines
    )
    patches = tuple(_patch(name, rect, first_rows.get(name)) for name, rect in shapes.patches.items())
    return DrawnPanel(
        panel=panel.id,
        length_mm=panel.length_mm,
        height_mm=panel.height_mm,
        mirrored=is_mirrored(panel, outline),
        outline=shapes.outline,
        layout=shapes.layout,
        zones=tuple(DrawnZone(band.zone, band.from_mm, band.to_mm) for band in advice.bands),
        patches=patches,
        lines=lines,
        bed=bed_span_mm(advice, overlap_mm),
        bed_need=advice.wet_bed.need,
        units=units,
        ends=ends_of(panel, outline),
    )


def _patch(name: str, rect: "Rect", row: "PlaceRow | None") -> DrawnPatch:
    return DrawnPatch(name, row.number if row else name, bool(row and row.stop), rect)


def _need(row: "PlaceRow", unseen: bool) -> Need:
    if row.stop:
        return "stop"
    return "hand-only-unseen" if row.need == "hand-only" and unseen else row.need


def bed_span_mm(advice: "PanelAdvice", overlap_mm: float) -> tuple[float, float] | None:
    """Return the depths in mm between which a panel gets its wet bed, None where it gets none."""
    wet = [band for band in advice.bands if band.zone in advice.wet_bed.zones]
    if advice.wet_bed.need == "no" or not wet:
        return None
    start = min(band.from_mm for band in wet)
    return (start, max(band.to_mm for band in wet) + overlap_mm)
