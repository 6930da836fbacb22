"""Dialogs, each typed by the answer it returns, None where it was left with Esc; and who asks with them.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.tui.dialogs.ask import AskYes as AskYes
    from prepadvisor.tui.dialogs.ask import Page as Page
    from prepadvisor.tui.dialogs.asking import ask_choice as ask_choice
    from prepadvisor.tui.dialogs.asking import ask_done as ask_done
    from prepadvisor.tui.dialogs.asking import ask_field as ask_field
    from prepadvisor.tui.dialogs.asking import ask_text as ask_text
    from prepadvisor.tui.dialogs.asks_again import AsksAgain as AsksAgain
    from prepadvisor.tui.dialogs.choose import Choice as Choice
    from prepadvisor.tui.dialogs.choose import Choose as Choose
    from prepadvisor.tui.dialogs.choose import Find as Find
    from prepadvisor.tui.dialogs.choose import Findable as Findable
    from prepadvisor.tui.dialogs.example_dialog import ExampleDialog as ExampleDialog
    from prepadvisor.tui.dialogs.house_dialog import HouseDialog as HouseDialog
    from prepadvisor.tui.dialogs.rule_dialog import RuleDialog as RuleDialog

_PARTS = {
    "ask": "AskYes Page",
    "asking": "ask_choice ask_done ask_field ask_text",
    "asks_again": "AsksAgain",
    "choose": "Choice Choose Find Findable",
    "example_dialog": "ExampleDialog",
    "rule_dialog": "RuleDialog",
    "house_dialog": "HouseDialog",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
