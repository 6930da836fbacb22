"""Tells the Esc key from the start of another key's signs as soon as that may be told."""

import os
from codecs import getincrementaldecoder
from selectors import EVENT_READ, SelectSelector
from threading import Event, Timer
from typing import Any, Final

from textual import constants
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

_STILL_SECONDS: Final = 5.0
"""So long is waited for a key where nothing is begun: who sits still costs the machine nothing."""

_GONE_SECONDS: Final = 0.1
"""So long is waited between two looks at a terminal that has vanished."""

_SAVED_BY_THEN_SECONDS: Final = 6.0
_HUNG_UP: Final = 129
"""The status of a process that its terminal left, as a shell counts it."""

_SHORT_WAITS: Final = 3
"""So many short waits follow what was typed: a key may be begun in it, and a wait end before its time."""


class Bell(Event):
    """An event that also wakes who waits for signs: as long as it is set there is one to read at `rings`."""

    def __init__(self) -> None:
        """Be silent."""
        super().__init__()
        self.rings, self._hand = os.pipe()

    def set(self) -> None:
        """Ring."""
        if not self.is_set():
            os.write(self._hand, b".")
        super().set()

    def clear(self) -> None:
        """Be silent again."""
        if self.is_set():
            os.read(self.rings, 1)
        super().clear()


class EscSoon(LinuxDriver):
    """Textual's own driver looks only ten times a second whether an Esc stayed alone; this one in time."""

    _last_resort: Timer | None = None
    _had_terminal = False

    def __init__(self, *args: Any, **options: Any) -> None:
        """Start as Textual's own driver does, with an end that its reader is woken for."""
        super().__init__(*args, **options)
        self.exit_event = Bell()

    def run_input_thread(self) -> None:
        """Read keys and pass them on until the end."""
        self._had_terminal = os.isatty(self.fileno)
        selector = SelectSelector()
        selector.register(self.fileno, EVENT_READ)
        if isinstance(self.exit_event, Bell):
            selector.register(self.exit_event.rings, EVENT_READ)
        parser, decode = XTermParser(self._debug), getincrementaldecoder("utf-8")().decode
        soon = constants.ESCAPE_DELAY + 0.0005
        short_waits = 0
        try:
            is_last = False
            while not is_last:
                is_last = self.exit_event.is_set()
                ready = selector.select(0 if is_last else soon if short_waits else _STILL_SECONDS)
                if any(key.fd == self.fileno for key, _ in ready):
                    read = self._read()
                    signs = decode(read, final=is_last)
                    for event in parser.feed(signs) if signs else ():
                        self.process_message(event)
                    short_waits = _SHORT_WAITS
                else:
                    short_waits = max(short_waits - 1, 0)
                for event in parser.tick():
                    self.process_message(event)
        finally:
            selector.close()

    def _read(self) -> bytes:
        """Read what was typed; nothing once the terminal has vanished."""
        try:
            read = os.read(self.fileno, 4096)
        except OSError:
            read = b""
        if not read:  # and it would say so again and again
            self._see_to_the_end()
            self.exit_event.wait(_GONE_SECONDS)
        return read

    def _see_to_the_end(self) -> None:
        """End the process in a while, should it wait for a terminal that is gone; what was typed is kept."""
        if self._had_terminal and self._last_resort is None:
            self._last_resort = Timer(_SAVED_BY_THEN_SECONDS, os._exit, (_HUNG_UP,))
            self._last_resort.daemon = True
            self._last_resort.start()
