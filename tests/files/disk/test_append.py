"""Entries are added as text: all that stood there stays as it was, and the entry reads back the same."""

import datetime as dt
from collections.abc import Callable

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.files import AppendRefusedError, appended, values_of
from prepadvisor.records import Check, Job, Outcome

Numbered = Callable[[int], Check]

JOB = b'[job]\nnumber = "1"  # the key tag\n\n[[panel]]\nid = "door"\n'
WHOLE = st.characters(codec="utf-8")
ENTRY = {"at": dt.datetime(2026, 3, 2, 9, 40, tzinfo=dt.UTC), "by": "K. M.", "step": "wiped"}


def test_what_stood_there_stays_byte_for_byte() -> None:
    """Comments and blanks too."""
    assert appended(JOB, "check", [ENTRY]).startswith(JOB)


def test_an_entry_is_readable_text() -> None:
    """A person may read and write it by hand."""
    assert appended(b"", "check", [ENTRY]) == (
        b'[[check]]\nat = 2026-03-02T09:40:00Z\nby = "K. M."\nstep = "wiped"\n'
    )


@pytest.mark.parametrize(
    ("raw", "ends"),
    [
        (JOB.rstrip(b"\n"), b"\n"),
        (JOB.replace(b"\n", b"\r\n"), b"\r\n"),
        (b"\xef\xbb\xbf" + JOB, b"\n"),
        (JOB + b"# the end", b"\n"),
        (b"", b"\n"),
    ],
    ids=["no last line end", "CRLF", "byte-order mark", "ends in a comment", "empty"],
)
def test_files_of_all_habits_take_an_entry(raw: bytes, ends: bytes) -> None:
    """Whatever editor they came from; the line ends stay the file's own."""
    new = appended(raw, "check", [ENTRY])
    assert new.startswith(raw)
    assert new.endswith(b'step = "wiped"' + ends)
    assert tomli.loads(new.decode("utf-8-sig"))["check"] == [ENTRY]


def test_a_log_in_brackets_takes_an_entry_too() -> None:
    """A list check = [{…}] may not be followed by [[check]]."""
    raw = b'check = [{ by = "A" }] # so written\n' + JOB
    new = tomli.loads(appended(raw, "check", [ENTRY]).decode())
    assert [entry["by"] for entry in new["check"]] == ["A", "K. M."]


@pytest.mark.parametrize(
    "raw",
    [
        b"[job\n",
        b'x = "open',
        b"\xff\xfe",
        b"check = 3\n",
        b"[check]\nby = 1\n",
        b'y = """open\n',
        b"a=" + b"[" * 5000,
    ],
)
def test_a_file_that_cannot_take_it_is_refused(raw: bytes) -> None:
    """Rather than spoilt."""
    with pytest.raises(AppendRefusedError):
        appended(raw, "check", [ENTRY])


@settings(max_examples=80)
@given(
    by=st.text(WHOLE, max_size=40),
    note=st.text(WHOLE, max_size=80),
    at=st.datetimes(timezones=st.timezones()),
)
def test_any_text_and_time_read_back_the_same(by: str, note: str, at: dt.datetime) -> None:
    """Quotes, backslashes, control and direction characters, any zone."""
    offset = at.utcoffset() or dt.timedelta()
    at = at.replace(tzinfo=dt.timezone(dt.timedelta(minutes=offset // dt.timedelta(minutes=1))))
    entry = {"at": at, "by": by, "note": note}
    new = appended(JOB, "check", [entry])
    assert tomli.loads(new.decode())["check"] == [entry]


def test_half_a_letter_is_refused() -> None:
    """It cannot be written as UTF-8, so the file is left as it was."""
    with pytest.raises(AppendRefusedError, match="cannot be saved"):
        appended(JOB, "check", [{**ENTRY, "note": "\ud800"}])


def test_an_entry_without_a_statement_has_no_key_for_it(numbered: Numbered) -> None:
    """What was not stated is not written."""
    assert list(values_of(numbered(1))) == ["at", "by", "panel", "feature", "step", "note"]


def test_an_outcome_is_a_record_again() -> None:
    """True and false are written as TOML has them."""
    outcome = Outcome(at=ENTRY["at"], by="K. M.", panel="door", feature="E1", seen=False)
    raw = appended(JOB, "outcome", [values_of(outcome)])
    assert Outcome.model_validate(tomli.loads(raw.decode())["outcome"][0]) == outcome


def test_entries_keep_their_order(numbered: Numbered) -> None:
    """The order of entry is what the gate replays."""
    raw = JOB
    for number in range(20):
        raw = appended(raw, "check", [values_of(numbered(number))])
    log = tomli.loads(raw.decode())["check"]
    assert [entry["note"] for entry in log] == [f"number {number}" for number in range(20)]


def test_the_records_still_load(numbered: Numbered) -> None:
    """Job reads what append writes."""
    raw = appended(b'[job]\nnumber = "1"\n', "check", [values_of(numbered(3))])
    panel = {
        "id": "door", "kind": "roof", "role": "repair", "surface": "aged-clear",
        "length_mm": 900, "height_mm": 900,
    }  # fmt: skip
    assert Job.model_validate({**tomli.loads(raw.decode()), "panel": [panel]}).check == (numbered(3),)
