"""Widgets show and ask: they do not load, save, compute or decide.

A widget's code is loaded when a screen first asks for it.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.tui.widgets.frame import ONWARD as ONWARD
    from prepadvisor.tui.widgets.frame import Act as Act
    from prepadvisor.tui.widgets.frame import Head as Head
    from prepadvisor.tui.widgets.frame import Note as Note
    from prepadvisor.tui.widgets.frame import Rail as Rail
    from prepadvisor.tui.widgets.frame import Stop as Stop
    from prepadvisor.tui.widgets.frame import key_name as key_name
    from prepadvisor.tui.widgets.keypad import FIGURES as FIGURES
    from prepadvisor.tui.widgets.keypad import LETTERS as LETTERS
    from prepadvisor.tui.widgets.keypad import Keypad as Keypad
    from prepadvisor.tui.widgets.panel_drawing import PanelDrawing as PanelDrawing
    from prepadvisor.tui.widgets.plates import GradeRuler as GradeRuler
    from prepadvisor.tui.widgets.plates import Plates as Plates
    from prepadvisor.tui.widgets.reading import Line as Line
    from prepadvisor.tui.widgets.reading import Reading as Reading
    from prepadvisor.tui.widgets.rows import Row as Row
    from prepadvisor.tui.widgets.rows import Rows as Rows
    from prepadvisor.tui.widgets.scrolled import INKS as INKS
    from prepadvisor.tui.widgets.scrolled import Inked as Inked
    from prepadvisor.tui.widgets.sheet import Sheet as Sheet
    from prepadvisor.tui.widgets.sized import SLIM as SLIM
    from prepadvisor.tui.widgets.sized import TALL as TALL
    from prepadvisor.tui.widgets.sized import Sized as Sized
    from prepadvisor.tui.widgets.text_field import NUMBERS as NUMBERS
    from prepadvisor.tui.widgets.text_field import TextField as TextField

_PARTS = {
    "frame": "Act Head Note ONWARD Rail Stop key_name",
    "keypad": "FIGURES Keypad LETTERS",
    "panel_drawing": "PanelDrawing",
    "plates": "GradeRuler Plates",
    "reading": "Line Reading",
    "rows": "Row Rows",
    "scrolled": "INKS Inked",
    "sheet": "Sheet",
    "sized": "SLIM Sized TALL",
    "text_field": "NUMBERS TextField",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
