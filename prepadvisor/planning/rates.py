"""How fast a shop works and how deep its tools scratch, looked up by tool and grade."""

from collections.abc import Mapping

import numpy as np

from prepadvisor.named import NamedTuple
from prepadvisor.records.constants import Constants
from prepadvisor.records.shop import Shop
from prepadvisor.surface.grades import DS50_UM, Grade
from prepadvisor.surface.grooves import depth_um
from prepadvisor.surface.removal import rate_um_dm2_per_minute, step_minutes


class WorkRates(NamedTuple):
    """Groove depths and speeds.

    `depth_um` maps (tool, grade) to groove depth in µm, `rate_um` a grade to what a DA cuts in µm per
    minute over 1 dm² of clear, `cut_faster` a surface to how many times faster it is cut than clear; a pass
    covers `pass_m2` per minute; a disc change and a guide coat take minutes.
    """

    depth_um: Mapping[tuple[str, str], float]
    rate_um: Mapping[str, float]
    pass_m2: float
    disc_minutes: float
    guide_coat_minutes: float
    cut_faster: Mapping[str, float] = {}


def rates_of(constants: Constants, shop: Shop) -> WorkRates:
    """Work out a shop's rates.

    Args:
        constants: groove depth by tool, and the removal law.
        shop: pass rate, disc change and guide coat.
    """
    grains = np.array(list(DS50_UM.values()))
    removal = constants.removal
    cut = rate_um_dm2_per_minute(
        grains,
        removal.rate_um_dm2_per_minute.value,
        removal.reference_ds50_um.value,
        removal.exponent.value,
        removal.flat_above_ds50_um.value,
    )
    depths: dict[tuple[str, str], float] = {
        (tool, grade): depth
        for tool, k in constants.groove.depth_per_grain.items()
        for grade, depth in zip(DS50_UM, np.atleast_1d(depth_um(grains, k.value)).tolist(), strict=True)
    }
    return WorkRates(
        depth_um=depths,
        rate_um=dict(zip(DS50_UM, np.atleast_1d(cut).tolist(), strict=True)),
        pass_m2=shop.pass_m2_per_minute,
        disc_minutes=shop.disc_minutes,
        guide_coat_minutes=shop.guide_coat_minutes,
        cut_faster=dict(shop.cut_faster.items()),
    )


def sanding_minutes(
    area_m2: float, below_um: float, grade: Grade, surface: str, rates: WorkRates, *, new_disc: bool
) -> float:
    """Return the minutes of one sanding by DA or block.

    Args:
        area_m2: the area; of a line its length times the strip that is worked along it.
        below_um: depth of the grooves that are cut out, in µm; 0 on gloss.
        grade: what it is sanded with.
        surface: what is sanded: primer and filler are cut faster than clear.
        rates: the shop's speeds.
        new_disc: whether a disc is changed for it.
    """
    rate = rates.rate_um[grade] * rates.cut_faster.get(surface, 1.0)
    disc = rates.disc_minutes if new_disc else 0.0
    return float(step_minutes(area_m2, below_um, rate, rates.pass_m2, disc))
