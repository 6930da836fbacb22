"""Cuts a line into the pieces of its dash pattern, for a printer language that knows only plain lines."""

from itertools import pairwise
from math import hypot

from prepadvisor.cards.figures.figure import PointMm


def dash_pieces(points: tuple[PointMm, ...], pattern: tuple[float, ...]) -> list[tuple[PointMm, ...]]:
    """Return the drawn pieces of a polyline; a dash of length 0 is a piece of one point.

    Args:
        points: the polyline, in mm.
        pattern: lengths of dash, gap, dash, gap … in mm, begun again at its end; at least one above 0.
    """
    if not pattern:
        return [points]
    lengths = pattern if len(pattern) % 2 == 0 else pattern * 2
    pieces: list[tuple[PointMm, ...]] = []
    piece: list[PointMm] = [points[0]]
    index, left = 0, lengths[0]
    for (x1, y1), (x2, y2) in pairwise(points):
        length, done = hypot(x2 - x1, y2 - y1), 0.0
        while length - done > left:
            done += left
            at = (x1 + (x2 - x1) * done / length, y1 + (y2 - y1) * done / length)
            if index % 2 == 0:
                pieces.append((*piece, at) if lengths[index] else (at,))
            piece = [at]
            index = (index + 1) % len(lengths)
            left = lengths[index]
        left -= length - done
        piece.append((x2, y2))
    if index % 2 == 0 and len(piece) > 1 and lengths[index]:
        pieces.append(tuple(piece))
    return pieces
