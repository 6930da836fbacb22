"""The menu: everything that can be done on a view, as one list to choose from."""

from typing import Final

from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.widgets.rail import Act

EVERYWHERE: Final = (
    Act("Esc", "Menu", "app.menu"),
    Act("/", "Find: a place, panel, rule, job, or what to do", "app.find"),
    Act("Tab", "The next pane", ""),
    Act("E", "Enlarge the pane with the focus, and back", "enlarge"),
    Act("F2-F8", "The views, in the order of the work", ""),
    Act("N, B", "The next view, the one before", ""),
    Act("F9, F10", "Undo, redo", ""),
    Act("Ctrl+Q", "Save and leave", "app.leave"),
)
"""Keys that work in every view."""


def key_table(acts: tuple[Act, ...]) -> str:
    """Return the keys of a view and those that work everywhere as a table for its help."""
    rows = [f"  {act.key:<8} {act.says or act.label}" for act in (*acts, *EVERYWHERE) if act.key]
    return "\n".join(["KEYS", *rows])


def menu_of(view: View, session: Session | None) -> Choose:
    """Return the menu of a view; it answers with the action chosen."""
    choices = [Choice(act.action, act.says or act.label, key=act.key) for act in view.acts]
    if session is not None and session.undo_name:
        choices.append(Choice("app.undo", f"Undo: {session.undo_name}", key="F9"))
    if session is not None and session.redo_name:
        choices.append(Choice("app.redo", f"Redo: {session.redo_name}", key="F10"))
    choices += [
        Choice(f"app.go('{stop.view}')", f"Go to {stop.label}", key=stop.key)
        for stop in WAY
        if stop.view != view.view
    ]
    choices += [
        Choice("app.find", "Find: a place, panel, rule, job", key="/"),
        Choice("enlarge", "Enlarge the pane with the focus, and back", key="E"),
        Choice("app.go('opening')", "Another job", key="0"),
        Choice("app.save", "Save now", key="9"),
        Choice("app.theme", "Light, dark or the terminal's own colours", key="8"),
        Choice("app.help", "Help", key="F1"),
        Choice("app.leave", "Save and leave", key="Q"),
    ]
    return Choose(f"{view.title_words}: what next?", choices)
