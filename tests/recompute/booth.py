"""What follows in the booth, from zones and beds: who is sprayed with what, how deep, in what order."""

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import Any, Final

from tests.recompute.panels import Panel
from tests.recompute.spots import Colour

ORDER: Final = (
    "dry look",
    "seal",
    "ground",
    "colour",
    "bed",
    "wet look",
    "colour over bed",
    "blend",
    "clear",
)
"""Full colour first, the bed over the fade, colour blended into it while wet, clear over all."""

FARTHEST_MM: Final = 0.2
"""How near the program promises the farthest point, and rounding."""

Entry = tuple[int, str, str, str | None, float | None, float | None, int]


def booth_wrong(panels: Sequence[Panel], colour: Colour, advice: Mapping[str, Any]) -> Iterator[str]:
    """Yield where the booth list differs."""
    booth = advice["work"]["booth"]
    worked = [panel for panel in panels if panel.stated["id"] not in advice["work"]["unplanned"]]
    bands = {panel["id"]: panel["bands"] for panel in advice["panels"]}
    lines = [each for panel in worked for each in _lines(panel, colour, bands[panel.stated["id"]], advice)]
    turns = {turn: n for n, turn in enumerate(sorted({line[0] for line in lines}), 1)}
    expected = sorted(
        (turns[turn], do, name, patch or "", _known(low), _known(high), coats)
        for turn, do, name, patch, low, high, coats in lines
    )
    told = sorted(
        (
            each["n"], each["do"], each["panel"], each["patch"] or "", _known(each["from_mm"]),
            _known(each["to_mm"]), each["coats"],
        )
        for each in booth
    )  # fmt: skip
    for each in booth:
        where = f"{each['panel']}.{each['patch']}" if each["patch"] else each["panel"]
        if each["id"] != f"booth.{each['n']}.{where}":
            yield f"booth entry {each['id']}"
        panel = next(panel for panel in worked if panel.stated["id"] == each["panel"])
        edges = [
            f"{each['panel']}/{name}" for name, place in panel.places.items() if place.part.kind == "edge"
        ]
        if each["ends_at"] != (edges if each["do"] == "clear" else []):
            yield f"{each['id']} ends at {each['ends_at']} and not {edges}"
        mist = _mist_mm(panel, bands[each["panel"]]) if each["do"] == "blend" else 0.0
        if abs(each["past_mm"] - mist) > FARTHEST_MM:
            yield f"{each['id']} past {each['past_mm']} and not {mist}"
    if len(told) != len(expected) or not all(map(_same, told, expected)):
        yield f"booth {told} and not {expected}"
    numbers = [each["n"] for each in booth]
    if numbers != sorted(numbers):
        yield f"booth in the order {numbers}"
    shop = colour.house.shop["wet_bed"]
    for panel in worked:
        litres = panel.bed_m2 * panel.bed[1] * shop["dry_um_per_coat"] / 1000 / shop["volume_solids"]
        ml = 1000 * litres / shop["transfer_efficiency"]
        found = sum(each["ml"] for each in booth if each["panel"] == panel.stated["id"])
        if abs(found - ml) > 0.51 + 3e-4 * ml:
            yield f"booth mixes {found} ml on {panel.stated['id']} and not {ml}"


def _mist_mm(panel: Panel, bands: Sequence[Mapping[str, Any]]) -> float:
    """Return how far mist drifts past the fade on the panel."""
    end = inf if any(band["zone"] == "clear" for band in bands) else _deepest(panel)
    faded = panel.depths[0] + panel.standing.later["fade_mm"]
    return float(min(panel.depths[1], end) - min(faded, end))


def _known(depth_mm: float | None) -> float:
    return -1.0 if depth_mm is None else depth_mm


def _same(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    """Say whether two entries agree, depths to what the farthest point is known by."""
    return (one[:4], one[6]) == (other[:4], other[6]) and all(
        each == its or (its > 0 and abs(each - its) < FARTHEST_MM)
        for each, its in zip(one[4:6], other[4:6], strict=True)
    )


def _lines(
    panel: Panel, colour: Colour, bands: Sequence[Mapping[str, Any]], advice: Mapping[str, Any]
) -> Iterator[Entry]:
    later, name = panel.standing.later, panel.stated["id"]
    spread = {band["zone"] for band in bands}
    colour_end, fade_end = panel.depths
    sources = bool(later.get("colour_from"))
    end = max(band["to_mm"] for band in bands) if sources and bands else None
    if sources and "clear" not in spread:
        end = _deepest(panel)
    whole = inf if end is None else end

    def line(
        turn: str, do: str, low: float | None, high: float | None, coats: int = 0, patch: str | None = None
    ) -> Entry:
        reach = None if high is None or high == inf else high
        return ORDER.index(turn), do, name, patch, low, reach, coats

    clear = line("clear", "clear", 0.0, end)
    if later["role"] == "clear-only":
        yield clear
        return
    bed = panel.bed[0] != "no"
    over_colour = "colour" in panel.bed_zones
    if not bed:
        yield line("dry look", "look", 0.0, min(fade_end, whole))
    if later.get("next", "base") == "sealer":
        yield line("seal", "seal", 0.0, min(colour_end, whole))
    tasks = {task["place"] for task in advice["work"]["tasks"] if task["stage"] == "paint"}
    for patch in later["patch"]:
        if f"{name}/{patch['id']}" in tasks:
            if patch.get("next", "base") == "sealer" and later.get("next", "base") != "sealer":
                yield line("seal", "seal", None, None, patch=patch["id"])
            yield line("colour", "colour", None, None, patch=patch["id"])
    if "colour" in spread:
        if colour.stages == 3 or colour.flake == "vapour":
            yield line("ground", "ground", 0.0, min(colour_end, whole))
        yield line(
            "colour over bed" if bed and over_colour else "colour", "colour", 0.0, min(colour_end, whole)
        )
    if bed:
        low = 0.0 if over_colour else min(colour_end, whole)
        overlap = colour.house.shop["wet_bed"]["overlap_mm"]
        high = min(fade_end + overlap, whole) if "fade" in panel.bed_zones else min(colour_end, whole)
        yield line("bed", "bed", low, high, panel.bed[1])
        yield line("wet look", "look", low, high)
    if "fade" in spread:
        yield line("blend", "blend", min(colour_end, whole), min(colour_end + later["fade_mm"], whole))
    yield clear


def _deepest(panel: Panel) -> float:
    """Return the depth of a panel's farthest point from where the colour comes in.

    By growing till all is in.
    """
    from tests.recompute import shapes

    area = shapes.whole(panel.stated).area
    low, high = 0.0, float(panel.stated["length_mm"] + panel.stated["height_mm"])
    for _ in range(24):
        middle = (low + high) / 2
        if shapes.below(panel.stated, middle).area < area - 1e-3:
            low = middle
        else:
            high = middle
    return high
