"""The places of a panel: its lines, usual ones where it states none, patches, face and rings."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet

from prepadvisor.cases.zones import Zoning, areas_m2, crossed_patches, lengths_mm, patch_rect, path_mm
from prepadvisor.records import (
    LINE_KINDS,
    Done,
    Feature,
    FeatureKind,
    Job,
    NamedTuple,
    NextCoat,
    Outline,
    Panel,
    Patch,
    Reach,
    Surface,
    Zone,
)
from prepadvisor.surface import Rect

# How a panel stands towards primer: what waits for it, what it is once that is on, and rings round patches.
#
# Primer on a patch laps onto the paint round it, so a ring of old paint is keyed before. Once primed the
# patch is primer surfacer, not yet sanded, and has grown by the lap; the rest of the ring stands as it was
# keyed.

WHOLE = "panel"
"""Stands for the panel itself where it is primed as a whole."""


class Ring(NamedTuple):
    """What is keyed round a patch and not lapped by its primer.

    Attributes:
        patch: the patch.
        rect: its outer border in mm on the panel.
        holes: what does not belong to it: the patches, and rings counted before it.
    """

    patch: str
    rect: Rect
    holes: tuple[Rect, ...]

    @property
    def feature(self) -> str:
        """The id of its place."""
        return f"{self.patch}-ring"


class Standing(NamedTuple):
    """A panel as it stands and as it will.

    Attributes:
        stated: the panel as the job states it; zones are laid by it.
        now: with the primer that is on.
        later: with the primer that is still to come as well.
        rings: rings round patches that are primed, or will be.
        waiting: patches that wait for primer; `WHOLE` where the panel itself does.
    """

    stated: Panel
    now: Panel
    later: Panel
    rings: tuple[Ring, ...] = ()
    waiting: frozenset[str] = frozenset()


def standing(panel: Panel, primed: AbstractSet[str], lap_mm: float, ring_mm: float) -> Standing:
    """Say how a panel stands.

    Args:
        panel: the panel as stated.
        primed: its patches that primer was put on by the log; `WHOLE` for the panel itself.
        lap_mm: how far primer laps past a patch.
        ring_mm: how far past that lap is keyed.
    """
    wanted = frozenset(patch.id for patch in panel.patch if patch.next == "primer")
    if panel.next != "primer" and not wanted:
        return Standing(panel, panel, panel)
    whole = panel.next == "primer"
    done = frozenset({WHOLE} | wanted) if whole and WHOLE in primed else wanted & primed
    waiting = (wanted | ({WHOLE} if whole else set())) - done
    lap = 0.0 if whole else lap_mm
    now, later = _primed(panel, done, lap), _primed(panel, done | waiting, lap)
    rings = () if whole else _rings(later, wanted, ring_mm)
    return Standing(panel, now, later, rings, frozenset(waiting))


def _primed(panel: Panel, features: AbstractSet[str], lap_mm: float) -> Panel:
    if not features:
        return panel
    patches = tuple(_primed_patch(patch, lap_mm) if patch.id in features else patch for patch in panel.patch)
    changed: dict[str, object] = {"patch": patches}
    if WHOLE in features:
        changed |= {"surface": "primer-surfacer", "next": "base", "now": None}
    return panel.model_copy(update=changed)


def _primed_patch(patch: Patch, lap_mm: float) -> Patch:
    size = tuple(side + 2 * lap_mm for side in patch.size_mm)
    return patch.model_copy(
        update={"surface": "primer-surfacer", "next": "base", "now": None, "size_mm": size}
    )


def _rings(later: Panel, wanted: AbstractSet[str], ring_mm: float) -> tuple[Ring, ...]:
    holes = [patch_rect(later, patch) for patch in later.patch]
    rings = []
    for patch in later.patch:
        if patch.id not in wanted:
            continue
        inner = patch_rect(later, patch)
        outer = Rect(
            max(0.0, inner.left - ring_mm),
            max(0.0, inner.top - ring_mm),
            min(later.length_mm, inner.right + ring_mm),
            min(later.height_mm, inner.bottom + ring_mm),
        )
        rings.append(Ring(patch.id, outer, tuple(holes)))
        holes.append(outer)
    return tuple(rings)


# The places of a panel: its face, patches and lines, cut where they cross a blend-zone border.


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


def with_usual_lines(job: Job, outlines: Mapping[str, Outline]) -> Job:
    """Give each panel that states no lines the usual edges and lines of its outline."""
    if all(panel.feature for panel in job.panel):
        return job
    return job.model_copy(update={"panel": tuple(with_lines(panel, outlines) for panel in job.panel)})


def with_lines(panel: Panel, outlines: Mapping[str, Outline]) -> Panel:
    """Return a panel with the lines that it has: its own, or its outline's usual ones."""
    outline = outlines.get(panel.kind)
    if panel.feature or outline is None:
        return panel
    return panel.model_copy(update={"feature": outline.feature})


def lines_aside(panel: Panel, outline: Outline | None) -> tuple[str, ...]:
    """Return the names of usual lines that a panel has not, neither by id nor by name and kind."""
    if outline is None:
        return ()
    lines = panel.feature or outline.feature
    ids, called = {line.id for line in lines}, {(line.kind, line.name) for line in lines if line.name}
    return tuple(
        line.name or line.id
        for line in outline.usual
        if line.id not in ids and (line.kind, line.name) not in called
    )
