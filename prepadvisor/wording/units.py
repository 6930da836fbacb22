"""Numbers as a person reads them, in metric or in US customary units; files and the model stay metric.

One inch is 25.4 mm and one mil 25.4 µm, both by definition; a US fluid ounce is 231/128 cubic inches.
"""

from typing import Final

from prepadvisor.records import NamedTuple

MM_PER_INCH: Final = 25.4
"""Exact by definition."""
UM_PER_MIL: Final = 25.4
"""A mil is a thousandth of an inch."""
ML_PER_US_FLUID_OUNCE: Final = 231 / 128 * 2.54**3
"""A US gallon is 231 cubic inches and holds 128 fluid ounces: 29.5735 ml."""
M2_PER_SQUARE_FOOT: Final = (12 * 0.0254) ** 2
"""Exact: 0.09290304 m²."""


class Units(NamedTuple):
    """The units a card is printed in."""

    imperial: bool = False

    def length(self, mm: float) -> str:
        """Return a length with its unit: whole mm, or inches to the nearest eighth as on a tape."""
        return f"{self.bare_length(mm)} {'in' if self.imperial else 'mm'}"

    def bare_length(self, mm: float) -> str:
        """Return a length without its unit, for the first figure of a span."""
        return _eighths(mm / MM_PER_INCH) if self.imperial else f"{mm:.0f}"

    def span(self, from_mm: float, to_mm: float) -> str:
        """Return a stretch, such as "150-700 mm"."""
        joint = " to " if self.imperial else "-"
        return f"{self.bare_length(from_mm)}{joint}{self.length(to_mm)}"

    def bare_span(self, from_mm: float, to_mm: float) -> str:
        """Return a stretch without its unit, such as "150-700"."""
        joint = " to " if self.imperial else "-"
        return f"{self.bare_length(from_mm)}{joint}{self.bare_length(to_mm)}"

    @property
    def length_unit(self) -> str:
        """Return the unit of a length."""
        return "in" if self.imperial else "mm"

    def size(self, length_mm: float, height_mm: float) -> str:
        """Return length by height, such as "300 x 250 mm"."""
        return f"{self.bare_length(length_mm)} x {self.length(height_mm)}"

    def film(self, um: float) -> str:
        """Return a film thickness: µm (written um), or mils to a tenth, or a hundredth below half a mil."""
        return f"{self.bare_film(um)} {self.film_unit}"

    def bare_film(self, um: float) -> str:
        """Return a film thickness without its unit, where another with its unit follows."""
        if not self.imperial:
            return f"{um:.0f}" if um >= 9.95 else f"{um:.1f}"
        mils = um / UM_PER_MIL
        return f"{mils:.1f}" if mils >= 0.5 else f"{mils:.2f}"

    def films(self, one: float, other: float) -> tuple[str, str]:
        """Return two thicknesses [µm] that are held against each other, with digits enough to part them."""
        said, in_unit = (self.film(one), self.film(other)), UM_PER_MIL if self.imperial else 1.0
        for digits in range(1, 6):
            if said[0] != said[1] or one == other:
                break
            said = (
                f"{one / in_unit:.{digits}f} {self.film_unit}",
                f"{other / in_unit:.{digits}f} {self.film_unit}",
            )
        return said

    @property
    def film_unit(self) -> str:
        """Return the unit a gauge reading is written in."""
        return "mil" if self.imperial else "um"

    def volume(self, ml: float) -> str:
        """Return a volume to mix; ounces are rounded up to the next half and keep their ml beside them."""
        if not self.imperial:
            return f"{ml:.0f} ml"
        halves = -int(-ml * 2 // ML_PER_US_FLUID_OUNCE)
        return f"{halves / 2:g} US fl oz ({ml:.0f} ml)"

    def area(self, m2: float) -> str:
        """Return an area in m² or square feet."""
        return f"{m2 / M2_PER_SQUARE_FOOT:.1f} ft2" if self.imperial else f"{m2:.2f} m2"


METRIC: Final = Units()
"""Files' own units."""


def _eighths(inches: float) -> str:
    whole, part = divmod(round(inches * 8), 8)
    if not part:
        return str(whole)
    over = 8
    while part % 2 == 0:
        part, over = part // 2, over // 2
    return f"{whole}-{part}/{over}" if whole else f"{part}/{over}"


def minutes(value: float) -> str:
    """Return a time as it is said: "4 min", "about 1 h 20", "under 1 min".

    Args:
        value: minutes, 0 or more. From an hour on it is given to the nearest five minutes.
    """
    if value < 0.95:
        return "under 1 min" if value > 0 else "0 min"
    if value < 57.5:
        return f"{value:.0f} min"
    hours, rest = divmod(round(value / 5) * 5, 60)
    return f"about {hours} h {rest:02d}" if rest else f"about {hours} h"


def counted(count: int, thing: str, things: str = "") -> str:
    """Return how many there are of something: "1 job", "3 jobs"; `things` where no s makes it many."""
    return f"{thousands(count)} {thing if count == 1 else things or f'{thing}s'}"


def thousands(count: int) -> str:
    """Return a count with its thousands parted by blanks that no line breaks at: "369 847 296"."""
    return f"{count:,}".replace(",", "\u00a0")
