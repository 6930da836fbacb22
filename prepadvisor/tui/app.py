"""The terminal UI's app: which screen is on, what is asked of the desk, and the keys that work everywhere."""

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType

from prepadvisor.tui.desk import Desk
from prepadvisor.tui.dialogs.page import Page
from prepadvisor.tui.errands import ErrandApp
from prepadvisor.tui.menu import menu_of
from prepadvisor.tui.model.open_job import RefusedError
from prepadvisor.tui.model.says import job_title
from prepadvisor.tui.screens.answer import AnswerView
from prepadvisor.tui.screens.card import CardView
from prepadvisor.tui.screens.check_off import CheckOffView
from prepadvisor.tui.screens.colour import ColourView
from prepadvisor.tui.screens.lines import LinesView
from prepadvisor.tui.screens.opening import Opening
from prepadvisor.tui.screens.panels import PanelsView
from prepadvisor.tui.screens.standards import StandardsView
from prepadvisor.tui.screens.view import WAY, View
from prepadvisor.tui.themes import DARK, LIGHT, TERMINAL, THEMES
from prepadvisor.tui.widgets.head import Head


class BenchApp(ErrandApp):
    """The screens over one desk."""

    CSS_PATH = "app.tcss"
    TITLE = "prepadvisor"
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]
    SCREENS = {
        "opening": Opening,
        "colour": ColourView,
        "panels": PanelsView,
        "lines": LinesView,
        "answer": AnswerView,
        "check-off": CheckOffView,
        "card": CardView,
        "standards": StandardsView,
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "help", "help", show=False),
        *(Binding(stop.key.lower(), f"go('{stop.view}')", stop.label, show=False) for stop in WAY),
        Binding("f9,ctrl+z", "undo", "undo", show=False),
        Binding("f10,ctrl+y", "redo", "redo", show=False),
        Binding("ctrl+s", "save", "save", show=False),
        Binding("ctrl+q,ctrl+c", "leave", "leave", show=False),
    ]

    def __init__(self, desk: Desk, no_colour: bool = False, told: str = "") -> None:
        """Start over a desk; `no_colour` keeps to the terminal's own colours; `told` is said at first."""
        super().__init__(desk)
        self._told = told
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = TERMINAL.name if no_colour else LIGHT.name

    async def on_mount(self) -> None:
        """Show the opening, or the job that is open already; be ready to be ended by the system."""
        self.be_ready_to_end()
        await self.push_screen(self.desk.session.view if self.desk.session else "opening")
        self.say(self._told)

    @property
    def view(self) -> View | None:
        """The view that is on; None where it is the opening or a dialog."""
        return self.screen if isinstance(self.screen, View) else None

    @on(View.Shown)
    def serve(self) -> None:
        """Tell the view that is on what to show."""
        view, session = self.view, self.desk.session
        if view is None or session is None:
            return
        view.show(session)
        view.show_frame(job_title(session.job), self.desk.state_words(), session.undo_name)
        if view.focused is None:
            view.set_focus(view.query(view.first_focus()).first())

    @on(View.Edited)
    def _edited(self, event: View.Edited) -> None:
        session = self.desk.session
        if session is None:
            return
        try:
            session.do(event.name, event.make(session.job), event.merge)
        except RefusedError as error:
            self.say(str(error), refused=True)
            return
        if event.then is not None:
            event.then()
        self.say("; ".join(session.trouble), refused=True)
        self.serve()
        self.call_after_refresh(self._keep)

    def _keep(self) -> None:
        if told := self.desk.keep():
            self.say(told, refused=True)

    @on(View.Selected)
    def _selected(self, event: View.Selected) -> None:
        if self.desk.session is not None:
            self.desk.session.select(event.panel_id, event.part_id)
            self.serve()

    @on(Head.Chosen)
    async def _stop_chosen(self, event: Head.Chosen) -> None:
        await self.action_go(event.view)

    async def action_go(self, view: str) -> None:
        """Go to a view; what was changed is saved on the way."""
        if self.desk.session is None and view == "standards":
            self.desk.scratch()
        if self.desk.session is None and view != "opening":
            return
        told = self.desk.leave_view(view)
        await self.switch_screen(view)
        self.serve()
        self.say(told, refused=True)

    def action_undo(self) -> None:
        """Take the last change back."""
        if self.desk.session is not None:
            self._stepped("Undone", self.desk.session.undo())

    def action_redo(self) -> None:
        """Bring back what was undone last."""
        if self.desk.session is not None:
            self._stepped("Done again", self.desk.session.redo())

    def _stepped(self, what: str, name: str) -> None:
        self.serve()
        self.call_after_refresh(self._keep)
        self.say(f"{what}: {name}" if name else "nothing to take back or bring back")

    def action_save(self) -> None:
        """Save now."""
        told = self.desk.save()
        self.serve()
        self.say(told or "Saved", refused=bool(told))

    def action_help(self) -> None:
        """Show the help of the screen that is on, and of what has the focus."""
        if isinstance(self.screen, View | Opening):
            here = getattr(self.focused, "help_words", "")
            words = f"{here}\n\n{self.screen.help_words}" if here else self.screen.help_words
            self.push_screen(Page(f"Help: {self.screen.title_words}", words))

    def action_menu(self) -> None:
        """Show everything that can be done here."""
        view = self.view
        if view is not None:
            self.push_screen(menu_of(view, self.desk.session), self._menu_answered)

    async def _menu_answered(self, action: str | None) -> None:
        if action:
            await self.screen.run_action(action)

    def action_theme(self) -> None:
        """Go on to the next theme: daylight, night, the terminal's own."""
        names = [LIGHT.name, DARK.name, TERMINAL.name]
        self.theme = names[(names.index(self.theme) + 1) % len(names)]

    def action_leave(self) -> None:
        """Save and leave."""
        self.desk.close()
        self.exit()
