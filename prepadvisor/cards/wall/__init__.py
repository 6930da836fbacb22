"""The wall table: what each flake asks for, on one sheet for the wall of the paint shop."""

from prepadvisor.cards.wall.table import Wall, WallRow, wall
from prepadvisor.cards.wall.write import wall_says, write_wall

__all__ = ["Wall", "WallRow", "wall", "wall_says", "write_wall"]
