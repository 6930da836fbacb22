"""The menu: everything that can be done on a view, as one list to choose from."""

from prepadvisor.tui.dialogs.choose import Choice, Choose
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.view import WAY, View


def menu_of(view: View, session: Session | None) -> Choose:
    """Return the menu of a view; it answers with the action chosen."""
    choices = [Choice(act.action, f"{act.says or act.label}  ({act.key})") for act in view.acts]
    if session is not None and session.undo_name:
        choices.append(Choice("app.undo", f"Undo: {session.undo_name}  (F9)"))
    if session is not None and session.redo_name:
        choices.append(Choice("app.redo", f"Redo: {session.redo_name}  (F10)"))
    choices += [
        Choice(f"app.go('{stop.view}')", f"Go to {stop.label}  ({stop.key})")
        for stop in WAY
        if stop.view != view.view
    ]
    choices += [
        Choice("app.save", "Save now  (Ctrl+S)"),
        Choice("app.go('opening')", "Another job"),
        Choice("app.theme", "Light, dark or the terminal's own colours"),
        Choice("app.help", "Help  (F1)"),
        Choice("app.leave", "Save and leave  (Ctrl+Q)"),
    ]
    return Choose(f"{view.title_words}: what next?", choices)
