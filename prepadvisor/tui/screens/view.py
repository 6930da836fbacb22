"""What all views share: head, note, rail, the keys that work everywhere, and how they ask for a change."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget

from prepadvisor.tui.dialogs import AsksAgain
from prepadvisor.tui.keys import AS_BUILT, EVERYWHERE, Keys, in_force, way_in_force, with_idents
from prepadvisor.tui.model import Field, OpenJob, Session, put_panel
from prepadvisor.tui.widgets import (
    ONWARD,
    SLIM,
    TALL,
    Act,
    Head,
    Inked,
    Note,
    Rail,
    Sheet,
    Sized,
    Stop,
    key_name,
)
from prepadvisor.wording import panel_name

if TYPE_CHECKING:
    from prepadvisor.records import Panel

WAY: Final[tuple[Stop, ...]] = (
    Stop("F2", "Colour", "colour"),
    Stop("F3", "Panels", "panels"),
    Stop("F4", "Lines", "lines"),
    Stop("F5", "Answer", "answer"),
    Stop("F6", "Check-off", "check-off"),
    Stop("F7", "Card", "card"),
    Stop("F8", "Standards", "standards"),
)
"""The way through a job, in its order."""

LEAST_SIZE: Final = (60, 18)
"""Columns and rows of the smallest window that all views are laid out for."""

Make = Callable[[OpenJob], OpenJob]


class View(AsksAgain, Sized, Screen[None]):
    """One view of the open job. It is told what to show, and asks for changes by messages."""

    AUTO_FOCUS = ""
    view: ClassVar[str] = ""
    acts: ClassVar[tuple[Act, ...]] = ()
    way: ClassVar[tuple[Stop, ...]] = WAY
    """The stops that the head shows and that N and B go through."""
    no_undo: ClassVar[str] = ""
    """Why nothing is taken back here; empty where it is."""
    has_hints: ClassVar[bool] = True
    """Whether the note says what the keys do; a view that needs the line itself does without."""
    fills_its_room: ClassVar[bool] = False
    """Whether what it shows depends on the room of its panes, laid out after they are first filled."""

    BINDINGS: ClassVar[list[BindingType]] = with_idents(
        EVERYWHERE,
        (
            Binding("n,N", "onward(1)", "next view", show=False),
            Binding("b,B", "onward(-1)", "view before", show=False),
            Binding("e,E", "enlarge", "enlarge", show=False),
            Binding("escape", "app.menu", "menu", show=False),
        ),
    )

    class Shown(Message):
        """The view is on and wants to be told what to show."""

        def __init__(self, view: "View") -> None:
            super().__init__()
            self.view = view

    class Edited(Message):
        """A change is wanted: its name for the undo key, how to make it, and what it may merge with."""

        def __init__(
            self, name: str, make: Make, merge: str = "", then: Callable[[], None] | None = None
        ) -> None:
            super().__init__()
            self.name, self.make, self.merge, self.then = name, make, merge, then
            self.again: Callable[[str], None] | None = None

    class Selected(Message):
        """Another panel, line or patch was selected."""

        def __init__(self, panel_id: str, part_id: str) -> None:
            super().__init__()
            self.panel_id, self.part_id = panel_id, part_id

    class Digit(Message):
        """A digit of a line's number was typed."""

        def __init__(self, digit: str) -> None:
            super().__init__()
            self.digit = digit

    keys: Keys = AS_BUILT
    """The keys that a person gave things to do."""

    def __init_subclass__(cls, **options: Any) -> None:
        """Name each binding, so that a person may give it another key."""
        if "BINDINGS" in cls.__dict__ and cls.view:
            cls.BINDINGS = with_idents(cls.view, cls.BINDINGS)
        super().__init_subclass__(**options)

    def compose(self) -> ComposeResult:
        """Lay out head, body, note and rail."""
        yield Head()
        yield from self.compose_body()
        yield Note()
        yield Rail()

    def compose_body(self) -> Iterable[Widget]:
        """Return the view's own widgets."""
        return ()

    def show(self, session: Session) -> None:
        """Show the open job; each view fills its own widgets."""

    def plates(self) -> tuple[Act, ...]:
        """Return the acts for the rail, most important first; those that do not fit are in the menu."""
        return self.acts

    def first_focus(self) -> str:
        """Return the selector of the widget that has the focus at first."""
        return "Rows"

    def on_mount(self) -> None:
        """Start with a blank note and ask to be filled."""
        self.query_one(Note).say("")

    def on_resize(self, event: events.Resize) -> None:
        """Tell where the window is too small to work in."""
        if event.size.width < LEAST_SIZE[0] or event.size.height < LEAST_SIZE[1]:
            self.say(f"make this window larger: {LEAST_SIZE[0]} x {LEAST_SIZE[1]} at least", refused=True)
        if self.fills_its_room or event.size != self.sized_for:
            self.sized_for, self.is_fresh = event.size, False
        self.set_class(event.size.width < SLIM, "-slim")
        self.set_class(event.size.height >= TALL, "-tall")
        if self.is_current:
            self.post_message(self.Shown(self))  # what is shown may depend on the room there is

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say what the keys do where the focus went."""
        if self.has_hints:
            self.query_one(Note).hint(getattr(event.widget, "hint", ""))

    def on_screen_suspend(self) -> None:
        """Ask anew when coming back."""
        self.is_fresh = False

    def on_screen_resume(self) -> None:
        """Ask to be filled."""
        self.post_message(self.Shown(self))

    def show_later(self) -> None:
        """Ask to be filled once what stands here now is painted; keys wait until then."""
        self.is_waiting = True
        self.call_after_refresh(self._ask_again)

    def _ask_again(self) -> None:
        self.is_waiting = self.is_fresh = False
        if self.is_current:
            self.post_message(self.Shown(self))

    def say(self, words: str, refused: bool = False) -> None:
        """Show words above the rail."""
        self.query_one(Note).say(words, refused)

    def edit(self, name: str, make: Make, merge: str = "", then: Callable[[], None] | None = None) -> None:
        """Ask for a change; `then` is called once it stands."""
        event = self.Edited(name, make, merge, then)
        event.again = self.asked_again
        self.app.post_message(event)

    def show_frame(self, title: tuple[str, ...], state: str, undo_name: str, keys: Keys = AS_BUILT) -> None:
        """Show head and rail with the keys in force; the plates of undo and of the next view always stay."""
        self.keys = keys
        self.query_one(Head).show(self.head_words(title), state, way_in_force(self.way, keys), self.view)
        undo = Act("F9", "Undo" if undo_name else "(no undo)", "app.undo")
        last = (undo, Act("N", f"{self._neighbour(1).label}{ONWARD}", "onward(1)"))
        acts = (Act("Esc", "Menu", "app.menu"), *self.plates())
        first, final = (tuple(in_force(act, self.view, keys) for act in some) for some in (acts, last))
        self.query_one(Rail).show(first, final)

    def head_words(self, title: tuple[str, ...]) -> tuple[str, ...]:
        """Return what the head says, most important first, given what it says of the open job."""
        return title

    def _neighbour(self, step: int) -> Stop:
        at = next((index for index, stop in enumerate(self.way) if stop.view == self.view), 0)
        return self.way[(at + step) % len(self.way)]

    async def action_onward(self, step: int) -> None:
        """Go to the next view on the way, or the one before; a key typed after it is that view's."""
        await self.run_action(f"app.go('{self._neighbour(step).view}')")

    def action_digit(self, digit: str) -> None:
        """Go on with the number of a line of the selected panel."""
        self.post_message(self.Digit(digit))

    def action_enlarge(self) -> None:
        """Let the pane with the focus fill the screen, or put every pane back in its place."""
        filled = self.query(".-filling")
        pane = self.focused
        if filled:
            for widget in self.query(".body, .body *"):
                widget.remove_class("-away", "-filling")
        elif pane is not None and pane.has_class("pane"):
            kept = {pane, *pane.ancestors}
            for widget in self.query(".body, .body *"):
                widget.set_class(widget in kept, "-filling")
                widget.set_class(widget not in kept, "-away")
            self.say("E puts the other panes back")
        else:
            self.say("go to a pane with Tab first: E lets it fill the screen", refused=True)
            return
        self.is_fresh = False
        self.post_message(self.Shown(self))

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        event.stop()
        await self.run_action(event.action)


class FieldsView(View):
    """A view with a sheet of fields: each is turned with the arrows, or asked for, and then changed."""

    def __init__(self) -> None:
        """Start without fields; a view fills them in by the id of their row."""
        super().__init__()
        self._fields: dict[str, Field] = {}

    @on(Sheet.Turned)
    def _turned(self, event: Sheet.Turned) -> None:
        answer = self._fields[event.row_id].turned(event.step)
        if answer is not None:
            self._change(event.row_id, answer)

    @on(Sheet.Asked)
    def _asked(self, event: Sheet.Asked) -> None:
        self._ask(event.row_id)

    def _ask(self, field_id: str) -> None:
        from prepadvisor.tui.dialogs import ask_field

        ask_field(self, self._fields[field_id], lambda answer: self._change(field_id, answer))

    def _change(self, field_id: str, answer: str) -> None:
        """Change what a field stands for as it was answered."""
        raise NotImplementedError


DIGITS: Final[tuple[Binding, ...]] = tuple(
    Binding(digit, f"digit('{digit}')", "its line", show=False) for digit in "0123456789"
)
"""Digits that pick a line or patch of the selected panel by its number, 0 the flat area."""

W = TypeVar("W", bound=Widget)


def pane(widget: W, title: str = "") -> W:
    """Return a widget in a frame of its own, with a title in it."""
    widget.add_class("pane", update=False)  # it is styled when it is mounted
    widget.border_title = title or None
    return widget


def entitle(widget: Widget, title: str) -> None:
    """Give a pane another title; a title that stays costs no painting."""
    if widget.border_title == title:
        return
    if isinstance(widget, Inked):
        widget.entitle(title)
    else:
        widget.border_title = title


def bound(acts: Iterable[Act]) -> list[BindingType]:
    """Return the key bindings of acts; letters count with caps lock on and off."""
    return [
        Binding(key_name(act.key), act.action, act.label, show=False)
        for act in acts
        if act.key and act.action
    ]


def put(
    view: View,
    session: Session,
    name: str,
    make: Callable[["Panel"], "Panel"],
    merge: str = "",
    then: Callable[[], None] | None = None,
) -> None:
    """Ask for a change of the selected panel, named for the undo key with the panel in front."""
    panel = session.panel
    if panel is None:
        return
    panel_id = panel.id

    def change(job: OpenJob) -> OpenJob:
        old = job.panel_at(panel_id)
        return put_panel(job, make(old), was=panel_id) if old else job

    words = panel_name(panel_id)
    view.edit(f"{words}: {name}", change, merge and f"{panel_id} {merge}", then)
