"""The terminal UI's app: which screen is on, the keys everywhere, and who does what screens ask for."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.screen import Screen

from prepadvisor.tui.dialogs import AsksAgain
from prepadvisor.tui.editing import Editing
from prepadvisor.tui.ending import CarefulApp
from prepadvisor.tui.errands import Errands
from prepadvisor.tui.keys import EVERYWHERE, with_idents
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.screens.wishes import (
    FaultsFound,
    FileWanted,
    FreshWanted,
    NewWanted,
    OpeningResumed,
    StartChosen,
    WriteWanted,
)
from prepadvisor.tui.themes import LIGHT, TERMINAL, THEMES
from prepadvisor.tui.views import HOUSE_VIEWS, VIEWS, view_class
from prepadvisor.tui.widgets import Head, key_name
from prepadvisor.tui.wishes import keep_theme, kept_theme

if TYPE_CHECKING:
    from prepadvisor.tui.desk import Desk
    from prepadvisor.tui.keys import OwnChoices


def _later(view: str) -> Callable[[], Screen[Any]]:
    """Return what makes a view and loads its code only then: a session opens on one of them."""
    return lambda: view_class(view)()


def _opening() -> Screen[Any]:
    from prepadvisor.tui.screens.opening import Opening

    return Opening()


class BenchApp(CarefulApp):
    """The screens over one desk: what they ask is passed on to who edits and to who runs errands."""

    CSS_PATH = "app.tcss"
    TITLE = "prepadvisor"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide"), (150, "-huge")]
    VERTICAL_BREAKPOINTS = [(0, "-low"), (22, "-high")]
    SCREENS = {
        "opening": _opening,
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

    @on(OpeningResumed)
    def _opening_resumed(self) -> None:
        self.errands.show_starts()
        self.is_up()

    @on(StartChosen)
    async def _start_chosen(self, event: StartChosen) -> None:
        await self.errands.start(event)

    @on(NewWanted)
    async def _new_wanted(self, event: NewWanted) -> None:
        await self.errands.begin(lambda: self.desk.new(event.number), event.again)

    @on(FileWanted)
    async def _file_wanted(self, event: FileWanted) -> None:
        await self.errands.begin(lambda: self.desk.open(Path(event.path).expanduser()), event.again)

    @on(WriteWanted)
    def _write_wanted(self, event: WriteWanted) -> None:
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
        self.finish()
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
        from prepadvisor.tui.dialogs import Page
        from prepadvisor.tui.menus import key_table
        from prepadvisor.tui.model import flowing

        if isinstance(self.screen, AsksAgain):
            here = getattr(self.focused, "help_words", "")
            words = f"{here}\n\n{self.screen.help_words}" if here else self.screen.help_words
            view = self.view
            keys = key_table(view.acts if view else (), view.view if view else "", self.keys)
            self.push_screen(Page(f"Help: {self.screen.title_words}", f"{flowing(words)}\n\n{keys}"))

    def action_find(self) -> None:
        """Find anything by typing."""
        from prepadvisor.tui.dialogs import Find
        from prepadvisor.tui.menus import findables

        if isinstance(self.screen, AsksAgain):
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
            self.post_message(StartChosen(start))
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
        from prepadvisor.tui.menus import menu_of

        view = self.view
        if view is not None:
            self.push_screen(menu_of(view, self.desk.session, self.keys), self._menu_answered)

    async def _menu_answered(self, action: str | None) -> None:
        if action:
            await self.screen.run_action(action)

    def action_wall(self) -> None:
        """Show what each flake asks for, by the standards in force."""
        self.errands.show_wall()

    def action_theme(self) -> None:
        """Go on to the next theme: daylight, night, the terminal's own, and a person's own ones."""
        names = self._themes
        self.theme = names[(names.index(self.theme) + 1) % len(names)]
        keep_theme(self.theme)

    def finish(self) -> None:
        """Make the changes that were asked for and are still to be made."""
        self.editing.finish()

    def action_leave(self) -> None:
        """Save and leave."""
        self.leave_soon()
