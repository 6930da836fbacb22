"""Writes the wall table as text, as one printed page, or as PDF; all three have the same words."""

from html import escape
from math import cos, pi, sin
from textwrap import wrap
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

if TYPE_CHECKING:
    from fpdf import FPDF

    from prepadvisor.cards.wall.table import Wall, WallRow


# Our own small pictures for hand, sander, powder, look and wet bed: strokes in a square, for any printer.
#
# Many who prepare panels read little English. Each picture is a few strokes and rings with y downwards, 0
# to 1.

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


WallForm = Literal["text", "html", "pdf"]
WallPaper = Literal["a4", "a3", "letter"]

TITLE: Final = "What each flake asks for"
RULES: Final = (
    "Wash, degrease, then abrade. Powder shows what is left. A look at every place before masking.",
    "Lines left: powder and the same grade again. Rubbed through: stop, ring it, tell the painter.",
    "Hand lines are straight and show more than a sander's curls. No wet bed over primer, filler, metal.",
)
CAUTION: Final = (
    "The job's own card and makers' sheets come before this table. Dust: extraction, mask, eyes, gloves, "
    "ears. Spraying: air-fed hood."
)
_COLUMNS: Final[tuple[tuple[str, str, str], ...]] = (
    ("FADE: face", "sander", "face"),
    ("by hand ahead, or finer", "hand", "hand"),
    ("hand only", "hand", "hand_last"),
    ("powder", "powder", "powder"),
    ("wet bed", "bed", "bed"),
    ("with a hand-only place", "bed", "bed_hand_only"),
    ("COLOUR: face", "sander", "colour_face"),
    ("by hand ahead, or finer", "hand", "colour_hand"),
    ("PRIMER, next colour", "sander", "primer"),
)
"""Heading, picture and field of each column after the flake's name."""

_TWO_LINES: Final[tuple[tuple[str, str], ...]] = (
    ("FADE", "face"), ("by hand", "ahead"), ("hand", "only"), ("", "powder"), ("", "wet bed"),
    ("with a hand-", "only place"), ("COLOUR", "face"), ("by hand", "ahead"), ("PRIMER,", "next colour"),
)  # fmt: skip
"""The same headings on two lines each, for a screen."""

_SIZES: Final[dict[WallPaper, tuple[float, float, float]]] = {
    "a4": (297.0, 210.0, 13.5),
    "a3": (420.0, 297.0, 19.0),
    "letter": (279.4, 215.9, 12.5),
}  # fmt: skip
"""Width and height of the paper lying across, in mm, and the size of its type in points."""


def write_wall(table: "Wall", to: WallForm = "text", paper: WallPaper = "a4") -> str | bytes:
    """Return the wall table.

    Args:
        table: its rows.
        to: the form; a PDF comes as bytes.
        paper: the paper of a page or PDF, lying across.

    Raises:
        ModuleNotFoundError: for a PDF where the pdf extra is not installed.
    """
    if to == "html":
        return _page(table, paper)
    return _pdf(table, paper) if to == "pdf" else _text(table)


def _values(row: "WallRow") -> list[str]:
    return [str(getattr(row, field)) for _, _, field in _COLUMNS]


def _foot(table: "Wall") -> list[str]:
    return [
        table.clear_zone,
        table.tools,
        *RULES,
        f"Standards in force: {', '.join(table.standards) or 'none named'}. {CAUTION}",
    ]


def wall_says(table: "Wall", columns: int) -> str:
    """Return the table for a screen of so many columns: a row a flake where that fits, else a block."""
    cells = [[row.name, *_values(row)] for row in table.rows]
    top = [["", *(head[at] for head in _TWO_LINES)] for at in range(2)]
    wide = [max(len(row[at]) for row in (*top, *cells)) for at in range(len(_COLUMNS) + 1)]
    if sum(wide) + 2 * len(_COLUMNS) > columns:
        return "\n".join([*_blocks(table), "", *_foot(table)])
    rows = [
        "  ".join(f"{cell:<{width}}" for cell, width in zip(row, wide, strict=True)).rstrip()
        for row in (*top, *cells)
    ]
    return "\n".join([*rows[:2], "", *rows[2:], "", *_foot(table)])


def _text(table: "Wall") -> str:
    """Lay the table out in 80 columns: a block a flake, since ten columns do not fit."""
    lines = [TITLE.upper(), "=" * 80, *_blocks(table)]
    for words in _foot(table):
        lines.extend(wrap(words, 80))
    return "\n".join(lines) + "\n"


def _blocks(table: "Wall") -> list[str]:
    """Return a block of lines a flake."""
    lines: list[str] = []
    for row in table.rows:
        lines.append(row.name.upper())
        lines.append(
            f"  FADE    face {row.face}, by hand ahead {row.hand} or finer, hand only {row.hand_last}"
        )
        lines.append(f"          powder {row.powder}; wet bed {row.bed}")
        lines.append(f"          wet bed with a hand-only place in it {row.bed_hand_only}")
        lines.append(f"  COLOUR  face {row.colour_face}, by hand ahead {row.colour_hand} or finer")
        lines.append(f"  PRIMER  {row.primer}")
        lines.append("-" * 80)
    return lines


def _page(table: "Wall", paper: WallPaper) -> str:
    width, height, points = _SIZES[paper]
    head = "".join(
        f'<th scope="col">{svg(picture)}<br>{escape(title)}</th>' for title, picture, _ in _COLUMNS
    )
    rows = "".join(
        f'<tr><th scope="row">{escape(row.name)}</th>'
        + "".join(f"<td>{escape(value)}</td>" for value in _values(row))
        + "</tr>"
        for row in table.rows
    )
    foot = "".join(f"<p>{escape(words)}</p>" for words in _foot(table))
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{TITLE}</title><style>
@page {{ size: {width}mm {height}mm; margin: 10mm; }}
body {{ font: {points}pt "DejaVu Sans Condensed", sans-serif; color: #000; margin: 0; }}
h1 {{ font-size: {points * 1.8}pt; margin: 0 0 3mm; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ border: 0.4mm solid #000; padding: 1.2mm 1.4mm; text-align: center; vertical-align: middle; }}
tbody th {{ text-align: left; }}
td {{ font-weight: bold; font-size: {points * 1.15}pt; }}
thead th {{ font-size: {points * 0.85}pt; }}
.sign {{ fill: none; stroke: #000; stroke-width: 5; }} .sign .dot {{ fill: #000; stroke: none; }}
p {{ margin: 1.5mm 0 0; }}
</style></head><body>
<h1>{TITLE}</h1>
<table><thead><tr><th scope="col">flake</th>{head}</tr></thead><tbody>{rows}</tbody></table>
{foot}
</body></html>
"""


def _pdf(table: "Wall", paper: WallPaper) -> bytes:
    from fpdf import FPDF

    from prepadvisor.cards.page.typeface import FONTS

    width, height, points = _SIZES[paper]
    sheet = FPDF(orientation="landscape", unit="mm", format=(height, width))
    sheet.set_title(TITLE)
    sheet.set_lang("en")
    sheet.set_margin(10)
    sheet.set_auto_page_break(auto=False)
    for style, name in (("", "DejaVuSansCondensed.ttf"), ("B", "DejaVuSansCondensed-Bold.ttf")):
        sheet.add_font("card", style, FONTS / name)
    sheet.add_page()
    sheet.set_font("card", "B", points * 1.8)
    sheet.cell(0, points * 0.8, TITLE, new_x="LMARGIN", new_y="NEXT")
    first = 0.15
    share = (1 - first) / (len(_COLUMNS) + 1)
    widths = [first, *([share] * (len(_COLUMNS) - 1)), share * 2]
    edges = [10.0]
    for part in widths:
        edges.append(edges[-1] + part * (width - 20))
    _pictures(sheet, edges, points)
    sheet.set_font("card", "", points * 0.8)
    with sheet.table(
        col_widths=tuple(widths), text_align=("LEFT", *["CENTER"] * len(_COLUMNS)), line_height=points * 0.42,
        padding=1.0,
    ) as grid:  # fmt: skip
        grid.row(("flake", *(title for title, _, _ in _COLUMNS)))
        sheet.set_font("card", "B", points * 0.9)
        for row in table.rows:
            grid.row((row.name, *_values(row)))
    sheet.set_font("card", "", points * 0.85)
    sheet.ln(2)
    for words in _foot(table):
        sheet.multi_cell(0, points * 0.42, words, new_x="LMARGIN", new_y="NEXT")
    return bytes(sheet.output())


def _pictures(sheet: "FPDF", edges: list[float], points: float) -> None:
    """Draw the picture of each column above its heading."""
    side = points * 0.8
    top = sheet.get_y() + 1
    sheet.set_line_width(side * 0.05)
    for column, (_, name, _) in enumerate(_COLUMNS, 1):
        left = (edges[column] + edges[column + 1]) / 2 - side / 2
        picture = PICTOGRAMS[name]
        for stroke in picture.strokes:
            sheet.polyline([(left + x * side, top + y * side) for x, y in stroke])
        for x, y, radius in picture.rings:
            sheet.circle(x=left + x * side, y=top + y * side, radius=radius * side)
        for x, y in picture.dots:
            sheet.circle(x=left + x * side, y=top + y * side, radius=0.04 * side, style="F")
    sheet.set_y(top + side + 1)
