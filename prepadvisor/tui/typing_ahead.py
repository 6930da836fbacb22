"""Keys are done one after the other, each on the screen the one before it left: typing ahead loses none."""

from textual import events
from textual.app import App
from textual.widgets import Input


class PatientApp(App[None]):
    """An app that does each key to its end before it takes the next.

    A key that is only passed on to a widget may still wait there when an earlier key has put up or taken down
    a screen, and is then lost. Here bindings and text are done at once; a key waits for its screen to be up.
    """

    async def on_event(self, event: events.Event) -> None:
        """Do a key at once where that can be, and pass everything else on."""
        if not isinstance(event, events.Key) or event.is_forwarded or not self.screen_stack:
            await super().on_event(event)
        elif not self.screen.is_mounted:
            self.call_later(self.post_message, event)
        elif isinstance(self.focused, Input) and event.is_printable and event.character:
            _type(self.focused, event.character)
        elif not (
            await self._check_bindings(event.key, priority=True) or await self._check_bindings(event.key)
        ):
            await super().on_event(event)

    def on_key(self, event: events.Key) -> None:
        """Let a key that comes back unused rest: its bindings were tried on the screen it was typed on."""
        event.prevent_default()


def _type(field: Input, character: str) -> None:
    """Put a character in the place of what is selected, or at the cursor."""
    if field.selection.is_empty:
        field.insert_text_at_cursor(character)
    else:
        field.replace(character, *field.selection)
