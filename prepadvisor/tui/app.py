"""The terminal UI's app: which screen is on, the keys everywhere, the menu, and finding by typing."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final

from textual import on
from textual.binding import Binding, BindingType
from textual.screen import Screen

from prepadvisor.records import letters
from prepadvisor.tui.dialogs.ask import Page
from prepadvisor.tui.dialogs.choose import Choice, Choose, Find, Findable
from prepadvisor.tui.editing import Editing
from prepadvisor.tui.ending import CarefulApp
from prepadvisor.tui.errands import Errands
from prepadvisor.tui.keys import AS_BUILT, EVERYWHERE, Keys, in_force, way_in_force, with_idents
from prepadvisor.tui.model import Session, flowing, place_label, place_name
from prepadvisor.tui.screens.card import CardView
from prepadvisor.tui.screens.opening import NO_LINES, Opening
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.standards_wishes import FaultsFound, FreshWanted
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.themes import LIGHT, TERMINAL, THEMES
from prepadvisor.tui.views import HOUSE_VIEWS, VIEWS, view_class
from prepadvisor.tui.widgets import Act, Head, key_name
from prepadvisor.tui.wishes import keep_theme, kept_theme
from prepadvisor.wording import panel_name

if TYPE_CHECKING:
    from prepadvisor.cards import DayJob
    from prepadvisor.tui.desk import Desk
    from prepadvisor.tui.keys import OwnChoices
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
    lines: Mapping[str, "DayJob"] = NO_LINES,
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


def _later(view: str) -> Callable[[], Screen[Any]]:
    """Return what makes a view and loads its code only then: a session opens on one of them."""
    return lambda: view_class(view)()


class BenchApp(CarefulApp):
    """The screens over one desk: what they ask is passed on to who edits and to who runs errands."""

    CSS_PATH = "app.tcss"
    TITLE = "prepadvisor"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide"), (150, "-huge")]
    VERTICAL_BREAKPOINTS = [(0, "-low"), (22, "-high")]
    SCREENS = {
        "opening": Opening,
        **{view: _later(view) for view in VIEWS},
    }
    BINDINGS: ClassVar[list[BindingType]] = with_idents(
        EVERYWHERE,
        (
            Binding("f1", "help", "help", show=False),
            *(Binding(stop.key.lower(), f"go('{stop.view}')", stop.label, show=False) for stop in WAY),
            Binding("f9,ctrl+z", "undo", "undo", show=False),
            Binding("f10,ctrl+y", "redo", "redo", show=False),
            Binding("slash,ctrl+f", "find", "find", show=False),
            Binding("ctrl+s", "save", "save", show=False),
            Binding("ctrl+q,ctrl+c", "leave", "leave", show=False),
        ),
    )

    def __init__(
        self, desk: "Desk", no_colour: bool = False, told: str = "", own: "OwnChoices | None" = None
    ) -> None:
        """Start over a desk.

        Args:
            desk: the desk.
            no_colour: keep to the terminal's own colours.
            told: said at first.
            own: keys and themes of a person's own.
        """
        super().__init__(desk, no_colour, told)
        self.editing = Editing(self)
        self.errands = Errands(self, self.editing)
        self._themes = [theme.name for theme in (*THEMES, *(own.themes if own else ()))]
        for theme in (*THEMES, *(own.themes if own else ())):
            self.register_theme(theme)
        if own is not None:
            self.keys = own.keys
            self.set_keymap({ident: key_name(key) for ident, key in own.keys.items()})
        chosen = (own.theme if own else "") or kept_theme()
        known = chosen if chosen in self._themes else LIGHT.name
        self.theme = TERMINAL.name if no_colour else known

    def on_mount(self) -> None:
        """Be ready to be ended by the system, and look after the file."""
        self.be_ready_to_end()
        self.editing.watch_file()

    @on(View.Shown)
    def _view_shown(self) -> None:
        if self.view is not None and not self.view.is_fresh:
            self.editing.serve()
        self.is_up()

    @on(View.Edited)
    def _edited(self, event: View.Edited) -> None:
        self.editing.edit(event)

    @on(View.Selected)
    def _selected(self, event: View.Selected) -> None:
        self.editing.select(event)

    @on(View.Digit)
    def _digit(self, event: View.Digit) -> None:
        self.editing.digit(event)

    @on(Opening.Resumed)
    def _opening_resumed(self) -> None:
        self.errands.show_starts()
        self.is_up()

    @on(Opening.Chosen)
    async def _start_chosen(self, event: Opening.Chosen) -> None:
        await self.errands.start(event)

    @on(Opening.NewWanted)
    async def _new_wanted(self, event: Opening.NewWanted) -> None:
        await self.errands.begin(lambda: self.desk.new(event.number), event.again)

    @on(Opening.FileWanted)
    async def _file_wanted(self, event: Opening.FileWanted) -> None:
        await self.errands.begin(lambda: self.desk.open(Path(event.path).expanduser()), event.again)

    @on(CardView.WriteWanted)
    def _write_wanted(self, event: CardView.WriteWanted) -> None:
        self.errands.write(event)

    @on(FreshWanted)
    def _fresh_wanted(self, event: FreshWanted) -> None:
        self.errands.refresh(event)

    @on(FaultsFound)
    def _faults_found(self, event: FaultsFound) -> None:
        self.errands.tell_faults(event.title, event.error)

    def action_undo(self) -> None:
        """Take the last change back."""
        self.editing.undo()

    def action_redo(self) -> None:
        """Bring back what was undone last."""
        self.editing.redo()

    def action_save(self) -> None:
        """Save now."""
        self.editing.save()

    @on(Head.Chosen)
    async def _stop_chosen(self, event: Head.Chosen) -> None:
        await self.action_go(event.view)

    async def action_go(self, view: str) -> None:
        """Go to a view; what was changed is saved on the way, once the view is painted."""
        if self.desk.session is None and view in HOUSE_VIEWS:
            self.desk.scratch()
        session = self.desk.session
        if session is None and view != "opening":
            return
        told = self.desk.leave_view(view) if view == "opening" else ""
        await self.switch_screen(view)
        self.editing.serve()
        self.say(told, refused=True)
        if session is not None and view != "opening":
            self.call_after_refresh(self.editing.save_on_the_way, session, view)

    def action_help(self) -> None:
        """Show the help of the screen that is on, and of what has the focus."""
        if isinstance(self.screen, View | Opening):
            here = getattr(self.focused, "help_words", "")
            words = f"{here}\n\n{self.screen.help_words}" if here else self.screen.help_words
            view = self.view
            keys = key_table(view.acts if view else (), view.view if view else "", self.keys)
            self.push_screen(Page(f"Help: {self.screen.title_words}", f"{flowing(words)}\n\n{keys}"))

    def action_find(self) -> None:
        """Find anything by typing."""
        if isinstance(self.screen, View | Opening):
            starts = self.desk.starts()
            lines = self.errands.board.lines(start.ident for start in starts)
            things = findables(self.view, self.desk.session, starts, lines)
            self.push_screen(Find(things), self._found)

    async def _found(self, target: str | None) -> None:
        kind, _, name = (target or "").partition(":")
        session = self.desk.session
        if kind == "act":
            await self.screen.run_action(name)
        elif kind == "start":
            start = next(each for each in self.desk.starts() if f"{each.kind}:{each.ident}" == name)
            self.post_message(Opening.Chosen(start))
        elif session is not None and kind in {"place", "panel"}:
            session.select_place(name if kind == "place" else f"{name}/face")
            fitting = {"lines", "answer", "check-off"} if kind == "place" else {"panels", "lines", "answer"}
            if self.view is not None and self.view.view in fitting:
                self.editing.serve()
            else:
                await self.action_go("answer" if kind == "place" else "panels")
        elif kind == "rule":
            from prepadvisor.tui.screens.standards import StandardsView

            await self.action_go("standards")
            if isinstance(self.screen, StandardsView):
                self.screen.show_rule(name)

    def action_menu(self) -> None:
        """Show everything that can be done here."""
        view = self.view
        if view is not None:
            self.push_screen(menu_of(view, self.desk.session, self.keys), self._menu_answered)

    async def _menu_answered(self, action: str | None) -> None:
        if action:
            await self.screen.run_action(action)

    def action_theme(self) -> None:
        """Go on to the next theme: daylight, night, the terminal's own, and a person's own ones."""
        names = self._themes
        self.theme = names[(names.index(self.theme) + 1) % len(names)]
        keep_theme(self.theme)

    def action_leave(self) -> None:
        """Save and leave."""
        self.leave_soon()
