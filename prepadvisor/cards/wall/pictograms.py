"""Our own small pictures for hand, sander, powder, look and wet bed: strokes in a square, for any printer.

Many who prepare panels read little English. Each picture is a few strokes and rings with y downwards, 0 to 1.
"""

from math import cos, pi, sin
from typing import Final

from prepadvisor.named import NamedTuple

XY = tuple[float, float]


class Pictogram(NamedTuple):
    """Strokes as runs of points, and rings as centre and radius."""

    says: str
    strokes: tuple[tuple[XY, ...], ...] = ()
    rings: tuple[tuple[float, float, float], ...] = ()
    dots: tuple[XY, ...] = ()


def _curl(turns: float, start: float, end: float) -> tuple[XY, ...]:
    steps = 40
    return tuple(
        (
            0.5 + (start + (end - start) * step / steps) * cos(2 * pi * turns * step / steps),
            0.5 + (start + (end - start) * step / steps) * sin(2 * pi * turns * step / steps),
        )
        for step in range(steps + 1)
    )


PICTOGRAMS: Final[dict[str, Pictogram]] = {
    "hand": Pictogram(
        "by hand: straight lines",
        strokes=(
            ((0.30, 0.62), (0.30, 0.22), (0.38, 0.18), (0.40, 0.50)),
            ((0.40, 0.50), (0.43, 0.10), (0.51, 0.10), (0.52, 0.50)),
            ((0.52, 0.50), (0.56, 0.14), (0.63, 0.15), (0.63, 0.54)),
            ((0.63, 0.54), (0.68, 0.26), (0.75, 0.28), (0.72, 0.66), (0.60, 0.80), (0.40, 0.80),
             (0.30, 0.62)),
            ((0.30, 0.62), (0.18, 0.46), (0.12, 0.52), (0.30, 0.74)),
            ((0.10, 0.92), (0.90, 0.92)),
            ((0.10, 0.98), (0.90, 0.98)),
        ),
    ),
    "sander": Pictogram(
        "sander: curls",
        strokes=(_curl(2.6, 0.04, 0.30), ((0.12, 0.98), (0.88, 0.98))),
        rings=((0.5, 0.5, 0.40),),
    ),
    "powder": Pictogram(
        "powder guide coat",
        strokes=(((0.08, 0.84), (0.40, 0.84), (0.50, 0.94), (0.60, 0.84), (0.92, 0.84)),),
        dots=(
            (0.30, 0.20), (0.46, 0.12), (0.62, 0.22), (0.38, 0.38), (0.55, 0.34), (0.70, 0.42), (0.28, 0.54),
            (0.45, 0.58), (0.60, 0.60), (0.50, 0.76), (0.50, 0.86),
        ),
    ),
    "look": Pictogram(
        "look, with lamp",
        strokes=(
            ((0.06, 0.60), (0.28, 0.40), (0.50, 0.34), (0.72, 0.40), (0.94, 0.60), (0.72, 0.78), (0.50, 0.84),
             (0.28, 0.78), (0.06, 0.60)),
            ((0.50, 0.24), (0.50, 0.08)), ((0.26, 0.28), (0.18, 0.12)), ((0.74, 0.28), (0.82, 0.12)),
        ),
        rings=((0.5, 0.60, 0.15),),
    ),
    "bed": Pictogram(
        "wet bed under the colour",
        strokes=(
            ((0.06, 0.92), (0.94, 0.92)),
            ((0.06, 0.70), (0.20, 0.64), (0.36, 0.70), (0.52, 0.64), (0.68, 0.70), (0.94, 0.68)),
            ((0.50, 0.08), (0.36, 0.34), (0.42, 0.48), (0.58, 0.48), (0.64, 0.34), (0.50, 0.08)),
        ),
    ),
}  # fmt: skip
"""By name; `says` is read out where a picture cannot be seen."""


def svg(name: str, size: str = "1.6em") -> str:
    """Return a picture as inline SVG with its words for readers that speak."""
    picture = PICTOGRAMS[name]
    parts = [
        f'<polyline points="{" ".join(f"{x * 100:.0f},{y * 100:.0f}" for x, y in stroke)}"/>'
        for stroke in picture.strokes
    ]
    parts += [
        f'<circle cx="{x * 100:.0f}" cy="{y * 100:.0f}" r="{r * 100:.0f}"/>' for x, y, r in picture.rings
    ]
    parts += [f'<circle cx="{x * 100:.0f}" cy="{y * 100:.0f}" r="4" class="dot"/>' for x, y in picture.dots]
    return (
        f'<svg class="sign" viewBox="0 0 100 100" width="{size}" height="{size}" role="img" '
        f'aria-label="{picture.says}">{"".join(parts)}</svg>'
    )
