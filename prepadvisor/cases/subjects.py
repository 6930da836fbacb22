"""The places of a panel: its face, patches and lines, cut where they cross a blend-zone border."""

from collections.abc import Sequence

from prepadvisor.cases.priming import Ring
from prepadvisor.cases.zones import (
    Zoning,
    areas_m2,
    crossed_patches,
    lengths_mm,
    patch_rect,
    path_mm,
)
from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Done, Feature, Panel, Patch
from prepadvisor.records.words import LINE_KINDS, FeatureKind, NextCoat, Reach, Surface, Zone


class Subject(NamedTuple):
    """What is sanded in one go before it is cut into zones: the face, a patch or a line of a panel.

    `amounts` has the zones it touches with mm of a line or m² of a face or patch; `number` is its place on
    the card, 0 for the face; `surface` and `next` are its own, which a patch has apart from its panel; a line
    may cross patches; `ring_of` names the patch that it is the ring of.
    """

    panel: Panel
    feature: str
    kind: FeatureKind
    surface: Surface
    next: NextCoat
    amounts: tuple[tuple[Zone, float], ...]
    was: Done | None
    name: str = ""
    number: int = 0
    reach: Reach = "machine"
    seen: bool = True
    crosses: tuple[str, ...] = ()
    ring_of: str = ""

    @property
    def id(self) -> str:
        """The place id, panel/feature."""
        return f"{self.panel.id}/{self.feature}"

    @property
    def is_line(self) -> bool:
        """Whether it has a length rather than an area."""
        return self.kind in LINE_KINDS

    @property
    def amount(self) -> float:
        """Its whole length in mm, or area in m²."""
        return sum(amount for _, amount in self.amounts)


def subjects(panel: Panel, zones: Zoning, rings: Sequence[Ring] = ()) -> list[Subject]:
    """List the face, patches with the rings round them, and lines of a panel, in the order of the card.

    A face that its patches cover whole is left out, and so is a ring.
    """
    holes = tuple(patch_rect(panel, patch) for patch in panel.patch) + tuple(ring.rect for ring in rings)
    face_areas = areas_m2(zones, zones.whole, holes)
    lines = [_line(panel, line, zones, number) for number, line in enumerate(panel.feature, 1)]
    patches = [_patch(panel, patch, zones, len(lines) + at) for at, patch in enumerate(panel.patch, 1)]
    first = len(lines) + len(patches) + 1
    keyed = [_ring(panel, ring, zones, number) for number, ring in enumerate(rings, first)]
    round_them = [subject for subject in keyed if subject.amounts]
    return ([_face(panel, face_areas)] if face_areas else []) + patches + round_them + lines


def _face(panel: Panel, areas: tuple[tuple[Zone, float], ...]) -> Subject:
    return Subject(
        panel=panel,
        feature="face",
        kind="face",
        surface=panel.surface,
        next=panel.next,
        amounts=areas,
        was=panel.now,
    )


def _patch(panel: Panel, patch: Patch, zones: Zoning, number: int) -> Subject:
    return Subject(
        panel=panel,
        feature=patch.id,
        kind="patch",
        number=number,
        surface=patch.surface,
        next=patch.next,
        amounts=areas_m2(zones, patch_rect(panel, patch)),
        was=patch.now,
    )


def _ring(panel: Panel, ring: Ring, zones: Zoning, number: int) -> Subject:
    return Subject(
        panel=panel,
        feature=ring.feature,
        kind="patch",
        number=number,
        surface=panel.surface,
        next=panel.next,
        amounts=areas_m2(zones, ring.rect, ring.holes),
        was=panel.now,
        ring_of=ring.patch,
    )


def _line(panel: Panel, line: Feature, zones: Zoning, number: int) -> Subject:
    return Subject(
        panel=panel,
        feature=line.id,
        kind=line.kind,
        name=line.name,
        number=number,
        reach=line.judged_reach,
        seen=line.judged_seen,
        surface=panel.surface,
        next=panel.next,
        amounts=lengths_mm(zones, path_mm(panel, line.path)),
        was=line.done,
        crosses=tuple(crossed_patches(panel, line.path)),
    )
