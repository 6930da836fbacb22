"""How the app ends: by a signal with everything saved, by a fault with a log instead of a traceback."""

import asyncio
import signal
from contextlib import suppress
from pathlib import Path
from typing import Final

from prepadvisor.files.paths import write_crash_log
from prepadvisor.tui.desk import Desk
from prepadvisor.tui.typing_ahead import PatientApp

_ROUNDS: Final = 4
"""A change goes from widget to view to app, a round for each, and one to spare."""


class CarefulApp(PatientApp):
    """An app over a desk that never ends without the job being kept."""

    def __init__(self, desk: Desk, no_colour: bool = False) -> None:
        """Start over a desk; `no_colour` draws by the terminal's own colours alone."""
        super().__init__(ansi_color=True if no_colour else None)
        self.desk = desk
        self.crash_log: Path | None = None

    def be_ready_to_end(self) -> None:
        """Take the signals that would otherwise end the program without a word."""
        for number in {signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM)}:
            with suppress(NotImplementedError, ValueError, RuntimeError):
                asyncio.get_running_loop().add_signal_handler(number, self.leave_soon, 128 + number)

    def leave_soon(self, status: int = 0, rounds: int = _ROUNDS) -> None:
        """Save and leave with a status, after a few rounds in which changes still on their way arrive."""
        if rounds:
            self.call_later(self.leave_soon, status, rounds - 1)
        else:
            self.desk.close()
            self.exit(return_code=status)

    def _fatal_error(self) -> None:
        """Keep the job and write a log; a painter has no use for a traceback."""
        self.desk.keep()
        if self._exception is not None:
            self.crash_log = write_crash_log(self._exception)
        self._close_messages_no_wait()
