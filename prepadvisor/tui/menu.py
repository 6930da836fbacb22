"""The menu: everything that can be done on a view, as one list to choose from."""

from collections.abc import Iterable
from typing import Final

from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.keys import AS_BUILT, Keys, in_force
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.widgets.rail import Act

EVERYWHERE: Final = (
    Act("Esc", "Menu", "app.menu"),
    Act("/", "Find: a place, panel, rule, job, or what to do", "app.find"),
    Act("Tab", "The next pane", ""),
    Act("E", "Enlarge the pane with the focus, and back", "enlarge"),
    Act("F2-F8", "The views, in the order of the work", ""),
    Act("N", "The next view", "onward(1)"),
    Act("B", "The view before", "onward(-1)"),
    Act("F9", "Undo", "app.undo"),
    Act("F10", "Redo", "app.redo"),
    Act("Ctrl+S", "Save now", "app.save"),
    Act("Ctrl+Q", "Save and leave", "app.leave"),
)
"""Keys that work in every view."""


def key_table(acts: tuple[Act, ...], view: str = "", keys: Keys = AS_BUILT) -> str:
    """Return the keys in force in a view and those that work everywhere as a table for its help."""
    every = [in_force(act, view, keys) for act in (*acts, *EVERYWHERE) if act.key]
    rows = [f"  {act.key:<8} {act.says or act.label}" for act in every]
    return "\n".join(["KEYS", *rows])


def menu_of(view: View, session: Session | None, keys: Keys = AS_BUILT) -> Choose:
    """Return the menu of a view; it answers with the action chosen."""
    acts = list(view.acts)
    if session is not None and session.undo_name:
        acts.append(Act("F9", f"Undo: {session.undo_name}", "app.undo"))
    if session is not None and session.redo_name:
        acts.append(Act("F10", f"Redo: {session.redo_name}", "app.redo"))
    find, enlarge = (Act("/", "Find: a place, panel, rule, job", "app.find"),
                     Act("E", "Enlarge the pane with the focus, and back", "enlarge"))  # fmt: skip
    choices = _choices(acts, view.view, keys)
    choices += [
        Choice(f"app.go('{stop.view}')", f"Go to {stop.label}", key=stop.key)
        for stop in WAY
        if stop.view != view.view
    ]
    choices += [
        *_choices((find, enlarge), view.view, keys),
        Choice("app.go('opening')", "Another job", key="0"),
        Choice("app.save", "Save now", key="9"),
        Choice("app.theme", "Light, dark or the terminal's own colours", key="8"),
        Choice("app.help", "Help", key="F1"),
        Choice("app.leave", "Save and leave", key="Q"),
    ]
    return Choose(f"{view.title_words}: what next?", choices)


def _choices(acts: Iterable[Act], view: str, keys: Keys) -> list[Choice]:
    shown = (in_force(act, view, keys) for act in acts)
    return [Choice(act.action, act.says or act.label, key=act.key) for act in shown]
