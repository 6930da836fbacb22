"""How a panel stands towards primer: what waits for it, what it is once that is on, and rings round patches.

Primer on a patch laps onto the paint round it, so a ring of old paint is keyed before. Once primed the patch
is primer surfacer, not yet sanded, and has grown by the lap; the rest of the ring stands as it was keyed.
"""

from collections.abc import Set as AbstractSet

from prepadvisor.cases.zones import patch_rect
from prepadvisor.named import NamedTuple
from prepadvisor.records.job import Panel, Patch
from prepadvisor.surface.layout import Rect

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
