"""The Esc key is told from the start of another key's signs."""

import os
import select
import threading
from typing import Any

import pytest

from prepadvisor.tui.esc_soon import Bell, EscSoon


class _Heard(EscSoon):
    """Reads from a pipe and keeps the keys; it ends after as many as are waited for."""

    def __init__(self, fileno: int, wanted: int) -> None:
        self.fileno, self._debug = fileno, False
        self.exit_event: threading.Event = threading.Event()
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


def test_a_reader_that_waits_for_a_key_is_woken_for_the_end() -> None:
    """Nothing is typed and it would wait for seconds; the bell is silent once it is cleared."""
    out, into = os.pipe()
    driver = _Heard(out, 1)
    bell = driver.exit_event = Bell()
    reader = threading.Thread(target=driver.run_input_thread)
    reader.start()
    driver.exit_event.set()
    reader.join(3)
    assert not reader.is_alive()
    driver.exit_event.set()
    driver.exit_event.clear()
    assert select.select([bell.rings], [], [], 0)[0] == []
    for end in (into, out):
        os.close(end)
