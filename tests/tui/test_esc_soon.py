"""The Esc key is told from the start of another key's signs."""

import os
import threading
from typing import Any

import pytest

from prepadvisor.tui.esc_soon import EscSoon


class _Heard(EscSoon):
    """Reads from a pipe and keeps the keys; it ends after as many as are waited for."""

    def __init__(self, fileno: int, wanted: int) -> None:
        self.fileno, self._debug = fileno, False
        self.exit_event = threading.Event()
        self.heard: list[str] = []
        self._wanted = wanted

    def process_message(self, message: Any) -> None:
        self.heard.append(message.key)
        if len(self.heard) >= self._wanted:
            self.exit_event.set()


@pytest.mark.parametrize(
    ("parts", "keys"),
    [
        ((b"\x1b",), ["escape"]),
        ((b"\x1b[B",), ["down"]),
        ((b"\x1b[", b"B", b"x"), ["down", "x"]),
        ((b"\x1b[A\x1b",), ["up", "escape"]),
        ((b"a\xc3", b"\xa4b"), ["a", "ä", "b"]),
    ],
)
def test_a_lone_esc_is_a_key_and_signs_that_follow_at_once_are_another(
    parts: tuple[bytes, ...], keys: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Signs of one key that come in two reads stay one key; the wait is long here for slow machines."""
    monkeypatch.setattr("textual.constants.ESCAPE_DELAY", 0.2)
    out, into = os.pipe()
    driver = _Heard(out, len(keys))
    reader = threading.Thread(target=driver.run_input_thread)
    reader.start()
    for part in parts:
        os.write(into, part)
    reader.join(10)
    assert not reader.is_alive()
    os.close(into)
    os.close(out)
    assert driver.heard == keys
