"""Every spot of a panel: its face, patches and lines, cut where they cross a blend-zone border."""

from typing import NamedTuple

from prepadvisor.planning.zones import (
    Zoning,
    areas_m2,
    crossed_patches,
    lengths_mm,
    patch_rect,
    path_mm,
)
from prepadvisor.records.facts import Facts
from prepadvisor.records.job import Colour, Done, Feature, Panel, Patch
from prepadvisor.records.words import FLAKES, NextCoat, Reach, Surface, Zone

STAGES_IF_UNKNOWN = 3
"""A colour whose stages are not stated is judged as three-stage, the stricter."""

TONE_IF_UNKNOWN = "light"
"""A colour whose tone is not stated is judged as light, on which scratches show most."""


class Subject(NamedTuple):
    """What is sanded in one go before it is cut into zones: the face, a patch or a line of a panel.

    `amounts` has the zones it touches with mm of a line or m² of a face or patch; `number` is its place on
    the card, 0 for the face; `surface` and `next` are its own, which a patch has apart from its panel; a line
    may cross patches.
    """

    panel: Panel
    feature: str
    kind: str
    name: str
    number: int
    reach: Reach
    seen: bool
    surface: Surface
    next: NextCoat
    amounts: tuple[tuple[Zone, float], ...]
    was: Done | None
    crosses: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """The place id, panel/feature."""
        return f"{self.panel.id}/{self.feature}"

    @property
    def is_line(self) -> bool:
        """Whether it has a length rather than an area."""
        return self.kind not in {"face", "patch"}

    @property
    def amount(self) -> float:
        """Its whole length in mm, or area in m²."""
        return sum(amount for _, amount in self.amounts)


def judged_flake(colour: Colour) -> str:
    """Return the flake class that the standards judge by.

    Unknown counts as very-fine; three stages, or stages not stated, as very-fine at least.
    """
    stated = "very-fine" if colour.flake == "unknown" else colour.flake
    if (colour.stages or STAGES_IF_UNKNOWN) < 3:
        return stated
    return max(stated, "very-fine", key=FLAKES.index)


def subjects(panel: Panel, zones: Zoning) -> list[Subject]:
    """List the face, patches and lines of a panel, in the order of the card."""
    holes = tuple(patch_rect(panel, patch) for patch in panel.patch)
    face_areas = areas_m2(zones, zones.whole, holes)
    lines = [_line(panel, line, zones, number) for number, line in enumerate(panel.feature, 1)]
    patches = [_patch(panel, patch, zones, len(lines) + at) for at, patch in enumerate(panel.patch, 1)]
    face = Subject(
        panel, "face", "face", "", 0, "machine", True, panel.surface, panel.next, face_areas, panel.now
    )
    return ([face] if face_areas else []) + patches + lines


def _line(panel: Panel, line: Feature, zones: Zoning, number: int) -> Subject:
    amounts = lengths_mm(zones, path_mm(panel, line.path))
    reach, seen = line.judged_reach, line.judged_seen
    kind, surface, then = line.kind, panel.surface, panel.next
    return Subject(
        panel,
        line.id,
        kind,
        line.name,
        number,
        reach,
        seen,
        surface,
        then,
        amounts,
        line.done,
        tuple(crossed_patches(panel, line.path)),
    )


def _patch(panel: Panel, patch: Patch, zones: Zoning, number: int) -> Subject:
    amounts = areas_m2(zones, patch_rect(panel, patch))
    return Subject(
        panel, patch.id, "patch", "", number, "machine", True, patch.surface, patch.next, amounts, patch.now
    )


def facts(colour: Colour, subject: Subject, zone: Zone, amount: float) -> Facts:
    """State one spot as a case for the house standards.

    Args:
        colour: the job's colour.
        subject: the place the spot is a part of.
        zone: the spot's zone.
        amount: mm of the line in this zone, or m² of the face or patch.
    """
    panel = subject.panel
    return Facts(
        flake=judged_flake(colour),
        tone=colour.tone or TONE_IF_UNKNOWN,
        zone=zone,
        stages=colour.stages or STAGES_IF_UNKNOWN,
        role=panel.role,
        surface=subject.surface,
        next=subject.next,
        feature=subject.kind,
        reach=subject.reach,
        seen=subject.seen,
        panel=panel.kind,
        special=panel.special,
        film_um=min(panel.film_um, default=None),
        length_mm=amount if subject.is_line else None,
        panel_m2=panel.length_mm * panel.height_mm / 1e6,
    )
