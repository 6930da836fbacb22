"""What the framework's app does otherwise here: keys in their order, no end without the job being kept."""

import asyncio
import signal
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final

from textual import events
from textual.app import App
from textual.screen import Screen
from textual.widgets import Input

from prepadvisor.files import write_crash_log
from prepadvisor.tui.dialogs import AsksAgain
from prepadvisor.tui.keys import AS_BUILT, Keys
from prepadvisor.tui.plain_signs import PlainSigns, writes_blocks
from prepadvisor.tui.screens.view import View
from prepadvisor.tui.widgets import INKS, Inked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.driver import Driver
    from textual.filter import LineFilter

    from prepadvisor.tui.desk import Desk

_ROUNDS: Final = 4
"""A change goes from widget to view to app, a round for each, and one to spare."""


class CarefulApp(App[None]):
    """An app over a desk that does each key to its end before the next, and never ends without the job kept.

    A key that is only passed on to a widget may still wait there when an earlier key has put up or taken down
    a screen, and is then lost. Here bindings and text are done at once; a key waits for its screen to be up
    and filled. It is ended by a signal with everything saved, by a fault with a log instead of a traceback.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = set(INKS)
    keys: Keys = AS_BUILT
    """The keys that a person gave things to do."""

    def __init__(self, desk: "Desk", no_colour: bool = False, told: str = "") -> None:
        """Start over a desk; `no_colour` draws by the terminal's own colours alone, `told` is said first."""
        super().__init__(ansi_color=True if no_colour else None)
        self.desk = desk
        self.crash_log: Path | None = None
        self.has_signs = writes_blocks()
        self._told = told
        self._first_paint = ExitStack()

    def get_default_screen(self) -> Screen[Any]:
        """Return the opening, or the view of the job that is open already; painted once it is filled.

        No blank screen lies below it, which each paint would go through.
        """
        self._first_paint.enter_context(self.batch_update())
        screen = self.get_screen(self.desk.session.view if self.desk.session else "opening")
        screen._push_result_callback(self, None)  # noqa: SLF001 - as for any that is pushed; switching takes it
        return screen

    def refresh_css(self, animate: bool = True) -> None:
        """Style all anew by the theme; before a screen is there only its colours are taken.

        The framework would read the whole style sheet for nothing, and then again with the first screen.
        """
        if self.screen_stack:
            super().refresh_css(animate)
        else:
            self.stylesheet.set_variables(self.get_css_variables())

    def is_up(self) -> None:
        """Paint the first screen, which is filled now, and tell what is to be told at first."""
        if self._told:
            self.say(self._told)
            self._told = ""
        self._first_paint.close()

    def get_driver_class(self) -> "type[Driver]":
        """Return the usual driver, on Linux and macOS ours, which tells an Esc that is alone in time."""
        usual = super().get_driver_class()
        if usual.__name__ != "LinuxDriver":
            return usual
        from prepadvisor.tui.esc_soon import EscSoon

        return EscSoon

    def get_line_filters(self) -> "Sequence[LineFilter]":
        """Return what each painted line goes through: where the terminal has ASCII alone, plain signs too."""
        usual = super().get_line_filters()
        return usual if self.has_signs else [*usual, PlainSigns()]

    def watch_theme(self) -> None:
        """Paint all that is drawn in inks again: a theme may differ from another in one ink alone."""
        for screen in self.screen_stack if self.is_running else ():
            for widget in screen.query(Inked):
                widget.refresh()

    @property
    def view(self) -> View | None:
        """The view that is on; None where it is the opening or a dialog."""
        return self.screen if isinstance(self.screen, View) else None

    def say(self, words: str, refused: bool = False) -> None:
        """Show words on the screen that is on."""
        if isinstance(self.screen, AsksAgain):
            self.screen.say(words, refused)

    async def on_event(self, event: events.Event) -> None:
        """Do a key at once where that can be, and pass everything else on."""
        if not isinstance(event, events.Key) or event.is_forwarded or not self.screen_stack:
            await super().on_event(event)
        elif not self.screen.is_mounted or not self._is_ready:
            await asyncio.sleep(0)  # lets the screen come up: a key that waits would else run round alone
            self.call_later(self.post_message, event)
        elif isinstance(self.focused, Input) and event.is_printable and event.character:
            _type(self.focused, event.character)
        elif not (
            await self._check_bindings(event.key, priority=True) or await self._check_bindings(event.key)
        ):
            await super().on_event(event)

    @property
    def _is_ready(self) -> bool:
        """Whether the screen that is on shows what a key may ask for: a dialog always, others once filled."""
        return self.screen.is_filled if isinstance(self.screen, AsksAgain) else self.screen.is_modal

    def on_key(self, event: events.Key) -> None:
        """Let a key that comes back unused rest: its bindings were tried on the screen it was typed on."""
        event.prevent_default()

    def be_ready_to_end(self) -> None:
        """Take the signals that would otherwise end the program without a word."""
        for number in {signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)}:
            with suppress(NotImplementedError, ValueError, RuntimeError):
                asyncio.get_running_loop().add_signal_handler(number, self.leave_soon, 128 + number)

    def finish(self) -> None:
        """Make the changes that were asked for and are still to be made."""

    def leave_soon(self, status: int = 0, rounds: int = _ROUNDS) -> None:
        """Save and leave with a status, after a few rounds in which changes still on their way arrive."""
        if rounds:
            self.call_later(self.leave_soon, status, rounds - 1)
        else:
            self.finish()
            self.desk.close()
            self.exit(return_code=status)

    def _fatal_error(self) -> None:
        """Keep the job and write a log; a painter has no use for a traceback."""
        self.desk.keep()
        if self._exception is not None:
            self.crash_log = write_crash_log(self._exception)
        self._close_messages_no_wait()


def _type(field: Input, character: str) -> None:
    """Put a character in the place of what is selected, or at the cursor."""
    if field.selection.is_empty:
        field.insert_text_at_cursor(character)
    else:
        field.replace(character, *field.selection)
