"""Papers and the sizes a page is set in: normal, and smaller ones where they save a sheet.

Tick boxes are 6 mm in all, for a pen held in a glove; no type is under 8 pt; the big answers and the grades
in the rows are 15 pt at least. A4: ISO 216; Letter: ANSI/ASME Y14.1, 8.5 by 11 inch.
"""

from typing import Final, Literal

from prepadvisor.cards.page.typeface import MM_PER_PT
from prepadvisor.named import NamedTuple

PaperName = Literal["a4", "letter"]
BOX_MM: Final = 6.0
LEAST_PT: Final = 8.0


class Paper(NamedTuple):
    """A sheet of paper: its name in CSS, its size and the margin of the printed area, in mm."""

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float = 7.5

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height of the printed area."""
        return (self.width_mm - 2 * self.margin_mm, self.height_mm - 2 * self.margin_mm)


PAPERS: Final[dict[str, Paper]] = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("letter", 215.9, 279.4)}


class Sizes(NamedTuple):
    """Type sizes in points, heights and gaps in mm."""

    name: str
    body_pt: float
    small_pt: float
    head_pt: float
    title_pt: float
    big_pt: float
    grade_pt: float
    row_mm: float
    tick_mm: float
    gap_mm: float
    figure_max_mm: float
    leading: float

    def line_mm(self, size_pt: float) -> float:
        """Return the distance of two lines of a type size."""
        return size_pt * MM_PER_PT * self.leading


NORMAL: Final = Sizes(
    name="normal",
    body_pt=9.5,
    small_pt=8.5,
    head_pt=22,
    title_pt=15,
    big_pt=28,
    grade_pt=15,
    row_mm=8.0,
    tick_mm=7.4,
    gap_mm=2.4,
    figure_max_mm=60,
    leading=1.22,
)
MIDDLE: Final = Sizes(
    name="middle",
    body_pt=8.6,
    small_pt=8,
    head_pt=19,
    title_pt=13,
    big_pt=23,
    grade_pt=15,
    row_mm=7.0,
    tick_mm=6.8,
    gap_mm=1.5,
    figure_max_mm=44,
    leading=1.18,
)
COMPACT: Final = Sizes(
    name="compact",
    body_pt=8,
    small_pt=8,
    head_pt=17,
    title_pt=12,
    big_pt=20,
    grade_pt=15,
    row_mm=6.3,
    tick_mm=6.2,
    gap_mm=0.8,
    figure_max_mm=36,
    leading=1.12,
)
SIZES: Final = (NORMAL, MIDDLE, COMPACT)
"""In the order in which they are tried."""
