"""Wet-bed area, millilitres to mix for the job, and discs by grade."""

from collections.abc import Iterable, Mapping
from math import ceil
from typing import TYPE_CHECKING

from prepadvisor.surface import Rect, area_below_mm2, coat_ml, film

if TYPE_CHECKING:
    from prepadvisor.cases import Zoning
    from prepadvisor.records import Grade, Mixing, Shop, WetBed, Zone


def bed_area_m2(
    zones: "Zoning", over: tuple["Zone", ...], holes: tuple[Rect, ...], overlap_mm: float
) -> float:
    """Return the area of a panel that the wet bed goes over, in m².

    Args:
        zones: the panel's zones.
        over: the zones it is laid in, of colour and fade; past the fade it runs on by the overlap.
        holes: rectangles it is kept off: patches.
        overlap_mm: how far it runs past the fade, in mm.
    """
    if "fade" not in over:
        return area_below_mm2(zones.layout, zones.colour_end_mm, zones.whole, holes) / 1e6 if over else 0.0
    end_mm = zones.fade_end_mm + overlap_mm
    area = area_below_mm2(zones.layout, end_mm, zones.whole, holes)
    if "colour" not in over:
        area -= area_below_mm2(zones.layout, zones.colour_end_mm, zones.whole, holes)
    return area / 1e6


def bed_ml(area_m2: float, coats: int, material: "WetBed") -> float:
    """Return the ml, ready to spray, that so many coats of wet bed take over an area in m²."""
    solids, share = material.volume_solids, material.transfer_efficiency
    return float(coat_ml(area_m2, material.dry_um_per_coat, coats, solids, share))


def mix_ml(beds: Iterable[float], mixing: "Mixing") -> int:
    """Return how much wet bed to mix for a job, in ml ready to spray; 0 for no bed.

    Twice what is computed and some for cup, line and overspray, up to the next step, a least amount at least.

    Args:
        beds: the ml of each panel, ready to spray.
        mixing: what is added, as constants.
    """
    return film.mix_ml(
        sum(beds),
        mixing.factor.value,
        mixing.extra_ml.value,
        mixing.step_ml.value,
        mixing.least_ml.value,
    )


def discs(areas_dm2: Mapping["Grade", float], shop: "Shop") -> dict["Grade", int]:
    """Return how many discs of each grade a job takes, at least one where any are used.

    Args:
        areas_dm2: the area sanded with each grade, in dm².
        shop: says what area a disc lasts for.
    """
    return {grade: max(1, ceil(area / shop.disc_dm2 - 1e-9)) for grade, area in areas_dm2.items() if area > 0}
