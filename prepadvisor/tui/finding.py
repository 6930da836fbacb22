"""What can be found by typing: of the view that is on, the open job, the standards and the jobs."""

from collections.abc import Mapping

from prepadvisor.cards.day.board import DayJob
from prepadvisor.records.card_number import letters
from prepadvisor.tui.dialogs.find import Findable
from prepadvisor.tui.keys import in_force
from prepadvisor.tui.menu import EVERYWHERE
from prepadvisor.tui.model.place_rows import place_label
from prepadvisor.tui.model.says import place_name
from prepadvisor.tui.model.session import Session
from prepadvisor.tui.screens.opening import NO_LINES
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.starts import Start
from prepadvisor.wording.names import panel_name


def findables(
    view: View | None, session: Session | None, starts: list[Start], lines: Mapping[str, DayJob] = NO_LINES
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
        shown = [in_force(act, view.view, view.keys) for act in (*view.acts, *EVERYWHERE) if act.action]
        things += [Findable("do", act.says or act.label, f"act:{act.action}", act.key) for act in shown]
        things += [Findable("go", stop.label, f"act:app.go('{stop.view}')", stop.key) for stop in WAY]
        if view.way is WAY:  # elsewhere these are among what can be done
            things += [Findable("go", stop.label, f"act:app.go('{stop.view}')") for stop in OWN_WAY[1:]]
        things += [
            Findable("do", says, f"act:app.{action}", key)
            for says, action, key in (
                ("Light, dark or the terminal's own colours", "theme", ""),
                ("Help", "help", "F1"),
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
