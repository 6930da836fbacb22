"""What the menu of a view offers, what can be found by typing, and the table of keys in its help."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from prepadvisor.records import letters
from prepadvisor.tui.dialogs import Choice, Choose, Findable
from prepadvisor.tui.keys import AS_BUILT, Keys, in_force, way_in_force
from prepadvisor.tui.model import Session, place_label, place_name
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.widgets import Act
from prepadvisor.wording import panel_name

if TYPE_CHECKING:
    from prepadvisor.cards import DayJob
    from prepadvisor.tui.starts import Start

# The menu: everything that can be done on a view, as one list to choose from.

EVERYWHERE_ACTS: Final = (
    Act("Esc", "Menu", "app.menu"),
    Act("/", "Find: a place, panel, rule, job, or what to do", "app.find"),
    Act("Tab", "The next pane", ""),
    Act("E", "Enlarge the pane with the focus, and back", "enlarge"),
    Act("N", "The next view", "onward(1)"),
    Act("B", "The view before", "onward(-1)"),
    Act("F9", "Undo", "app.undo"),
    Act("F10", "Redo", "app.redo"),
    Act("Ctrl+S", "Save now", "app.save"),
    Act("Ctrl+Q", "Save and leave", "app.leave"),
)
"""Keys that work in every view."""

GO_ACTS: Final = (
    Act("F1", "Help", "app.help"),
    *(Act(stop.key, f"Go to {stop.label}", f"app.go('{stop.view}')") for stop in WAY),
)
"""Keys that lead to the views, in the order of the work, and to the help."""


def key_table(acts: tuple[Act, ...], view: str = "", keys: Keys = AS_BUILT) -> str:
    """Return the keys in force in a view and those that work everywhere as a table for its help."""
    every = [in_force(act, view, keys) for act in (*acts, *EVERYWHERE_ACTS, *GO_ACTS) if act.key]
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
    here = f"app.go('{view.view}')"
    choices += _choices((act for act in GO_ACTS[1:] if act.action != here), view.view, keys)
    choices += [
        *_choices((find, enlarge), view.view, keys),
        Choice("app.go('opening')", "Another job", key="0"),
        Choice("app.save", "Save now", key="9"),
        Choice("app.theme", "Light, dark or the terminal's own colours", key="8"),
        Choice("app.wall", "What each flake asks for: the wall table", key="7"),
        *_choices(GO_ACTS[:1], view.view, keys),
        Choice("app.leave", "Save and leave", key="Q"),
    ]
    return Choose(f"{view.title_words}: what next?", choices)


def _choices(acts: Iterable[Act], view: str, keys: Keys) -> list[Choice]:
    shown = (in_force(act, view, keys) for act in acts)
    return [Choice(act.action, act.says or act.label, key=act.key) for act in shown]


# What can be found by typing: of the view that is on, the open job, the standards and the jobs.


def findables(
    view: View | None,
    session: Session | None,
    starts: list["Start"],
    lines: Mapping[str, "DayJob"],
) -> list[Findable]:
    """Return everything that can be found, what is nearest at hand first.

    A target is an action such as "act:turn('reach')", a place "place:door/E1", a panel "panel:door", a rule
    "rule:id" or a job "start:kind:ident".
    """
    things: list[Findable] = []
    if session is not None:
        advice = session.advice
        for at, panel in enumerate(session.job.panel):
            name = f"{letters(at)} {panel_name(panel.id)}"
            things.append(Findable("panel", name, f"panel:{panel.id}"))
            things += [
                Findable(
                    "place",
                    f"{place_label(letters(at), place)} {place_name(advice, place)}",
                    f"place:{place.id}",
                )
                for place in (advice.places if advice else ())
                if advice and place.panel == panel.id
            ]
    if view is not None:
        shown = [in_force(act, view.view, view.keys) for act in (*view.acts, *EVERYWHERE_ACTS) if act.action]
        things += [Findable("do", act.says or act.label, f"act:{act.action}", act.key) for act in shown]
        stops = way_in_force(WAY, view.keys)
        things += [Findable("go", stop.label, f"act:app.go('{stop.view}')", stop.key) for stop in stops]
        if view.way is WAY:  # elsewhere these are among what can be done
            things += [Findable("go", stop.label, f"act:app.go('{stop.view}')") for stop in OWN_WAY[1:]]
        things += [
            Findable("do", says, f"act:app.{action}", key)
            for says, action, key in (
                ("Light, dark or the terminal's own colours", "theme", ""),
                ("What each flake asks for: the wall table", "wall", ""),
                ("Help", "help", in_force(GO_ACTS[0], view.view, view.keys).key),
            )
        ]
    if session is not None:
        things += [
            Findable("rule", f"{rule.id}: {rule.says}", f"rule:{rule.id}")
            for rule in session.house.engine.rules
        ]
    for start in starts:
        line = lines.get(start.ident)
        named = (line.number, line.colour, line.vehicle, start.says) if line is not None else (start.says,)
        says = "  ".join(dict.fromkeys(part for part in named if part))
        things.append(Findable("job", says, f"start:{start.kind}:{start.ident}"))
    return things
