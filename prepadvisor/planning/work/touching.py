"""Which places hand work at another place may have scratched.

Any hand work on a panel touches its face. A hand-only place also touches the lines and patches whose strip
its own strip overlaps; a patch is all that lies in it.
"""

from collections.abc import Sequence
from functools import lru_cache

from prepadvisor.cases.priming import Ring
from prepadvisor.cases.zones import patch_rect, path_mm
from prepadvisor.records.advice import Place
from prepadvisor.records.job import Panel
from prepadvisor.surface.nearness import NearShape, nearer_than, path_shape, rect_shape


def touched_by(
    panel: Panel, places: Sequence[Place], strip_mm: float, rings: Sequence[Ring] = ()
) -> dict[str, frozenset[str]]:
    """Return, for each feature of a panel but its face, the hand-only features that touch it.

    Args:
        panel: the panel with its lines and patches.
        places: its places as advised.
        strip_mm: width of the strip that is worked along a line.
        rings: the rings round patches that are primed, or will be; all within one counts as it.
    """
    by_hand = {place.feature for place in places if place.reach == "hand"}
    others = [place.feature for place in places if place.kind != "face"]
    if not by_hand:
        return {}
    shapes = _shapes(panel, rings)
    hands = [(feature, shape) for feature, shape in shapes.items() if feature in by_hand]
    return {feature: _touching(feature, shapes.get(feature), hands, strip_mm) for feature in others}


def _shapes(panel: Panel, rings: Sequence[Ring]) -> dict[str, NearShape]:
    shapes = {line.id: _path_shape(path_mm(panel, line.path)) for line in panel.feature}
    shapes.update((patch.id, rect_shape(patch_rect(panel, patch))) for patch in panel.patch)
    shapes.update((ring.feature, rect_shape(ring.rect)) for ring in rings)
    return shapes


_path_shape = lru_cache(maxsize=4096)(path_shape)
"""The shape of a path; the usual lines of an outline come again and again."""


def _touching(
    feature: str, shape: NearShape | None, hands: Sequence[tuple[str, NearShape]], strip_mm: float
) -> frozenset[str]:
    if shape is None:
        return frozenset()
    return frozenset(hand for hand, other in hands if hand != feature and nearer_than(shape, other, strip_mm))
